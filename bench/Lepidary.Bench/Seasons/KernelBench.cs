using System.Diagnostics;
using System.Globalization;
using Lepidary.Planning.Seasons;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;

namespace Lepidary.Bench.Seasons;

/// <summary>
/// How many pupae a second one processor draws, from arrival to the last day on the wing, and adds up by day: 150 species, 8 weekly lots each, 56 days.
/// The clock is the processor's own time, so that other jobs on the machine count less.
/// </summary>
internal static class KernelBench
{
    private const int Species = 150, Lots = 8, Days = 56, SpeciesInAll = 60;
    private static readonly TimeSpan Enough = TimeSpan.FromSeconds(1.5);

    public static int Run()
    {
        Figures.Head("season kernel");
        foreach (var lot in new[] { 5, 20, 100 })
        {
            var ours = Draw(lot);
            var peer = Peer(lot);
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"lots of {lot,3}: {ours.PerSecond / 1e6,7:0.0} million pupae a second of processor time, {ours.Flying:0.00} flying a species-day; R {peer.PerSecond / 1e6,6:0.00} million, {peer.Flying:0.00}; {ours.PerSecond / peer.PerSecond:0.0} times"));
        }

        foreach (var lot in new[] { 5, 20, 100 })
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"whole seasons with orders told, lots of {lot,3}: {Whole(lot) / 1e6,7:0.00} million pupae a second of processor time"));
        return 0;
    }

    private static readonly EmergenceTiming Timing = EmergenceTiming.FromWindow(5, 12);
    private static readonly AdultSurvival Survival = AdultSurvival.FromLife(12, 26);

    private static (double PerSecond, double Flying) Draw(int pupae)
    {
        var table = new FateTable(Timing, Survival);
        var flying = new int[Days + table.Reach + 1];
        var random = new SeasonRandom(1);
        var (drawn, seen, seasons) = (0L, 0L, 0L);
        Season(0);
        (drawn, seen) = (0, 0);
        var began = Environment.CpuUsage.TotalTime;
        var spent = TimeSpan.Zero;
        while (spent < Enough)
        {
            for (var more = 0; more < 20; more++)
                Season((ulong)++seasons);
            spent = Environment.CpuUsage.TotalTime - began;
        }

        return (drawn / spent.TotalSeconds, (double)seen / seasons / Species / Days);

        void Season(ulong season)
        {
            // One stream a season: lots follow each other in it.
            random.Restart(SeasonRandom.Split(season, 7));
            for (var species = 0; species < Species; species++)
            {
                Array.Clear(flying);
                for (var lot = 0; lot < Lots; lot++)
                    table.Add(random, pupae, 0.8, flying.AsSpan(7 * lot));
                var there = 0;
                for (var day = 0; day < Days; day++)
                {
                    there += flying[day];
                    seen += there;
                }
            }

            drawn += Species * Lots * pupae;
        }
    }

    // The same in R, a species at a time, every pupa of its lots in one vector.
    private static (double PerSecond, double Flying) Peer(int pupae)
    {
        var chances = Timing.Chances.ToArray();
        var lives = Enumerable.Range(1, 200).Select(days => Survival[days - 1] - Survival[days]).ToArray();
        string Vector(IEnumerable<double> values) => "c(" + string.Join(",", values.Select(v => v.ToString("R", CultureInfo.InvariantCulture))) + ")";
        var script = Path.GetTempFileName();
        File.WriteAllText(script, $$"""
            out <- c(0.8 * {{Vector(chances)}}, 0.2); k <- length(out) - 1
            life <- {{Vector(lives)}}; days <- {{Days}}; n <- {{Lots * pupae}}
            arrives <- rep(7 * (0:{{Lots - 1}}), each = {{pupae}})
            season <- function() { seen <- 0
              for (s in 1:{{Species}}) {
                d <- sample.int(k + 1L, n, TRUE, out); l <- sample.int(length(life), n, TRUE, life)
                f <- d <= k; from <- arrives[f] + d[f] - 1; to <- from + l[f]
                change <- tabulate(from[from < days] + 1, days) - tabulate(to[to < days] + 1, days)
                seen <- seen + sum(cumsum(change)) }
              seen }
            invisible(season()); count <- 0; seen <- 0; from <- proc.time(); spent <- 0
            while (spent < 1.5) { seen <- seen + season(); count <- count + 1; now <- proc.time() - from; spent <- now[[1]] + now[[2]] }
            cat(count * {{Species}} * n / spent, seen / count / {{Species}} / days, "\n")
            """);
        try
        {
            using var process = Process.Start(new ProcessStartInfo("Rscript", ["--vanilla", script]) { RedirectStandardOutput = true })!;
            var said = process.StandardOutput.ReadToEnd().Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
            process.WaitForExit();
            return (double.Parse(said[0], CultureInfo.InvariantCulture), double.Parse(said[1], CultureInfo.InvariantCulture));
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return (double.NaN, double.NaN);
        }
        finally
        {
            File.Delete(script);
        }
    }

    // Lists, orders, boxes, what a keeper sees each week, every pupa's fate and the scores.
    private static double Whole(int pupae)
    {
        var setting = SeasonGenerator.Make(1);
        var lines = setting.Lines.Select(line => line with { Chance = 1, Minimum = 0, Pack = 1, AvailableFrom = 1000, AvailableTo = 1000 }).ToList();
        setting = setting with { Lines = lines };
        var orders = Enumerable.Range(0, setting.Weeks).Select(week => (IReadOnlyList<OrderedLine>)[.. lines.DistinctBy(l => l.Taxon).Take(SpeciesInAll).Select(l => new OrderedLine(FormattableString.Invariant($"{l.Id}@{week}"), pupae))]).ToList();
        var policy = new OrderAsTold("told", orders);
        SeasonRun.Play(setting, policy, 1);
        var (drawn, seed) = (0L, 1UL);
        var began = Environment.CpuUsage.TotalTime;
        var spent = TimeSpan.Zero;
        while (spent < Enough)
        {
            drawn += SeasonRun.Play(setting, policy, ++seed).Pupae;
            spent = Environment.CpuUsage.TotalTime - began;
        }

        return drawn / spent.TotalSeconds;
    }
}
