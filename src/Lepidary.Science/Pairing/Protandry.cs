using Lepidary.Science.Emergence;
using Lepidary.Science.Ground;

namespace Lepidary.Science.Pairing;

/// <summary>When the two sexes of one lot emerged.</summary>
/// <param name="Males">Males on day 0, 1, … since hanging.</param>
/// <param name="Females">Females.</param>
public sealed record SexedLot(IReadOnlyList<int> Males, IReadOnlyList<int> Females);

/// <summary>By how many days the males of a species come before its females, as far as it is known: normal.</summary>
/// <param name="DaysAhead">Mean day of females less that of males; below 0 females come first.</param>
/// <param name="Deviation">Standard deviation of what is not known of it.</param>
public sealed record Protandry(double DaysAhead, double Deviation)
{
    /// <summary>
    /// Before any count: a day, and from one day behind to three days ahead would be no surprise. That males come first is the general tendency where females mate once (Wiklund and Fagerström
    /// 1977, Oecologia 31:153-158; abstract read); the day is a choice of this project.
    /// </summary>
    public static Protandry Usual { get; } = new(1, 1);

    /// <summary>Days of one sex in one lot are never more alike than this: a round a day cannot tell. Variance, in days².</summary>
    private const double LeastVariance = 0.25;

    /// <summary>What lots with both sexes add.</summary>
    /// <remarks>
    /// Each lot's difference of means has the variance s²(1/m + 1/f), s² the variance within sex and lot over all lots; so what lots share (the age at posting, the cage) falls out.
    /// Joined to the prior as normals are, by their precisions.
    /// </remarks>
    /// <param name="lots">Finished lots; those without both sexes are passed over.</param>
    public Protandry Learn(IEnumerable<SexedLot> lots)
    {
        ArgumentNullException.ThrowIfNull(lots);
        var (differences, squares, degrees) = (new List<(double Days, double Weight)>(), 0.0, 0);
        foreach (var lot in lots)
        {
            var (m, male, maleSquares) = Moments(lot.Males);
            var (f, female, femaleSquares) = Moments(lot.Females);
            squares += maleSquares + femaleSquares;
            degrees += Math.Max(0, m - 1) + Math.Max(0, f - 1);
            if (m > 0 && f > 0) differences.Add((female - male, 1 / ((1.0 / m) + (1.0 / f))));
        }
        if (differences.Count == 0) return this;
        // Few degrees say little of the spread: the prior's own variance counts for one.
        var variance = Math.Max(LeastVariance, (squares + (Deviation * Deviation)) / (degrees + 1));
        var (precision, sum) = (1 / (Deviation * Deviation), DaysAhead / (Deviation * Deviation));
        foreach (var (days, weight) in differences)
        {
            precision += weight / variance;
            sum += weight / variance * days;
        }
        return new(sum / precision, 1 / Math.Sqrt(precision));
    }

    /// <summary>The days of the sexes apart, whose mean together is the one given.</summary>
    /// <param name="both">Days of all.</param>
    /// <param name="femaleShare">Share of females, 0…1.</param>
    public (EmergenceTiming Males, EmergenceTiming Females) Apart(EmergenceTiming both, double femaleShare)
    {
        ArgumentNullException.ThrowIfNull(both);
        Guard.Chance(femaleShare);
        return (both.Shifted(-DaysAhead * femaleShare), both.Shifted(DaysAhead * (1 - femaleShare)));
    }

    private static (int Count, double Mean, double Squares) Moments(IReadOnlyList<int> byDay)
    {
        var (count, sum) = (0, 0.0);
        for (var day = 0; day < byDay.Count; day++)
        {
            ArgumentOutOfRangeException.ThrowIfNegative(byDay[day], nameof(byDay));
            count += byDay[day];
            sum += (double)day * byDay[day];
        }
        if (count == 0) return (0, 0, 0);
        var (mean, squares) = (sum / count, 0.0);
        for (var day = 0; day < byDay.Count; day++) squares += byDay[day] * (day - mean) * (day - mean);
        return (count, mean, squares);
    }
}
