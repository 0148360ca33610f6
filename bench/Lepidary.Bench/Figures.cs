using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;

namespace Lepidary.Bench;

/// <summary>How figures are taken and printed: every one beside its peer of the same run, as a ratio.</summary>
internal static class Figures
{
    public static void Head(string title)
    {
        CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
        Console.WriteLine($"{title}: {DateTime.UtcNow:yyyy-MM-dd HH:mm} UTC, {RuntimeInformation.FrameworkDescription}, {Environment.ProcessorCount} processors, load {Load()}");
    }

    public static void Row(string what, double figure, string unit, double peer) =>
        Console.WriteLine($"{what,-52} {figure,10:0.00} {unit,-3} peer {peer,10:0.00} {unit,-3} ratio {figure / peer,8:0.000}");

    public static void Note(string what, string said) => Console.WriteLine($"{what,-52} {said}");

    /// <summary>Milliseconds of the middle one of <paramref name="times"/> runs, after one that does not count.</summary>
    public static double Median(int times, Action work)
    {
        work();
        return Share([.. Enumerable.Range(0, times).Select(_ => Once(work))], 0.5);
    }

    /// <summary>The value that the given share of the values does not exceed.</summary>
    public static double Share(IReadOnlyList<double> values, double share) =>
        values.Order().ElementAt(Math.Min(values.Count - 1, (int)(values.Count * share)));

    /// <summary>
    /// Gives back what is no longer used, and has the most memory of this process count from now on, where the system can: each of several instances is then told
    /// by itself, as if it had a process of its own.
    /// </summary>
    public static void ForgetMostMemory()
    {
        GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive, true, true);
        GC.WaitForPendingFinalizers();
        if (File.Exists("/proc/self/clear_refs"))
            File.WriteAllText("/proc/self/clear_refs", "5");
    }

    /// <summary>The most memory, bytes, since the start or since it was last forgotten.</summary>
    public static long MostMemory()
    {
        using var process = Process.GetCurrentProcess();
        return process.PeakWorkingSet64;
    }

    private static double Once(Action work)
    {
        var watch = Stopwatch.StartNew();
        work();
        return watch.Elapsed.TotalMilliseconds;
    }

    /// <summary>Milliseconds of the clock and of the processors (all threads, compiler and collector too) that some work takes.</summary>
    public static async Task<(double Clock, double Processor)> Took(Func<Task> work)
    {
        var (watch, before) = (Stopwatch.StartNew(), Environment.CpuUsage.TotalTime);
        await work();
        return (watch.Elapsed.TotalMilliseconds, (Environment.CpuUsage.TotalTime - before).TotalMilliseconds);
    }

    /// <summary>The middle of some runs, by the clock and by the processor.</summary>
    public static (double Clock, double Processor) Middle(IReadOnlyList<(double Clock, double Processor)> runs) =>
        (Share([.. runs.Select(run => run.Clock)], 0.5), Share([.. runs.Select(run => run.Processor)], 0.5));

    private static string Load() => File.Exists("/proc/loadavg") ? File.ReadAllText("/proc/loadavg").Split(' ')[0] : "unknown";
}
