using System.Text.Json;
using System.Text.RegularExpressions;
using Lepidary.Browser.Harness;
using Microsoft.Playwright;

namespace Lepidary.Browser.Pocket;

/// <summary>The outbox that a keeper can see: what waits, what the book does not take, and how safe it is on the phone.</summary>
public sealed partial class PocketOutboxTests(BrowserFixture browser)
{
    /// <summary>A picture of one dot.</summary>
    private static readonly byte[] _dot = Convert.FromBase64String("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==");

    /// <summary>By how much the house's clock is ahead of the phone's, as they last met, milliseconds.</summary>
    private const string Met =
        """
        () => new Promise(done => {
          const open = indexedDB.open("lepidary-pocket");
          open.onsuccess = () => {
            const asked = open.result.transaction("kept").objectStore("kept").get("contact");
            asked.onsuccess = () => { open.result.close(); done(Math.round(asked.result.ahead)); };
          };
        })
        """;

    [Fact]
    public async Task Line_says_how_many_wait_and_when_it_last_sent()
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire);
        var lots = await phone.Page.EvaluateAsync<string[]>(Taps.Lots);
        await phone.Page.EvaluateAsync<int>(Taps.Count, new { lots = lots[..1], released = false });
        await phone.LineSays("All sent, ");
        wire.Dead = true;
        await phone.Page.EvaluateAsync<int>(Taps.Count, new { lots = lots[..12], released = false });
        Assert.Matches(Waiting(), await phone.Line());
        await phone.Page.ClickAsync("#outbox-line");
        await phone.Page.WaitForSelectorAsync("h1:has-text('12 waiting, last sent')");
        Assert.Equal(12, await phone.Page.Locator("h2:has-text('Waiting') + ul li").CountAsync());
        await phone.Page.WaitForSelectorAsync("main:has-text('does not answer')");
    }

    [Fact]
    public async Task Row_that_the_book_refuses_is_not_sent_again_but_shown_and_mended_or_thrown_away()
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire);
        var lots = await phone.Page.EvaluateAsync<string[]>(Taps.Lots);
        wire.Dead = true;
        foreach (var (lot, dead) in new[] { (lots[0], "1"), (lots[1], "99999"), (lots[2], "99999") })
        {
            await phone.Go($"lot/{lot}");
            await phone.Page.FillAsync("#n-dead", dead);
            await phone.Page.ClickAsync("button:has-text('Write it down')");
            await phone.Page.WaitForFunctionAsync("lot => location.hash !== '#lot/' + lot", lot);
        }

        // What a slip of the finger cannot reach, a slip of the program might: more than any box holds.
        await phone.Page.EvaluateAsync(
            """
            () => new Promise(done => {
              const open = indexedDB.open("lepidary-pocket");
              open.onsuccess = () => {
                const rows = open.result.transaction("rows", "readwrite").objectStore("rows");
                rows.getAll().onsuccess = event => {
                  for (const row of event.target.result.slice(1)) rows.put({ ...row, fact: { ...row.fact, dead: 200000 } });
                  rows.transaction.oncomplete = () => { open.result.close(); done(true); };
                };
              };
            })
            """);
        wire.Dead = false;
        await phone.SendAll();
        await phone.LineSays("2 to mend");
        Assert.Single(await phone.InBook(server));
        var arrived = wire.Arrived;
        await phone.Go("outbox");
        await phone.Page.ClickAsync("button:has-text('Send now')");
        await phone.Page.WaitForSelectorAsync("main:has-text('a whole number from 0 to 100000')");
        Assert.Equal(arrived, wire.Arrived);

        await phone.Page.ClickAsync("a:has-text('Mend or throw away') >> nth=0");
        await phone.Page.GetByLabel("Dead", new() { Exact = true }).FillAsync("2");
        await phone.Page.ClickAsync("button:has-text('Send it so')");
        await phone.LineSays("1 to mend");
        await phone.LineSays("All sent");
        await phone.Page.ClickAsync("a:has-text('Mend or throw away') >> nth=0");
        await phone.Page.ClickAsync("button:has-text('Throw away')");
        await phone.Page.WaitForSelectorAsync("h2:has-text('Thrown away')");
        Assert.DoesNotContain("to mend", await phone.Line(), StringComparison.Ordinal);
        Assert.Equal([1, 2], (await phone.InBook(server)).Select(row => row.Dead));

        await phone.Page.ClickAsync("button:has-text('Put back')");
        await phone.LineSays("1 to mend");
    }

    [Fact]
    public async Task Row_larger_than_any_batch_stands_alone_to_be_mended_and_the_others_go()
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire);
        var lots = await phone.Page.EvaluateAsync<string[]>(Taps.Lots);
        wire.Dead = true;
        await phone.Page.EvaluateAsync<int>(Taps.Count, new { lots = lots[..6], released = false });

        // A row larger than any batch may be.
        await phone.Page.EvaluateAsync(
            """
            () => new Promise(done => {
              const open = indexedDB.open("lepidary-pocket");
              open.onsuccess = () => {
                const rows = open.result.transaction("rows", "readwrite").objectStore("rows");
                rows.get(3).onsuccess = event => { rows.put({ ...event.target.result, fact: { ...event.target.result.fact, note: "x".repeat(1_100_000) } }); rows.transaction.oncomplete = () => { open.result.close(); done(true); }; };
              };
            })
            """);
        wire.Dead = false;
        await phone.SendAll();
        await phone.LineSays("1 to mend");

        Assert.Equal([1, 2, 4, 5, 6], (await phone.InBook(server)).Select(row => row.Sequence));
    }

    [Fact]
    public async Task Photo_is_kept_sent_and_where_the_book_refuses_it_not_sent_again()
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire);
        wire.Dead = true;
        for (var lot = 0; lot < 2; lot++)
        {
            await phone.Go($"lot/{(await phone.Page.EvaluateAsync<string[]>(Taps.Lots))[lot]}");
            await phone.Page.SetInputFilesAsync("#photo", new FilePayload { Name = "dot.png", MimeType = "image/png", Buffer = _dot });
            await phone.Page.WaitForSelectorAsync("main:has-text('Kept on this phone.')");
        }

        await phone.LineSays("4 waiting");
        await phone.Page.EvaluateAsync(
            """
            () => new Promise(done => {
              const open = indexedDB.open("lepidary-pocket");
              open.onsuccess = () => {
                const photos = open.result.transaction("photos", "readwrite").objectStore("photos");
                photos.getAll().onsuccess = event => { photos.put({ ...event.target.result[0], bytes: new Blob(["no picture"], { type: "image/jpeg" }) }); photos.transaction.oncomplete = () => { open.result.close(); done(true); }; };
              };
            })
            """);
        wire.Dead = false;
        await phone.SendAll();
        await phone.LineSays("1 to mend");
        Assert.Equal(["1"], Phone.Ask(server, $"SELECT COUNT(*) FROM PhotoImages p JOIN Facts f ON f.Id = p.PhotoId WHERE f.DeviceId = '{await phone.Device()}'"));
        var arrived = wire.Arrived;
        await phone.Go("outbox");
        await phone.Page.ClickAsync("button:has-text('Send now')");
        await phone.Page.WaitForSelectorAsync("main:has-text('bytes that are no picture')");
        Assert.Equal(arrived, wire.Arrived);
        await phone.Page.RunAndWaitForResponseAsync(() => phone.Page.ClickAsync("button:has-text('Send it again')"), answer => answer.Status == 422);
        await phone.LineSays("1 to mend");
        await phone.Page.ClickAsync("button:has-text('Throw the photo away')");
        await phone.Page.ClickAsync("button:has-text('tap again')");
        await phone.Page.WaitForFunctionAsync("() => !document.getElementById('outbox-line').textContent.includes('to mend')");
    }

    [Theory]
    [InlineData(true, "has promised to keep")]
    [InlineData(false, "has not promised to keep it")]
    public async Task Storage_is_asked_to_persist_and_the_outbox_says_what_the_browser_answered(bool granted, string words)
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire);
        await phone.Page.EvaluateAsync("granted => { window.asked = 0; navigator.storage.persist = async () => { window.asked++; return granted; }; }", granted);
        await phone.Page.EvaluateAsync<int>(Taps.Count, new { lots = (await phone.Page.EvaluateAsync<string[]>(Taps.Lots))[..1], released = false });
        await phone.LineSays("All sent");
        await phone.Go("outbox");

        await phone.Page.WaitForSelectorAsync($"main:has-text('{words}')");
        Assert.Equal(1, await phone.Page.EvaluateAsync<int>("window.asked"));
    }

    [Fact]
    public async Task All_rows_can_be_saved_as_a_file()
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire);
        wire.Dead = true;
        await phone.Page.EvaluateAsync<int>(Taps.Count, new { lots = (await phone.Page.EvaluateAsync<string[]>(Taps.Lots))[..3], released = true });
        await phone.Go("outbox");
        var download = await phone.Page.RunAndWaitForDownloadAsync(() => phone.Page.ClickAsync("button:has-text('Save all rows as a file')"));
        await using var file = await download.CreateReadStreamAsync();
        using var saved = await JsonDocument.ParseAsync(file, cancellationToken: TestContext.Current.CancellationToken);

        Assert.Equal((await phone.Rows()).Select(row => row.Id.ToString()), saved.RootElement.GetProperty("facts").EnumerateArray().Select(fact => fact.GetProperty("id").GetString()));
    }

    [Fact]
    public async Task What_was_sent_is_kept_on_the_phone_for_fourteen_days()
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire);
        await phone.Page.Clock.InstallAsync(new() { TimeDate = DateTime.UtcNow });
        await phone.Page.ReloadAsync();
        await phone.Ready();
        await phone.Page.EvaluateAsync<int>(Taps.Count, new { lots = (await phone.Page.EvaluateAsync<string[]>(Taps.Lots))[..1], released = false });
        await phone.LineSays("All sent");
        await phone.Go("outbox");
        Assert.Equal(1, await phone.Page.Locator("h2:has-text('Sent') + ul li").CountAsync());
        await FetchAfter(13);
        Assert.Single(await phone.Rows());
        await FetchAfter(2);
        await phone.Page.WaitForFunctionAsync("() => ![...document.querySelectorAll('h2')].some(one => one.textContent === 'Sent')");
        Assert.Empty(await phone.Rows());

        // The day that is fetched is what clears the shelf; the phone's notes of it say when it has come.
        async Task FetchAfter(int days)
        {
            var before = await phone.Page.EvaluateAsync<long>(Met);
            await phone.Page.Clock.FastForwardAsync(days * 86_400_000L);
            await phone.Page.ClickAsync("button:has-text('Send now')");
            await phone.Page.WaitForFunctionAsync($"async before => await ({Met})() < before", before);
        }
    }

    [Fact]
    public async Task Address_that_a_browser_does_not_keep_says_so_and_names_the_round()
    {
        var server = await browser.PocketHouse();
        await using var visit = await browser.Open(server.Page("/contents"), Screen.Phone);
        await visit.Page.AddInitScriptAsync("Object.defineProperty(window, 'isSecureContext', { value: false })");
        await visit.Go(server.Page("/pocket/"));
        await visit.Page.WaitForSelectorAsync("h1:has-text('This address cannot be kept on a phone')");
        Assert.Equal("/round", await visit.Page.GetAttributeAsync("main a", "href"));
    }

    [GeneratedRegex("^12 waiting, last sent [0-2][0-9]:[0-5][0-9]$")]
    private static partial Regex Waiting();
}
