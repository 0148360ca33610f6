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

    public static MatrixTheoryData<string, int> PagesAndWidths => new(PageWalk.Routes, [Screen.Phone.Width, Screen.Desk.Width]);

    public static TheoryData<string> Pages => [.. PageWalk.Routes];

    [Theory]
    [MemberData(nameof(PagesAndWidths))]
    public async Task Page_of_the_contents_is_in_order(string route, int width)
    {
        var demo = await browser.Demo();
        await using var visit = await browser.Open(demo.Page(route), Screen.OfWidth(width));

        Faults.None(await PageCheck.Basics(visit), await PageCheck.Accessibility(visit), await PageCheck.Keyboard(visit));
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

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task Page_cold_is_light_to_carry(string route)
    {
        var demo = await browser.Demo();
        await using var visit = await browser.Open(demo.Page(route), Screen.Phone);

        Assert.InRange(await visit.Carried(), 1, MostToCarry);
    }
}
