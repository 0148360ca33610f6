using Lepidary.Browser.Harness;
using UUIDNext;

namespace Lepidary.Browser.Pocket;

/// <summary>The round on a phone: opens without a connection, keeps what is tapped, and sends it once.</summary>
public sealed class PocketTests(BrowserFixture browser)
{
    [Fact]
    public async Task Round_without_a_connection_is_kept_and_sent_when_it_is_back()
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire);

        wire.Dead = true;
        await phone.Page.ReloadAsync();
        await phone.Ready();
        await phone.Turn("a.big");
        await phone.Turn("button:has-text('As expected')");
        await phone.LineSays("waiting, none sent yet");
        await phone.Page.ClickAsync("button[aria-label='Dead: one more']");
        await phone.Page.ClickAsync("button:has-text('Write it down')");
        await phone.Page.WaitForSelectorAsync("#said:has-text('1 dead. Kept on this phone.')");
        Assert.Empty(await phone.InBook(server));
        Assert.All(await phone.Rows(), row => Assert.Equal("waiting", row.State));

        wire.Dead = false;
        await phone.LineSays("All sent");
        var rows = await phone.Rows();
        Assert.Equal(rows.Select(row => (row.Id, row.Kind)), (await phone.InBook(server)).Select(row => (row.Id, row.Kind)));
        Assert.All(rows, row => Assert.Equal("sent", row.State));
        Assert.Contains(await phone.InBook(server), row => row is { Kind: "entry", Dead: 1 });
        Assert.Empty(phone.Visit.Strangers);
    }

    [Fact]
    public async Task Release_of_an_entry_bears_the_key_that_the_server_would_give_it_and_undo_takes_both_back()
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire);

        await phone.Turn("a.big");
        var lot = phone.Page.Url;
        await phone.Page.ClickAsync("button[aria-label='Emerged: one more']");
        await phone.Page.ClickAsync("button[aria-label='Emerged: one more']");
        await phone.Page.CheckAsync("#released");
        await phone.Page.ClickAsync("button:has-text('Write it down')");
        await phone.Page.WaitForSelectorAsync("#said:has-text('2 out, released')");
        await phone.Page.ClickAsync("#said button:has-text('Undo')");

        // Asked of the page itself: a turn within the page may be over before the driver begins to wait for it.
        await phone.Page.WaitForFunctionAsync("there => location.href === there", lot);
        await phone.LineSays("All sent");

        var book = await phone.InBook(server);
        var entry = Assert.Single(book, row => row.Kind == "entry");
        var release = Assert.Single(book, row => row.Kind == "release");
        Assert.Equal(2, entry.Emerged);
        Assert.Equal(Uuid.NewNameBased(entry.Id, "release"), release.Id);
        Assert.Equal(new Guid?[] { entry.Id, release.Id }.Order(), book.Where(row => row.Kind == "voiding").Select(row => row.Voids).Order());
    }

    [Fact]
    public async Task Keys_made_on_the_phone_are_of_version_seven_and_ascend_with_its_numbers()
    {
        var server = await browser.PocketHouse();
        await using var wire = await Wire.To(server);
        await using var phone = await Phone.Open(browser.Program, wire);
        for (var tap = 0; tap < 5; tap++)
        {
            await phone.Page.EvaluateAsync("location.hash = 'round'");
            await phone.Turn("a.big");
            await phone.Page.ClickAsync("button[aria-label='Dead: one more']");
            await phone.Page.ClickAsync("button:has-text('Write it down')");
            await phone.Page.WaitForFunctionAsync("count => new Promise(done => { const open = indexedDB.open('lepidary-pocket'); open.onsuccess = () => { const asked = open.result.transaction('rows').objectStore('rows').count(); asked.onsuccess = () => { open.result.close(); done(asked.result >= count); }; }; })", tap + 1);
        }

        var rows = await phone.Rows();
        Assert.Equal([1, 2, 3, 4, 5], rows.Select(row => row.Sequence));
        Assert.All(rows, row => Assert.Equal(7, row.Id.Version));
        Assert.Equal(rows.Select(row => row.Id.ToString()).Order(StringComparer.Ordinal), rows.Select(row => row.Id.ToString()));
    }
}
