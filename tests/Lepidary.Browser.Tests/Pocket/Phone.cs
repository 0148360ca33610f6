using System.Globalization;
using System.Text.Json;
using Lepidary.Browser.Harness;
using Microsoft.Data.Sqlite;
using Microsoft.Playwright;

namespace Lepidary.Browser.Pocket;

/// <summary>A phone with the pocket book on it, and ways to look into what it keeps.</summary>
internal sealed class Phone(Visit visit, Wire wire) : IAsyncDisposable
{
    /// <summary>Long enough for a machine that is busy with other tests.</summary>
    private const float Patience = 120_000;

    public Visit Visit => visit;

    public IPage Page { get; private set; } = Patient(visit.Page);

    /// <summary>Opens the pocket book and waits until the phone carries the day and could do without a connection.</summary>
    public static async Task<Phone> Open(IBrowser browser, Wire wire, Screen? screen = null) =>
        await Opened(await Visit.Open(browser, new Uri(wire.Address, "/pocket/"), screen ?? Screen.Phone, script: true), wire);

    /// <summary>Opens the pocket book in a browser of its own, with what that has on its disk.</summary>
    public static async Task<Phone> In(MortalBrowser browser, Wire wire) =>
        await Opened(await Visit.In(browser.Context, new Uri(wire.Address, "/pocket/"), Screen.Phone), wire);

    private static async Task<Phone> Opened(Visit visit, Wire wire)
    {
        var phone = new Phone(visit, wire);
        await phone.Ready();
        await phone.Page.EvaluateAsync("navigator.serviceWorker.ready.then(() => true)");
        await phone.Page.WaitForFunctionAsync("() => navigator.serviceWorker.controller !== null", null, new() { Timeout = Patience });
        return phone;
    }

    /// <summary>Waits until the page shows the lots.</summary>
    public Task Ready() => Page.WaitForFunctionAsync("() => document.getElementById('page').dataset.empty === 'no'", null, new() { Timeout = Patience });

    /// <summary>The line about the outbox.</summary>
    public Task<string> Line() => Page.InnerTextAsync("#outbox-line");

    /// <summary>Waits until the line says something.</summary>
    public Task LineSays(string words) => Page.WaitForFunctionAsync("words => document.getElementById('outbox-line').textContent.includes(words)", words, new() { Timeout = Patience });

    /// <summary>Taps what leads to another screen, and waits until that one is drawn.</summary>
    public async Task Turn(string selector)
    {
        var here = await Page.EvaluateAsync<string>("() => { document.querySelector('main h1').dataset.left = 'yes'; return location.href; }");
        await Page.ClickAsync(selector);
        await Page.WaitForFunctionAsync("here => location.href !== here && document.querySelector('main h1:not([data-left])') !== null", here, new() { Timeout = Patience });
    }

    /// <summary>Goes to a screen of the pocket book.</summary>
    public async Task Go(string screen)
    {
        var isThere = await Page.EvaluateAsync<bool>("screen => { const there = location.hash === '#' + screen; document.querySelector('main h1').dataset.left = 'yes'; location.hash = screen; return there; }", screen);
        if (!isThere)
        {
            await Page.WaitForFunctionAsync("screen => location.hash === '#' + screen && document.querySelector('main h1:not([data-left])') !== null", screen, new() { Timeout = Patience });
        }
    }

    /// <summary>Goes to the outbox, sends by its button, and waits until all has gone.</summary>
    public async Task SendAll()
    {
        await Go("outbox");
        await Page.ClickAsync("button:has-text('Send now')");
        await LineSays("All sent");
    }

    /// <summary>Finds the newer version that the server has, and takes it by the button that offers it.</summary>
    public async Task TakeNewer()
    {
        await Page.EvaluateAsync("window.wasHere = true");
        await Page.EvaluateAsync("navigator.serviceWorker.getRegistration().then(one => one.update()).then(() => true)");
        await Page.WaitForSelectorAsync("#newer button", new() { Timeout = Patience });
        await Page.ClickAsync("#newer button");
        await Page.WaitForFunctionAsync("() => window.wasHere === undefined", null, new() { Timeout = Patience });
        await Ready();
    }

    /// <summary>Another page of the same phone, after the first was killed.</summary>
    public async Task NewPage()
    {
        Page = Patient(await visit.Page.Context.NewPageAsync());
        await Page.GotoAsync(new Uri(wire.Address, "/pocket/").ToString());
        await Ready();
    }

