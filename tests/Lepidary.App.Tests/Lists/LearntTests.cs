using System.Text;
using System.Text.Json;
using Lepidary.App.Host;
using Lepidary.App.Tests.Support;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Tests.Lists;

/// <summary>What a keeper settles on one week's list, next week's is read with.</summary>
public sealed class LearntTests
{
    /// <summary>No currency is said, one column has a title that no one knows, prices may be for one or for the pack, and one name is the supplier's own.</summary>
    private const string FirstWeek = "Species;Zeug;Pack;Price\nPapilio memnon;40;2;3.50\nIdea leuconoe;60;2;3.80\nBlue giant special;25;2;3.40\n";

    private const string NextWeek = "Species;Zeug;Pack;Price\nIdea leuconoe;35;2;3.90\nBlue giant special;12;2;3.60\nPapilio thoas;50;2;3.30\n";

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    /// <summary>A book whose supplier has sent no list yet.</summary>
    private static async Task<TestBook> Fresh()
    {
        var book = await TestBook.Demo();
        await book.Look(async context =>
        {
            context.Suppliers.Add(new Supplier { Name = "Hollowbrook Pupae", Terms = [] });
            await context.SaveChangesAsync(Stop);
            var house = await context.Houses.AsNoTracking().FirstAsync(Stop);
            var supplier = await context.Suppliers.AsNoTracking().SingleAsync(one => one.Name == "Hollowbrook Pupae", Stop);
            context.Terms.Add(new SupplierTerms { HouseId = house.Id, SupplierId = supplier.Id, Currency = "EUR" });
            return await context.SaveChangesAsync(Stop);
        });
        return book;
    }

    private static async Task<JsonElement> Take(TestBook book, string name, string text) =>
        (await book.Done("lists", "take", book.File(name, Encoding.UTF8.GetBytes(text)), "--supplier", "Hollowbrook Pupae", "--json")).Json;

    private static async Task<JsonElement> List(TestBook book) =>
        (await book.Done("lists", "show", "--json")).Json.EnumerateArray().Single(list => list.GetProperty("supplier").GetString() == "Hollowbrook Pupae").GetProperty("list");

    [Fact]
    public async Task Next_weeks_list_of_the_same_shape_needs_no_hand()
    {
        await using var book = await Fresh();
        var first = await Take(book, "week-48.csv", FirstWeek);
        using var browser = await book.Serve();
        var page = await browser.Page($"/lists/{first.GetProperty("list").GetGuid()}");

        // One tap each: the button that is pressed is the form that holds its answer.
        foreach (var answer in (string[])["value=\"Available\"", "value=\"one\"", "value=\"EUR\""])
        {
            (_, page, _) = await PageForm.Of(page, answer).Send(browser);
        }

        (_, page, _) = await PageForm.Of(page, "Blue giant special").Send(browser, ("taxon", "Morpho helenor"));
        Assert.Contains("none in doubt", page, StringComparison.Ordinal);

        book.Clock.Advance(TimeSpan.FromDays(7));
        await book.Look(async context => await context.Houses.ExecuteUpdateAsync(set => set.SetProperty(house => house.ClockStandsAt, book.Clock.GetUtcNow()), Stop));
        var next = await Take(book, "week-49.csv", NextWeek);

        Assert.Equal(0, next.GetProperty("doubts").GetArrayLength());
        var list = await List(book);
        Assert.Equal("EUR", list.GetProperty("currency").GetString());
        Assert.Equal(
            [("Idea leuconoe", 3.90m, 35), ("Morpho helenor", 3.60m, 12), ("Papilio thoas", 3.30m, 50)],
            list.GetProperty("offers").EnumerateArray().Select(offer => (offer.GetProperty("taxon").GetString()!, offer.GetProperty("price").GetDecimal(), offer.GetProperty("available").GetInt32())));
    }

