using System.Net;
using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.App.Tests.Support;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Tests.Deaths;

public sealed class FoundDeadTests
{
    private const string Key = "01976f3a-5c20-7f00-8000-0000000000c1";

    [Fact]
    public async Task Found_dead_by_name_and_area_sent_twice_is_there_once()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        string[] command = ["found-dead", "Morpho peleides=2", "Idea leuconoe=1", "--area", "Palm hall", "--id", Key, "--who", "Ann", "--json"];

        await book.Done(command);
        var again = await book.Done(command);

        Assert.Equal("duplicate", again.Json.GetProperty("receipt").GetString());
        var rows = await book.Look(context => context.Set<FoundDead>().OrderBy(row => row.Taxon).ToListAsync(TestContext.Current.CancellationToken));
        Assert.Equal([("Idea leuconoe", 1), ("Morpho helenor", 2)], rows.Select(row => (row.Taxon, row.Count)));
        Assert.All(rows, row => Assert.NotNull(row.AreaId));
    }

    [Fact]
    public async Task Found_dead_in_the_cage_empties_it()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9);
        await book.Done("round", "enter", "--lot", LotCode.Of(lot.Id), "--emerged", "3");

        await book.Done("found-dead", "Morpho helenor=1", "--lot", LotCode.Of(lot.Id));

        var line = (await book.Done("lots", "--json")).Json.GetProperty("lots")[0];
        Assert.Equal((1, 2), (line.GetProperty("diedInCage").GetInt32(), line.GetProperty("toRelease").GetInt32()));
    }

    [Fact]
    public async Task Found_dead_wrong_values_are_named_all_at_once()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);

        var said = await book.Run("found-dead", "Morpho helenor", "Xyzzy=two", "--area", "Orchard");
        var unknown = await book.Run("found-dead", "Xyzzy=1", "--on", "2026-11-28");

        Assert.Equal(ExitCodes.BadInput, said.Code);
        Assert.Equal(3, said.Error.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
        Assert.Contains("nobody has seen tomorrow", unknown.Error, StringComparison.Ordinal);
        Assert.Contains("species: found Xyzzy", unknown.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Found_dead_page_lists_what_flies_and_takes_a_count_back()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9);
        await book.Done("round", "enter", "--lot", LotCode.Of(lot.Id), "--emerged", "5", "--released");
        using var browser = await book.Serve();
        var page = await browser.Page("/flying/found-dead");
        var form = PageForm.Of(page, "name=\"species\"");

        Assert.Contains("about 5 flying", page, StringComparison.Ordinal);
        var (status, said, _) = await form.Send(browser, ("s0-count", "2"), ("s1-taxon", "Idea leuconoe"), ("s1-count", "1"), ("who", "Ann"));
        await form.Send(browser);

        Assert.Equal(HttpStatusCode.OK, status);
        Assert.Contains("<h1>3 found dead today</h1>", said, StringComparison.Ordinal);
        Assert.Contains("about 3 flying", said, StringComparison.Ordinal);
        Assert.Equal(2, await book.Look(context => context.Set<FoundDead>().CountAsync(TestContext.Current.CancellationToken)));

        var undone = await PageForm.Of(said, "/found-dead/undo").Send(browser);

        Assert.DoesNotContain("<h1>3 found dead today</h1>", undone.Page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Found_dead_page_with_wrong_values_keeps_them()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        using var browser = await book.Serve();

        var (status, page, _) = await PageForm.Of(await browser.Page("/flying/found-dead"), "name=\"species\"").Send(browser, ("s0-taxon", "Xyzzy"), ("s0-count", "1"), ("note", "by the pond"));

        Assert.Equal(HttpStatusCode.BadRequest, status);
        Assert.Contains("value=\"Xyzzy\"", page, StringComparison.Ordinal);
        Assert.Contains("value=\"by the pond\"", page, StringComparison.Ordinal);
    }
}
