using Lepidary.Science.Ground;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Groups;

/// <summary>
/// Many groups of yes-or-no outcomes whose rates differ: the rates are Beta(α, β), and each group is pulled towards the mean by as much as its size
/// leaves doubt (empirical Bayes).
/// </summary>
/// <remarks>
/// P(y | n) = C(n,y)·B(α+y, β+n-y)/B(α, β). When groups differ no more than chance alone, the fit has no finite maximum: <see cref="Concentration"/> is
/// infinite, and every group gets the pooled rate.
/// </remarks>
/// <param name="Mean">μ = α/(α+β), the mean rate, 0…1.</param>
/// <param name="Concentration">M = α+β, above 0; +infinity when groups share one rate.</param>
public sealed record BetaBinomialFit(double Mean, double Concentration)
{
    /// <summary>α = μ·M.</summary>
    public double Alpha => Mean * Concentration;

    /// <summary>β = (1-μ)·M.</summary>
    public double Beta => (1 - Mean) * Concentration;

    /// <summary>Correlation of two outcomes of a group: ρ = 1/(1+M).</summary>
    public double Correlation => 1 / (1 + Concentration);

    /// <summary>Log-likelihood at the fit, ln C(n,y) included; NaN where the fit is by moments.</summary>
    public double LogLikelihood { get; private init; } = double.NaN;

    /// <summary>The same without ln C(n,y), as many programs print it.</summary>
    public double LogKernel { get; private init; } = double.NaN;

    /// <summary>Log-likelihood if all groups share the pooled rate, ln C(n,y) included.</summary>
    public double BinomialLogLikelihood { get; private init; } = double.NaN;

    /// <summary>Likelihood ratio against one shared rate. It lies on a boundary: half of the usual chance of χ² with 1 degree applies.</summary>
    public double LikelihoodRatio => 2 * (LogLikelihood - BinomialLogLikelihood);

    /// <summary>Maximum likelihood, by Newton's method on (ln α, ln β).</summary>
    /// <param name="groups">Successes and trials of each; 0 ≤ Successes ≤ Trials; at least one trial in all.</param>
    /// <exception cref="ArgumentException">A group is impossible, or there are no trials.</exception>
    public static BetaBinomialFit MaximumLikelihood(IReadOnlyCollection<(int Successes, int Trials)> groups)
    {
        ArgumentNullException.ThrowIfNull(groups);
        var likelihood = new LotLikelihood(groups);
        if (likelihood.Done == 0) throw new ArgumentException("No trials.", nameof(groups));
        var pooled = (double)likelihood.Emerged / likelihood.Done;
        var binomial = likelihood.LogBinomial(pooled);
        // Within rounding of the sums, groups that differ exactly as chance does count as sharing one rate.
        if (pooled is 0 or 1 || likelihood.SlopeAtNoSpread() <= 1e-9 * likelihood.Done)
        {
            return new(pooled, double.PositiveInfinity)
            {
                LogKernel = binomial,
                LogLikelihood = binomial + likelihood.LogWays,
                BinomialLogLikelihood = binomial + likelihood.LogWays,
            };
        }
        var (x, y) = (Math.Log(10 * pooled), Math.Log(10 * (1 - pooled)));
        var log = likelihood.Log(Math.Exp(x), Math.Exp(y));
        for (var step = 0; step < 500; step++)
        {
            var (a, b) = (Math.Exp(x), Math.Exp(y));
            var slopes = likelihood.Slopes(a, b);
            var (gx, gy) = (a * slopes.A, b * slopes.B);
            var (xx, xy, yy) = (gx + a * a * slopes.AA, a * b * slopes.AB, gy + b * b * slopes.BB);
            var determinant = xx * yy - xy * xy;
            // Where the surface is not a hilltop, walk uphill instead.
            var (dx, dy) = xx < 0 && determinant > 0
                ? (-(yy * gx - xy * gy) / determinant, -(xx * gy - xy * gx) / determinant)
                : (gx / (Math.Abs(xx) + Math.Abs(xy) + 1e-12), gy / (Math.Abs(yy) + Math.Abs(xy) + 1e-12));
            var scale = Math.Min(1, 2 / Math.Max(Math.Abs(dx), Math.Abs(dy)));
            var better = double.NegativeInfinity;
            for (; scale > 1e-12; scale /= 2)
            {
                better = likelihood.Log(Math.Exp(x + scale * dx), Math.Exp(y + scale * dy));
                if (better >= log) break;
            }
            if (!(better >= log)) break;
            (x, y, log) = (x + scale * dx, y + scale * dy, better);
            if (scale * Math.Max(Math.Abs(dx), Math.Abs(dy)) < 1e-11) break;
        }
        var (alpha, beta) = (Math.Exp(x), Math.Exp(y));
        return new(alpha / (alpha + beta), alpha + beta)
        {
            LogKernel = log,
            LogLikelihood = log + likelihood.LogWays,
            BinomialLogLikelihood = binomial + likelihood.LogWays,
        };
    }

