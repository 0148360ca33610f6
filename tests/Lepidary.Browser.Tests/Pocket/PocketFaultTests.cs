using Lepidary.Browser.Harness;
using Microsoft.Playwright;

namespace Lepidary.Browser.Pocket;

/// <summary>Nothing is lost and nothing is doubled, whatever goes wrong on the way.</summary>
public sealed class PocketFaultTests(BrowserFixture browser)
{
    /// <summary>Fewer than the figures' 200, which <c>bench pocket faults</c> runs: so many that each kind is met.</summary>
    private const int Faults = 12;

    /// <summary>Fewer than the figures' 286, which <c>bench pocket week</c> runs.</summary>
    private const int CountsADay = 9;

    [Fact]
    public async Task Random_faults_lose_nothing_and_double_nothing()
    {
        await using var server = await browser.DemoHouse();

        var count = await FaultRun.Run(browser.Program, server, Faults, seed: 20261127, TimeSpan.FromMinutes(4), FaultRun.EachOnce);

        Assert.True(count.Faults >= Faults, count.ToString());
        Assert.Equal((0, 0, 0L), (count.Lost, count.Doubled, count.Conflicts));
        Assert.Equal(count.OnPhones, count.InBook);
        Assert.InRange(count.Entries, count.Kept, count.Tapped);
        Assert.Superset(new HashSet<string> { "Before", "After", "Twice", "Killed", "SignIn", "Stranger", "Failed", "page killed", "newer version" }, count.Met.Keys.ToHashSet());
    }

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
    public async Task Two_phones_on_one_lot_are_both_kept_and_what_does_not_add_up_is_shown_and_settled()
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var one = await Phone.Open(browser.Program, wire);
        await using var other = await Phone.Open(browser.Program, wire);
        wire.Dead = true;
        var lot = (await one.Page.EvaluateAsync<string[]>(Taps.Lots))[0];
        foreach (var phone in new[] { one, other })
        {
            await phone.Go($"lot/{lot}");
            await phone.Page.FillAsync("#n-dead", "20");
            await phone.Page.ClickAsync("button:has-text('Write it down')");
            await phone.LineSays("1 waiting");
        }

        wire.Dead = false;
        await one.LineSays("All sent");
        await other.LineSays("All sent");
        Assert.NotEqual(await one.Device(), await other.Device());
        Assert.Equal([20], (await one.InBook(server)).Select(row => row.Dead));
        Assert.Equal([20], (await other.InBook(server)).Select(row => row.Dead));
        await one.SendAll();
        await one.Go("summary");
        await one.Page.WaitForSelectorAsync("main a[href='/round/discrepancies']");
        await using var office = await browser.Open(server.Page("/round/discrepancies"), Screen.Phone);
        var toSettle = office.Page.Locator($"article:has(input[value='{lot}'])");
        Assert.Contains("accounted for", await toSettle.InnerTextAsync(), StringComparison.Ordinal);
        await toSettle.Locator("button:has-text('Leave it as it is')").ClickAsync();
        await office.Page.WaitForSelectorAsync("p[role=status]:has-text('Settled')");
        Assert.Equal(0, await toSettle.CountAsync());
        Assert.Equal(2, (await one.InBook(server)).Count + (await other.InBook(server)).Count);
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
    public async Task Newer_version_waits_until_it_is_taken_and_takes_nothing_away()
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire);
        var lots = await phone.Page.EvaluateAsync<string[]>(Taps.Lots);
        wire.OnSending = () => Break.Before;
        await phone.Page.EvaluateAsync<int>(Taps.Count, new { lots = lots[..1], released = false });
        await phone.Go($"lot/{lots[1]}");
        await phone.Page.ClickAsync("button[aria-label='Dead: one more']");

        wire.NewerWorker = "// a newer version\n";
        await phone.Page.EvaluateAsync("navigator.serviceWorker.getRegistration().then(one => one.update()).then(() => true)");
        await phone.Page.WaitForSelectorAsync("#newer button");
        Assert.Equal("1", await phone.Page.InputValueAsync("#n-dead"));
        await phone.TakeNewer();
        await phone.Page.WaitForFunctionAsync("() => document.getElementById('n-dead')?.value === '1'");
        wire.OnSending = () => Break.None;
        await phone.Page.ClickAsync("button:has-text('Write it down')");
        await phone.LineSays("All sent");

        Assert.Equal(new Guid?[] { Guid.Parse(lots[0]), Guid.Parse(lots[1]) }, (await phone.InBook(server)).Select(row => row.LotId));
    }

    [Theory]
    [InlineData("SignIn", "sign in to send")]
    [InlineData("Stranger", "1 waiting")]
    [InlineData("Failed", "1 waiting")]
    public async Task Sign_in_that_ran_out_offline_and_answers_of_others_leave_the_outbox_as_it_was(string answered, string line)
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire);
        wire.Dead = true;
        await phone.Page.EvaluateAsync<int>(Taps.Count, new { lots = (await phone.Page.EvaluateAsync<string[]>(Taps.Lots))[1..2], released = false });
        var tries = 0;
        wire.OnSending = () =>
        {
            tries++;
            return Enum.Parse<Break>(answered);
        };
        wire.Dead = false;
        await phone.Go("outbox");
        await phone.Page.ClickAsync("button:has-text('Send now')");
        await phone.Page.WaitForSelectorAsync($"main .notice:has-text('{(answered == "Failed" ? "server" : answered == "SignIn" ? "sign in" : "Something else answered")}')");
        await phone.LineSays(line);
        Assert.InRange(tries, 1, int.MaxValue);
        Assert.Equal("waiting", Assert.Single(await phone.Rows()).State);
        Assert.Empty(await phone.InBook(server));

        wire.OnSending = () => Break.None;
        await phone.SendAll();
        Assert.Single(await phone.InBook(server));
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
