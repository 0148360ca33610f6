using Lepidary.Browser.Harness;
using Microsoft.Playwright;

[assembly: AssemblyFixture(typeof(BrowserFixture))]

namespace Lepidary.Browser.Harness;

/// <summary>
/// One Chromium for the whole run, and one demo book that is read and never written. A test that writes starts a server of
/// its own: <see cref="BookServer.OnFreshBook"/> or <see cref="BookServer.OnDemoBook"/>.
/// </summary>
public sealed class BrowserFixture : IAsyncLifetime
{
    /// <summary>Names the browser's program where it is not Debian's.</summary>
    private const string PathVariable = "LEPIDARY_CHROMIUM";

    /// <summary>Names a book to read in place of the demo's: for <c>tools/look</c>.</summary>
    private const string BookVariable = "LEPIDARY_LOOK_BOOK";

    /// <summary>Debian's: the shell that opens no windows is quicker, the whole browser will do.</summary>
    private static readonly string[] _usual = ["/usr/bin/chromium-headless-shell", "/usr/bin/chromium"];

    private readonly SemaphoreSlim _gate = new(1, 1);
    private IPlaywright? _playwright;
    private IBrowser? _chromium;
    private BookServer? _demo;
    private DirectoryInfo? _house;

    /// <inheritdoc />
    public async ValueTask InitializeAsync()
    {
        _playwright = await Playwright.CreateAsync();
        _chromium = await _playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = Environment.GetEnvironmentVariable(PathVariable) ?? _usual.FirstOrDefault(File.Exists) ?? _usual[0],

            // No sandbox, since CI runs as root; the rest keeps the browser from calling home.
            Args =
            [
                "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
                "--disable-component-update", "--disable-sync",
            ],
        });
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

        _house?.Delete(recursive: true);
        if (_chromium is not null)
        {
            await _chromium.DisposeAsync();
        }

        _playwright?.Dispose();
        _gate.Dispose();
    }
}
