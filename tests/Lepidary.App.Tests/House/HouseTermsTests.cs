using Lepidary.App.Host;
using Lepidary.App.House;
using Lepidary.App.Orders;
using Lepidary.App.Tests.Support;
using Lepidary.Lists;
using Lepidary.Planning;
using Lepidary.Taxa;

namespace Lepidary.App.Tests.House;

/// <summary>Every term of the house file, from the file into the plan and back: setting it changes the order as it should.</summary>
public sealed class HouseTermsTests
{
    private const string Base = """
        house: Fernlight House
        currency: GBP
        zone: Europe/London
        tax: { rate: 0%, reclaimed: no }
        cages:
          - { name: Cage A, places: 60 }
          - { name: Cage B, places: 10 }
        aims:
          - display: { taxon: Morpho helenor, at-least: 8, sure: 80%, from: 2026-12-14, to: 2026-12-20 }
        suppliers:
          - name: Quillfeather Pupae
            currency: GBP
            arrives: tue
            carriage: [ { from: 1, cost: 10 } ]
          - name: Kessom Farm
            currency: GBP
            arrives: tue
            carriage: [ { from: 1, cost: 10 } ]

        """;

    private static readonly DateOnly Friday = new(2026, 11, 27);

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    private static Offer Line(int line, string taxon, decimal price, params PriceBreak[] breaks) => new() { Line = line, Text = taxon, Taxon = taxon, Price = price, Available = 60, Breaks = breaks };

    /// <summary>Both have the same; Quillfeather is cheaper by a twentieth.</summary>
    private static (PlanningInput Input, Plan Plan) Plan(string text, decimal spent = 0, params string[] rules)
    {
        var read = HouseFile.Parse("house.yaml", text);
        Assert.True(read.IsGood, string.Join('\n', read.Problems));
        var (house, stock) = read.Value;
        string[] taxa = ["Morpho helenor", "Heliconius melpomene", "Caligo memnon", "Papilio memnon"];
        var input = new PlanningInput
        {
            House = house,
            Stock = stock,
            OrderDay = Friday,
            SeasonSpent = spent,
            Rules = LineRules.Read(rules, []),
            Lists = [.. house.Terms.Select(terms => new ListOnOffer(
                terms,
                new SupplierList { Offers = [.. taxa.Select((taxon, index) => Line(index + 1, taxon, terms.Supplier!.Name == "Kessom Farm" ? 4.2m : 4m, new PriceBreak(10, 3.8m)))] },
                terms.Supplier!.Name))],
            Settings = new PlanSettings { Seconds = 20, Gap = 0.0001 },
        };
        var task = PlanningDesk.Lay(input, TaxonTable.Shipped);
        Assert.True(task.IsGood, string.Join('\n', task.Problems));
        var outcome = Planner.Propose(task.Value.Problem, cancel: Stop);
        Assert.True(outcome.Plan is not null, string.Join('\n', outcome.Problems));
        Assert.Empty(PlanChecker.Check(task.Value.Problem, outcome.Plan));
        return (input, outcome.Plan);
    }

    private static string With(string right, string wrong) => Base.Contains(right, StringComparison.Ordinal) ? Base.Replace(right, wrong, StringComparison.Ordinal) : throw new ArgumentException($"no {right}");

    private static string OfQuillfeather(string terms) => With("  - name: Quillfeather Pupae\n", $"  - name: Quillfeather Pupae\n    {terms}\n");

    private static string OfKessom(string terms) => With("  - name: Kessom Farm\n", $"  - name: Kessom Farm\n    {terms}\n");

    private static string Alone(string terms) => OfKessom("avoid: yes").Replace("  - name: Quillfeather Pupae\n    currency: GBP\n    arrives: tue\n", $"  - name: Quillfeather Pupae\n    currency: GBP\n    {terms}\n", StringComparison.Ordinal);

    private static int Pupae(Plan plan) => plan.Lines.Sum(line => line.Pupae);

    [Fact]
    public void Base_house_orders_from_the_cheaper()
    {
        var plan = Plan(Base).Plan;

        Assert.Equal("Quillfeather Pupae", Assert.Single(plan.Orders).Supplier);
        Assert.Equal(new DateOnly(2026, 12, 1), plan.Orders[0].Arrives);
        Assert.InRange(Pupae(plan), 11, 50);
        Assert.True(plan.Total > 50);
    }

