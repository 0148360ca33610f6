namespace Lepidary.Browser.Harness;

/// <summary>Each check on a page that is in order, and on the same page with one fault planted.</summary>
public sealed class PageCheckTests(BrowserFixture browser)
{
    private const string Good =
        """
        <!DOCTYPE html>
        <html lang="en">
        <head>
          <meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
          <title>Week</title>
          <style>
            body { margin: 0; color: #222; background: #fff; }
            .skip { position: absolute; left: -999px; } .skip:focus { left: 0; }
            a:focus, input:focus { outline: 3px solid #06c; }
          </style>
        </head>
        <body>
          <a class="skip" href="#page">Skip to the page</a>
          <header><nav aria-label="Contents"><a href="/">Today</a> <a href="/order">Order</a></nav></header>
          <main id="page" tabindex="-1">
            <h1>Week</h1>
            <p>Twelve pupae hang.</p>
            <p><label>Emerged <input name="emerged"></label></p>
          </main>
        </body>
        </html>
        """;

    [Theory]
    [InlineData(390)]
    [InlineData(1280)]
    public async Task Checks_page_in_order_find_nothing(int width)
    {
        await using var site = await PlantedSite.Serve(Good);
        await using var visit = await browser.Open(site.Address, Screen.OfWidth(width));
        await using var plain = await browser.Open(site.Address, Screen.OfWidth(width), script: false);

        Assert.Empty(await PageCheck.Basics(visit));
        Assert.Empty(await PageCheck.Accessibility(visit));
        Assert.Empty(await PageCheck.Keyboard(visit));
        Assert.Empty(await PageCheck.MissingWithoutScript(visit, plain));
    }

    [Theory]
    [InlineData("<h1>Week</h1>", "<h1>Week</h1><h1>Again</h1>", "2 main headings")]
    [InlineData("<h1>Week</h1>", "<h2>Week</h2>", "0 main headings")]
    [InlineData("<title>Week</title>", "", "no title")]
    [InlineData("<p>Twelve", "<p style=\"width: 700px\">Twelve", "scrolls sideways")]
    [InlineData("</main>", "<script>console.error('lost')</script></main>", "console: lost")]
    [InlineData("</main>", "<script>undefinedThing()</script></main>", "console: ")]
    [InlineData("</main>", "<img alt=\"\" src=\"http://127.0.0.2:9/x.png\"></main>", "asks another host: http://127.0.0.2:9/x.png")]
    [InlineData("</main>", "<img alt=\"\" src=\"/gone.png\"></main>", "console: ")]
    public async Task Basics_planted_fault_is_found(string sound, string planted, string fault)
    {
        await using var site = await PlantedSite.Serve(Plant(sound, planted));
        await using var visit = await browser.Open(site.Address, Screen.Phone);

        Assert.Contains(await PageCheck.Basics(visit), found => found.StartsWith(fault, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Basics_page_that_fails_is_found()
    {
        await using var site = await PlantedSite.Serve(Good, status: 500);
        await using var visit = await browser.Open(site.Address, Screen.Desk);

        Assert.Contains("status 500", await PageCheck.Basics(visit));
    }

    [Theory]
    [InlineData("<p>Twelve", "<p style=\"color: #bbb\">Twelve", "axe color-contrast")]
    [InlineData("<label>Emerged <input name=\"emerged\"></label>", "<input name=\"emerged\">", "axe label")]
    [InlineData("<html lang=\"en\">", "<html>", "axe html-has-lang")]
    [InlineData("</main>", "</main><p>Left over</p>", "axe region")]
    [InlineData("</main>", "<p><a href=\"/a\" style=\"font-size: 9px\">a</a><a href=\"/b\" style=\"font-size: 9px\">b</a></p></main>", "axe ")]
    public async Task Accessibility_planted_fault_is_found(string sound, string planted, string fault)
    {
        await using var site = await PlantedSite.Serve(Plant(sound, planted));
        await using var visit = await browser.Open(site.Address, Screen.Phone);

        Assert.Contains(await PageCheck.Accessibility(visit), found => found.StartsWith(fault, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("<a class=\"skip\" href=\"#page\">Skip to the page</a>", "", "the first stop of Tab")]
    [InlineData("href=\"#page\"", "href=\"#nowhere\"", "the first stop of Tab")]
    [InlineData(".skip:focus { left: 0; }", "", "the first stop of Tab")]
    [InlineData("outline: 3px solid #06c", "outline: none", "focus does not show: <input")]
    [InlineData("</main>", "</main><footer style=\"position: fixed; inset: 0; background: #fff\">Lepidary</footer>", "focus is hidden under <footer")]
    [InlineData("<input name=\"emerged\">", "<input name=\"emerged\" style=\"position: fixed; left: -500px\">", "focus goes out of sight: <input")]
    [InlineData("</main>", "<script>addEventListener('keydown', e => { if (e.key === 'Enter') e.preventDefault(); })</script></main>", "the link to #page")]
    public async Task Keyboard_planted_fault_is_found(string sound, string planted, string fault)
    {
        await using var site = await PlantedSite.Serve(Plant(sound, planted));
        await using var visit = await browser.Open(site.Address, Screen.Desk);

        Assert.Contains(await PageCheck.Keyboard(visit), found => found.StartsWith(fault, StringComparison.Ordinal));
    }

    [Fact]
    public async Task MissingWithoutScript_planted_text_is_found()
    {
        await using var site = await PlantedSite.Serve(
            Plant("</main>", "<p id=\"more\"></p><script>document.getElementById('more').textContent = 'Nine fly.'</script></main>"));
        await using var visit = await browser.Open(site.Address, Screen.Desk);
        await using var plain = await browser.Open(site.Address, Screen.Desk, script: false);

        Assert.Equal(["only with JavaScript: Nine fly."], await PageCheck.MissingWithoutScript(visit, plain));
    }

    [Fact]
    public void None_fault_fails_with_all_of_them()
    {
        var failure = Assert.Throws<Xunit.Sdk.FailException>(() => Faults.None([], ["one", "two"]));

        Assert.Contains("one\ntwo", failure.Message, StringComparison.Ordinal);
        Faults.None([], []);
    }

    private static string Plant(string sound, string planted)
    {
        Assert.Contains(sound, Good, StringComparison.Ordinal);
        return Good.Replace(sound, planted, StringComparison.Ordinal);
    }
}
