using System.Diagnostics;

namespace Lepidary.Bench.Pages;

/// <summary>How long a keeper waits for a page: with ten years in the book beside the demo's ten weeks, and at the start.</summary>
internal static class PagesBench
{
    private const int Starts = 7;

    /// <summary>Each page on the large book, beside the demo's book and beside a page that reads no facts.</summary>
    /// <param name="args">PROGRAM LARGE-BOOK DEMO-BOOK [TIMES].</param>
    public static async Task<int> TodayAsync(string[] args)
    {
        Figures.Head("today");
        var times = args.Length > 3 ? int.Parse(args[3], System.Globalization.CultureInfo.InvariantCulture) : 200;
        using var large = await Server.StartAsync(args[0], args[1]);
        using var demo = await Server.StartAsync(args[0], args[2]);
        Figures.Row("/ first of the process", await large.GetAsync("/"), "ms", await demo.GetAsync("/"));
        foreach (var page in new[] { "/", "/round", "/flying", "/order", "/contents" })
        {
            var (here, there) = (await WarmAsync(large, page, times), await WarmAsync(demo, page, times));
            Figures.Row($"{page} median, ten years beside demo", Figures.Share(here, 0.5), "ms", Figures.Share(there, 0.5));
            Figures.Row($"{page} p95, ten years beside demo", Figures.Share(here, 0.95), "ms", Figures.Share(there, 0.95));
        }

        Figures.Row("most memory", large.PeakMB, "MB", demo.PeakMB);
        return 0;
    }

    /// <summary>From the start of the process to the first page, beside the same program printing its help.</summary>
    /// <param name="args">PROGRAM BOOK.</param>
    public static async Task<int> StartAsync(string[] args)
    {
        Figures.Head("start");
        var (pages, helps, peak) = (new List<double>(), new List<double>(), 0.0);
        for (var time = 0; time < Starts; time++)
        {
            var watch = Stopwatch.StartNew();
            using (var server = await Server.StartAsync(args[0], args[1]))
            {
                await server.GetAsync("/");
                pages.Add(watch.Elapsed.TotalMilliseconds);
                peak = server.PeakMB;
            }

            watch.Restart();
            using var help = Process.Start(new ProcessStartInfo(args[0], ["--help"]) { RedirectStandardOutput = true })!;
            await help.StandardOutput.ReadToEndAsync();
            await help.WaitForExitAsync();
            helps.Add(watch.Elapsed.TotalMilliseconds);
        }

        Figures.Row("start to first page, beside --help", Figures.Share(pages, 0.5), "ms", Figures.Share(helps, 0.5));
        Figures.Note("most memory, one page served", $"{peak:0} MB");
        return 0;
    }

    private static async Task<List<double>> WarmAsync(Server server, string page, int times)
    {
        await server.GetAsync(page);
        var taken = new List<double>();
        for (var time = 0; time < times; time++)
        {
            taken.Add(await server.GetAsync(page));
        }

        return taken;
    }
}
