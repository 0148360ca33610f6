using System.Globalization;
using System.Text.Json;
using Lepidary.App.Host;
using Lepidary.App.Lists;
using Lepidary.App.Tests.Support;
using Lepidary.Book;

namespace Lepidary.App.Tests.Weeks;

public sealed class WeeksTests
{
    private static readonly DateOnly Today = HungHouse.Today;

    /// <summary>Takes lists in, each on the Friday so many weeks ago; no two are the same file.</summary>
    private static async Task<Guid> Lists(TestBook book, params (int WeeksAgo, string Lines)[] lists)
    {
        var stop = TestContext.Current.CancellationToken;
        var supplier = await book.Look(context => Task.FromResult(context.Suppliers.Select(one => one.Id).First()));
        var last = Guid.Empty;
        foreach (var (weeksAgo, lines) in lists)
        {
            var kept = await book.Serve<TakeInList, Checked<KeptList>>(take => take.Take(
                new(supplier, $"list-{weeksAgo}.csv", System.Text.Encoding.UTF8.GetBytes($"Species;Price\n{lines}" + new string('\n', weeksAgo)), Today.AddDays(-7 * weeksAgo), book.Clock.GetUtcNow().AddDays(-7 * weeksAgo)), stop));
            Assert.Empty(kept.Problems);
            last = kept.Value.ListId;
        }

        return last;
    }

    private static string Line(string taxon, decimal price) => string.Create(CultureInfo.InvariantCulture, $"{taxon};{price:0.00}\n");

    private static List<string> Notes(JsonElement view, string taxon) =>
        [.. view.GetProperty("noted").EnumerateArray().Where(offer => offer.GetProperty("taxon").GetString() == taxon).SelectMany(offer => offer.GetProperty("notes").EnumerateArray()).Select(note => note.GetString()!)];

    [Fact]
    public async Task Week_says_new_seldom_and_dearer_where_the_counts_bear_it()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        // Twenty lists: always Morpho helenor at 2.50 until today's 2.80; Papilio palinurus on three of them; Idea leuconoe today for the first time.
        await Lists(book, [.. Enumerable.Range(0, 20).Reverse().Select(week => (week,
            Line("Morpho helenor", week == 0 ? 2.80m : 2.50m) + (week is 0 or 6 or 13 ? Line("Papilio palinurus", 3.10m) : "") + (week == 0 ? Line("Idea leuconoe", 3.40m) : "")))]);

        var view = (await book.Done("weeks", "--json")).Json;

