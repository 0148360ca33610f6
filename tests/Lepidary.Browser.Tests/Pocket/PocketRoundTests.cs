using System.Globalization;
using System.Text.RegularExpressions;
using Lepidary.Browser.Harness;
using Microsoft.Playwright;

namespace Lepidary.Browser.Pocket;

/// <summary>What a keeper does on a round with the pocket book, without a connection, and what the book has of it afterwards.</summary>
public sealed partial class PocketRoundTests(BrowserFixture browser)
{
    [Fact]
    public async Task Round_of_forty_lots_as_expected_takes_one_tap_a_lot_and_tells_what_was_not_visited()
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire);
        var heading = Looked().Match(await phone.Page.InnerTextAsync("h1"));
        var (done, hanging) = (int.Parse(heading.Groups["done"].ValueSpan, CultureInfo.InvariantCulture), int.Parse(heading.Groups["hanging"].ValueSpan, CultureInfo.InvariantCulture));
        wire.Dead = true;

        var round = await RoundRun.Run(phone, 40, everyFifthWithADead: false);

        Assert.Equal((40, 40), (round.Taps, round.Entries));
        Assert.Contains($"{done + 40} of {hanging} lots were looked at", round.Summary, StringComparison.Ordinal);
        Assert.Equal(hanging - done - 40, await phone.Page.Locator("h2:has-text('Not visited') + ul li").CountAsync());
    }

    [Fact]
    public async Task Lot_says_what_was_there_and_what_is_expected_and_a_skipped_one_stands_in_the_summary()
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire);
        wire.Dead = true;
        await phone.Turn("a.big");
        Assert.Matches(@"\d+ there yesterday", await phone.Page.InnerTextAsync("h1"));
        Assert.Contains("Expected:", await phone.Page.InnerTextAsync("main"), StringComparison.Ordinal);
        var skipped = await phone.Page.InnerTextAsync("h1 i");
        await phone.Turn("button:has-text('Skip')");

        await phone.Page.ClickAsync("summary:has-text('Sexes')");
        await phone.Page.ClickAsync("button[aria-label='Emerged, male: one more']");
        await phone.Page.ClickAsync("button[aria-label='Emerged, female: one more']");
        await phone.Page.FillAsync("#note", "one slow");
        await phone.Page.ClickAsync("button:has-text('Write it down')");
        await phone.Page.WaitForSelectorAsync("#said:has-text('2 out (1 male, 1 female)')");
        await phone.Go("summary");
        await phone.Page.WaitForSelectorAsync($"li:has-text('skipped'):has-text('{skipped}')");
        wire.Dead = false;
        await phone.SendAll();

        Assert.Equal(["1|1|0|one slow"], await phone.Ask(server, "EmergedMale, EmergedFemale, EmergedUnsexed, Note", "entry"));
    }

    [Fact]
    public async Task Parasitised_shows_the_steps_of_hygiene_at_once_and_again_when_it_is_written()
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire);
        wire.Dead = true;
        await phone.Turn("a.big");
        Assert.Equal(0, await phone.Page.Locator("[role=alert]").CountAsync());
        await phone.Page.ClickAsync("button[aria-label='Parasitised: one more']");
        Assert.Contains("do this now", await phone.Page.InnerTextAsync("[role=alert]"), StringComparison.Ordinal);
        Assert.True(await phone.Page.Locator("[role=alert] li").CountAsync() >= 3);
        await phone.Page.ClickAsync("button:has-text('Write it down')");
        await phone.Page.WaitForSelectorAsync("h1:has-text('Parasitoids came out')");
    }

    [Fact]
    public async Task Overdue_and_coloured_up_lots_come_first_if_wished_also_where_another_phone_saw_them()
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var one = await Phone.Open(browser.Program, wire);
        var lots = await one.Page.EvaluateAsync<string[]>(Taps.Lots);
        var last = lots[^1];
        await one.Go($"lot/{last}");
        await one.Page.CheckAsync("#coloured");
        await one.Page.ClickAsync("button:has-text('Write it down')");
        await one.LineSays("All sent");

        await using var other = await Phone.Open(browser.Program, wire);
        Assert.Equal(lots, await Order(other));
        await other.Page.CheckAsync("#urgent");
        var first = await other.Page.WaitForSelectorAsync("h2:has-text('Look at these first') + ul");
        var urgent = await first!.EvaluateAsync<string[]>("list => [...list.querySelectorAll('a')].map(link => link.hash.slice(5))");
        var order = await Order(other);

        Assert.Contains(last, urgent);
        Assert.All(await first.EvaluateAsync<string[]>("list => [...list.querySelectorAll('li')].map(item => item.innerText)"), text => Assert.Matches("overdue|coloured up|may rest", text));
        Assert.Equal(urgent.Concat(lots.Except(urgent)), order);

        static Task<string[]> Order(Phone phone) => phone.Page.EvaluateAsync<string[]>("() => [...document.querySelectorAll('.lots a')].map(link => link.hash.slice(5))");
    }

    [Fact]
    public async Task Walk_by_sections_lists_the_commonest_first_and_arrives_with_its_sky()
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire);
        wire.Dead = true;
        await phone.Go("walk");
        await phone.Page.WaitForSelectorAsync(".taps .tap");
        var about = await phone.Page.EvaluateAsync<int[]>("() => [...document.querySelectorAll('.tap .soft')].map(one => Number(one.textContent.match(/\\d+/)[0]))");
        Assert.NotEmpty(about);
        Assert.Equal(about.OrderDescending(), about);

        await phone.Page.FillAsync("#path", "Pond to door");
        await phone.Page.FillAsync("#sections", "2");
        await phone.Page.FillAsync("#temperature", "15");
        await phone.Page.FillAsync("#sun", "20");
        await phone.Page.FillAsync("#wind", "1");
        await phone.Page.WaitForSelectorAsync("main:has-text('Section 1 of 2')");
        await phone.Page.WaitForSelectorAsync("main:has-text('below 17 °C with less than 60 % sun')");
        await phone.Page.ClickAsync(".tap >> nth=0");
        await phone.Page.ClickAsync(".tap >> nth=0");
        await phone.Page.ClickAsync("#thumb button:has-text('Section 2')");
        await phone.Page.WaitForSelectorAsync("main:has-text('Section 2 of 2')");
        Assert.Equal("0", await phone.Page.InnerTextAsync(".tap b >> nth=0"));
        await phone.Page.ClickAsync(".tap >> nth=0");
        await phone.Page.ClickAsync(".tap >> nth=1");

        // A page that is killed on the way goes on where it was.
        await phone.Page.ReloadAsync();
        await phone.Ready();
        await phone.Page.WaitForSelectorAsync("main:has-text('Section 2 of 2')");
        Assert.Equal("1", await phone.Page.InnerTextAsync(".tap b >> nth=0"));
        await phone.Page.ClickAsync("button:has-text('End the walk')");
        await phone.Page.WaitForSelectorAsync("#said:has-text('Walk: 4 seen')");
        wire.Dead = false;
        await phone.SendAll();

        Assert.Equal(["Pond to door|2|15|20|1"], await phone.Ask(server, "Path, Sections, TemperatureC, SunPercent, Beaufort", "walk"));
        Assert.Equal(["1|2", "2|1", "2|1"], Phone.Ask(server, $"SELECT c.Section, c.Count FROM WalkCounts c JOIN Facts f ON f.Id = c.WalkId WHERE f.DeviceId = '{await phone.Device()}' ORDER BY c.Section, c.Count DESC"));
        await phone.Go("walk");
        await phone.Page.FillAsync("#path", "Pond to door");
        await phone.Page.PressAsync("#path", "Tab");
        Assert.Equal("2", await phone.Page.InputValueAsync("#sections"));
    }

    [Fact]
    public async Task Release_found_dead_and_climate_are_kept_without_a_connection_and_arrive()
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire);
        wire.Dead = true;
        await phone.Turn("a.big");
        await phone.Page.FillAsync("#n-unsexed", "3");
        await phone.Page.ClickAsync("button:has-text('Write it down')");
        await phone.Page.WaitForSelectorAsync("#said:has-text('3 out')");
        var lot = (await phone.Rows())[0];
        await phone.Go("release");
        await phone.Turn(".lots a >> nth=0");
        Assert.Contains("Let wings dry about", await phone.Page.InnerTextAsync("main"), StringComparison.Ordinal);
        await phone.Page.SelectOptionAsync("#to", new SelectOptionValue { Index = 1 });
        await phone.Page.ClickAsync("button:has-text('Let go')");
        await phone.Page.WaitForSelectorAsync("#said:has-text('released')");
        await phone.Go("dead");
        await phone.Page.ClickAsync(".tap >> nth=1");
        await phone.Page.ClickAsync("button:has-text('Write it down')");
        await phone.Page.WaitForSelectorAsync("#said:has-text('1 found dead')");
        await phone.Go("climate");
        await phone.Page.FillAsync("#temperature", "27,5");
        await phone.Page.FillAsync("#humidity", "81");
        await phone.Page.ClickAsync("button:has-text('Write it down')");
        await phone.Page.WaitForSelectorAsync("#said:has-text('27.5 °C, 81 %')");
        wire.Dead = false;
        await phone.SendAll();

        Assert.Equal(["entry", "release", "found-dead", "reading"], (await phone.InBook(server)).Select(row => row.Kind));
        Assert.Equal(lot.Id, (await phone.InBook(server))[0].Id);
        Assert.Equal(["27.5|81"], await phone.Ask(server, "TemperatureC, HumidityPercent", "reading"));
    }

    [GeneratedRegex("^(?<done>[0-9]+) of (?<hanging>[0-9]+) lots looked at$")]
    private static partial Regex Looked();
}
