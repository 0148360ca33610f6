using Lepidary.Browser.Harness;

namespace Lepidary.Browser.Walk;

/// <summary>Every page of the demo house, at both widths, by keyboard, and with JavaScript off.</summary>
public sealed class PageWalkTests(BrowserFixture browser)
{
    /// <summary>
    /// Bytes of a page and all that it asks for, as they come over the wire to a browser that has nothing yet. At 400 kbit/s,
    /// a poor signal in a glasshouse, this much takes under three seconds.
    /// </summary>
    private const int MostToCarry = 140_000;

    public static TheoryData<string> Pages => [.. PageWalk.Routes];

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task Page_of_the_contents_is_in_order_and_light_to_carry(string route)
    {
        var demo = await browser.Demo();
        await using var visit = await browser.Open(demo.Page(route), Screen.Phone);

        Assert.Equal(200, visit.Status);
        Assert.InRange(await visit.Carried(), 1, MostToCarry);
        Faults.None(await PageCheck.AtBothWidths(visit, PageWalk.FileName(route)));
    }

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task Page_without_JavaScript_says_the_same(string route)
    {
        var demo = await browser.Demo();
        await using var with = await browser.Open(demo.Page(route), Screen.Phone);
        await using var without = await browser.Open(demo.Page(route), Screen.Phone, script: false);

        Assert.NotEmpty(await without.MainText());
        Faults.None(await PageCheck.MissingWithoutScript(with, without));
    }

    [Fact]
    public async Task Contents_name_the_pages_that_are_walked_and_no_other()
    {
        var demo = await browser.Demo();
        await using var visit = await browser.Open(demo.Page("/contents"), Screen.Desk);
        var named = await visit.Page.Locator("nav a").EvaluateAllAsync<string[]>("links => links.map(link => link.getAttribute('href'))");

        Assert.Equal(PageWalk.Routes.Order(StringComparer.Ordinal), named.Distinct().Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task Links_from_page_to_page_all_lead_somewhere()
    {
        var answers = await PageWalk.FollowLinks(await browser.Demo());

        Faults.None([.. answers.Where(answer => answer.Status != 200).Select(a => $"{a.Route}, linked from {a.From}: status {a.Status}")]);
    }
}
