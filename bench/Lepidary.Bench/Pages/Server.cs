using System.Diagnostics;

namespace Lepidary.Bench.Pages;

/// <summary>The real program in a process of its own, serving a book.</summary>
internal sealed class Server : IDisposable
{
    private readonly Process process;

    private Server(Process process, Uri address) => (this.process, Http) = (process, new HttpClient { BaseAddress = address, Timeout = TimeSpan.FromMinutes(2) });

    public HttpClient Http { get; }

    /// <summary>The most memory that the process has had, MB; NaN where the system does not tell.</summary>
    public double PeakMB => File.Exists($"/proc/{process.Id}/status")
        ? double.Parse(File.ReadLines($"/proc/{process.Id}/status").First(line => line.StartsWith("VmHWM", StringComparison.Ordinal)).Split(' ', StringSplitOptions.RemoveEmptyEntries)[1], System.Globalization.CultureInfo.InvariantCulture) / 1024
        : double.NaN;

    public static async Task<Server> StartAsync(string program, string book)
    {
        var process = Process.Start(new ProcessStartInfo(program, ["serve", "--book", book, "--port", "0"]) { RedirectStandardOutput = true })!;
        while (await process.StandardOutput.ReadLineAsync() is { } line)
        {
            if (line.IndexOf("http://", StringComparison.Ordinal) is >= 0 and var at)
            {
                return new(process, new Uri(line[at..].Trim()));
            }
        }

        throw new InvalidOperationException($"{program} serve --book {book} ended without an address");
    }

    /// <summary>Milliseconds until the page is here.</summary>
    public async Task<double> GetAsync(string page)
    {
        var watch = Stopwatch.StartNew();
        using var answer = await Http.GetAsync(new Uri(page, UriKind.Relative));
        await answer.EnsureSuccessStatusCode().Content.ReadAsByteArrayAsync();
        return watch.Elapsed.TotalMilliseconds;
    }

    public void Dispose()
    {
        Http.Dispose();
        process.Kill();
        process.WaitForExit();
        process.Dispose();
    }
}