    /// <summary>
    /// From the mean and the standard deviation of the groups' own rates, unweighted: M = m(1-m)/s² - 1 (Gelman et al., Bayesian Data Analysis, section 5.1). A
    /// first look only: it takes the noise of small groups for difference.
    /// </summary>
    /// <param name="rates">At least two rates, 0…1, not all equal.</param>
    public static BetaBinomialFit Moments(IReadOnlyCollection<double> rates)
    {
        ArgumentNullException.ThrowIfNull(rates);
        ArgumentOutOfRangeException.ThrowIfLessThan(rates.Count, 2, nameof(rates));
        foreach (var rate in rates) Guard.Chance(rate, nameof(rates));
        var mean = rates.Average();
        var variance = rates.Sum(rate => (rate - mean) * (rate - mean)) / (rates.Count - 1);
        if (variance == 0) return new(mean, double.PositiveInfinity);
        var concentration = mean * (1 - mean) / variance - 1;
        return concentration > 0
            ? new(mean, concentration)
            : throw new ArgumentException("The rates are spread wider than any beta distribution.", nameof(rates));
    }

    /// <summary>A group's rate, pulled towards the mean: (α+y)/(α+β+n).</summary>
    /// <param name="successes">0…<paramref name="trials"/>.</param>
    /// <param name="trials">At least 0.</param>
    public double Shrunken(int successes, int trials)
    {
        Check(successes, trials);
        return double.IsPositiveInfinity(Concentration) ? Mean : (Alpha + successes) / (Concentration + trials);
    }

    /// <summary>Standard deviation of a group's rate after its own counts.</summary>
    /// <param name="successes">0…<paramref name="trials"/>.</param>
    /// <param name="trials">At least 0.</param>
    public double Deviation(int successes, int trials)
    {
        var mean = Shrunken(successes, trials);
        return Math.Sqrt(mean * (1 - mean) / (Concentration + trials + 1));
    }

    /// <summary>
    /// Central interval of a group's rate after its own counts, quantiles of Beta(α+y, β+n-y). It takes α and β as known, so it is a little too narrow.
    /// </summary>
    /// <param name="successes">0…<paramref name="trials"/>.</param>
    /// <param name="trials">At least 0.</param>
    /// <param name="level">Above 0, below 1.</param>
    public (double From, double To) Interval(int successes, int trials, double level = 0.95)
    {
        Check(successes, trials);
        var tail = (1 - Guard.OpenChance(level)) / 2;
        if (double.IsPositiveInfinity(Concentration)) return (Mean, Mean);
        var (a, b) = (Alpha + successes, Beta + trials - successes);
        return (SpecialFunctions.BetaQuantile(tail, a, b), SpecialFunctions.BetaQuantile(1 - tail, a, b));
    }

    private static void Check(int successes, int trials)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(successes);
        ArgumentOutOfRangeException.ThrowIfLessThan(trials, successes);
    }
}