    [Fact]
    public async Task What_is_taken_back_is_doubted_again_and_the_word_before_counts()
    {
        await using var book = await Fresh();
        await Take(book, "week-48.csv", FirstWeek);
        await book.Done("lists", "teach", "--supplier", "Hollowbrook Pupae", "--column", "Zeug", "--holds", "Available", "--who", "Marit");
        await book.Done("lists", "teach", "--supplier", "Hollowbrook Pupae", "--column", "ZEUG", "--holds", "Aside", "--who", "Jon");
        async Task<JsonElement> Zeug() => (await book.Done("lists", "learnt", "--supplier", "Hollowbrook Pupae", "--json")).Json.GetProperty("rows").EnumerateArray().Single(row => row.GetProperty("printed").GetString() == "zeug");
        Assert.Equal("Jon", (await Zeug()).GetProperty("who").GetString());

        await book.Done("lists", "forget", (await Zeug()).GetProperty("id").GetString()!);

        Assert.Equal(("Marit", "pupae on hand"), ((await Zeug()).GetProperty("who").GetString(), (await Zeug()).GetProperty("means").GetString()));
        Assert.Equal(40, (await List(book)).GetProperty("offers")[0].GetProperty("available").GetInt32());
        await book.Done("lists", "forget", (await Zeug()).GetProperty("id").GetString()!);
        Assert.Contains((await List(book)).GetProperty("doubts").EnumerateArray(), doubt => doubt.GetProperty("why").GetString()!.Contains("Zeug", StringComparison.Ordinal));
        Assert.Equal(ExitCodes.BadInput, (await book.Run("lists", "forget", Guid.NewGuid().ToString())).Code);
    }

    [Fact]
    public async Task Page_shows_what_was_learnt_takes_it_back_and_exports_it()
    {
        await using var book = await Fresh();
        await Take(book, "week-48.csv", FirstWeek);
        await book.Done("lists", "teach", "--supplier", "Hollowbrook Pupae", "--prices", "pack", "--currency", "gbp", "--tax", "excluded");
        var supplier = await book.Look(context => context.Suppliers.Where(one => one.Name == "Hollowbrook Pupae").Select(one => one.Id).SingleAsync(Stop));
        using var browser = await book.Serve();

        var page = await browser.Page($"/lists/learnt/{supplier}");
        var csv = await browser.GetStringAsync(new Uri($"/lists/learnt/{supplier}/learnt.csv", UriKind.Relative), Stop);
        var json = JsonDocument.Parse(await browser.GetStringAsync(new Uri($"/lists/learnt/{supplier}/learnt.json", UriKind.Relative), Stop)).RootElement;
        var (_, after, _) = await PageForm.Of(page, $"/lists/learnt/{supplier}/forget").Send(browser);

        Assert.Contains("3 things were said", page, StringComparison.Ordinal);
        Assert.Contains("2 things were said", after, StringComparison.Ordinal);
        Assert.Contains("price,,a price beside a pack is for the pack", csv, StringComparison.Ordinal);
        Assert.Contains(json.GetProperty("rows").EnumerateArray(), row => row.GetProperty("about").GetString() == "currency" && row.GetProperty("means").GetString() == "GBP");
        Assert.Contains(json.GetProperty("rows").EnumerateArray(), row => row.GetProperty("printed").GetString() == "Pack" && row.GetProperty("id").ValueKind == JsonValueKind.Null);
    }

    [Theory]
    [InlineData("--currency", "euros")]
    [InlineData("--tax", "some")]
    [InlineData("--prices", "ten")]
    [InlineData("--holds", "Available")]
    public async Task Teach_what_cannot_be_meant_is_refused(string option, string value)
    {
        await using var book = await Fresh();

        Assert.Equal(ExitCodes.BadInput, (await book.Run("lists", "teach", "--supplier", "Hollowbrook Pupae", option, value)).Code);
    }

