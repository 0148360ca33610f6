using System.Net;
using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.App.Tests.Support;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Tests.Walks;

public sealed class WalkTests
{
    private const string Key = "01976f3a-5c20-7f00-8000-0000000000d1";

    [Fact]
    public async Task Walk_keeps_noughts_and_is_there_once()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        string[] command = ["walk", "Morpho helenor=4", "Idea leuconoe=0", "--path", "Pond loop", "--minutes", "15", "--start", "10:05", "--weather", "sun", "--id", Key, "--json"];

        await book.Done(command);
        var again = await book.Done(command);

        Assert.Equal("duplicate", again.Json.GetProperty("receipt").GetString());
        var walk = await book.Look(context => context.Set<Walk>().Include(walk => walk.Counts).SingleAsync(TestContext.Current.CancellationToken));
        Assert.Equal((new TimeOnly(10, 5), 15, "sun"), (walk.Start, walk.Minutes, walk.Weather));
        Assert.Equal([("Idea leuconoe", 0), ("Morpho helenor", 4)], walk.Counts.OrderBy(count => count.Taxon, StringComparer.Ordinal).Select(count => (count.Taxon, count.Count)));
    }

    [Fact]
    public async Task Walk_wrong_values_are_named_all_at_once()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);

        var said = await book.Run("walk", "Morpho helenor=4", "Morpho peleides=1", "Xyzzy=1", "--path", " ", "--minutes", "0", "--on", "2026-12-01");

        Assert.Equal(ExitCodes.BadInput, said.Code);
        foreach (var problem in new[] { "path: found nothing", "minutes: found 0", "nobody has seen tomorrow", "Morpho helenor a second time", "species: found Xyzzy" })
        {
            Assert.Contains(problem, said.Error, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Walk_by_section_keeps_each_section_and_refuses_another_number_of_them()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        using var browser = await book.Serve();

        var wrong = await book.Run("walk", "Morpho helenor=3+0", "--path", "Pond loop", "--minutes", "15", "--sections", "3");
        var unsaid = await book.Run("walk", "Morpho helenor=3+0", "--path", "Pond loop", "--minutes", "15");
        await book.Done("walk", "Morpho helenor=3+0+2", "Idea leuconoe=1+1+0", "Papilio memnon=0", "--path", "Pond loop", "--minutes", "15", "--sections", "3");

        Assert.Contains("found 3+0; expected 3 counts, one a section", wrong.Error, StringComparison.Ordinal);
        Assert.Contains("say into how many sections", unsaid.Error, StringComparison.Ordinal);
        var walk = await book.Look(context => context.Set<Walk>().Include(walk => walk.Counts).SingleAsync(TestContext.Current.CancellationToken));
        Assert.Equal(
            [("Idea leuconoe", 1, 1), ("Idea leuconoe", 2, 1), ("Idea leuconoe", 3, 0), ("Morpho helenor", 1, 3), ("Morpho helenor", 2, 0), ("Morpho helenor", 3, 2), ("Papilio memnon", null, 0)],
            walk.Counts.OrderBy(count => count.Taxon, StringComparer.Ordinal).ThenBy(count => count.Section).Select(count => (count.Taxon, count.Section, count.Count)));
        var page = WebUtility.HtmlDecode(await browser.Page("/flying/walk"));
        Assert.Contains("data-name=\"Seen\">7 (4+1+2)</td>", page, StringComparison.Ordinal);
        Assert.Contains("data-name=\"Species\">2</td>", page, StringComparison.Ordinal);
        Assert.Equal("3", PageForm.Of(page, "name=\"species\"").Fields["sections"]);
    }

    [Fact]
    public async Task Walk_page_lists_the_commonest_first_and_remembers_the_path()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        foreach (var (taxon, released) in new[] { ("Idea leuconoe", "2"), ("Morpho helenor", "7") })
        {
            var lot = await HungHouse.Hang(book, house, taxon, 12, 9);
            await book.Done("round", "enter", "--lot", LotCode.Of(lot.Id), "--emerged", released, "--released");
        }

        using var browser = await book.Serve();
        var form = PageForm.Of(await browser.Page("/flying/walk"), "name=\"species\"");
        Assert.Equal(("Morpho helenor", "Idea leuconoe"), (form.Fields["s0-taxon"], form.Fields["s1-taxon"]));

        var wrong = await form.Send(browser, ("path", "Pond loop"), ("s0-count", "4"), ("start", "noon"));
        var (status, page, _) = await form.Send(browser, ("start", "10:05"), ("s1-count", "0"));

        Assert.Equal(HttpStatusCode.BadRequest, wrong.Status);
        Assert.Contains("began at: found noon", wrong.Page, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, status);
        Assert.Contains("The last walk was today: 4 seen", page, StringComparison.Ordinal);
        Assert.Equal("Pond loop", PageForm.Of(page, "name=\"species\"").Fields["path"]);
        Assert.Contains("No walk has been made yet", (await PageForm.Of(page, "/walk/undo").Send(browser)).Page, StringComparison.Ordinal);
    }
}
