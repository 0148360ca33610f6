using System.Net;
using System.Text.RegularExpressions;
using Lepidary.App.Tests.Support;

namespace Lepidary.App.Tests.House;

/// <summary>A keeper puts, changes and gives up wishes on a page, without a file.</summary>
public sealed partial class WishTests
{
    [Fact]
    public async Task A_wish_is_put_by_an_old_name_changed_and_given_up()
    {
        await using var book = await TestBook.Demo();
        using var browser = await book.Serve();

        var put = await PageForm.Of(await browser.Page("/house/wish"), "action=\"/house/wish\"").Send(
            browser, ("at-least", "7"), ("kind", "Display"), ("of", "Papilio blumei"), ("sure", "90"), ("importance", "4"), ("from", "2026-12-10"), ("to", "2026-12-20"), ("on-32", "on"), ("on-64", "on"));
        Assert.Equal((HttpStatusCode.OK, "/house?wish=put"), (put.Status, put.Address));
        const string wish = "display: { taxon: \"Papilio blumei\", at-least: 7, sure: 90%, importance: 4, from: 2026-12-10, to: 2026-12-20, days: [sat, sun] }";
        Assert.Contains(wish, (await book.Done("house", "show")).Output, StringComparison.Ordinal);

        var change = await PageForm.Of(await browser.Page(Change(put.Page, "Papilio blumei")), "action=\"/house/wish\"").Send(
            browser, ("at-least", "9"), ("kind", "Display"), ("sure", "95"), ("importance", "2"));
        Assert.Equal("/house?wish=put", change.Address);
        var file = (await book.Done("house", "show")).Output;
        Assert.DoesNotContain("at-least: 7,", file, StringComparison.Ordinal);
        Assert.Contains("display: { taxon: \"Papilio blumei\", at-least: 9, sure: 95%, importance: 2, from: 2026-12-10, to: 2026-12-20 }", file, StringComparison.Ordinal);

        var address = Change(change.Page, "Papilio blumei");
        var ended = await PageForm.Of(await browser.Page(address), "action=\"/house/wish/end\"").Send(browser);
        Assert.Equal("/house?wish=ended", ended.Address);
        Assert.DoesNotContain("Papilio blumei", (await book.Done("house", "show")).Output, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await browser.GetAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken)).StatusCode);
    }

    [Theory]
    [InlineData("Morpho peleides", "taxon: \"Morpho helenor\"")]
    [InlineData("blue", "tag: \"blue\"")]
    [InlineData("heliconiidae", "taxon: \"Heliconiidae\"")]
    [InlineData("Caligo", "taxon: \"Caligo\"")]
    [InlineData("", "all: yes")]
    public async Task What_is_wished_for_is_said_in_a_keepers_words(string of, string inTheFile)
    {
        await using var book = await TestBook.Demo();
        using var browser = await book.Serve();
        var put = await PageForm.Of(await browser.Page("/house/wish"), "action=\"/house/wish\"").Send(browser, ("at-least", "317"), ("of", of), ("sure", "70"), ("importance", "1"));
        Assert.Equal("/house?wish=put", put.Address);
        Assert.Contains($"display: {{ {inTheFile}, at-least: 317, sure: 70%, importance: 1 }}", (await book.Done("house", "show")).Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_wrong_wish_is_shown_again_with_what_was_typed_and_writes_nothing()
    {
        await using var book = await TestBook.Demo();
        using var browser = await book.Serve();
        var before = (await book.Done("house", "show")).Output;
        var refused = await PageForm.Of(await browser.Page("/house/wish"), "action=\"/house/wish\"").Send(
            browser, ("at-least", "0"), ("kind", "Breeding"), ("of", "Heliconius"), ("sure", "100"), ("importance", "9"), ("from", "2026-12-20"), ("to", "2026-12-10"));
        Assert.Equal(HttpStatusCode.BadRequest, refused.Status);
        foreach (var wrong in (string[])["how many: found 0", "of what: found Heliconius; expected the name of a species", "how sure: found 1", "importance: found 9", "last day: found 2026-12-10"])
        {
            Assert.Contains(wrong, refused.Page, StringComparison.Ordinal);
        }

        Assert.Contains("value=\"Heliconius\"", refused.Page, StringComparison.Ordinal);
        Assert.Equal(before, (await book.Done("house", "show")).Output);
    }

    /// <summary>Where the link leads that changes the wish for a taxon.</summary>
    private static string Change(string page, string taxon) =>
        ChangeLinks().Matches(page).Single(link => link.Groups["label"].Value.Contains(taxon, StringComparison.Ordinal)).Groups["to"].Value;

    [GeneratedRegex("<a href=\"(?<to>/house/wish[^\"]*)\" aria-label=\"(?<label>[^\"]*)\"")]
    private static partial Regex ChangeLinks();
}
