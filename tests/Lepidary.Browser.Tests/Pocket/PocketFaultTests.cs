using Lepidary.Browser.Harness;
using Microsoft.Playwright;

namespace Lepidary.Browser.Pocket;

/// <summary>Nothing is lost and nothing is doubled, whatever goes wrong on the way.</summary>
public sealed class PocketFaultTests(BrowserFixture browser)
{
    /// <summary>Fewer than the figures' 286, which <c>bench pocket week</c> runs.</summary>
    private const int CountsADay = 9;


    [Fact]
    public async Task Week_without_a_connection_arrives_whole()
    {
        await using var server = await browser.DemoHouse();

        var count = await WeekRun.Run(browser.Program, server, CountsADay);

        Assert.Contains($"{14 * CountsADay} waiting, none sent yet", count.Line, StringComparison.Ordinal);
        Assert.Equal(14 * CountsADay, count.InBook.Count);
        Assert.Equal(count.OnPhone.Select(row => (row.Id, row.Kind, row.OnDay, row.Sequence)), count.InBook.Select(row => (row.Id, row.Kind, row.OnDay, row.Sequence)));
        Assert.Equal(["2026-11-27", "2026-11-28", "2026-11-29", "2026-11-30", "2026-12-01", "2026-12-02", "2026-12-03"], count.InBook.Select(row => row.OnDay).Distinct());
        Assert.Equal(0, count.Conflicts);
    }

    [Fact]
    public async Task Clock_that_is_wrong_by_a_day_is_said_and_the_day_is_the_houses()
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire);
        await phone.Page.Clock.InstallAsync(new() { TimeDate = new DateTime(2026, 11, 28, 12, 0, 0, DateTimeKind.Utc) });
        await phone.Page.ReloadAsync();
        await phone.Ready();
        await phone.Go("outbox");
        await phone.Page.ClickAsync("button:has-text('Send now')");
        await phone.Page.WaitForSelectorAsync("main:has-text('clock is 25 hours ahead')");
        wire.Dead = true;
        await phone.Page.EvaluateAsync<int>(Taps.Count, new { lots = (await phone.Page.EvaluateAsync<string[]>(Taps.Lots))[..1], released = false });
        wire.Dead = false;
        await phone.LineSays("All sent");

        Assert.Equal("2026-11-27", Assert.Single(await phone.InBook(server)).OnDay);
    }

    [Fact]
    public async Task Browser_killed_in_mid_tap_has_on_its_disk_what_it_said_it_kept()
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        var folder = Directory.CreateTempSubdirectory("lepidary-phone-");
        var said = 0;
        try
        {
            await using (var mortal = await MortalBrowser.On(browser.Driver, folder.FullName))
            {
                var phone = await Phone.In(mortal, wire);
                var lots = await phone.Page.EvaluateAsync<string[]>(Taps.Lots);
                wire.Dead = true;
                var third = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
                await phone.Page.ExposeFunctionAsync("told", (int count) =>
                {
                    said = count;
                    if (count == 3)
                    {
                        third.SetResult();
                    }
                });
                var last = phone.Page.EvaluateAsync<int>(Taps.Count, new { lots = lots[..40], released = true });
                await third.Task.WaitAsync(TimeSpan.FromMinutes(1), TestContext.Current.CancellationToken);
                await mortal.Kill();
                await Assert.ThrowsAnyAsync<PlaywrightException>(() => last);
            }

            await using var anew = await MortalBrowser.On(browser.Driver, folder.FullName);
            var after = await Phone.In(anew, wire);
            var rows = await after.Rows();
            Assert.InRange(rows.Count(row => row.Kind == "entry"), said, 40);
            Assert.Equal(rows.Count(row => row.Kind == "entry"), rows.Count(row => row.Kind == "release"));
            wire.Dead = false;
            await after.SendAll();
            Assert.Equal(rows.Select(row => row.Id), (await after.InBook(server)).Select(row => row.Id));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}
