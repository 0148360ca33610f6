using Lepidary.Science.Counts;
using Lepidary.Science.Ground;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Charts;

/// <summary>
/// A CUSUM of good and bad items, tuned to tell a share p₁ of bad ones from the usual p₀: each bad one adds ln(p₁/p₀), each good one ln((1-p₁)/(1-p₀)), never below
/// 0. One chart a supplier and species, fed lot by lot, with its run lengths known, so that an alarm means something.
/// </summary>
/// <remarks>
/// Reynolds and Stoumbos 1999, A CUSUM chart for monitoring a proportion when inspecting continuously, J. Qual. Technol. 31 (title and doi read, not its numbers).
/// Scaled so that a bad item adds 1-γ and a good one -γ, γ = r₁/r₂ with r₁ = -ln((1-p₁)/(1-p₀)), r₂ = ln(p₁(1-p₀)/(p₀(1-p₁))).
/// </remarks>
public sealed class BernoulliCusum
{
    /// <summary>Creates a chart.</summary>
    /// <param name="usual">p₀, usual share of bad items, above 0, below 1.</param>
    /// <param name="alarming">p₁, the share to detect, above p₀, below 1.</param>
    public BernoulliCusum(double usual, double alarming)
    {
        Usual = Guard.OpenChance(usual);
        Alarming = Guard.OpenChance(alarming);
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(alarming, usual);
        BadWeight = Math.Log(alarming / usual);
        GoodWeight = SpecialFunctions.Log1P(-alarming) - SpecialFunctions.Log1P(-usual);
    }

    /// <summary>p₀.</summary>
    public double Usual { get; }

    /// <summary>p₁.</summary>
    public double Alarming { get; }

    /// <summary>What a bad item adds: ln(p₁/p₀), above 0.</summary>
    public double BadWeight { get; }

    /// <summary>What a good item adds: ln((1-p₁)/(1-p₀)), below 0.</summary>
    public double GoodWeight { get; }

    /// <summary>γ: what every item takes off on the scale where a bad one then adds 1.</summary>
    public double Allowance => -GoodWeight / (BadWeight - GoodWeight);

    /// <summary>The sum after each item.</summary>
    /// <param name="bad">True for a bad item, in the order seen.</param>
    /// <param name="start">Sum before the first, at least 0.</param>
    public IReadOnlyList<double> Items(IEnumerable<bool> bad, double start = 0)
    {
        ArgumentNullException.ThrowIfNull(bad);
        ArgumentOutOfRangeException.ThrowIfNegative(start);
        var sum = start;
        return [.. bad.Select(isBad => sum = Math.Max(0, sum + (isBad ? BadWeight : GoodWeight)))];
    }

    /// <summary>The sum after each lot; within a lot the order is not known, so it counts as one step.</summary>
    /// <param name="lots">Bad and all of each; 0 ≤ Bad ≤ Size.</param>
    /// <param name="start">Sum before the first, at least 0.</param>
    public IReadOnlyList<double> Lots(IEnumerable<(int Bad, int Size)> lots, double start = 0)
    {
        ArgumentNullException.ThrowIfNull(lots);
        ArgumentOutOfRangeException.ThrowIfNegative(start);
        var sum = start;
        return [.. lots.Select(lot =>
        {
            if (lot.Bad < 0 || lot.Bad > lot.Size) throw new ArgumentException($"{lot.Bad} bad of {lot.Size} is no lot.", nameof(lots));
            return sum = Math.Max(0, sum + lot.Bad * BadWeight + (lot.Size - lot.Bad) * GoodWeight);
        })];
    }

    /// <summary>
    /// Exact mean number of items to the signal when γ = 1/<paramref name="steps"/>: a Markov chain on the multiples of γ, reflected at 0, absorbed at
    /// <paramref name="limit"/> or above, on the scale where a bad item adds 1-γ.
    /// </summary>
    /// <param name="steps">m = 1/γ, at least 2: how many good items make up for a bad one, plus 1.</param>
    /// <param name="limit">h in the scaled unit (bad items), above 0.</param>
    /// <param name="share">True share of bad items, above 0, at most 1.</param>
    public static double MeanItemsToSignal(int steps, double limit, double share)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(steps, 2);
        Guard.FinitePositive(limit);
        if (Guard.Chance(share) == 0) throw new ArgumentOutOfRangeException(nameof(share), share, "Must be above 0.");
        // States 0, γ, 2γ, … below the limit. A bad item moves up by m-1 of them, a good one down by 1.
        var states = (int)Math.Ceiling(limit * steps - 1e-9);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(states, 2000, nameof(limit));
        var system = new double[states, states];
        var right = new double[states];
        for (var i = 0; i < states; i++)
        {
            system[i, i] += 1;
            system[i, Math.Max(0, i - 1)] -= 1 - share;
            if (i + steps - 1 < states) system[i, i + steps - 1] -= share;
            right[i] = 1;
        }
        return LinearAlgebra.Solve(system, right)[0];
    }

    /// <summary>
    /// Mean number of lots to the signal, for lots of one size: a Markov chain on a fine grid of the sum, each step spread over the two nearest points so that its
    /// mean is kept. Relative error below 1 % with the default grid; what a page needs to say "a false alarm about every 200 boxes".
    /// </summary>
    /// <param name="size">Items in a lot, at least 1.</param>
    /// <param name="limit">h in the unit of the weights, above 0.</param>
    /// <param name="share">True share of bad items, 0…1.</param>
    /// <param name="grid">Points below the limit, at least 10.</param>
    /// <returns>Infinite when it never signals.</returns>
    public double MeanLotsToSignal(int size, double limit, double share, int grid = 400)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(size, 1);
        return MeanLotsToSignal(CountDistribution.Binomial(size, share), limit, grid, size);
    }

    /// <summary>The same for lots whose bad items follow any distribution: beta-binomial ones vary more, and alarm falsely more often.</summary>
    /// <param name="bad">Bad items of a lot.</param>
    /// <param name="limit">h in the unit of the weights, above 0.</param>
    /// <param name="grid">Points below the limit, at least 10.</param>
    /// <param name="size">Items in a lot, or null for the most that can be bad.</param>
    /// <returns>Infinite when it never signals.</returns>
    public double MeanLotsToSignal(CountDistribution bad, double limit, int grid = 400, int? size = null)
    {
        ArgumentNullException.ThrowIfNull(bad);
        ArgumentOutOfRangeException.ThrowIfLessThan(grid, 10);
        Guard.FinitePositive(limit);
        var items = size ?? bad.Max;
        var system = new double[grid, grid];
        var right = new double[grid];
        for (var i = 0; i < grid; i++)
        {
            system[i, i] += 1;
            right[i] = 1;
            for (var d = 0; d <= bad.Max; d++)
            {
                var sum = limit * i / grid + d * BadWeight + (items - d) * GoodWeight;
                if (sum >= limit) continue;
                var at = Math.Max(0, sum) / limit * grid;
                var low = (int)at;
                system[i, low] -= bad[d] * (1 - (at - low));
                if (low + 1 < grid) system[i, low + 1] -= bad[d] * (at - low);
            }
        }
        // Never a signal: the chain cannot leave, and the equations have no solution.
        if (bad.Max == 0 || items == 0) return double.PositiveInfinity;
        var mean = LinearAlgebra.Solve(system, right)[0];
        return mean > 0 && mean < 1e12 ? mean : double.PositiveInfinity;
    }
}
