using Microsoft.Playwright;

namespace Lepidary.Browser.Harness;

/// <summary>Starts the browser.</summary>
internal static class Chromium
{
    /// <summary>Names the browser's program where it is not Debian's.</summary>
    private const string PathVariable = "LEPIDARY_CHROMIUM";

    /// <summary>Debian's: the shell that opens no windows is quicker, the whole browser will do.</summary>
    private static readonly string[] _usual = ["/usr/bin/chromium-headless-shell", "/usr/bin/chromium"];

    /// <summary>No sandbox, since CI runs as root; the rest keeps the browser from calling home.</summary>
    public static IReadOnlyList<string> Arguments { get; } =
    [
        "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync",
    ];

    /// <summary>The browser's program.</summary>
    public static string Program => Environment.GetEnvironmentVariable(PathVariable) ?? _usual.FirstOrDefault(File.Exists) ?? _usual[0];

    /// <summary>A browser that calls nobody but the pages it is sent to.</summary>
    public static Task<IBrowser> Launch(IPlaywright playwright) => playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions { ExecutablePath = Program, Args = Arguments });
}
