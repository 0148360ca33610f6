using Lepidary.App.House;
using Lepidary.Book;

namespace Lepidary.App.Tests.House;

public sealed class HouseFileTests
{
    private const string Whole = """
        house: Thornmere Glasshouse
        currency: GBP
        zone: Europe/London
        tax: { rate: 20%, reclaimed: no }
        areas: [ { name: Palm hall, floor: 240, height: 6, ceiling: 400 } ]
        cages: [ { name: Cage A, places: 220, rows: 12, row-cm: 90, reach: 8 } ]
        open: [tue, sat, sun]
        closed: [2026-12-25]
        budget: 900
        keep-not: [ "tag:cites-ii" ]
        aims:
          - display: { tag: Blue, at-least: 12, sure: 90%, importance: 3, from: 2026-12-05, to: 2026-12-20, days: [sat, sun] }
          - display: { all: yes, at-least: 150 }
          - variety: { at-least: 25 }
          - breeding: { taxon: Heliconius melpomene, pairs: 2 }
        suppliers:
          - name: Quillfeather Pupae
            currency: EUR
            rate: 0.86
            carriage: [ { from: 100, cost: 38 }, { from: 1, cost: 24 } ]
            minimum-order: { pupae: 50 }
            arrives: tue
            charges: [ { name: permit, amount: 15, per: order } ]
        stock:
          hanging: [ { taxon: Papilio memnon, pupae: 12, since: 2026-11-24, supplier: Quillfeather Pupae, rate: 85% } ]
          flying: [ { taxon: Morpho helenor, count: 9, since: 2026-11-18 } ]
        languages: [en, DE]
        """;

    [Fact]
    public void Parse_whole_file_reads_every_field()
    {
        var sheet = HouseFile.Parse("house.yaml", Whole).Value;

        Assert.Equal("Thornmere Glasshouse", sheet.House.Name);
        Assert.Equal(Weekdays.Tue | Weekdays.Sat | Weekdays.Sun, sheet.House.OpenOn);
        Assert.Equal(900, sheet.House.Budget);
        Assert.Equal(["en", "de"], sheet.House.Languages);
        var cage = Assert.Single(sheet.House.Cages);
        Assert.Equal((12, 90, 8), (cage.Rows, cage.RowCm, cage.ReachRows));
        Assert.Equal(["tag:blue", "all", "all", "Heliconius melpomene"], sheet.House.Aims.Select(aim => aim.Selector));
        Assert.Equal([0.9, 0.8, 0.8, 0.95], sheet.House.Aims.Select(aim => aim.Sure));
        var terms = Assert.Single(sheet.House.Terms);
        Assert.Equal([1, 100], terms.Carriage.Select(tier => tier.From));
        Assert.Equal(0.86m, terms.Rate);
        Assert.Equal(DayOfWeek.Tuesday, terms.ArrivesOn);
        Assert.Equal([StockPlace.Hanging, StockPlace.Flying], sheet.Stock.Select(item => item.Place));
        Assert.Equal(0.85, sheet.Stock[0].Rate);
    }

    [Theory]
    [InlineData("currency: GBP", "currency: pounds", "line 2", "ISO 4217")]
    [InlineData("at-least: 150", "at-least: many", "line 13", "whole number")]
    [InlineData("sure: 90%", "sure: 100%", "line 12", "below 100%")]
    [InlineData("open: [tue, sat, sun]", "open: [tue, never]", "line 7", "weekdays")]
    [InlineData("budget: 900", "bugdet: 900", "line 9", "one of")]
    [InlineData("rate: 0.86", "notes: dear", "line 17", "how much GBP one EUR costs")]
    [InlineData("since: 2026-11-18", "since: 18/11/2026", "line 26", "2026-11-27")]
    [InlineData("languages: [en, DE]", "languages: [en, EN]", "line 27", "each once, of en, de, fr, es, nl, it")]
    [InlineData("rows: 12, ", "", "line 6", "together")]
    [InlineData("reach: 8", "reach: 13", "line 6", "at most the cage's 12 rows")]
    [InlineData("budget: 900", "budget: -5", "line 9", "a number from 0")]
    public void Parse_wrong_field_names_line_and_what_was_expected(string right, string wrong, string line, string expected)
    {
        var problems = HouseFile.Parse("house.yaml", Whole.Replace(right, wrong, StringComparison.Ordinal)).Problems;

        Assert.Contains(problems, problem => problem.Where == $"house.yaml, {line}" && problem.Expected.Contains(expected, StringComparison.Ordinal));
    }

    [Fact]
    public void Parse_several_mistakes_names_all_at_once()
    {
        var text = Whole.Replace("currency: GBP", "currency: pounds", StringComparison.Ordinal).Replace("places: 220", "places: none", StringComparison.Ordinal);

        Assert.True(HouseFile.Parse("house.yaml", text).Problems.Count >= 2);
    }

    [Theory]
    [InlineData("")]
    [InlineData("just words")]
    [InlineData("house: [unclosed")]
    [InlineData("\u0000\u0001")]
    public void Parse_no_house_at_all_is_a_problem_not_an_exception(string text) =>
        Assert.NotEmpty(HouseFile.Parse("house.yaml", text).Problems);
}
