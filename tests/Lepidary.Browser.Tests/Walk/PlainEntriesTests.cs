using Lepidary.Browser.Harness;
using Lepidary.Browser.Pocket;

namespace Lepidary.Browser.Walk;

/// <summary>One entry of each kind of the day, on the server's pages, with JavaScript off.</summary>
public sealed class PlainEntriesTests(BrowserFixture browser)
{
    [Fact]
    public async Task Entries_of_the_day_are_taken_without_JavaScript()
    {
        await using var server = await browser.DemoHouse();
        await using var visit = await browser.Open(server.Page("/round"), Screen.Phone, script: false);
        var page = visit.Page;
        var before = Phone.Ask(server, "SELECT COUNT(*) FROM Facts")[0];

        await visit.Go(server.Page("/flying/found-dead"));
        await page.FillAsync("#s0-count", "2");
        await page.ClickAsync("form.entry button:has-text('Write it down')");
        await page.WaitForSelectorAsync("[role=status]");
        await visit.Go(server.Page("/flying/walk"));
        await page.FillAsync("#path", "Pond to door");
        await page.FillAsync("#s1-count", "3");
        await page.ClickAsync("form.entry button:has-text('Write it down')");
        await page.WaitForSelectorAsync("[role=status]");
        await visit.Go(server.Page("/flying/climate"));
        await page.FillAsync("#temperature", "27.5");
        await page.FillAsync("#humidity", "81");
        await page.ClickAsync("form.entry button:has-text('Write it down') >> nth=0");
        await page.WaitForSelectorAsync("[role=status]");

        Assert.Equal(
            ["found-dead|2|||", "walk||Pond to door||", "reading|||27.5|81"],
            Phone.Ask(server, $"SELECT Kind, \"Count\", Path, TemperatureC, HumidityPercent FROM Facts ORDER BY Arrival LIMIT 10 OFFSET {before}"));
        Assert.Equal(["3"], Phone.Ask(server, "SELECT c.Count FROM WalkCounts c JOIN Facts f ON f.Id = c.WalkId WHERE f.Path = 'Pond to door'"));
    }
}
