using Lepidary.Science.Ground;
using Lepidary.Science.Groups;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Listing;

/// <summary>What is thought of a supplier's taxa before any list is seen: rates ~ Beta(μM, (1-μ)M), μ even on 0…1, ln M normal.</summary>
/// <param name="Concentration">Middle of M: 2 when every rate is as likely as any other. A choice of this project, no source.</param>
/// <param name="Spread">Standard deviation of ln M; 0 when M is known.</param>
public sealed record ListingPrior(double Concentration, double Spread)
{
    /// <summary>M mostly between 0.2 (a taxon comes always or never) and 20 (all come alike).</summary>
    public static ListingPrior Usual { get; } = new(2, Math.Log(3));
}

/// <summary>A chance that is only partly known: a beta distribution.</summary>
/// <param name="Mean">Expected value, and the chance of the next event; 0…1.</param>
/// <param name="Certainty">α+β, above 0.</param>
public readonly record struct UncertainChance(double Mean, double Certainty)
{
    /// <summary>Central interval.</summary>
    /// <param name="level">Above 0, below 1.</param>
    public (double From, double To) Interval(double level)
    {
        var tail = (1 - Guard.OpenChance(level)) / 2;
        return (SpecialFunctions.BetaQuantile(tail, Mean * Certainty, (1 - Mean) * Certainty), SpecialFunctions.BetaQuantile(1 - tail, Mean * Certainty, (1 - Mean) * Certainty));
    }
}

/// <summary>
/// Rates of many groups that share one prior, when the prior itself is learnt from them (beta-binomial, μ and M integrated out on a grid). Each group is
/// pulled towards the others by as much as its counts leave doubt; and what the counts leave open about μ and M is in the result.
/// </summary>
public sealed class ListingRates
{
    // The trapezoidal rule on logit μ and ln M: both integrands die away at the ends.
    private const double LogitEnd = 14;
    private const double LogitStep = 0.1;
    private const double SpreadStep = 0.4;
    private const double SpreadEnd = 4;

    private readonly List<(double Alpha, double Beta, double Weight)> nodes = [];

    /// <summary>Learns the prior.</summary>
    /// <param name="groups">Times it happened, of times it could; 0 ≤ Yes ≤ Of.</param>
    /// <param name="prior">Null for <see cref="ListingPrior.Usual"/>.</param>
    /// <exception cref="ArgumentException">A group has more yes than chances, or a count below 0.</exception>
    public ListingRates(IReadOnlyCollection<(int Yes, int Of)> groups, ListingPrior? prior = null)
    {
        ArgumentNullException.ThrowIfNull(groups);
        var (concentration, spread) = prior ?? ListingPrior.Usual;
        Guard.FinitePositive(concentration);
        ArgumentOutOfRangeException.ThrowIfNegative(spread);
        var likelihood = new LotLikelihood(groups);
        var (logs, shapes, priorSum) = (new List<double>(), new List<(double Alpha, double Beta)>(), 0.0);
        var half = spread == 0 ? 0 : (int)Math.Round(SpreadEnd / SpreadStep);
        for (var j = -half; j <= half; j++)
        {
            var m = concentration * Math.Exp(j * SpreadStep * spread);
            var weightOfM = Math.Exp(-0.5 * j * SpreadStep * j * SpreadStep);
            for (var x = -LogitEnd; x < LogitEnd + (LogitStep / 2); x += LogitStep)
            {
                var mean = 1 / (1 + Math.Exp(-x));
                // μ even on 0…1 is density μ(1-μ) on the logit.
                var weight = weightOfM * mean * (1 - mean);
                priorSum += weight;
                shapes.Add((mean * m, (1 - mean) * m));
                logs.Add(Math.Log(weight) + likelihood.Log(mean * m, (1 - mean) * m));
            }
        }

        var top = logs.Max();
        var sum = logs.Sum(log => Math.Exp(log - top));
        LogEvidence = top + Math.Log(sum / priorSum);
        for (var i = 0; i < logs.Count; i++)
        {
            // What weighs less than a millionth of a millionth of the top is left out.
            if (logs[i] - top > -28)
                nodes.Add((shapes[i].Alpha, shapes[i].Beta, Math.Exp(logs[i] - top) / sum));
        }
    }

    /// <summary>Logarithm of the probability of the groups' outcomes in the order in which they came, μ and M integrated out.</summary>
    public double LogEvidence { get; }

    /// <summary>A group's rate after its own counts: the beta distribution with the posterior's mean and variance.</summary>
    /// <param name="yes">0…<paramref name="of"/>.</param>
    /// <param name="of">At least 0; 0 for a group that was never seen.</param>
    public UncertainChance Of(int yes, int of)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(yes);
        ArgumentOutOfRangeException.ThrowIfLessThan(of, yes);
        var (first, second) = (0.0, 0.0);
        foreach (var (alpha, beta, weight) in nodes)
        {
            var (a, total) = (alpha + yes, alpha + beta + of);
            first += weight * a / total;
            second += weight * a / total * (a + 1) / (total + 1);
        }

        var variance = Math.Max(1e-12, second - (first * first));
        return new(first, Math.Max(1e-6, (first * (1 - first) / variance) - 1));
    }
}
