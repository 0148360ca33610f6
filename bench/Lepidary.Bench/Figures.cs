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

    private static double Once(Action work)
    {
        var watch = Stopwatch.StartNew();
        work();
        return watch.Elapsed.TotalMilliseconds;
    }

    private static string Load() => File.Exists("/proc/loadavg") ? File.ReadAllText("/proc/loadavg").Split(' ')[0] : "unknown";
}
