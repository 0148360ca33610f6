using System.Net;
using System.Text.RegularExpressions;
using Lepidary.App.Rounds;
using Lepidary.App.Tests.Support;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Tests.Paper;

public sealed partial class PaperTests
{
    [Fact]
    public async Task Round_sheet_and_its_typing_page_stand_in_the_order_of_the_round()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        await HungHouse.Hang(book, house, "Papilio memnon", 8, 3, "Cage B", "1");
        await HungHouse.Hang(book, house, "Morpho helenor", 12, 9, row: "10");
        await HungHouse.Hang(book, house, "Caligo memnon", 5, 9, row: "2");
        using var browser = await book.Serve();
        var order = Codes().Matches(await browser.Page("/round")).Select(code => code.Value).Distinct().ToList();

        var sheet = Codes().Matches(await browser.Page("/paper/round")).Select(code => code.Value).Distinct();
        var typing = TypedLots().Matches(await browser.Page("/paper/round/type")).Select(lot => lot.Groups["code"].Value);

        // The round begins with a button to the first lot that waits; behind it they stand as they hang.
        Assert.Equal(3, order.Count);
        Assert.Equal(sheet, typing);
        Assert.Equal(["2", "10", "1"], (await Rows(browser)).Select(row => row));
    }

    [Fact]
    public async Task Typing_the_round_back_writes_each_filled_row_once_and_leaves_empty_ones_unvisited()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        await HungHouse.Hang(book, house, "Caligo memnon", 5, 9, row: "1");
        await HungHouse.Hang(book, house, "Morpho helenor", 12, 9, row: "2");
        await HungHouse.Hang(book, house, "Papilio memnon", 8, 3, row: "3");
        using var browser = await book.Serve();
        var form = PageForm.Of(await browser.Page("/paper/round/type"), "class=\"typing\"");

        var (status, page, address) = await form.Send(browser, ("r0-looked", "on"), ("r1-male", "2"), ("r1-female", "1"), ("r1-released", "on"), ("r1-note", "by the vent"), ("who", "Ann"), ("day", "2026-11-26"));
        await form.Send(browser);

        Assert.Equal((HttpStatusCode.OK, "/round/summary"), (status, address));
        Assert.Contains("<h1>", page, StringComparison.Ordinal);
        var entries = await book.Look(context => context.Entries.OrderBy(entry => entry.EmergedMale).ToListAsync(TestContext.Current.CancellationToken));
        Assert.Equal([0, 3], entries.Select(entry => entry.Total));
        Assert.All(entries, entry => Assert.Equal(("Ann", new DateOnly(2026, 11, 26)), (entry.Who, entry.OnDay)));
        Assert.Equal("by the vent", entries[1].Note);
        Assert.Equal(3, (await book.Look(context => context.Set<Release>().SingleAsync(TestContext.Current.CancellationToken))).Total);
        Assert.Empty(await book.Look(context => context.Conflicts.ToListAsync(TestContext.Current.CancellationToken)));
    }

    [Fact]
    public async Task Typing_a_wrong_row_writes_no_row_and_gives_all_back()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        await HungHouse.Hang(book, house, "Caligo memnon", 5, 9, row: "1");
        var second = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9, row: "2");
        using var browser = await book.Serve();
        var form = PageForm.Of(await browser.Page("/paper/round/type"), "class=\"typing\"");

        var (status, page, _) = await form.Send(browser, ("r0-male", "1"), ("r1-dead", "1"), ("r1-released", "on"));
        var nothing = await PageForm.Of(await browser.Page("/paper/round/type"), "class=\"typing\"").Send(browser);

        Assert.Equal(HttpStatusCode.BadRequest, status);
        Assert.Contains($"{LotCode.Of(second.Id)}, released: found no adults out", page, StringComparison.Ordinal);
        Assert.Contains("name=\"r0-male\" aria-label", page, StringComparison.Ordinal);
        Assert.Contains("no row filled in", nothing.Page, StringComparison.Ordinal);
        Assert.Empty(await book.Look(context => context.Entries.ToListAsync(TestContext.Current.CancellationToken)));
    }

    [Fact]
    public async Task Delivery_and_walk_sheets_have_a_line_for_everything_and_room_for_more()
    {
        await using var book = await TestBook.Demo();
        using var browser = await book.Serve();

        var paper = await browser.Page("/paper");
        var delivery = await browser.Page("/paper/delivery");
        var walk = await browser.Page("/paper/walk");
        var form = await browser.Page("/flying/walk");

        Assert.Contains("/paper/round", paper, StringComparison.Ordinal);
        Assert.Equal(12, Regex.Count(delivery, "another species"));
        Assert.Equal(WalkSpecies().Matches(form).Select(name => name.Groups["name"].Value), SheetSpecies().Matches(walk).Select(name => name.Groups["name"].Value));
    }

    private static async Task<IEnumerable<string>> Rows(HttpClient browser) =>
        RowCells().Matches(await browser.Page("/paper/round")).Select(cell => cell.Groups["row"].Value);

    [GeneratedRegex("[0-9A-HJKMNP-TV-Z]{3}-[0-9A-HJKMNP-TV-Z]{4}")]
    private static partial Regex Codes();

    [GeneratedRegex("name=\"r\\d+-lot\" value=\"(?<code>[^\"]+)\"")]
    private static partial Regex TypedLots();

    [GeneratedRegex("<tr>\\s*<td>(?<row>[^<]*)</td>")]
    private static partial Regex RowCells();

    [GeneratedRegex("-taxon\" value=\"(?<name>[^\"]+)\"")]
    private static partial Regex WalkSpecies();

    [GeneratedRegex("<tr><th scope=\"row\"><i lang=\"la\" class=\"latin\">(?<name>[^<]+)</i></th>")]
    private static partial Regex SheetSpecies();
}
