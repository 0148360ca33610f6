using System.Buffers;
using Lepidary.Science.Counts;
using Lepidary.Science.Emergence;
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
    /// <summary>Ends that weigh less are cut, once a lot and node.</summary>
    private const double Negligible = 1e-14;

    private readonly EmergenceRate rate;
    private readonly HangingLot[] lots;
    private readonly double[] weights;

    /// <summary>By node, by lot: the masses of how many hang alive, from the first that is not negligible.</summary>
    private readonly (double[] Masses, int First)[][] alive;

    /// <summary>What the prior and the lots with a history tell of the mean, in independent animals.</summary>
    private readonly double known;

    /// <summary>The same with all that can ever be seen of the lots: the nodes are laid for it.</summary>
    private readonly double knowable;

    /// <param name="sharing">At least one lot; all with the same rate.</param>
    public SourceForecast(IReadOnlyList<HangingLot> sharing)
    {
        lots = [.. sharing];
        rate = lots[0].Rate;
        Animals = lots.Sum(lot => lot.Hanging);
        double Evidence(IEnumerable<HangingLot> some) => some.Sum(lot => rate.Evidence(lot.Hanging + lot.Emerged + lot.Lost, 1));
        known = rate.Certainty + Evidence(lots.Where(HasHistory));
        knowable = rate.Certainty + Evidence(lots);

        var withHistory = lots.Where(HasHistory).ToArray();
        var nodes = BetaNodes.Of(
            rate.Mean,
            rate.Certainty,
            knowable - rate.Certainty,
            withHistory.Length == 0 ? null : mean => withHistory.Sum(lot => Alive(lot, mean).LogLikelihood));
        weights = nodes.Weights;
        alive = Array.ConvertAll(nodes.At, mean => Array.ConvertAll(lots, lot => Trimmed(Alive(lot, mean).Masses)));
    }

    /// <summary>Pupae that hang, alive or not.</summary>
    public int Animals { get; }

    /// <summary>
    /// The distribution of how many of all lots are seen, when each pupa that hangs alive in lot i is seen with the chance
    /// <paramref name="seen"/>[i], independently.
    /// </summary>
    public CountDistribution Seen(ReadOnlySpan<double> seen)
    {
        var thinnings = new Thinning?[lots.Length];
        var zeros = 1;
        for (var i = 0; i < lots.Length; i++)
        {
            if (seen[i] <= 0) continue;
            zeros = Math.Max(zeros, lots[i].Hanging + 1);
            if (seen[i] < 1) thinnings[i] = new(lots[i].Hanging, seen[i]);
        }

        // Sums lie between zeros as wide as the largest lot, so that they are convolved where they are.
        var pool = ArrayPool<double>.Shared;
        var room = 2 * zeros + Animals + 1 + 3 * Convolution.Block;
        double[] total = pool.Rent(room), next = pool.Rent(room), part = pool.Rent(zeros + Convolution.Block);
        total.AsSpan(0, zeros).Clear();
        next.AsSpan(0, zeros).Clear();
        var mixed = new double[Animals + 1];
        var (reached, weighed) = (1, 0.0);
        var stride = Stride(seen);
        for (var j = stride / 2; j < weights.Length; j += stride)
        {
            if (weights[j] < Negligible) continue;
            var (offset, length) = (0, 0);
            for (var i = 0; i < lots.Length; i++)
            {
                if (seen[i] <= 0 || lots[i].Hanging == 0) continue;
                var (aliveMasses, first) = alive[j][i];
                ReadOnlySpan<double> masses = aliveMasses;
                if (thinnings[i] is { } thinning) masses = Convolution.Trim(thinning.Of(masses, first, part), Negligible, out first);
                offset += first;
                if (length == 0)
                {
                    length = masses.Length;
                    masses.CopyTo(total.AsSpan(zeros));
                }
                else
                {
                    var before = length;
                    length += masses.Length - 1;
                    Convolution.Padded(total, zeros, before, masses, next.AsSpan(zeros, Blocks(length)));
                    (total, next) = (next, total);
                }
                total.AsSpan(zeros + length, zeros + 2 * Convolution.Block).Clear();
            }
            if (length == 0) (total[zeros], length) = (1, 1);
            Convolution.Mix(total.AsSpan(zeros, length), weights[j], mixed.AsSpan(offset));
            weighed += weights[j];
            reached = Math.Max(reached, offset + length);
        }
        pool.Return(total);
        pool.Return(next);
        pool.Return(part);
        var result = mixed[..reached];
        foreach (ref var mass in result.AsSpan()) mass /= weighed;
        return CountDistribution.Own(result);
    }

    private static (double[] Masses, int First) Trimmed(double[] masses)
    {
        var kept = Convolution.Trim(masses, Negligible, out var first);
        return (kept.ToArray(), first);
    }

    private static int Blocks(int length) => (length + Convolution.Block - 1) / Convolution.Block * Convolution.Block;

    /// <summary>Every how many-th node is enough for what can be seen this time.</summary>
    private int Stride(ReadOnlySpan<double> seen)
    {
        var evidence = known;
        for (var i = 0; i < lots.Length; i++)
            if (!HasHistory(lots[i])) evidence += rate.Evidence(lots[i].Hanging, seen[i]);
        return Math.Max(1, (int)(BetaNodes.Step(evidence) / BetaNodes.Step(knowable)));
    }

    private static bool HasHistory(HangingLot lot) =>
        lot.Emerged > 0 || lot.Lost > 0 || lot.Timing.NotBefore(lot.DaysHanging) < 1;

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
        double logBase, logSum;
        if (double.IsPositiveInfinity(concentration))
        {
            logSum = Recurrence.Fill(masses, 0, new BinomialRatio(n, waiting * mean / (1 - mean)));
            logBase = lot.Emerged * Math.Log(mean) + (lot.Lost + n) * SpecialFunctions.Log1P(-mean);
        }
        else
        {
            var (a, b) = (mean * concentration + lot.Emerged, (1 - mean) * concentration + lot.Lost);
            logSum = Recurrence.Fill(masses, 0, new BetaBinomialRatio(n, a, b, waiting));
            logBase = HasHistory(lot)
                ? SpecialFunctions.LogBeta(a, b + n) - SpecialFunctions.LogBeta(mean * concentration, (1 - mean) * concentration)
                : 0;
        }
        return (masses, HasHistory(lot) ? logBase + logSum : 0);
    }
}
