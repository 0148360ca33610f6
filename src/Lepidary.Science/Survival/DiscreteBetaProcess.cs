using Lepidary.Science.Ground;

namespace Lepidary.Science.Survival;

/// <summary>What a day of a discrete beta process says.</summary>
/// <param name="Hazard">Posterior mean of the day's hazard.</param>
/// <param name="Survival">Expected share that is left after the day.</param>
/// <param name="Deviation">Standard deviation of that share.</param>
public readonly record struct BetaProcessDay(double Hazard, double Survival, double Deviation);

/// <summary>
/// Bayesian Kaplan-Meier on whole days: the hazard of day k is Beta(c_k·h_k, c_k·(1-h_k)) beforehand, independent from day to day, and the
/// counts of the day update it. No weight gives Kaplan-Meier, endless weight the prior.
/// </summary>
/// <remarks>Hjort 1990, Ann. Statist. 18:1259-1294 (citation from memory); the formula is standard conjugacy.</remarks>
public static class DiscreteBetaProcess
{
    /// <summary>The posterior, day by day.</summary>
    /// <param name="priorHazard">h_k, 0…1, one a day.</param>
    /// <param name="weight">c_k, at least 0 and finite: in animals watched on that day; one a day.</param>
    /// <param name="atRisk">n_k, at least 0; may be fractions where animals count by their chance to be alive.</param>
    /// <param name="events">d_k, 0…n_k.</param>
    /// <returns>One entry a day. A day without weight and without animals keeps its prior hazard.</returns>
    /// <exception cref="ArgumentException">Lengths differ.</exception>
    public static IReadOnlyList<BetaProcessDay> Posterior(
        ReadOnlySpan<double> priorHazard, ReadOnlySpan<double> weight, ReadOnlySpan<double> atRisk, ReadOnlySpan<double> events)
    {
        if (weight.Length != priorHazard.Length || atRisk.Length != priorHazard.Length || events.Length != priorHazard.Length)
            throw new ArgumentException("Every day needs a hazard, a weight, a number at risk and a number of events.", nameof(weight));
        var days = new BetaProcessDay[priorHazard.Length];
        var (first, second) = (1.0, 1.0);
        for (var k = 0; k < days.Length; k++)
        {
            Guard.Chance(priorHazard[k], nameof(priorHazard));
            ArgumentOutOfRangeException.ThrowIfNegative(Guard.Finite(weight[k], nameof(weight)), nameof(weight));
            ArgumentOutOfRangeException.ThrowIfNegative(Guard.Finite(atRisk[k], nameof(atRisk)), nameof(atRisk));
            ArgumentOutOfRangeException.ThrowIfNegative(events[k], nameof(events));
            ArgumentOutOfRangeException.ThrowIfGreaterThan(events[k], atRisk[k], nameof(events));
            var total = weight[k] + atRisk[k];
            var left = weight[k] * (1 - priorHazard[k]) + atRisk[k] - events[k];
            var mean = total > 0 ? left / total : 1 - priorHazard[k];
            first *= mean;
            second *= total > 0 ? mean * (left + 1) / (total + 1) : mean * mean;
            days[k] = new(1 - mean, first, Math.Sqrt(Math.Max(0, second - first * first)));
        }
        return days;
    }
}
