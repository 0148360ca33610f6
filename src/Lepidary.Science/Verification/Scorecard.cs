using Lepidary.Science.Counts;

namespace Lepidary.Science.Verification;

/// <summary>A forecast whose day is past.</summary>
/// <param name="Said">What was said.</param>
/// <param name="Rival">What a simple rival would have said.</param>
/// <param name="Happened">What came, at least 0.</param>
/// <param name="Together">What it shares its luck with (a lot, a list): forecasts of one of these are not independent.</param>
/// <param name="Wanted">The chance of at least so many is judged as a chance of its own; at least 1.</param>
public sealed record PastForecast(CountDistribution Said, CountDistribution Rival, int Happened, string Together, int Wanted = 1);

/// <summary>How often a central interval held what came.</summary>
/// <param name="Level">Asked for: 0.5, 0.8, 0.95.</param>
/// <param name="Promised">Mean chance of the intervals: more than the level, because counts are whole.</param>
/// <param name="Covered">Share that held it.</param>
public readonly record struct LevelCovered(double Level, double Promised, double Covered);

/// <summary>Whether forecasts are as sure as they may be.</summary>
public enum Sureness
{
    /// <summary>Too few independent outcomes.</summary>
    TooFewToTell,

    /// <summary>Nothing in the counts speaks against them.</summary>
    AsSaid,

    /// <summary>They miss more often than they say.</summary>
    OverSure,

    /// <summary>They miss less often than they say.</summary>
    OverCautious,
}

/// <summary>Scores of forecasts of one kind, beside those of a rival.</summary>
public sealed record Scorecard
{
    /// <summary>Outcomes that are independent of each other, before a verdict is given. A choice of this project, no source.</summary>
    public const int FewestTogether = 10;

    /// <summary>Standard errors off before a verdict is given: about 1 of 20 honest forecasters is blamed, half of these for being over-sure.</summary>
    public const double Blame = 2;

    private static readonly double[] Levels = [0.5, 0.8, 0.95];

    /// <summary>Forecasts scored.</summary>
    public required int Forecasts { get; init; }

    /// <summary>Groups of forecasts that share their luck.</summary>
    public required int Groups { get; init; }

    /// <summary>Coverage at 50, 80 and 95 %; empty where the forecasts are of 0 or 1 alone.</summary>
    public required IReadOnlyList<LevelCovered> Coverage { get; init; }

    /// <summary>Mean continuous ranked probability score, in animals; for 0 or 1 the Brier score.</summary>
    public required double Crps { get; init; }

    /// <summary>The rival's.</summary>
    public required double RivalCrps { get; init; }

    /// <summary>Brier score of the chance of at least the wanted number.</summary>
    public required double Brier { get; init; }

    /// <summary>The rival's.</summary>
    public required double RivalBrier { get; init; }

    /// <summary>Of the times that a chance of at least the wanted number was given, how often it came.</summary>
    public required IReadOnlyList<CalibrationGroup> Curve { get; init; }

    /// <summary>Histogram of the randomised transform, shares of ten bars; flat when honest, high ends when over-sure.</summary>
    public required IReadOnlyList<double> Pit { get; init; }

    /// <summary>How far off, in standard errors: above 0 is over-sure.</summary>
    public required double Off { get; init; }

    /// <summary>The verdict.</summary>
    public Sureness Verdict => Groups < FewestTogether ? Sureness.TooFewToTell : Off > Blame ? Sureness.OverSure : Off < -Blame ? Sureness.OverCautious : Sureness.AsSaid;

    /// <summary>Share by which the mean score is better than the rival's; below 0 worse, null where the rival's is 0.</summary>
    public double? Skill => RivalCrps > 0 ? Scores.Skill(Crps, RivalCrps) : null;

    /// <summary>Scores forecasts of one kind.</summary>
    /// <remarks>
    /// Off: for counts the excess of misses of the 80 % interval over the promised ones, for chances of 0 or 1 the excess of the Brier score over the promised
    /// one, (o-p)(1-2p) (Spiegelhalter 1986, from memory); summed by group. The variance is the spread of these sums, which allows for what forecasts of one
    /// lot or list share, but at least what the chances themselves promise, Σp(1-p) and Σp(1-p)(1-2p)²: a few groups that happen to lie alike do not make a
    /// verdict sure.
    /// </remarks>
    /// <param name="past">At least one.</param>
    /// <param name="random">Even on 0…1, for the randomised transform.</param>
    public static Scorecard Of(IReadOnlyList<PastForecast> past, Func<double> random)
    {
        ArgumentNullException.ThrowIfNull(past);
        ArgumentNullException.ThrowIfNull(random);
        if (past.Count == 0) throw new ArgumentException("Nothing was forecast.", nameof(past));
        var binary = past.All(one => one.Said.Max <= 1 && one.Happened <= 1);
        var said = past.Select(one => (one.Said, one.Happened)).ToList();
        var wanted = past.Select(one => new ChanceGiven(Chance(one.Said, one.Wanted), one.Happened >= one.Wanted)).ToList();
        var groups = past.GroupBy(one => one.Together, StringComparer.Ordinal).Select(group => group.Sum(one => binary ? Excess(one) : Miss(one))).ToList();
        var error = Math.Sqrt(Math.Max(groups.Sum(sum => sum * sum), past.Sum(one => binary ? ExcessVariance(one) : MissVariance(one))));
        var bars = new double[10];
        foreach (var one in past)
            bars[Math.Min(bars.Length - 1, (int)(Scores.Pit(one.Said, one.Happened, random()) * bars.Length))] += 1.0 / past.Count;
        return new()
        {
            Forecasts = past.Count,
            Groups = groups.Count,
            Coverage = binary ? [] : [.. Levels.Select(level => Calibration.Coverage(said, level) is var (covered, promised) ? new LevelCovered(level, promised, covered) : default)],
            Crps = past.Average(one => Scores.Crps(one.Said, one.Happened)),
            RivalCrps = past.Average(one => Scores.Crps(one.Rival, one.Happened)),
            Brier = Calibration.Brier(wanted),
            RivalBrier = Calibration.Brier([.. past.Select(one => new ChanceGiven(Chance(one.Rival, one.Wanted), one.Happened >= one.Wanted))]),
            Curve = Calibration.Curve(wanted),
            Pit = bars,
            Off = error > 0 ? groups.Sum() / error : 0,
        };
    }

    private static double Chance(CountDistribution count, int wanted = 1) => Math.Clamp(count.AtLeast(wanted), 0, 1);

    private static double Miss(PastForecast one)
    {
        var interval = one.Said.Interval(0.8);
        return interval.Chance - (one.Happened >= interval.From && one.Happened <= interval.To ? 1 : 0);
    }

    private static double MissVariance(PastForecast one)
    {
        var chance = Math.Min(1, one.Said.Interval(0.8).Chance);
        return chance * (1 - chance);
    }

    private static double ExcessVariance(PastForecast one)
    {
        var chance = Chance(one.Said);
        return chance * (1 - chance) * (1 - (2 * chance)) * (1 - (2 * chance));
    }

    private static double Excess(PastForecast one)
    {
        var chance = Chance(one.Said);
        return ((one.Happened > 0 ? 1 : 0) - chance) * (1 - (2 * chance));
    }
}