    [Theory]
    [InlineData("budget: 40, from: 2026-11-01, to: 2027-03-31", 0, 40)]
    [InlineData("budget: 100, from: 2026-11-01, to: 2027-03-31", 70, 30)]
    [InlineData("budget: 40, from: 2026-12-01, to: 2027-03-31", 0, null)]
    public void Season_what_is_left_of_it_bounds_the_order(string season, int spent, int? most)
    {
        var plan = Plan(Base + $"season: {{ {season} }}\n", spent).Plan;

        Assert.Equal(most is null, plan.Total > 40);
        Assert.True(most is null || plan.Total <= most);
    }

    [Theory]
    [InlineData("arrives: tue", "no-boxes: [2026-12-01]\n", "2026-12-08")]
    [InlineData("arrives: tue\n    closed: [2026-12-01]", "", "2026-12-08")]
    [InlineData("arrives: tue\n    order-ahead: 4", "", "2026-12-01")]
    [InlineData("arrives: tue\n    order-ahead: 5", "", "2026-12-08")]
    public void Box_comes_on_the_first_day_that_is_left(string terms, string house, string arrives)
    {
        var text = Alone(terms).Replace("from: 2026-12-14, to: 2026-12-20", "from: 2026-12-22, to: 2026-12-24", StringComparison.Ordinal) + house;

        Assert.Equal(arrives, Assert.Single(Plan(text, 0, "Quillfeather Pupae#1>=8").Plan.Orders).Arrives.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture));
    }

    [Fact]
    public void Two_weekdays_are_both_offered_to_the_plan()
    {
        var house = HouseFile.Parse("house.yaml", Alone("arrives: [tue, thu]")).Value.House;
        var shut = HouseFile.Parse("house.yaml", Alone("arrives: [tue, thu]\n    closed: [2026-12-01]")).Value.House;

        Assert.Equal([new(2026, 12, 1), new(2026, 12, 3)], PlanningDesk.Boxes(house.Terms[0], house, Friday));
        Assert.Equal([new(2026, 12, 3), new(2026, 12, 8)], PlanningDesk.Boxes(shut.Terms[0], shut, Friday));
        Assert.Equal([new(2026, 12, 3), new(2026, 12, 8)], PlanningDesk.Boxes(house.Terms[0], house, new(2026, 12, 1)));
    }

    [Fact]
    public void Favour_and_avoidance_choose_the_supplier_and_leave_the_cost()
    {
        Assert.Equal("Kessom Farm", Assert.Single(Plan(OfQuillfeather("avoid: yes")).Plan.Orders).Supplier);
        Assert.Equal("Kessom Farm", Assert.Single(Plan(OfQuillfeather("favour: -30%")).Plan.Orders).Supplier);
        var favoured = Plan(OfKessom("favour: 30%")).Plan;
        var order = Assert.Single(favoured.Orders);
        Assert.Equal("Kessom Farm", order.Supplier);
        Assert.Equal(Pupae(favoured) * (Pupae(favoured) >= 10 ? 3.8m : 4.2m) + 10, order.TotalInHouse);
    }

    [Fact]
    public void New_blood_is_ordered_where_own_stock_would_serve()
    {
        const string Stock = "stock:\n  hanging: [{ taxon: Heliconius melpomene, pupae: 40, since: 2026-11-25 }]\n";
        var wish = With("  - display: { taxon: Morpho helenor, at-least: 8, sure: 80%, from: 2026-12-14, to: 2026-12-20 }", "  - breeding: { taxon: Heliconius melpomene, pairs: 1, sure: 90%, importance: 5 }") + Stock;

        Assert.Empty(Plan(wish).Plan.Lines);
        Assert.All(Plan(wish.Replace("importance: 5", "importance: 5, new-blood: yes", StringComparison.Ordinal)).Plan.Lines, line => Assert.Equal("Heliconius melpomene", line.Taxon));
        Assert.NotEmpty(Plan(wish.Replace("importance: 5", "importance: 5, new-blood: yes", StringComparison.Ordinal)).Plan.Lines);
    }

    [Theory]
    [InlineData("taxon: Morpho helenor", "", 7)]
    [InlineData("tag: blue", "", 7)]
    [InlineData("taxon: Morpho", "stock:\n  coming: [{ taxon: Morpho helenor, pupae: 5, arrives: 2026-12-12, supplier: Kessom Farm }]\n", 2)]
    public void Keep_at_most_counts_what_is_in_the_house(string of, string stock, int most) =>
        Assert.Equal(most, Pupae(Plan(Base.Replace("sure: 80%", "sure: 80%, importance: 5", StringComparison.Ordinal) + $"keep-at-most: [{{ {of}, at-most: 7 }}]\n" + stock).Plan));

    [Fact]
    public void Cage_that_is_shut_has_no_places()
    {
        Assert.Equal(10, Pupae(Plan(With("places: 60 }", "places: 60, shut: { from: 2026-12-05, to: 2026-12-06 } }").Replace("at-least: 8", "at-least: 20", StringComparison.Ordinal)).Plan));
        Assert.True(Pupae(Plan(With("at-least: 8", "at-least: 20")).Plan) > 10);
    }

    [Theory]
    [InlineData("carriage-by: pupae", 10)]
    [InlineData("carriage-by: goods", 25)]
    [InlineData("carriage-by: grams", 25)]
    [InlineData("carriage-by: grams\n    pupa-grams: 2", 10)]
    public void Carriage_counts_what_the_terms_say(string by, int carriage)
    {
        // 20 pupae: 76 of goods, 100 g at the usual 5 g.
        var text = Alone("arrives: tue").Replace("    carriage: [ { from: 1, cost: 10 } ]\n  - name: Kessom", $"    carriage: [ {{ from: 1, cost: 10 }}, {{ from: 70, cost: 25 }} ]\n    {by}\n  - name: Kessom", StringComparison.Ordinal);

        Assert.Equal(carriage, Assert.Single(Plan(text, 0, "Quillfeather Pupae#1=20", "*=0").Plan.Orders).Carriage);
    }

    [Theory]
    [InlineData("for-all", 76)]
    [InlineData("from-there", 77.8)]
    public void Price_from_a_number_on_holds_as_the_terms_say(string holds, decimal goods) =>
        Assert.Equal(goods, Assert.Single(Plan(OfQuillfeather($"price-breaks: {holds}"), 0, "Quillfeather Pupae#1=20", "*=0").Plan.Lines).Goods);

    [Theory]
    [InlineData("taxon: Heliconius", "Heliconius melpomene")]
    [InlineData("taxon: Heliconiini", "Heliconius melpomene")]
    [InlineData("taxon: Heliconiidae", "Heliconius melpomene")]
    [InlineData("taxon: Papilionidae", "Papilio memnon")]
    [InlineData("tag: blue", "Morpho helenor")]
    [InlineData("tag: indomalayan", "Papilio memnon")]
    [InlineData("tag: fruit", "Caligo memnon", "Morpho helenor")]
    [InlineData("tag: large", "Caligo memnon", "Morpho helenor", "Papilio memnon")]
    [InlineData("all: yes", "Caligo memnon", "Heliconius melpomene", "Morpho helenor", "Papilio memnon")]
    public void Aim_of_any_rank_or_tag_orders_what_it_counts(string of, params string[] counted)
    {
        var ordered = Plan(With("taxon: Morpho helenor", of).Replace("sure: 80%", "sure: 80%, importance: 3", StringComparison.Ordinal)).Plan.Lines.Select(line => line.Taxon!).Distinct().ToList();

        Assert.NotEmpty(ordered);
        Assert.All(ordered, taxon => Assert.Contains(taxon, counted));
    }

    [Theory]
    [InlineData("season: { budget: 40, from: 2027-01-01, to: 2026-12-31 }", "a day not before 2027-01-01")]
    [InlineData("season: { from: 2027-01-01, to: 2027-12-31 }", "the money of the season")]
    [InlineData("keep-at-most: [{ taxon: Morpho, tag: blue, at-most: 3 }]", "exactly one")]
    [InlineData("keep-at-most: [{ taxon: Morpho }]", "how many of each")]
    [InlineData("keep-not: [Morpho]\nkeep-at-most: [{ taxon: Morpho, at-most: 3 }]", "each once")]
    public void Wrong_field_of_the_house_is_named(string line, string expected) =>
        Assert.Contains(HouseFile.Parse("house.yaml", Base + line).Problems, problem => problem.Expected.Contains(expected, StringComparison.Ordinal));

    [Theory]
    [InlineData("favour: 5000%", "a share such as 5%")]
    [InlineData("carriage-by: boxes", "pupae or goods or grams")]
    [InlineData("price-breaks: perhaps", "for-all or from-there")]
    [InlineData("order-ahead: soon", "a whole number")]
    public void Wrong_term_of_a_supplier_is_named(string line, string expected) =>
        Assert.Contains(HouseFile.Parse("house.yaml", OfQuillfeather(line)).Problems, problem => problem.Expected.Contains(expected, StringComparison.Ordinal));

    [Fact]
    public async Task House_file_goes_through_the_book_and_comes_back_the_same()
    {
        var text = OfQuillfeather("order-ahead: 4\n    closed: [2026-12-29]\n    favour: -5%\n    carriage-by: grams\n    pupa-grams: 6.5\n    price-breaks: from-there")
            .Replace("    avoid: yes", "", StringComparison.Ordinal).Replace("arrives: tue\n    carriage: [ { from: 1, cost: 10 } ]\n  - name: Kessom Farm\n", "arrives: [tue, fri]\n    carriage: [ { from: 1, cost: 10 } ]\n  - name: Kessom Farm\n    avoid: yes\n", StringComparison.Ordinal)
            .Replace("places: 10 }", "places: 10, shut: { from: 2026-12-05, to: 2026-12-08 } }", StringComparison.Ordinal)
            .Replace("aims:\n", "aims:\n  - breeding: { taxon: Heliconius melpomene, pairs: 2, sure: 95%, new-blood: yes }\n", StringComparison.Ordinal)
            + "season: { budget: 9000, from: 2026-11-01, to: 2027-03-31 }\nno-boxes: [2026-12-24]\nkeep-not: [Attacus atlas]\nkeep-at-most: [{ tag: cites-ii, at-most: 12 }]\n";
        await using var book = new TestBook();
        await book.Done("house", "load", book.File("plain.yaml", Base));

        await book.Done("house", "change", book.File("house.yaml", text));
        var shown = (await book.Done("house", "show")).Output;
        await book.Done("house", "change", book.File("again.yaml", shown));

        Assert.Equal(shown, (await book.Done("house", "show")).Output);
        Assert.Equal(shown, HouseFileText.Write(HouseFile.Parse("house.yaml", text).Value.House));
        string[] said =
        [
            "season: { budget: 9000, from: 2026-11-01, to: 2027-03-31 }", "no-boxes: [2026-12-24]", "keep-at-most:\n  - { tag: \"cites-ii\", at-most: 12 }", "shut: { from: 2026-12-05, to: 2026-12-08 }", "new-blood: yes",
            "arrives: [tue, fri]", "order-ahead: 4", "closed: [2026-12-29]", "favour: -5%", "avoid: yes", "carriage-by: grams", "pupa-grams: 6.5", "price-breaks: from-there",
        ];
        Assert.All(said, field => Assert.Contains(field, shown, StringComparison.Ordinal));
        Assert.Equal(ExitCodes.Done, (await book.Run("house", "show", "--json")).Code);
    }

    [Fact]
    public async Task House_page_shows_every_term()
    {
        await using var book = new TestBook();
        await book.Done("house", "load", book.File("house.yaml", OfQuillfeather("order-ahead: 4\n    closed: [2026-12-29]\n    favour: 5%") + "season: { budget: 9000, from: 2026-11-01, to: 2027-03-31 }\nno-boxes: [2026-12-24]\nkeep-at-most: [{ tag: cites-ii, at-most: 12 }]\n"));
        using var client = await book.Serve();

        var page = await client.GetStringAsync(new Uri("/house", UriKind.Relative), Stop);

        string[] shown = ["000.00 landed from", "24 Dec", "at most 12 of each species", "last order 4 days before", "none on", "favoured by 5 %"];
        Assert.All(shown, words => Assert.Contains(words, page, StringComparison.Ordinal));
    }
}
