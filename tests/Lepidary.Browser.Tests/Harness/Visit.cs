using System.Diagnostics;
using Microsoft.Playwright;

namespace Lepidary.Browser.Harness;

/// <summary>One page opened in a window of its own, and what the browser noticed meanwhile.</summary>
internal sealed class Visit : IAsyncDisposable
{
    private readonly IBrowserContext _context;
    private readonly List<string> _complaints = [];
    private readonly List<string> _strangers = [];
    private readonly List<IRequest> _finished = [];
    private IResponse? _answered;
    private IResponse? _shown;

    private Visit(IBrowserContext context, IPage page, Uri address, Screen screen)
    {
        _context = context;
        Page = page;
        Screen = screen;
        page.Console += (_, said) =>
        {
            if (said.Type is "error" or "warning")
            {
                _complaints.Add(said.Text);
            }
        };
        page.PageError += (_, error) => _complaints.Add(error);
        page.RequestFinished += (_, request) => _finished.Add(request);
        page.Response += (_, answer) => _answered = answer.Request.IsNavigationRequest && answer.Frame == page.MainFrame ? answer : _answered;
        page.FrameNavigated += (_, frame) => _shown = frame == page.MainFrame ? _answered : _shown;
        page.Request += (_, request) =>
        {
            var asked = new Uri(request.Url);
            if (asked.Scheme is not ("data" or "blob") && asked.Authority != address.Authority)
            {
                _strangers.Add(request.Url);
            }
        };
    }

    public IPage Page { get; }

    public Screen Screen { get; private set; }

    /// <summary>HTTP status of the page itself.</summary>
    public int Status { get; private set; }

    /// <summary>Errors and warnings in the browser's console, and exceptions that nobody caught.</summary>
    public IReadOnlyList<string> Complaints => _complaints;

    /// <summary>Requests to any other host: there must be none, since the house may have no internet.</summary>
    public IReadOnlyList<string> Strangers => _strangers;

    public static async Task<Visit> Open(IBrowser browser, Uri address, Screen screen, bool script)
    {
        var context = await browser.NewContextAsync(new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = screen.Width, Height = screen.Height },
            HasTouch = screen == Screen.Phone,
            JavaScriptEnabled = script,
            ReducedMotion = ReducedMotion.Reduce,
            Locale = "en-GB",
            TimezoneId = "Europe/London",
        });
        try
        {
            return await In(context, address, screen);
        }
        catch
        {
            await context.DisposeAsync();
            throw;
        }
    }

    /// <summary>Opens a page in a window that is there, with what it has kept; it closes with the visit.</summary>
    public static async Task<Visit> In(IBrowserContext context, Uri address, Screen screen)
    {
        var visit = new Visit(context, await context.NewPageAsync(), address, screen);
        await visit.Page.SetViewportSizeAsync(screen.Width, screen.Height);
        await visit.Go(address);
        return visit;
    }

    /// <summary>Makes the window another size, and waits until the page is drawn in it.</summary>
    public async Task Resize(Screen screen)
    {
        await Page.SetViewportSizeAsync(screen.Width, screen.Height);
        Screen = screen;
        await Page.EvaluateAsync("() => new Promise(drawn => requestAnimationFrame(() => requestAnimationFrame(() => drawn())))");
    }

    /// <summary>Goes to another page in the same window.</summary>
    public async Task Go(Uri address)
    {
        // Long enough for a proposal on a machine that is busy with other tests: how long a page takes is not judged here.
        const int patience = 120_000;
        await Page.GotoAsync(address.ToString(), new PageGotoOptions { WaitUntil = WaitUntilState.Load, Timeout = patience });
        var since = Stopwatch.StartNew();
        while (_shown?.Headers.TryGetValue("refresh", out var again) == true && !again.Contains("url=", StringComparison.Ordinal))
        {
            // A search still runs and the page looks again by itself, until it is done. Asking anew at once would meet its own going there, and an
            // answer alone is not yet the page: what is shown is the answer that the window has turned to.
            // A page that turns for ever, as the visitors' screen, names the address that it turns to: it is done as it stands.
            if (since.ElapsedMilliseconds > patience)
            {
                throw new TimeoutException($"{address} still looks again by itself after {patience / 1000} s.");
            }

            await Task.Delay(50);
        }

        // Asked of the page itself: the event of a page that turned by itself may have come before anybody waited for it.
        while (await State() != "complete")
        {
            if (since.ElapsedMilliseconds > patience)
            {
                throw new TimeoutException($"{address} is not whole after {patience / 1000} s.");
            }

            await Task.Delay(20);
        }

        Status = _shown?.Status ?? 0;
    }

    private async Task<string> State()
    {
        try
        {
            return await Page.EvaluateAsync<string>("document.readyState");
        }
        catch (PlaywrightException)
        {
            // The window turns to another page at this moment.
            return "turning";
        }
    }

    /// <summary>Bytes that came over the wire for the page and all that it asked for, headers and bodies.</summary>
    public async Task<int> Carried()
    {
        await Page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        var carried = 0;
        foreach (var request in _finished.ToArray())
        {
            var sizes = await request.SizesAsync();
            carried += sizes.ResponseHeadersSize + sizes.ResponseBodySize;
        }

        return carried;
    }

    /// <summary>The text of the page's main part, a line each, as a reader sees it.</summary>
    public async Task<IReadOnlyList<string>> MainText()
    {
        var text = await Page.Locator("main").First.InnerTextAsync();
        return [.. text.Split('\n').Select(line => string.Join(' ', line.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries))).Where(line => line.Length > 0)];
    }

    /// <summary>Keeps a picture of the whole page as <c>artifacts/screenshots/NAME-WIDTH.png</c>.</summary>
    public async Task<string> Picture(string name)
    {
        var path = Path.Combine(RepositoryFolder.Of("artifacts", "screenshots"), $"{name}-{Screen.Width}.png");
        await Page.ScreenshotAsync(new PageScreenshotOptions { Path = path, FullPage = true });
        return path;
    }

    public ValueTask DisposeAsync() => _context.DisposeAsync();
}
