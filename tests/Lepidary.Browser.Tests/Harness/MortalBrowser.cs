using System.Diagnostics;
using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace Lepidary.Browser.Harness;

/// <summary>
/// A browser as a process of its own on a folder that outlives it, so that it can be killed (-9) as a phone does that runs out of memory
/// or of power, and started anew on what it has written.
/// </summary>
internal sealed partial class MortalBrowser : IAsyncDisposable
{
    private static readonly TimeSpan _patience = TimeSpan.FromSeconds(60);

    private readonly Process _process;
    private readonly IBrowser _connected;

    private MortalBrowser(Process process, IBrowser connected)
    {
        _process = process;
        _connected = connected;
    }

    /// <summary>Its window.</summary>
    public IBrowserContext Context => _connected.Contexts[0];

    /// <param name="playwright">The driver.</param>
    /// <param name="folder">What it keeps.</param>
    public static async Task<MortalBrowser> On(IPlaywright playwright, string folder)
    {
        var start = new ProcessStartInfo(Chromium.Program, [.. Chromium.Arguments, "--headless", "--remote-debugging-port=0", $"--user-data-dir={folder}", "about:blank"]) { RedirectStandardError = true, RedirectStandardOutput = true };
        var process = new Process { StartInfo = start };
        var listens = new TaskCompletionSource<string>(TaskCreationOptions.RunContinuationsAsynchronously);
        process.ErrorDataReceived += (_, line) =>
        {
            if (Address().Match(line.Data ?? "") is { Success: true } address)
            {
                listens.TrySetResult(address.Value);
            }
        };
        process.Start();
        process.BeginErrorReadLine();
        process.BeginOutputReadLine();
        try
        {
            return new(process, await playwright.Chromium.ConnectOverCDPAsync(await listens.Task.WaitAsync(_patience)));
        }
        catch
        {
            process.Kill(entireProcessTree: true);
            process.Dispose();
            throw;
        }
    }

    /// <summary>Ends it at once, without a word.</summary>
    public async Task Kill()
    {
        if (!_process.HasExited)
        {
            _process.Kill(entireProcessTree: true);
            await _process.WaitForExitAsync();
        }
    }

    public async ValueTask DisposeAsync()
    {
        await Kill();
        await _connected.DisposeAsync();
        _process.Dispose();
    }

    [GeneratedRegex(@"ws://\S+")]
    private static partial Regex Address();
}
