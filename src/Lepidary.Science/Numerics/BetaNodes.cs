using Lepidary.Science.Ground;

namespace Lepidary.Science.Numerics;

/// <summary>
/// Nodes and weights that stand for a Beta(a, b) distribution, or for what a likelihood makes of it, when chances are mixed over
/// it: the trapezoidal rule on u, where the mean is 1/(1+exp(-2·sinh u)). The integrand is smooth and dies away at both ends, so
/// the error falls faster than any power of the step (Trefethen and Weideman 2014, SIAM Rev. 56:385-458, citation from memory).
/// </summary>
/// <remarks>
/// The step follows from how sharply the chances can depend on the mean. Evidence worth I independent animals pins the logit of a
/// mean m down to 1/√(m(1-m)·I); with steps a little shorter than that, the error stays below 1e-9. The sinh spreads the nodes
/// outwards no faster than that width grows.
/// </remarks>
internal sealed class BetaNodes
{
    /// <summary>Step in units of the width of the sharpest chances.</summary>
    private const double StepInWidths = 0.85;

    /// <summary>A density this far below its top (on the logarithmic scale) has died away: 2e-12 of it.</summary>
    private const double DiedAway = -27;

    private BetaNodes(double[] at, double[] weights) => (At, Weights) = (at, weights);

    /// <summary>The nodes, ascending, above 0 and below 1 where the mean is not certain; evenly spaced in u, so that every
    /// second or third is a rule again.</summary>
    public double[] At { get; }

    /// <summary>The weight of each node; they sum to 1.</summary>
    public double[] Weights { get; }

    /// <summary>A value known for certain.</summary>
    public static BetaNodes Certain(double value) => new([value], [1]);

    /// <summary>Nodes of Beta(mean·certainty, (1-mean)·certainty), times a likelihood where there is one.</summary>
    /// <param name="mean">0…1; at 0 and 1 there is one node.</param>
    /// <param name="certainty">Above 0; +infinity gives one node.</param>
    /// <param name="evidence">
    /// How many independent animals' worth of dependence on the mean the likelihood and the mixed chances have together; at least 0.
    /// </param>
    /// <param name="logLikelihood">Logarithm of the likelihood at a mean, with one peak; null for none.</param>
    public static BetaNodes Of(double mean, double certainty, double evidence, Func<double, double>? logLikelihood = null)
    {
        Guard.Chance(mean);
        Guard.Positive(certainty);
        if (mean is 0 or 1 || double.IsPositiveInfinity(certainty)) return Certain(mean);
        var (a, b) = (mean * certainty, (1 - mean) * certainty);
        var step = Step(certainty + evidence);
        double LogWeight(int i) => LogDensity(a, b, i * step) + (logLikelihood?.Invoke(Mean(i * step)) ?? 0);

        // From the peak of the beta density uphill to the peak of all, then out on both sides until it has died away.
        var peak = (int)Math.Round(Math.Asinh(Math.Log(mean / (1 - mean)) / 2) / step);
        var logs = new LinkedList<double>([LogWeight(peak)]);
        var (first, top) = (peak, logs.First!.Value);
        while (logs.First!.Value > top + DiedAway)
        {
            logs.AddFirst(LogWeight(--first));
            top = Math.Max(top, logs.First.Value);
        }
        while (logs.Last!.Value > top + DiedAway)
        {
            logs.AddLast(LogWeight(first + logs.Count));
            top = Math.Max(top, logs.Last.Value);
        }
        var kept = logs.Select((log, i) => (At: Mean((first + i) * step), Weight: Math.Exp(log - top)))
            .Where(node => node.Weight > Math.Exp(DiedAway)).ToArray();
        var sum = kept.Sum(node => node.Weight);
        return new(Array.ConvertAll(kept, node => node.At), Array.ConvertAll(kept, node => node.Weight / sum));
    }

    /// <summary>The step in u that evidence of this many independent animals needs.</summary>
    public static double Step(double evidence) => StepInWidths / Math.Sqrt(Math.Max(8, evidence));

    /// <summary>The mean at u; far out, the last double that is not 0 or 1 stands for all beyond it.</summary>
    private static double Mean(double u) => Math.Clamp(1 / (1 + Math.Exp(-2 * Math.Sinh(u))), 1e-16, Math.BitDecrement(1.0));

    /// <summary>Logarithm of m^a·(1-m)^b·dx/du with x the logit: the beta density by u, up to a constant.</summary>
    private static double LogDensity(double a, double b, double u)
    {
        var x = 2 * Math.Sinh(u);
        return -a * LogOnePlusExp(-x) - b * LogOnePlusExp(x) + Math.Log(Math.Cosh(u));
    }

    private static double LogOnePlusExp(double x) => x > 40 ? x : SpecialFunctions.Log1P(Math.Exp(x));
}
