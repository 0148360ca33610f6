using Lepidary.Science.Ground;

namespace Lepidary.Science.Survival;

/// <summary>
/// Survival in continuous time with a Dirichlet-process prior and censoring (Susarla and Van Ryzin 1976, J. Am. Stat. Assoc. 71:897-902).
/// </summary>
public static class SusarlaVanRyzin
{
    /// <summary>
    /// S(u) = [α(u,∞)+N⁺(u)]/(B+N) · Π over censored times z ≤ u of [α(z,∞)+N(z)]/[α(z,∞)+N(z)-λ(z)], where N⁺ counts observations above u, N
    /// those at z or above, λ those censored at z.
    /// </summary>
    /// <param name="observations">The sample.</param>
    /// <param name="weight">B = α(0,∞): how many observations the prior counts for; at least 0, finite.</param>
    /// <param name="priorSurvival">Prior survival G(t), 1 at 0 and falling; α(t,∞) = B·G(t).</param>
    /// <param name="time">u, at least 0.</param>
    public static double At(IReadOnlyCollection<Observation> observations, double weight, Func<double, double> priorSurvival, double time)
    {
        ArgumentNullException.ThrowIfNull(observations);
        ArgumentNullException.ThrowIfNull(priorSurvival);
        ArgumentOutOfRangeException.ThrowIfNegative(Guard.Finite(weight));
        ArgumentOutOfRangeException.ThrowIfNegative(Guard.Finite(time));
        if (weight + observations.Count == 0) throw new ArgumentException("Neither observations nor a prior.", nameof(observations));
        var survival = (weight * priorSurvival(time) + observations.Count(o => o.Time > time)) / (weight + observations.Count);
        foreach (var censored in observations.Where(o => !o.HasEvent && o.Time <= time).GroupBy(o => o.Time))
        {
            var left = weight * priorSurvival(censored.Key) + observations.Count(o => o.Time >= censored.Key);
            if (left - censored.Count() > 0) survival *= left / (left - censored.Count());
        }
        return survival;
    }
}
