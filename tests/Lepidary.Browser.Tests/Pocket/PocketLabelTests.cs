using Lepidary.Browser.Harness;

namespace Lepidary.Browser.Pocket;

/// <summary>A label in the hand: its code opens the lot on the phone, with a connection or without one.</summary>
public sealed class PocketLabelTests(BrowserFixture browser)
{
    /// <summary>The codes and keys of the lots that the phone carries, with a bar between.</summary>
    private const string Codes =
        """
        () => new Promise(done => {
          const open = indexedDB.open('lepidary-pocket');
          open.onsuccess = () => {
            const asked = open.result.transaction('kept').objectStore('kept').get('day');
            asked.onsuccess = () => { open.result.close(); done(asked.result.lots.map(lot => lot.code + '|' + lot.id)); };
          };
        })
        """;

    [Fact]
    public async Task Label_that_is_scanned_without_a_connection_opens_its_lot_and_the_count_is_kept()
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire);
        var lots = await phone.Page.EvaluateAsync<string[]>(Codes);
        var (code, key) = (lots[7][..8], lots[7][9..]);
        wire.Dead = true;

        // A camera opens the address in a window of its own.
        var scanned = await phone.Page.Context.NewPageAsync();
        await scanned.GotoAsync(new Uri(wire.Address, $"/pocket/{code.ToLowerInvariant()}").ToString());
        await scanned.WaitForSelectorAsync($"main .code:has-text('{code}')");
        Assert.Equal(new Uri(wire.Address, $"/pocket/#lot/{key}").ToString(), scanned.Url);
        await scanned.ClickAsync("button[aria-label='Dead: one more']");
        await scanned.ClickAsync("button:has-text('Write it down')");
        await scanned.WaitForSelectorAsync("#said:has-text('1 dead. Kept on this phone.')");
        Assert.Single(await phone.Rows());

        // One that came after the phone's last connection, or that is long empty.
        await scanned.GotoAsync(new Uri(wire.Address, "/pocket/000-0000").ToString());
        await scanned.WaitForSelectorAsync("h1:has-text('Lot 000-0000 is not on this phone')");
        Assert.Equal("/round/000-0000", await scanned.GetAttributeAsync("main a", "href"));

        await phone.Go("lot/000-0000");
        Assert.Empty(await PageCheck.Accessibility(phone.Visit, inGlare: true));

        // Wet labels are typed.
        await phone.Go("round");
        await phone.Page.FillAsync("#code", $" {code.Replace("-", "", StringComparison.Ordinal).ToLowerInvariant()}");
        await phone.Turn("button:has-text('Open the lot')");
        Assert.EndsWith($"#lot/{key}", phone.Page.Url, StringComparison.Ordinal);
    }
}
