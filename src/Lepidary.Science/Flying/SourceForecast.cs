using System.Buffers;
using Lepidary.Science.Counts;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Flying;

/// <summary>
/// The lots of one species that share one unknown mean rate. Given that mean they are independent; so every day is worked out
/// at each node of the mean and the nodes are mixed with the weights that the lots' own histories leave them.
/// </summary>
/// <remarks>
/// For one lot of H hanging, E emerged, L lost, of which nothing emerged before day D, and a lot rate ~ Beta(a, b):
/// P(k of the H alive | history) ∝ C(H,k)·P(T≥D)^k·B(a+E+k, b+L+H-k), and the sum over k is the history's likelihood.
/// Each alive one is seen on day d with the same chance: a thinning. No sampling and no approximation but the nodes.
/// </remarks>
internal sealed class SourceForecast
{
    private const double Negligible = 1e-19;

    private readonly HangingLot[] lots;
    private readonly double[] weights;

    /// <summary>By node, by lot: the masses of how many hang alive.</summary>
    private readonly double[][][] alive;

    public SourceForecast(IReadOnlyList<HangingLot> sharing)
    {
        lots = [.. sharing.Where(lot => lot.Hanging + lot.Emerged + lot.Lost > 0)];
        Animals = lots.Sum(lot => lot.Hanging);
        var nodes = lots.Length == 0 ? BetaNodes.Certain(0) : lots[0].Rate.Nodes(NodeDegree());
        var logs = new double[nodes.At.Length];
        alive = new double[nodes.At.Length][][];
        for (var j = 0; j < alive.Length; j++)
        {
            alive[j] = new double[lots.Length][];
            for (var i = 0; i < lots.Length; i++)
            {
                (alive[j][i], var log) = Alive(lots[i], nodes.At[j]);
                logs[j] += log;
            }
        }
        weights = Reweighted(nodes.Weights, logs);
    }

    /// <summary>Pupae that hang, alive or not.</summary>
    public int Animals { get; }

    /// <summary>
    /// The distribution of how many of all lots are seen, when each pupa that hangs alive in lot i is seen with the chance
    /// <paramref name="seen"/>[i], independently.
    /// </summary>
    public CountDistribution Seen(ReadOnlySpan<double> seen)
    {
        var size = Animals + 1;
        var pool = ArrayPool<double>.Shared;
        double[] total = pool.Rent(size), next = pool.Rent(size), part = pool.Rent(size);
        var mixed = new double[size];
        var reached = 1;
        for (var j = 0; j < weights.Length; j++)
        {
            if (weights[j] < Negligible) continue;
            var (offset, length) = (0, 1);
            total[0] = 1;
            for (var i = 0; i < lots.Length; i++)
            {
                if (seen[i] <= 0 || lots[i].Hanging == 0) continue;
                ReadOnlySpan<double> masses = alive[j][i];
                if (seen[i] < 1)
                {
                    Convolution.Thin(masses, seen[i], part.AsSpan(0, masses.Length));
                    masses = part.AsSpan(0, masses.Length);
                }
                masses = Convolution.Trim(masses, Negligible, out var first);
                var sum = next.AsSpan(0, length + masses.Length - 1);
                Convolution.Of(total.AsSpan(0, length), masses, sum);
                (total, next) = (next, total);
                (offset, length) = (offset + first, sum.Length);
            }
            for (var k = 0; k < length; k++) mixed[offset + k] += weights[j] * total[k];
            reached = Math.Max(reached, offset + length);
        }
        pool.Return(total);
        pool.Return(next);
        pool.Return(part);
        return CountDistribution.Own(mixed[..reached]);
    }

    /// <summary>
    /// Degree up to which the nodes are exact. All animals would make it exact outright; past some size a wide mixture is
    /// smooth and fewer nodes give the same digits.
    /// </summary>
    private int NodeDegree() => lots.Sum(lot => lot.Hanging + lot.Emerged + lot.Lost);

    /// <summary>Masses of how many hang alive at a given mean, and the log-likelihood of the lot's history there.</summary>
    private static (double[] Masses, double LogLikelihood) Alive(HangingLot lot, double mean)
    {
        var (n, concentration) = (lot.Hanging, lot.Rate.LotConcentration);
        var waiting = lot.Timing.NotBefore(lot.DaysHanging);
        var masses = new double[n + 1];
        if (mean is <= 0 or >= 1)
        {
            masses[mean <= 0 || waiting == 0 ? 0 : n] = 1;
            return (masses, 0);
        }
        var noHistory = waiting == 1 && lot.Emerged == 0 && lot.Lost == 0;
        double logBase, logSum;
        if (double.IsPositiveInfinity(concentration))
        {
            var odds = waiting * mean / (1 - mean);
            logSum = Recurrence.Fill(masses, 0, new BinomialRatio(n, odds));
            logBase = lot.Emerged * Math.Log(mean) + (lot.Lost + n) * SpecialFunctions.Log1P(-mean);
        }
        else
        {
            var (a, b) = (mean * concentration, (1 - mean) * concentration);
            logSum = Recurrence.Fill(masses, 0, new BetaBinomialRatio(n, a + lot.Emerged, b + lot.Lost, waiting));
            logBase = noHistory ? 0
                : SpecialFunctions.LogBeta(a + lot.Emerged, b + lot.Lost + n) - SpecialFunctions.LogBeta(a, b);
        }
        return (masses, noHistory ? 0 : logBase + logSum);
    }

    private static double[] Reweighted(double[] prior, double[] logs)
    {
        var top = logs.Max();
        var weights = new double[prior.Length];
        var sum = 0.0;
        for (var j = 0; j < weights.Length; j++) sum += weights[j] = prior[j] * Math.Exp(logs[j] - top);
        for (var j = 0; j < weights.Length; j++) weights[j] /= sum;
        return weights;
    }
}
