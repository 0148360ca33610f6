using Lepidary.Browser.Harness;
using Microsoft.Playwright;

namespace Lepidary.Browser.Pocket;

/// <summary>A box taken in and hung with the phone alone, without a connection.</summary>
public sealed class PocketBoxTests(BrowserFixture browser)
{
    [Fact]
    public async Task Box_is_counted_by_layer_hung_counted_and_moved_without_a_connection_and_arrives()
    {
        await using var server = await browser.DemoHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire);
        var page = phone.Page;
        var order = (await page.EvaluateAsync<string[]>(Taps.Boxes))[0];
        wire.Dead = true;
        await phone.Go("box");
        await page.WaitForSelectorAsync("main:has-text('behind closed doors')");
        await phone.Turn($"a[href='#box/{order}']");
        await phone.Turn("#thumb a.big");
        await page.FillAsync("#n-alive", "5");
        await page.ClickAsync("button:has-text('Next layer')");
        await page.FillAsync("#n-alive", "3");
        await page.ClickAsync("button[aria-label='Dead: one more']");
        await page.SelectOptionAsync("#cage", new SelectOptionValue { Index = 1 });
        await page.FillAsync("#row", "3");
        await page.FillAsync("#place", "12");

        // A page that is killed in the middle of a box goes on where it was.
        await page.ReloadAsync();
        await phone.Ready();
        await page.WaitForSelectorAsync("main p:has-text('Layer 2, from the top; in all 8 alive, 1 dead')");
        await phone.Turn("button:has-text('Counted')");
        for (var line = 1; await page.EvaluateAsync<bool>("location.hash.split('/').length === 3"); line++)
        {
            Assert.InRange(line, 1, 20);
            await page.WaitForFunctionAsync("() => document.body.dataset.settling === undefined");
            await phone.Turn("button:has-text('As noted')");
        }

        await page.FillAsync("#mark", "K-99");
        await page.SelectOptionAsync("#packing", "Sealed");
        await page.ClickAsync("button:has-text('Take it in')");
        await page.WaitForSelectorAsync("#said:has-text('Kept on this phone')");
        var lot = await page.EvaluateAsync<string>(NewLot);
        await phone.Go($"lot/{lot}");
        await page.WaitForSelectorAsync("h1:has-text('8 hung today')");
        await page.ClickAsync("summary:has-text('Hung elsewhere')");
        await page.SelectOptionAsync("#hang-cage", new SelectOptionValue { Index = 1 });
        await page.FillAsync("#hang-row", "7");
        await page.ClickAsync("button:has-text('It hangs there now')");
        await page.WaitForSelectorAsync("#said:has-text('row 7')");
        await page.WaitForSelectorAsync(".place:has-text('row 7')");
        await page.ClickAsync("button[aria-label='Dead: one more']");
        await page.ClickAsync("button:has-text('Write it down')");
        await page.WaitForSelectorAsync("#said:has-text('1 dead')");
        wire.Dead = false;
        await phone.SendAll();

        var rows = await phone.InBook(server);
        Assert.Equal(["delivery", "packing-step", "move", "entry"], rows.Select(row => row.Kind));
        Assert.Equal((await phone.Rows()).Select(row => row.Id), rows.Select(row => row.Id));
        Assert.Equal(["8|1|2"], Phone.Ask(server, $"SELECT Alive, Dead, json_array_length(Layers) FROM DeliveryLines WHERE DeliveryId = '{Key(rows[0].Id)}' AND json_array_length(Layers) > 0"));
        Assert.Equal(["8|3|12"], Phone.Ask(server, $"SELECT Received, Row, Position FROM Lots WHERE Id = '{Key(Guid.Parse(lot))}'"));
        await phone.Go("box");
        await page.WaitForSelectorAsync("h1:has-text('No box is on its way')");
        await using var office = await browser.Open(server.Page($"/deliveries/{rows[0].Id}"), Screen.Phone);
        Assert.Contains("from the top layer down: alive 5+3, dead 0+1", await office.Page.InnerTextAsync("main"), StringComparison.Ordinal);
        await HandbookPictures.Keep(office.Page, "delivery", 844);
        await office.Go(server.Page($"/round/{lot}"));
        await HandbookPictures.Keep(office.Page, "round-lot", 844);
        await office.Go(server.Page("/hanging"));
        Assert.Contains("lots to hang", await office.Page.InnerTextAsync("h1"), StringComparison.Ordinal);
        await HandbookPictures.Keep(office.Page, "hanging", 844);
        await office.Go(server.Page("/deliveries/new"));
        await HandbookPictures.Keep(office.Page, "delivery-new", 844);
    }

    /// <summary>The first lot that a box brought to this phone.</summary>
    private const string NewLot =
        """
        () => new Promise(done => {
          const open = indexedDB.open("lepidary-pocket");
          open.onsuccess = () => {
            const all = open.result.transaction("rows").objectStore("rows").getAll();
            all.onsuccess = () => { open.result.close(); done(all.result.find(row => row.fact.kind === "delivery").fact.lots[0].id); };
          };
        })
        """;

    private static string Key(Guid id) => id.ToString().ToUpperInvariant();
}