    [Fact]
    public async Task List_page_leads_from_each_offer_to_its_line_and_back()
    {
        await using var book = await Fresh();
        var id = (await Take(book, "week-48.csv", FirstWeek)).GetProperty("list").GetGuid();
        using var browser = await book.Serve();

        var page = await browser.Page($"/lists/{id}");

        foreach (var line in (int[])[2, 3, 4])
        {
            Assert.Contains($"<tr id=\"offer-1-{line}\"", page, StringComparison.Ordinal);
            Assert.Contains($"href=\"#line-1-{line}\"", page, StringComparison.Ordinal);
            Assert.Contains($"<tr id=\"line-1-{line}\"", page, StringComparison.Ordinal);
            Assert.Contains($"href=\"#offer-1-{line}\"", page, StringComparison.Ordinal);
        }

        Assert.True(page.IndexOf("notice-doubt", StringComparison.Ordinal) < page.IndexOf("What was read", StringComparison.Ordinal));
        Assert.Contains("<td class=\"as-printed\">Blue giant special</td>", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Line_in_doubt_is_settled_by_one_tap_and_stays_settled_with_other_numbers()
    {
        await using var book = await Fresh();
        var first = await Take(book, "week-48.txt", "Prices in EUR\nPapilio memnon 2.40 (30)\nSurprise mix, 25 pupae, we choose, 6 kinds or more  1.30  (125), each pack 25\nSurprise lot, 20 pupae, we choose, 4 kinds or more  1.10  (60), each pack 20\n");
        var address = $"/lists/{first.GetProperty("list").GetGuid()}";
        using var browser = await book.Serve();
        var page = await browser.Page(address);
        Assert.Contains("2 doubts to settle", page, StringComparison.Ordinal);

        (_, page, _) = await PageForm.Of(page, "value=\"as-read\"").Send(browser);
        Assert.Contains("1 doubt to settle", page, StringComparison.Ordinal);
        (_, page, _) = await PageForm.Of(page, "name=\"hand\"").Send(browser, ("price", "1,15"), ("hand", "80"));
        Assert.Contains("none in doubt", page, StringComparison.Ordinal);
        Assert.Contains("1.15", page, StringComparison.Ordinal);

        book.Clock.Advance(TimeSpan.FromDays(7));
        await book.Look(async context => await context.Houses.ExecuteUpdateAsync(set => set.SetProperty(house => house.ClockStandsAt, book.Clock.GetUtcNow()), Stop));
        var next = await Take(book, "week-49.txt", "Prices in EUR\nPapilio memnon 2.40 (30)\nSurprise mix, 25 pupae, we choose, 6 kinds or more  1.35  (100), each pack 25\nSurprise lot, 20 pupae, we choose, 4 kinds or more  1.20  (40), each pack 20\n");

        // "Right as read" holds for other numbers; numbers said by hand hold for that line alone.
        page = await browser.Page($"/lists/{next.GetProperty("list").GetGuid()}");
        Assert.Contains("1 doubt to settle", page, StringComparison.Ordinal);
        Assert.Contains("Right: 1.20 each", page, StringComparison.Ordinal);

        var learnt = (await book.Done("lists", "learnt", "--supplier", "Hollowbrook Pupae", "--json")).Json.GetProperty("rows").EnumerateArray().Where(row => row.GetProperty("about").GetString() == "line").ToList();
        Assert.Equal(2, learnt.Count);
        await book.Done("lists", "forget", learnt.Single(row => row.GetProperty("means").GetString() == "right as it was read").GetProperty("id").GetString()!);
        Assert.Contains("2 doubts to settle", await browser.Page($"/lists/{next.GetProperty("list").GetGuid()}"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("price nothing")]
    [InlineData("hand -3")]
    [InlineData("pack 0")]
    [InlineData("species Papilio nobodyi")]
    [InlineData("perhaps")]
    public async Task Line_that_is_said_to_offer_what_cannot_be_is_refused(string offers)
    {
        await using var book = await Fresh();

        Assert.Equal(ExitCodes.BadInput, (await book.Run("lists", "teach", "--supplier", "Hollowbrook Pupae", "--line", "Papilio memnon 2.40 (30)", "--offers", offers)).Code);
    }

    [Fact]
    public async Task Lines_in_doubt_for_one_reason_are_settled_together_and_once_however_often_it_is_sent()
    {
        await using var book = await Fresh();
        var list = await Take(book, "week-48.csv", "Prices in EUR\nSpecies;Price;Available\nPapilio memnon;2.40;flurbish\nIdea leuconoe;3.80;flurbish\nGreta oto;2.10;flurbish\nDryas iulia;1.40;25\nMorpho helenor;3.90;40\nCaligo memnon;3.20;12\n");
        using var browser = await book.Serve();
        var page = await browser.Page($"/lists/{list.GetProperty("list").GetGuid()}");
        Assert.Contains("1 doubt to settle", page, StringComparison.Ordinal);
        var together = PageForm.Of(page, "All 3 are right as read");

        (_, page, _) = await together.Send(browser);
        Assert.Contains("none in doubt", page, StringComparison.Ordinal);
        await together.Send(browser);

        Assert.Equal(3, await book.Look(context => context.Set<LearntOfList>().CountAsync(learnt => learnt.Matter == LearntMatter.Line, Stop)));
    }
}
