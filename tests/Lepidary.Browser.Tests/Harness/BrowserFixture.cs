using Lepidary.Browser.Harness;
using Lepidary.Browser.Pocket;
using Microsoft.Playwright;

[assembly: AssemblyFixture(typeof(BrowserFixture))]

namespace Lepidary.Browser.Harness;

/// <summary>
/// One Chromium for the whole run, and one demo book that is read and never written. A test that writes starts a server of
/// its own: <see cref="BookServer.OnFreshBook"/> or <see cref="BookServer.OnDemoBook"/>.
/// </summary>
public sealed class BrowserFixture : IAsyncLifetime
{
    /// <summary>Names a book to read in place of the demo's: for <c>tools/look</c>.</summary>
    private const string BookVariable = "LEPIDARY_LOOK_BOOK";

    private readonly SemaphoreSlim _gate = new(1, 1);
    private readonly SemaphoreSlim _pocketGate = new(1, 1);
    private IPlaywright? _playwright;
    private IBrowser? _chromium;
    private BookServer? _demo;
    private DirectoryInfo? _house;
    private BookServer? _pocket;

    /// <summary>The browser itself.</summary>
    internal IBrowser Program => _chromium!;

    /// <summary>What drives it.</summary>
    internal IPlaywright Driver => _playwright!;

    /// <inheritdoc />
    public async ValueTask InitializeAsync()
    {
        _playwright = await Playwright.CreateAsync();
        _chromium = await Chromium.Launch(_playwright);
    }

    /// <summary>The demo house, served once for all tests that only read.</summary>
    public async Task<BookServer> Demo()
    {
        await _gate.WaitAsync();
        try
        {
            return _demo ??= Environment.GetEnvironmentVariable(BookVariable) is { Length: > 0 } book
                ? await BookServer.OnBook(book)
                : await BookServer.OnDemoBook();
        }
        finally
        {
            _gate.Release();
        }
    }

    /// <summary>The demo house without lists or a proposal, on a server of its own: to write in.</summary>
    public async Task<BookServer> DemoHouse()
    {
        await _gate.WaitAsync();
        try
        {
            if (_house is null)
            {
                var folder = Directory.CreateTempSubdirectory("lepidary-browser-");
                await BookServer.Run("demo", "--book", Path.Combine(folder.FullName, "book.db"));
                _house = folder;
            }
        }
        finally
        {
            _gate.Release();
        }

        return await BookServer.OnCopyOf(Path.Combine(_house.FullName, "book.db"));
    }

    /// <summary>
    /// A demo house with more than forty lots, served once for the phones of all tests that write and then look at nothing but their own
    /// phone's rows. Its day is not turned and its server is not killed.
    /// </summary>
    public async Task<BookServer> PocketHouse()
    {
        await _pocketGate.WaitAsync();
        try
        {
            if (_pocket is null)
            {
                var house = await DemoHouse();
                await RoundRun.Fill(house);
                _pocket = house;
            }

            return _pocket;
        }
        finally
        {
            _pocketGate.Release();
        }
    }

    /// <summary>Opens a page in a window of its own, with nothing kept from other visits.</summary>
    /// <param name="address">Whole address of the page.</param>
    /// <param name="screen">Size of the window.</param>
    /// <param name="script">False to read the page with JavaScript off.</param>
    internal Task<Visit> Open(Uri address, Screen screen, bool script = true) => Visit.Open(_chromium!, address, screen, script);

    /// <inheritdoc />
    public async ValueTask DisposeAsync()
    {
        if (_demo is not null)
        {
            await _demo.DisposeAsync();
        }

        if (_pocket is not null)
        {
            await _pocket.DisposeAsync();
        }

        _house?.Delete(recursive: true);
        if (_chromium is not null)
        {
            await _chromium.DisposeAsync();
        }

        _playwright?.Dispose();
        _gate.Dispose();
        _pocketGate.Dispose();
    }
}
