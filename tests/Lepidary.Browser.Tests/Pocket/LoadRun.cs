using System.Diagnostics;
using Lepidary.Browser.Harness;
using Microsoft.Playwright;

namespace Lepidary.Browser.Pocket;

/// <summary>What the first visit carries and how long a keeper waits for the round.</summary>
/// <param name="ColdSeconds">From nothing at all to the lots on the screen.</param>
/// <param name="ColdBytes">Bytes over the wire until then, headers and bodies.</param>
/// <param name="InstalledSeconds">The same from the installed page, on the same connection.</param>
/// <param name="OfflineSeconds">The same from the installed page without any connection.</param>
/// <param name="ScriptBytes">The page's script as the browser reads it.</param>
/// <param name="ScriptOnWire">The page's script as it is carried.</param>
internal sealed record LoadCount(double ColdSeconds, long ColdBytes, double InstalledSeconds, double OfflineSeconds, long ScriptBytes, long ScriptOnWire);

/// <summary>Opens the round on a slow connection, for the first time and again.</summary>
internal static class LoadRun
{
    /// <summary>Bytes a second each way: 400 kbit/s.</summary>
    private const int BytesASecond = 50_000;

    /// <summary>Milliseconds that each request waits at least.</summary>
    private const int Latency = 400;

    private const string Shown = "() => document.getElementById('page')?.dataset.empty === 'no'";

    public static async Task<LoadCount> Run(IBrowser browser, BookServer server)
    {
        var address = server.Page("/pocket/").ToString();
        await using var context = await browser.NewContextAsync(new() { HasTouch = true, ViewportSize = new() { Width = Screen.Phone.Width, Height = Screen.Phone.Height } });
        var page = await context.NewPageAsync();
        long carried = 0, script = 0;
        var session = await Slow(page);
        var scripts = new HashSet<string>();
        session.Event("Network.responseReceived").OnEvent += (_, what) =>
        {
            if (what?.GetProperty("response").GetProperty("url").GetString()?.EndsWith("/pocket.js", StringComparison.Ordinal) == true)
            {
                scripts.Add(what.Value.GetProperty("requestId").GetString()!);
            }
        };
        session.Event("Network.loadingFinished").OnEvent += (_, what) =>
        {
            var bytes = (long)what!.Value.GetProperty("encodedDataLength").GetDouble();
            carried += bytes;
            script += scripts.Contains(what.Value.GetProperty("requestId").GetString()!) ? bytes : 0;
        };
        var watch = Stopwatch.StartNew();
        await page.GotoAsync(address, new() { Timeout = 120_000, WaitUntil = WaitUntilState.Commit });
        await page.WaitForFunctionAsync(Shown, null, new() { Timeout = 120_000 });
        var (cold, coldBytes) = (watch.Elapsed.TotalSeconds, carried);
        var length = await page.EvaluateAsync<long>("fetch('/pocket/pocket.js').then(answer => answer.arrayBuffer()).then(bytes => bytes.byteLength)");
        await page.EvaluateAsync("navigator.serviceWorker.ready.then(() => true)");
        await page.WaitForFunctionAsync("() => navigator.serviceWorker.controller !== null", null, new() { Timeout = 120_000 });
        await page.CloseAsync();

        var installed = await Again(slow: true);
        await context.SetOfflineAsync(true);
        return new(cold, coldBytes, installed, await Again(slow: false), length, script);

        async Task<double> Again(bool slow)
        {
            var again = await context.NewPageAsync();
            if (slow)
            {
                await Slow(again);
            }

            var from = Stopwatch.StartNew();
            await again.GotoAsync(address, new() { Timeout = 120_000, WaitUntil = WaitUntilState.Commit });
            await again.WaitForFunctionAsync(Shown, null, new() { Timeout = 120_000 });
            var seconds = from.Elapsed.TotalSeconds;
            await again.CloseAsync();
            return seconds;
        }
    }

    private static async Task<ICDPSession> Slow(IPage page)
    {
        var session = await page.Context.NewCDPSessionAsync(page);
        await session.SendAsync("Network.enable");
        await session.SendAsync("Network.emulateNetworkConditions", new() { ["offline"] = false, ["latency"] = Latency, ["downloadThroughput"] = BytesASecond, ["uploadThroughput"] = BytesASecond });
        return session;
    }
}
