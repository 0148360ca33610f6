using System.Net;
using Lepidary.App.Rounds;
using Lepidary.App.Tests.Support;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Tests.Rounds;

public sealed class RoundPagesTests
{
    [Fact]
    public async Task Round_page_says_first_how_many_are_left()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9, row: "3");
        await HungHouse.Hang(book, house, "Papilio memnon", 8, 60);
        using var browser = await book.Serve();

        var page = await browser.Page("/round");

        Assert.Contains("<h1>2 lots to look at</h1>", page, StringComparison.Ordinal);
        Assert.Contains("Look at these first", page, StringComparison.Ordinal);
        Assert.Contains($"/round/{LotCode.Of(lot.Id)}", page, StringComparison.Ordinal);
        Assert.Contains("<b>12</b> there yesterday", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Entry_form_sent_twice_is_one_entry_and_leads_on()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9, row: "1");
        var next = await HungHouse.Hang(book, house, "Papilio memnon", 8, 3, row: "2");
        using var browser = await book.Serve();
        var form = PageForm.Of(await browser.Page($"/round/{LotCode.Of(lot.Id)}"), "count-head");

        var first = await form.Send(browser, ("male", "2"), ("female", "1"), ("dead", "1"), ("released", "on"), ("who", "Ann"));
        book.Clock.Advance(TimeSpan.FromSeconds(3));
        var second = await form.Send(browser);

        Assert.Equal(HttpStatusCode.OK, first.Status);
        Assert.StartsWith($"/round/{LotCode.Of(next.Id)}?entered=", first.Address, StringComparison.Ordinal);
        Assert.Contains("3 out (2 males, 1 female), 1 dead, released into Palm hall", first.Page, StringComparison.Ordinal);
        Assert.DoesNotContain("other figures", second.Page, StringComparison.Ordinal);
        var (entries, releases, conflicts) = await Rows(book);
        Assert.Equal((1, 1, 0), (entries.Count, releases.Count, conflicts));
        Assert.Equal("Ann", entries[0].Who);
        Assert.Contains("value=\"Ann\"", await browser.Page($"/round/{LotCode.Of(next.Id)}"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Round_begins_with_what_is_overdue_or_coloured_up_only_where_that_is_wished()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var plain = await HungHouse.Hang(book, house, "Morpho helenor", 12, 3, row: "1");
        var overdue = await HungHouse.Hang(book, house, "Papilio memnon", 8, 60, row: "2");
        await book.Done("deliveries", "take", "--supplier", "Quillfeather Pupae", "--line", "Idea leuconoe=9,coloured=3,cage=Cage B,row=1");
        using var browser = await book.Serve();
        var coloured = await book.Look(context => context.Lots.SingleAsync(lot => lot.Taxon == "Idea leuconoe", TestContext.Current.CancellationToken));

        var page = await browser.Page("/round");
        Assert.Contains("About to come out", page, StringComparison.Ordinal);
        Assert.Contains("3 coloured up", page, StringComparison.Ordinal);
        Assert.Contains($"class=\"button big\" href=\"/round/{LotCode.Of(plain.Id)}\"", page, StringComparison.Ordinal);

        var (_, urgent, _) = await PageForm.Of(page, "/round/order\"").Send(browser, ("first", "urgent"));
        Assert.Contains($"class=\"button big\" href=\"/round/{LotCode.Of(overdue.Id)}\"", urgent, StringComparison.Ordinal);
        var entered = await PageForm.Of(await browser.Page($"/round/{LotCode.Of(overdue.Id)}"), "count-head").Send(browser, ("dead", "8"));
        Assert.StartsWith($"/round/{LotCode.Of(coloured.Id)}?", entered.Address, StringComparison.Ordinal);
        var out3 = await PageForm.Of(await browser.Page($"/round/{LotCode.Of(coloured.Id)}"), "count-head").Send(browser, ("unsexed", "3"));
        Assert.StartsWith($"/round/{LotCode.Of(plain.Id)}?", out3.Address, StringComparison.Ordinal);
        Assert.DoesNotContain("coloured up", await browser.Page("/round"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Lots_in_one_row_are_walked_by_their_place_in_it()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var late = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9, row: "3");
        var early = await HungHouse.Hang(book, house, "Papilio memnon", 8, 3, row: "3");
        using var browser = await book.Serve();

        await PageForm.Of(await browser.Page($"/round/{LotCode.Of(late.Id)}"), "/move\"").Send(browser, ("cage", house.Cages.Single(cage => cage.Name == "Cage A").Id.ToString()), ("row", "3"), ("place", "9"));
        await book.Done("move", "--lot", LotCode.Of(early.Id), "--cage", "Cage A", "--row", "3", "--place", "1");

        var lots = (await book.Done("round", "show", "--json")).Json.GetProperty("lots").EnumerateArray().Select(lot => (lot.GetProperty("taxon").GetString(), lot.GetProperty("where").GetString())).ToList();
        Assert.Equal([("Papilio memnon", "row 3"), ("Morpho helenor", "row 3, place 9")], lots);
        Assert.Contains("place: found 0", (await book.Run("move", "--lot", LotCode.Of(early.Id), "--cage", "Cage A", "--row", "3", "--place", "0")).Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Photo_of_a_lot_is_kept_and_shown_with_it()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9);
        using var browser = await book.Serve();
        var form = PageForm.Of(await browser.Page($"/round/{LotCode.Of(lot.Id)}"), "/photo\"");
        byte[] bytes = [0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A, 7];

        for (var times = 0; times < 2; times++)
        {
            using var picture = new MultipartFormDataContent { { new ByteArrayContent(bytes), "photo", "mould.png" }, { new StringContent("mould on two"), "photo-note" } };
            foreach (var (name, value) in form.Fields.Where(field => field.Key is not ("photo" or "photo-note")))
            {
                picture.Add(new StringContent(value), name);
            }

            Assert.Equal(HttpStatusCode.OK, (await browser.PostAsync(new Uri($"/round/{LotCode.Of(lot.Id)}/photo", UriKind.Relative), picture, TestContext.Current.CancellationToken)).StatusCode);
        }

        var kept = await book.Look(context => context.Set<Photo>().SingleAsync(TestContext.Current.CancellationToken));
        Assert.Equal((lot.Id, "image/png", "mould on two"), (kept.AboutId, kept.MediaType, kept.Note));
        Assert.Contains($"<img src=\"/photos/{kept.Id}\" alt=\"mould on two, today\"", await browser.Page($"/round/{LotCode.Of(lot.Id)}"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Quick_button_enters_and_releases_at_once_and_the_round_ends_with_a_summary()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 30, 9);
        using var browser = await book.Serve();
        var form = PageForm.Of(await browser.Page($"/round/{LotCode.Of(lot.Id)}"), "class=\"quick\"");

        var (_, page, address) = await form.Send(browser, ("all-fine", "3"));

        Assert.StartsWith("/round/summary", address, StringComparison.Ordinal);
        Assert.Contains("<h1>The round is done</h1>", page, StringComparison.Ordinal);
        Assert.Contains("3 out. 3 released.", page, StringComparison.Ordinal);
        var (entries, releases, _) = await Rows(book);
        Assert.Equal((3, 3), (entries.Single().EmergedUnsexed, releases.Single().Unsexed));
        Assert.Equal(house.Areas.Single(area => area.Name == "Palm hall").Id, releases.Single().AreaId);
    }

    [Fact]
    public async Task Entry_form_with_wrong_values_comes_back_with_all_of_them_and_nothing_lost()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9);
        using var browser = await book.Serve();
        var form = PageForm.Of(await browser.Page($"/round/{LotCode.Of(lot.Id)}"), "count-head");

        var (status, page, _) = await form.Send(browser, ("male", "two"), ("female", "1"), ("dead", "-1"), ("note", "by the vent"), ("day", "2026-11-27"));
        var future = await form.Send(browser, ("male", "2"), ("dead", ""), ("day", "2026-11-29"));

        Assert.Equal(HttpStatusCode.BadRequest, status);
        Assert.Contains("2 things are to be mended", page, StringComparison.Ordinal);
        Assert.Contains("value=\"two\"", page, StringComparison.Ordinal);
        Assert.Contains("value=\"by the vent\"", page, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.BadRequest, future.Status);
        Assert.Contains("nobody has seen tomorrow", future.Page, StringComparison.Ordinal);
        Assert.Empty((await Rows(book)).Entries);
    }

    [Fact]
    public async Task Two_browsers_on_one_lot_both_are_kept_and_the_second_is_told()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9);
        await HungHouse.Hang(book, house, "Papilio memnon", 12, 1, "Cage B");
        using var anns = await book.Serve();
        using var bens = await book.Serve();
        var address = $"/round/{LotCode.Of(lot.Id)}";
        var annsForm = PageForm.Of(await anns.Page(address), "count-head");
        var bensForm = PageForm.Of(await bens.Page(address), "count-head");

        var ann = await annsForm.Send(anns, ("unsexed", "3"), ("who", "Ann"));
        var ben = await bensForm.Send(bens, ("unsexed", "2"), ("who", "Ben"));

        Assert.DoesNotContain("both are kept", ann.Page, StringComparison.Ordinal);
        Assert.StartsWith(address, ben.Address, StringComparison.Ordinal);
        Assert.Contains("Ann entered 3 out at 10:40; both are kept.", ben.Page, StringComparison.Ordinal);
        Assert.Equal(5, (await Rows(book)).Entries.Sum(entry => entry.EmergedUnsexed));
    }

    [Fact]
    public async Task Same_form_with_other_figures_keeps_the_first_and_says_so()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9);
        using var browser = await book.Serve();
        var form = PageForm.Of(await browser.Page($"/round/{LotCode.Of(lot.Id)}"), "count-head");

        await form.Send(browser, ("unsexed", "3"));
        var (_, page, _) = await form.Send(browser, ("unsexed", "4"));
        var discrepancies = await browser.Page("/round/discrepancies");

        Assert.Contains("other figures", page, StringComparison.Ordinal);
        Assert.Contains("The second row says: 4 out", discrepancies, StringComparison.Ordinal);
        Assert.Equal(3, (await Rows(book)).Entries.Single().EmergedUnsexed);
    }

    [Fact]
    public async Task Undo_on_the_page_takes_the_entry_back()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 12, 9);
        using var browser = await book.Serve();
        await PageForm.Of(await browser.Page($"/round/{LotCode.Of(lot.Id)}"), "count-head").Send(browser, ("unsexed", "3"), ("released", "on"));

        var (status, page, _) = await PageForm.Of(await browser.Page($"/round/{LotCode.Of(lot.Id)}"), "/undo").Send(browser);

        Assert.Equal(HttpStatusCode.OK, status);
        Assert.Contains("taken back", page, StringComparison.Ordinal);
        Assert.Contains("12 hung: 12 hanging.", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task More_than_hangs_is_kept_shown_and_settled_on_the_page()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 4, 9);
        using var browser = await book.Serve();

        var (status, page, _) = await PageForm.Of(await browser.Page($"/round/{LotCode.Of(lot.Id)}"), "count-head").Send(browser, ("unsexed", "6"), ("released", "on"));
        var settled = await PageForm.Of(await browser.Page("/round/discrepancies"), "class=\"row\"").Send(browser, ("how", "more-received"));

        Assert.Equal(HttpStatusCode.OK, status);
        Assert.Contains("4 received, 6 accounted for", page, StringComparison.Ordinal);
        Assert.Contains("<h1>Everything adds up</h1>", settled.Page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Parasitised_shows_the_steps_at_once()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 4, 9);
        using var browser = await book.Serve();

        var (_, page, address) = await PageForm.Of(await browser.Page($"/round/{LotCode.Of(lot.Id)}"), "count-head").Send(browser, ("parasitised", "1"));

        Assert.StartsWith($"/round/{LotCode.Of(lot.Id)}", address, StringComparison.Ordinal);
        Assert.Contains("Parasitoids: do this now", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Moved_lot_hangs_in_its_new_cage_and_is_there_once()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 4, 2);
        using var browser = await book.Serve();
        var form = PageForm.Of(await browser.Page($"/round/{LotCode.Of(lot.Id)}"), "/move");
        form.Fields["cage"] = house.Cages.Single(cage => cage.Name == "Cage B").Id.ToString();

        var (status, page, _) = await form.Send(browser, ("row", "7"));
        await form.Send(browser);
        await book.Done("move", "--lot", LotCode.Of(lot.Id), "--cage", "cage b", "--row", "7");
        var wrong = await book.Run("move", "--lot", LotCode.Of(lot.Id), "--cage", "Palm hall");

        Assert.Equal(HttpStatusCode.OK, status);
        Assert.Contains("Cage B, row 7", page, StringComparison.Ordinal);
        Assert.Equal(1, wrong.Code);
        Assert.Equal(1, await book.Look(context => context.Set<Move>().CountAsync(TestContext.Current.CancellationToken)));
    }

    [Fact]
    public async Task Adults_that_died_before_release_no_longer_wait()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 4, 9);
        await book.Done("round", "enter", "--lot", LotCode.Of(lot.Id), "--emerged", "3");
        using var browser = await book.Serve();
        var address = $"/round/{LotCode.Of(lot.Id)}";
        var form = PageForm.Of(await browser.Page(address), "/died");

        var nothing = await form.Send(browser, ("died", "0"));
        var (_, page, _) = await form.Send(browser, ("died", "1"));
        await form.Send(browser);
        var released = await PageForm.Of(await browser.Page(address), "release-head").Send(browser, ("release-unsexed", "2"));

        Assert.Equal(HttpStatusCode.BadRequest, nothing.Status);
        Assert.Contains("2 to be let go", page, StringComparison.Ordinal);
        Assert.Contains("2 released into Palm hall", released.Page, StringComparison.Ordinal);
        Assert.DoesNotContain("to be let go", released.Page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Lot_that_is_not_there_is_said_so()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        using var browser = await book.Serve();

        var answer = await browser.GetAsync(new Uri("/round/AAA-AAAA", UriKind.Relative), TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        Assert.Contains("That page is not in the book", await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Form_without_its_token_writes_nothing()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var lot = await HungHouse.Hang(book, house, "Morpho helenor", 4, 9);
        using var browser = await book.Serve();
        using var content = new FormUrlEncodedContent([new("dead", "1")]);

        var answer = await browser.PostAsync(new Uri($"/round/{LotCode.Of(lot.Id)}", UriKind.Relative), content, TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Empty((await Rows(book)).Entries);
    }

    private static Task<(List<Entry> Entries, List<Release> Releases, int Conflicts)> Rows(TestBook book) => book.Look(async context => (
        await context.Entries.ToListAsync(TestContext.Current.CancellationToken),
        await context.Set<Release>().ToListAsync(TestContext.Current.CancellationToken),
        await context.Conflicts.CountAsync(TestContext.Current.CancellationToken)));
}