    /// <summary>Every fact that the phone keeps, as it was written, and what became of it.</summary>
    public async Task<IReadOnlyList<KeptRow>> Rows()
    {
        var text = await Page.EvaluateAsync<string>(
            """
            () => new Promise((done, failed) => {
              const open = indexedDB.open("lepidary-pocket");
              open.onerror = () => failed(open.error);
              open.onsuccess = () => {
                const all = open.result.transaction("rows").objectStore("rows").getAll();
                all.onsuccess = () => { open.result.close(); done(JSON.stringify(all.result)); };
                all.onerror = () => failed(all.error);
              };
            })
            """);
        return [.. JsonDocument.Parse(text).RootElement.EnumerateArray().Select(row => new KeptRow(
            Guid.Parse(row.GetProperty("fact").GetProperty("id").GetString()!),
            row.GetProperty("fact").GetProperty("kind").GetString()!,
            row.GetProperty("fact").GetProperty("onDay").GetString()!,
            row.GetProperty("fact").GetProperty("deviceSequence").GetInt64(),
            row.GetProperty("state").GetString()!))];
    }

    /// <summary>The name that this phone has given itself; null before it wrote anything.</summary>
    public Task<string?> Device() => Page.EvaluateAsync<string?>(
        """
        () => new Promise(done => {
          const open = indexedDB.open("lepidary-pocket");
          open.onsuccess = () => {
            const asked = open.result.transaction("kept").objectStore("kept").get("device");
            asked.onsuccess = () => { open.result.close(); done(asked.result?.id ?? null); };
          };
        })
        """);

    /// <summary>Facts in the book that came from this phone.</summary>
    public async Task<IReadOnlyList<BookRow>> InBook(BookServer server)
    {
        var device = await Device();
        return [.. AllInBook(server).Where(row => row.Device == device)];
    }

    /// <summary>What the book answers of this phone's facts: <paramref name="columns"/> a line, in the order in which they were written.</summary>
    public async Task<IReadOnlyList<string>> Ask(BookServer server, string columns, string kind) =>
        Ask(server, $"SELECT {columns} FROM Facts WHERE DeviceId = '{await Device()}' AND Kind = '{kind}' ORDER BY DeviceSequence");

    /// <summary>Facts in the book that came from phones.</summary>
    public static IReadOnlyList<BookRow> AllInBook(BookServer server)
    {
        using var connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = server.Book, Mode = SqliteOpenMode.ReadOnly, Pooling = false }.ToString());
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = "SELECT Id, Kind, OnDay, DeviceId, DeviceSequence, LotId, COALESCE(EmergedMale, 0) + COALESCE(EmergedFemale, 0) + COALESCE(EmergedUnsexed, 0), VoidsId, Dead, \"Count\" FROM Facts WHERE DeviceId IS NOT NULL ORDER BY DeviceId, DeviceSequence";
        using var reader = command.ExecuteReader();
        var rows = new List<BookRow>();
        while (reader.Read())
        {
            rows.Add(new(
                Guid.Parse(reader.GetString(0)), reader.GetString(1), reader.GetString(2), reader.GetString(3), reader.GetInt64(4),
                reader.IsDBNull(5) ? null : Guid.Parse(reader.GetString(5)), reader.GetInt32(6), reader.IsDBNull(7) ? null : Guid.Parse(reader.GetString(7)),
                reader.IsDBNull(8) ? 0 : reader.GetInt32(8), reader.IsDBNull(9) ? 0 : reader.GetInt32(9)));
        }

        return rows;
    }

    /// <summary>The number of rows that are in conflict in the book.</summary>
    public static long Conflicts(BookServer server) => long.Parse(Ask(server, "SELECT COUNT(*) FROM Conflicts")[0], CultureInfo.InvariantCulture);

    /// <summary>What the book answers, a line a row, with <c>|</c> between the columns.</summary>
    public static IReadOnlyList<string> Ask(BookServer server, string query)
    {
        using var connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = server.Book, Mode = SqliteOpenMode.ReadOnly, Pooling = false }.ToString());
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = query;
        using var reader = command.ExecuteReader();
        var lines = new List<string>();
        while (reader.Read())
        {
            lines.Add(string.Join('|', Enumerable.Range(0, reader.FieldCount).Select(column => Convert.ToString(reader.GetValue(column), CultureInfo.InvariantCulture))));
        }

        return lines;
    }

    public ValueTask DisposeAsync() => visit.DisposeAsync();

    private static IPage Patient(IPage page)
    {
        page.SetDefaultTimeout(Patience);
        return page;
    }
}

/// <summary>A row on the phone.</summary>
internal sealed record KeptRow(Guid Id, string Kind, string OnDay, long Sequence, string State);

/// <summary>A row in the book.</summary>
internal sealed record BookRow(Guid Id, string Kind, string OnDay, string Device, long Sequence, Guid? LotId, int Emerged, Guid? Voids, int Dead, int Count);