        Assert.Equal(["12 % dearer than usual"], Notes(view, "Morpho helenor"));
        Assert.Equal(["seldom listed (3 of the last 20)"], Notes(view, "Papilio palinurus"));
        Assert.Equal(["new this week"], Notes(view, "Idea leuconoe"));
        var supplier = (await book.Done("weeks", "quillfeather pupae", "--json")).Json;
        var palinurus = supplier.GetProperty("taxa").EnumerateArray().Single(row => row.GetProperty("taxon").GetString() == "Papilio palinurus");
        Assert.Equal((3, 20), (palinurus.GetProperty("listed").GetInt32(), palinurus.GetProperty("lists").GetInt32()));
        Assert.True(palinurus.GetProperty("nextFrom").GetDouble() < palinurus.GetProperty("nextList").GetDouble() && palinurus.GetProperty("nextList").GetDouble() < palinurus.GetProperty("nextTo").GetDouble());
    }

    [Fact]
    public async Task Week_is_silent_after_a_few_lists()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        await Lists(book, (3, Line("Morpho helenor", 2.50m)), (2, Line("Morpho helenor", 2.50m)), (1, Line("Morpho helenor", 2.50m)), (0, Line("Morpho helenor", 3.50m) + Line("Idea leuconoe", 3.40m)));

        Assert.Empty((await book.Done("weeks", "--json")).Json.GetProperty("noted").EnumerateArray());
    }

    [Fact]
    public async Task List_page_of_the_past_is_judged_by_the_lists_before_it()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        await Lists(book, [.. Enumerable.Range(2, 8).Reverse().Select(week => (week, Line("Morpho helenor", 2.50m)))]);
        var past = await Lists(book, (1, Line("Morpho helenor", 2.50m) + Line("Idea leuconoe", 3.40m)));
        await Lists(book, (0, Line("Morpho helenor", 3.50m) + Line("Idea leuconoe", 3.40m)));
        using var browser = await book.Serve();

        var page = await browser.Page($"/lists/{past}");

        Assert.Contains("new on this list", page, StringComparison.Ordinal);
        Assert.DoesNotContain("dearer", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Weeks_count_a_name_that_was_settled_later_and_leave_out_what_is_in_doubt()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        await Lists(book, (3, Line("Eryphanis polyxena", 2.50m)), (2, Line("Eryphanis automedon", 2.50m)), (1, Line("Eryphanis polyxena", 2.50m)));

        var before = Assert.Single((await book.Done("weeks", "Eryphanis automedon", "--json")).Json.GetProperty("suppliers").EnumerateArray());
        await book.Done("lists", "settle", "Eryphanis polyxena", "Eryphanis automedon");
        var row = Assert.Single((await book.Done("weeks", "Eryphanis automedon", "--json")).Json.GetProperty("suppliers").EnumerateArray());

        Assert.Equal((1, 1), (before.GetProperty("listed").GetInt32(), before.GetProperty("lists").GetInt32()));
        Assert.Equal((3, 3), (row.GetProperty("listed").GetInt32(), row.GetProperty("lists").GetInt32()));
    }

    [Fact]
    public async Task Price_of_a_list_with_tax_is_compared_without()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var terms = new SupplierTerms { SupplierId = Guid.NewGuid(), HouseId = house.Id, Currency = "EUR", PricesExcludeTax = true, Supplier = new Supplier { Name = "Quillfeather Pupae" } };
        var weeks = new App.Weeks.SupplierWeeks(terms, 0.2m, Enumerable.Range(0, 6).Select(week => new App.Weeks.SeenWeek(
            Guid.NewGuid(), terms.SupplierId, Today.AddDays(-7 * week), default, "EUR", week == 3 ? false : null, [new("Morpho helenor", null, false, week == 3 ? 3.00m : 2.50m, false)], new HashSet<string>())));

        Assert.All(weeks.Marks("Morpho helenor", Today), mark => Assert.Equal(2.50m, mark.Price));
        Assert.Empty(weeks.Notes(new("Morpho helenor", null, false, 3.00m, false), Today, "EUR", false, true));
        Assert.Equal(["20 % dearer than usual"], weeks.Notes(new("Morpho helenor", null, false, 3.00m, false), Today, "EUR", null, true));
        Assert.Empty(weeks.Notes(new("Morpho helenor", null, false, 3.00m, false), Today, "GBP", null, true));
    }

    [Fact]
    public async Task Species_page_draws_each_list_once()
    {
        await using var book = await TestBook.Demo();
        using var browser = await book.Serve();

        var view = (await book.Done("weeks", "Morpho helenor", "--json")).Json;
        var page = await browser.Page("/species/Morpho%20helenor");

        var listed = view.GetProperty("suppliers").EnumerateArray().Sum(row => row.GetProperty("marks").EnumerateArray().Count(mark => mark.GetProperty("state").GetString() == "listed"));
        Assert.True(listed > 10);
        var wide = page[page.IndexOf("weeks wide-only", StringComparison.Ordinal)..page.IndexOf("weeks narrow-only", StringComparison.Ordinal)];
        Assert.Equal(listed, wide.Split("class=\"was-listed\" d=\"").Skip(1).Sum(part => part[..part.IndexOf('"', StringComparison.Ordinal)].Count(letter => letter == 'M')));
        Assert.NotEmpty(view.GetProperty("weeks").EnumerateArray());
    }

    [Fact]
    public async Task Weeks_of_no_such_name_is_refused_with_what_is_expected()
    {
        await using var book = await TestBook.Demo();

        var said = await book.Run("weeks", "12345");

        Assert.Equal(ExitCodes.BadInput, said.Code);
        Assert.Contains("Kessom Farm", said.Error, StringComparison.Ordinal);
    }
}
