using System.Globalization;
using Lepidary.Browser.Harness;

namespace Lepidary.Browser.Week;

/// <summary>Seasons played from the page without JavaScript, and what they came to in both widths; ahead, and on the lists of weeks that were.</summary>
public sealed class SeasonInTheBrowserTests(BrowserFixture browser)
{
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Seasons_are_played_and_their_page_is_in_order(bool again)
    {
        var demo = await browser.Demo();
        await using var visit = await browser.Open(demo.Page("/season"), Screen.Phone, script: false);
        var page = visit.Page;

        if (again)
        {
            await page.FillAsync("#from", DateTime.UtcNow.Date.AddDays(-28).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        }

        await page.FillAsync("#weeks", "4");
        await page.FillAsync("#draws", "2");
        await page.ClickAsync("button:has-text('Play')");
        while (await page.Locator("progress").CountAsync() > 0)
        {
            await page.ClickAsync("a:has-text('Look again')");
        }

        Assert.Equal(4, await page.Locator("table >> nth=0").Locator("tbody tr").CountAsync());
        var address = new Uri(page.Url);
        await using var with = await browser.Open(address, Screen.Phone);
        Faults.None(await PageCheck.AtBothWidths(with, again ? "season-replayed" : "season-played"));
    }
}
