using Lepidary.Science.Numerics;

namespace Lepidary.Science.Survival;

/// <summary>What the log-rank test found.</summary>
/// <param name="Observed">Events by group (weighted, where the test weighs).</param>
/// <param name="Expected">Events by group if all shared one curve.</param>
/// <param name="Variance">Variance of observed minus expected in the first group.</param>
/// <param name="ChiSquared">The statistic.</param>
/// <param name="Degrees">Degrees of freedom: groups minus 1.</param>
/// <param name="P">Chance of a statistic as large or larger under one shared curve.</param>
public sealed record LogRankResult(
    IReadOnlyList<double> Observed, IReadOnlyList<double> Expected, double Variance, double ChiSquared, int Degrees, double P);

/// <summary>Do groups share one survival curve? The log-rank test, weighted or stratified where asked.</summary>
public static class LogRank
{
    /// <summary>Compares groups.</summary>
    /// <param name="groups">Two or more samples; every one with at least one observation.</param>
    /// <param name="rho">Each event time weighs S(t-)^rho with S of all groups together: 0 is the log-rank test, 1 Peto and Peto's.</param>
    public static LogRankResult Test(IReadOnlyList<IReadOnlyCollection<Observation>> groups, double rho = 0)
    {
        ArgumentNullException.ThrowIfNull(groups);
        return Stratified([groups], rho);
    }

    /// <summary>Compares groups within strata: like is compared with like only, and the strata are added up.</summary>
    /// <param name="strata">By stratum, by group; the same groups in the same order in each, empty where a stratum has none.</param>
    /// <param name="rho">As in <see cref="Test"/>.</param>
    /// <exception cref="ArgumentException">Fewer than two groups, or groups differ between strata.</exception>
    public static LogRankResult Stratified(IReadOnlyList<IReadOnlyList<IReadOnlyCollection<Observation>>> strata, double rho = 0)
    {
        ArgumentNullException.ThrowIfNull(strata);
        var groups = strata.Count == 0 ? 0 : strata[0].Count;
        if (groups < 2 || strata.Any(stratum => stratum.Count != groups))
            throw new ArgumentException("At least two groups, the same in every stratum.", nameof(strata));
        var (observed, expected, variance) = (new double[groups], new double[groups], new double[groups, groups]);
        foreach (var stratum in strata)
        {
            // Kaplan-Meier of all groups together, one step behind: the weight of a time is S just before it.
            var before = 1.0;
            foreach (var (time, n, d) in RiskStep.Of(stratum.SelectMany(group => group)))
            {
                var weight = Math.Pow(before, rho);
                before *= (double)(n - d) / n;
                var risk = stratum.Select(group => group.Count(o => o.Time >= time)).ToArray();
                for (var g = 0; g < groups; g++)
                {
                    observed[g] += weight * stratum[g].Count(o => o.HasEvent && o.Time == time);
                    expected[g] += weight * d * risk[g] / n;
                    for (var h = 0; h < groups && n > 1; h++)
                    {
                        var share = (double)risk[g] / n * ((g == h ? 1 : 0) - (double)risk[h] / n);
                        variance[g, h] += weight * weight * d * share * (n - d) / (n - 1);
                    }
                }
            }
        }
        var difference = new double[groups];
        for (var g = 0; g < groups; g++) difference[g] = observed[g] - expected[g];
        var chiSquared = LinearAlgebra.QuadraticForm(variance, difference, groups - 1);
        return new(observed, expected, variance[0, 0], chiSquared, groups - 1, SpecialFunctions.ChiSquaredTail(chiSquared, groups - 1));
    }
}
