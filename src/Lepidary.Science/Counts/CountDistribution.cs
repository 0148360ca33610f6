using Lepidary.Science.Ground;

namespace Lepidary.Science.Counts;

/// <summary>A central interval of a count, both ends included, and the chance that the count lies in it.</summary>
/// <param name="From">Lower end.</param>
/// <param name="To">Upper end.</param>
/// <param name="Chance">P(From ≤ X ≤ To): at least the level asked for, because counts are whole.</param>
public readonly record struct CountInterval(int From, int To, double Chance);

/// <summary>
/// The exact distribution of a count of animals: the chance of 0, 1, … <see cref="Max"/>. Immutable.
/// Masses are at least 0 and sum to 1 within 1e-12.
/// </summary>
/// <remarks>
/// "Exact" means: no normal or Poisson approximation and no sampling. Rounding stays near 1e-15 an operation; sums of many
/// counts drop ends that weigh less than 1e-17 each, which keeps the sum of hundreds of species short.
/// </remarks>
public sealed class CountDistribution
{
    private const double SumTolerance = 1e-9;

    /// <summary>A quantile counts as reached when the cumulated chance is within this of it: sums of doubles round.</summary>
    private const double Rounding = 1e-12;

    /// <summary>Weight of an end that a sum of counts drops.</summary>
    internal const double Negligible = 1e-17;

    private readonly double[] masses;

    private CountDistribution(double[] masses) => this.masses = masses;

    /// <summary>The largest count with a mass.</summary>
    public int Max => masses.Length - 1;

    /// <summary>The chance of exactly <paramref name="count"/>; 0 outside 0…<see cref="Max"/>.</summary>
    public double this[int count] => count < 0 || count > Max ? 0 : masses[count];

    /// <summary>The masses, index = count.</summary>
    public ReadOnlySpan<double> Masses => masses;

    /// <summary>Expected count.</summary>
    public double Mean
    {
        get
        {
            var mean = 0.0;
            for (var k = 1; k < masses.Length; k++) mean += k * masses[k];
            return mean;
        }
    }

    /// <summary>Variance of the count.</summary>
    public double Variance
    {
        get
        {
            var (mean, variance) = (Mean, 0.0);
            for (var k = 0; k < masses.Length; k++) variance += (k - mean) * (k - mean) * masses[k];
            return variance;
        }
    }

