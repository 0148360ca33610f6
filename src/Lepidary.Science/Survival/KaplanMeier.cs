using Lepidary.Science.Ground;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Survival;

/// <summary>How the limits of a survival estimate are made from its standard error.</summary>
public enum SurvivalLimits
{
    /// <summary>S ± z·se.</summary>
    Plain,

    /// <summary>S·exp(±z·se/S): symmetrical for the logarithm of S. The usual default.</summary>
    Log,

    /// <summary>S^exp(±z·se/(S·ln S)): never outside 0…1.</summary>
    LogLog,
}

/// <summary>The estimate from an event time on, until the next one.</summary>
/// <param name="Time">Time of the event.</param>
/// <param name="AtRisk">At risk just before it.</param>
/// <param name="Events">Events at it.</param>
/// <param name="Survival">Product-limit estimate S.</param>
/// <param name="Error">Greenwood's standard error of S; NaN where S is 0.</param>
/// <param name="Hazard">Nelson-Aalen estimate of the cumulated hazard.</param>
/// <param name="HazardError">Its standard error, Poisson form.</param>
public readonly record struct SurvivalStep(
    double Time, int AtRisk, int Events, double Survival, double Error, double Hazard, double HazardError)
{
    /// <summary>Limits of S, cut to 0…1.</summary>
    /// <param name="level">Above 0, below 1.</param>
    /// <param name="limits">How they are made.</param>
    /// <returns>Lower and upper limit; NaN where S is 0.</returns>
    public (double From, double To) Limits(double level = 0.95, SurvivalLimits limits = SurvivalLimits.Log)
    {
        var z = SpecialFunctions.NormalQuantile((1 + Guard.OpenChance(level)) / 2);
        var (from, to) = limits switch
        {
            SurvivalLimits.Plain => (Survival - z * Error, Survival + z * Error),
            SurvivalLimits.Log => (Survival * Math.Exp(-z * Error / Survival), Survival * Math.Exp(z * Error / Survival)),
            SurvivalLimits.LogLog => (
                Math.Pow(Survival, Math.Exp(-z * Error / (Survival * Math.Log(Survival)))),
                Math.Pow(Survival, Math.Exp(z * Error / (Survival * Math.Log(Survival))))),
            _ => throw new ArgumentOutOfRangeException(nameof(limits)),
        };
        return (Math.Max(0, from), Math.Min(1, to));
    }
}

/// <summary>A mean life up to a horizon, with its standard error.</summary>
/// <param name="Mean">Area under S from 0 to the horizon.</param>
/// <param name="Error">Standard error; NaN where S reaches 0 before the horizon.</param>
public readonly record struct RestrictedMean(double Mean, double Error);

/// <summary>
/// The product-limit estimate of survival (Kaplan and Meier 1958) with Greenwood's errors: what was seen, with those still hanging as
/// censored and no prior. For the timing of pupae with a prior see <see cref="DiscreteBetaProcess"/>.
/// </summary>
public sealed class KaplanMeier
{
    private KaplanMeier(IReadOnlyList<SurvivalStep> steps, double lastTime) => (Steps, LastTime) = (steps, lastTime);

    /// <summary>One step an event time, rising.</summary>
    public IReadOnlyList<SurvivalStep> Steps { get; }

    /// <summary>The longest time anybody was watched.</summary>
    public double LastTime { get; }

    /// <summary>Estimates from a sample.</summary>
    /// <param name="observations">At least one; times at least 0 and finite.</param>
    public static KaplanMeier Of(IEnumerable<Observation> observations)
    {
        ArgumentNullException.ThrowIfNull(observations);
        var sample = observations as Observation[] ?? observations.ToArray();
        if (sample.Length == 0) throw new ArgumentException("Nobody was watched.", nameof(observations));
        var steps = new List<SurvivalStep>();
        var (survival, greenwood, hazard, hazardVariance) = (1.0, 0.0, 0.0, 0.0);
        foreach (var (time, n, d) in RiskStep.Of(sample))
        {
            survival = n == d ? 0 : survival * (n - d) / n;
            greenwood += d / ((double)n * (n - d));
            hazard += (double)d / n;
            hazardVariance += d / ((double)n * n);
            steps.Add(new(time, n, d, survival, survival == 0 ? double.NaN : survival * Math.Sqrt(greenwood), hazard, Math.Sqrt(hazardVariance)));
        }
        var last = 0.0;
        foreach (var (time, _) in sample) last = Math.Max(last, time);
        return new(steps, last);
    }

    /// <summary>S(t).</summary>
    public double At(double time)
    {
        var survival = 1.0;
        foreach (var step in Steps)
        {
            if (step.Time > time) break;
            survival = step.Survival;
        }
        return survival;
    }

    /// <summary>The first time at which S is at most <paramref name="share"/>; null when it stays above.</summary>
    /// <param name="share">Above 0, below 1; ½ for the median.</param>
    public double? TimeAt(double share)
    {
        Guard.OpenChance(share);
        foreach (var step in Steps)
            if (step.Survival <= share + 1e-12) return step.Time;
        return null;
    }

    /// <summary>Limits of <see cref="TimeAt"/>: the first times at which the lower and the upper limit of S are at most the share.</summary>
    /// <param name="share">Above 0, below 1.</param>
    /// <param name="level">Above 0, below 1.</param>
    /// <param name="limits">How the limits of S are made.</param>
    public (double? From, double? To) TimeLimits(double share, double level = 0.95, SurvivalLimits limits = SurvivalLimits.Log)
    {
        Guard.OpenChance(share);
        (double?, double?) found = (null, null);
        foreach (var step in Steps)
        {
            // Where S is 0 there are no limits; the curve has passed every share, with no upper limit.
            var (from, to) = step.Survival == 0 ? (0, double.NaN) : step.Limits(level, limits);
            if (found.Item1 is null && from <= share + 1e-12) found.Item1 = step.Time;
            if (found.Item2 is null && to <= share + 1e-12) found.Item2 = step.Time;
        }
        return found;
    }

    /// <summary>Mean life up to a horizon: the area under S, and its standard error.</summary>
    /// <param name="horizon">Above 0, at most <see cref="LastTime"/>.</param>
    public RestrictedMean MeanUpTo(double horizon)
    {
        Guard.FinitePositive(horizon);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(horizon, LastTime);
        var (mean, variance) = (0.0, 0.0);
        var until = horizon;
        // Backwards: at each event the area still to come is what that event's uncertainty moves.
        for (var i = Steps.Count - 1; i >= -1; i--)
        {
            var from = i < 0 ? 0 : Steps[i].Time;
            if (i >= 0 && from >= horizon) continue;
            mean += (i < 0 ? 1 : Steps[i].Survival) * (until - from);
            until = from;
            if (i < 0) break;
            var (n, d) = ((double)Steps[i].AtRisk, Steps[i].Events);
            variance += mean == 0 && n == d ? 0 : mean * mean * d / (n * (n - d));
        }
        return new(mean, Math.Sqrt(variance));
    }
}
