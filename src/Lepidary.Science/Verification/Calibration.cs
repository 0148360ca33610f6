using Lepidary.Science.Counts;
using Lepidary.Science.Ground;

namespace Lepidary.Science.Verification;

/// <summary>A chance that was given, and whether the thing came.</summary>
/// <param name="Chance">0…1.</param>
/// <param name="Came">Whether it did.</param>
public readonly record struct ChanceGiven(double Chance, bool Came);

/// <summary>Of the times a chance near <paramref name="Said"/> was given, how often it came.</summary>
/// <param name="Said">Mean of the chances in the group.</param>
/// <param name="Came">Share that came.</param>
/// <param name="Times">How many chances are in the group.</param>
public readonly record struct CalibrationGroup(double Said, double Came, int Times);

/// <summary>Murphy's parts of the Brier score: Brier = reliability - resolution + uncertainty.</summary>
/// <param name="Reliability">How far said and came lie apart; 0 is honest.</param>
/// <param name="Resolution">How far the groups lie apart from the average; large is useful.</param>
/// <param name="Uncertainty">What the thing itself leaves open.</param>
public readonly record struct BrierParts(double Reliability, double Resolution, double Uncertainty)
{
    /// <summary>The Brier score they make, exact when all chances in a group are equal.</summary>
    public double Brier => Reliability - Resolution + Uncertainty;
}

/// <summary>Are chances and intervals what they say? Computed over many forecasts.</summary>
public static class Calibration
{
    /// <summary>Brier score: the mean of (p - o)².</summary>
    /// <param name="given">At least one.</param>
    public static double Brier(IReadOnlyCollection<ChanceGiven> given) =>
        Given(given).Average(one => Math.Pow(one.Chance - (one.Came ? 1 : 0), 2));

    /// <summary>Mean logarithmic loss; infinite when something called impossible came.</summary>
    /// <param name="given">At least one.</param>
    public static double LogLoss(IReadOnlyCollection<ChanceGiven> given) =>
        Given(given).Average(one => -Math.Log(one.Came ? one.Chance : 1 - one.Chance));

    /// <summary>The calibration curve: chances in equal steps of 0…1, groups without any left out.</summary>
    /// <param name="given">At least one.</param>
    /// <param name="groups">At least 1; a chance of exactly 1 is in the last.</param>
    public static IReadOnlyList<CalibrationGroup> Curve(IReadOnlyCollection<ChanceGiven> given, int groups = 10)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(groups, 1);
        return [.. Given(given)
            .GroupBy(one => Math.Min(groups - 1, (int)(one.Chance * groups)))
            .OrderBy(group => group.Key)
            .Select(group => new CalibrationGroup(
                group.Average(one => one.Chance), group.Average(one => one.Came ? 1.0 : 0), group.Count()))];
    }

    /// <summary>Murphy's parts (Murphy 1973, J. Appl. Meteorol. 12:595-600; citation from memory), grouped by equal chances.</summary>
    /// <param name="given">At least one.</param>
    public static BrierParts Parts(IReadOnlyCollection<ChanceGiven> given)
    {
        var all = Given(given).Average(one => one.Came ? 1.0 : 0);
        var (reliability, resolution) = (0.0, 0.0);
        foreach (var group in given.GroupBy(one => one.Chance))
        {
            var came = group.Average(one => one.Came ? 1.0 : 0);
            var weight = (double)group.Count() / given.Count;
            reliability += weight * Math.Pow(group.Key - came, 2);
            resolution += weight * Math.Pow(came - all, 2);
        }
        return new(reliability, resolution, all * (1 - all));
    }

    /// <summary>Share of counts that fell in the central interval of the level, and the share that the intervals themselves promised.</summary>
    /// <remarks>Because counts are whole, intervals promise at least the level, often more: compare with the promise, not with the level.</remarks>
    /// <param name="forecasts">At least one: what was said and what came.</param>
    /// <param name="level">Above 0, below 1.</param>
    public static (double Covered, double Promised) Coverage(
        IReadOnlyCollection<(CountDistribution Forecast, int Happened)> forecasts, double level)
    {
        ArgumentNullException.ThrowIfNull(forecasts);
        if (forecasts.Count == 0) throw new ArgumentException("Nothing was forecast.", nameof(forecasts));
        var (covered, promised) = (0, 0.0);
        foreach (var (forecast, happened) in forecasts)
        {
            var interval = forecast.Interval(level);
            if (happened >= interval.From && happened <= interval.To) covered++;
            promised += interval.Chance;
        }
        return ((double)covered / forecasts.Count, promised / forecasts.Count);
    }

    /// <summary>
    /// Histogram of the transform without randomness: each forecast spreads its weight evenly over F(y-1)…F(y). All bars 1/groups when honest; high
    /// ends mean that forecasts are over-sure.
    /// </summary>
    /// <param name="forecasts">At least one: what was said and what came.</param>
    /// <param name="groups">At least 1.</param>
    public static IReadOnlyList<double> PitHistogram(IReadOnlyCollection<(CountDistribution Forecast, int Happened)> forecasts, int groups = 10)
    {
        ArgumentNullException.ThrowIfNull(forecasts);
        ArgumentOutOfRangeException.ThrowIfLessThan(groups, 1);
        if (forecasts.Count == 0) throw new ArgumentException("Nothing was forecast.", nameof(forecasts));
        var bars = new double[groups];
        foreach (var (forecast, happened) in forecasts)
        {
            var (from, to) = (Scores.Pit(forecast, happened, 0), Scores.Pit(forecast, happened, 1));
            for (var g = 0; g < groups; g++)
            {
                var (low, high) = ((double)g / groups, (double)(g + 1) / groups);
                // A count that was called impossible has no width: it falls whole into the bar where it lies.
                var share = to > from
                    ? Math.Max(0, Math.Min(high, to) - Math.Max(low, from)) / (to - from)
                    : from >= low && (from < high || g == groups - 1) ? 1 : 0;
                bars[g] += share / forecasts.Count;
            }
        }
        return bars;
    }

    private static IReadOnlyCollection<ChanceGiven> Given(IReadOnlyCollection<ChanceGiven> given)
    {
        ArgumentNullException.ThrowIfNull(given);
        if (given.Count == 0) throw new ArgumentException("No chance was given.", nameof(given));
        foreach (var one in given) Guard.Chance(one.Chance, nameof(given));
        return given;
    }
}