    /// <summary>A count known for certain.</summary>
    /// <param name="count">At least 0.</param>
    public static CountDistribution Certain(int count)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        var masses = new double[count + 1];
        masses[count] = 1;
        return new(masses);
    }

    /// <summary>From given masses, index = count; scaled to sum exactly 1.</summary>
    /// <param name="masses">At least one; none negative or NaN; sum within 1e-9 of 1.</param>
    /// <exception cref="ArgumentException">The masses are no distribution.</exception>
    public static CountDistribution FromMasses(ReadOnlySpan<double> masses)
    {
        if (masses.IsEmpty) throw new ArgumentException("A distribution has at least one mass.", nameof(masses));
        var sum = 0.0;
        foreach (var mass in masses)
        {
            if (!(mass >= 0)) throw new ArgumentException($"A mass of {mass} is no chance.", nameof(masses));
            sum += mass;
        }
        if (!(Math.Abs(sum - 1) <= SumTolerance)) throw new ArgumentException($"The masses sum to {sum}, not 1.", nameof(masses));
        var last = masses.Length - 1;
        while (last > 0 && masses[last] == 0) last--;
        var copy = masses[..(last + 1)].ToArray();
        foreach (ref var mass in copy.AsSpan()) mass /= sum;
        return new(copy);
    }

    /// <summary>How many of <paramref name="n"/> independent animals, each with the same chance.</summary>
    /// <param name="n">Animals, at least 0.</param>
    /// <param name="p">Chance of each, 0…1.</param>
    public static CountDistribution Binomial(int n, double p)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(n);
        Guard.Chance(p);
        if (n == 0 || p == 0) return Certain(0);
        if (p == 1) return Certain(n);
        var masses = new double[n + 1];
        Recurrence.Fill(masses, Math.Min(n, (int)((n + 1) * p)), new BinomialRatio(n, p / (1 - p)));
        return new(masses);
    }

    /// <summary>
    /// How many of <paramref name="n"/> animals when their common chance is itself unknown with a Beta(α, β) distribution.
    /// </summary>
    /// <param name="n">Animals, at least 0.</param>
    /// <param name="alpha">Above 0, finite.</param>
    /// <param name="beta">Above 0, finite.</param>
    public static CountDistribution BetaBinomial(int n, double alpha, double beta)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(n);
        Guard.FinitePositive(alpha);
        Guard.FinitePositive(beta);
        var masses = new double[n + 1];
        var start = (int)(n * (alpha / (alpha + beta)));
        Recurrence.Fill(masses, start, new BetaBinomialRatio(n, alpha, beta));
        return new(masses);
    }

    /// <summary>How many of independent animals, each with its own chance (Poisson-binomial).</summary>
    /// <param name="groups">Animals that share a chance: how many (at least 0) and the chance of each (0…1).</param>
    public static CountDistribution PoissonBinomial(IEnumerable<(int Animals, double Chance)> groups)
    {
        ArgumentNullException.ThrowIfNull(groups);
        return Sum(groups.GroupBy(group => group.Chance, group => group.Animals)
            .Select(group => Binomial(group.Sum(), group.Key)));
    }

    /// <summary>How many of independent animals with these chances (Poisson-binomial); equal chances are grouped.</summary>
    /// <param name="chances">One chance an animal, each 0…1.</param>
    public static CountDistribution PoissonBinomial(IEnumerable<double> chances)
    {
        ArgumentNullException.ThrowIfNull(chances);
        return PoissonBinomial(chances.Select(chance => (1, chance)));
    }

    /// <summary>One of several distributions, each with a chance of being the true one.</summary>
    /// <param name="weights">One weight a part, at least 0, sum within 1e-9 of 1.</param>
    /// <param name="parts">The distributions; as many as weights, at least one.</param>
    /// <exception cref="ArgumentException">Lengths differ or the weights are no distribution.</exception>
    public static CountDistribution Mixture(IReadOnlyList<double> weights, IReadOnlyList<CountDistribution> parts)
    {
        ArgumentNullException.ThrowIfNull(weights);
        ArgumentNullException.ThrowIfNull(parts);
        if (weights.Count != parts.Count || parts.Count == 0)
            throw new ArgumentException($"{weights.Count} weights for {parts.Count} parts.", nameof(weights));
        var mixed = new double[parts.Max(part => part.Max) + 1];
        for (var i = 0; i < parts.Count; i++)
        {
            if (!(weights[i] >= 0)) throw new ArgumentException($"A weight of {weights[i]} is no chance.", nameof(weights));
            for (var k = 0; k < parts[i].masses.Length; k++) mixed[k] += weights[i] * parts[i].masses[k];
        }
        return FromMasses(mixed);
    }

    /// <summary>The sum of this count and an independent one.</summary>
    public CountDistribution Plus(CountDistribution other)
    {
        ArgumentNullException.ThrowIfNull(other);
        var mine = Convolution.Trim(masses, Negligible, out var myFirst);
        var theirs = Convolution.Trim(other.masses, Negligible, out var theirFirst);
        var sum = new double[myFirst + theirFirst + mine.Length + theirs.Length - 1];
        Convolution.Of(mine, theirs, sum.AsSpan(myFirst + theirFirst));
        return new(sum);
    }

    /// <summary>The sum of independent counts; 0 for certain when there are none. Short ones are added first.</summary>
    public static CountDistribution Sum(IEnumerable<CountDistribution> counts)
    {
        ArgumentNullException.ThrowIfNull(counts);
        var queue = new PriorityQueue<CountDistribution, int>();
        foreach (var count in counts) queue.Enqueue(count, count.Max);
        if (queue.Count == 0) return Certain(0);
        while (queue.Count > 1)
        {
            var sum = queue.Dequeue().Plus(queue.Dequeue());
            queue.Enqueue(sum, sum.Max);
        }
        return queue.Dequeue();
    }

    /// <summary>The count after each animal has been kept with the same chance, independently.</summary>
    /// <param name="kept">Chance that an animal is kept, 0…1.</param>
    public CountDistribution Thin(double kept)
    {
        Guard.Chance(kept);
        if (kept == 1) return this;
        if (kept == 0) return Certain(0);
        var thinned = new double[masses.Length];
        Convolution.Thin(masses, kept, thinned);
        return new(thinned);
    }

    /// <summary>P(X ≤ <paramref name="count"/>).</summary>
    public double AtMost(int count)
    {
        if (count >= Max) return 1;
        var sum = 0.0;
        for (var k = 0; k <= count; k++) sum += masses[k];
        return Math.Min(1, sum);
    }

    /// <summary>P(X ≥ <paramref name="count"/>).</summary>
    public double AtLeast(int count)
    {
        if (count <= 0) return 1;
        var sum = 0.0;
        for (var k = Max; k >= count; k--) sum += masses[k];
        return Math.Min(1, sum);
    }

    /// <summary>The smallest count k with P(X ≤ k) ≥ <paramref name="q"/> (within 1e-12, for rounding).</summary>
    /// <param name="q">0…1.</param>
    public int Quantile(double q)
    {
        Guard.Chance(q);
        var sum = 0.0;
        for (var k = 0; k < Max; k++)
        {
            sum += masses[k];
            if (sum >= q - Rounding && sum > 0) return k;
        }
        return Max;
    }

    /// <summary>
    /// The central interval: from the quantile of (1-level)/2 to the quantile of (1+level)/2. Less than (1-level)/2 lies below
    /// it and at most as much above.
    /// </summary>
    /// <param name="level">Above 0, below 1; 0.8 for the "8 of 10" interval.</param>
    public CountInterval Interval(double level)
    {
        Guard.OpenChance(level);
        var (from, to) = (Quantile((1 - level) / 2), Quantile((1 + level) / 2));
        var chance = 0.0;
        for (var k = from; k <= to; k++) chance += masses[k];
        return new(from, to, Math.Min(1, chance));
    }

    /// <summary>How many are expected to be missing at the target: E(target - X)+.</summary>
    /// <param name="target">At least 0.</param>
    public double Shortfall(int target)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(target);
        var missing = 0.0;
        for (var k = 0; k < target && k <= Max; k++) missing += (target - k) * masses[k];
        return missing;
    }

    /// <summary>
    /// Takes masses over without a copy: they are finished, sum to 1 up to rounding, and nobody else writes to them.
    /// </summary>
    internal static CountDistribution Own(double[] masses) => new(masses);
}
