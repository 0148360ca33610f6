using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Lepidary.Science.Ground;

namespace Lepidary.Science.Counts;

/// <summary>
/// The planner's kernel: the exact chances of 0, 1, … T-1 animals, where T is the length of the span, and nothing about T and
/// more. Enough for "at least T" and for the expected shortfall, at a fraction of the full distribution's cost. Nothing is
/// allocated for T up to 256, but once a thread.
/// </summary>
/// <remarks>
/// Absolute error below 1e-13 on every chance for up to 10,000 animals; terms below 1e-20 are dropped.
/// A span begins as the distribution of what is there anyway: <see cref="Start(Span{double})"/> for nothing, or the first T masses of a
/// <see cref="CountDistribution"/> (<see cref="Start(CountDistribution, Span{double})"/>).
/// </remarks>
public static class CountsBelow
{
    private const double Negligible = 1e-20;

    /// <summary>Longest span that is added in the thread's own room.</summary>
    private const int Short = 256;

    /// <summary>Largest number of animals whose row of C(n, k) is kept.</summary>
    private const int MostKept = 128;

    private const int Lanes = 4;
    private const int MassesAt = 2 * Short + 32;
    private const int SumsAt = MassesAt + Short + 2 * Lanes;

    private static readonly double[][] Rows = [.. Enumerable.Range(0, MostKept + 1).Select(Row)];

    /// <summary>Room that is not cleared on each use, as room on the stack would be.</summary>
    [ThreadStatic]
    private static double[]? scratch;

    /// <summary>1/1, 1/2, … : a multiplication is several times as quick as a division.</summary>
    private static readonly double[] Reciprocals = [.. Enumerable.Range(1, 1024).Select(k => 1.0 / k)];

    private static double[] Scratch => scratch ??= new double[SumsAt + 32];

    /// <summary>Nothing is there yet: 0 animals for certain.</summary>
    public static void Start(Span<double> below)
    {
        below.Clear();
        if (!below.IsEmpty) below[0] = 1;
    }

    /// <summary>What is there anyway.</summary>
    public static void Start(CountDistribution there, Span<double> below)
    {
        ArgumentNullException.ThrowIfNull(there);
        below.Clear();
        there.Masses[..Math.Min(below.Length, there.Max + 1)].CopyTo(below);
    }

    /// <summary>Adds <paramref name="n"/> independent animals, each with the chance <paramref name="p"/>.</summary>
    /// <param name="below">Chances of 0…T-1; changed in place.</param>
    /// <param name="n">At least 0.</param>
    /// <param name="p">0…1.</param>
    public static void AddBinomial(Span<double> below, int n, double p)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(n);
        Guard.Chance(p);
        if (n == 0 || p == 0 || below.IsEmpty) return;
        if (below.Length > Short || n > 10_000)
        {
            Add(below, CountDistribution.Binomial(n, p).Masses);
            return;
        }
        var masses = Scratch.AsSpan(MassesAt, Short + 2 * Lanes);
        var count = n <= MostKept && p <= 0.5 ? BinomialByRow(n, p, masses, below.Length) : BinomialBelow(n, p, masses[..below.Length]);
        if (count < 0) Add(below, CountDistribution.Binomial(n, p).Masses);
        else Add(below, masses[..count]);
    }

    /// <summary>Adds an independent count, given by its masses (index = count; may be cut off at T).</summary>
    public static void Add(Span<double> below, ReadOnlySpan<double> masses)
    {
        if (masses.Length > below.Length) masses = masses[..below.Length];
        if (below.Length > Short || masses.IsEmpty)
        {
            if (masses.IsEmpty) below.Clear();
            else AddLong(below, masses);
            return;
        }
        // Zeros in front of the chances, so that a load that reaches below 0 finds nothing there.
        var width = Vector<double>.Count;
        var padded = Scratch.AsSpan(0, MassesAt);
        var zeros = masses.Length - 1;
        padded[..zeros].Clear();
        below.CopyTo(padded[zeros..]);
        padded.Slice(zeros + below.Length, 4 * width).Clear();
        ref var start = ref MemoryMarshal.GetReference(padded);
        ref var factors = ref MemoryMarshal.GetReference(masses);
        var sums = Scratch.AsSpan(SumsAt, 4 * width);
        for (var o = 0; o < below.Length; o += 4 * width)
        {
            Vector<double> s0 = default, s1 = default, s2 = default, s3 = default;
            var last = Math.Min(zeros, o + 4 * width - 1);
            for (var k = 0; k <= last; k++)
            {
                var factor = new Vector<double>(Unsafe.Add(ref factors, k));
                var at = (nuint)(zeros + o - k);
                s0 = Vector.MultiplyAddEstimate(factor, Vector.LoadUnsafe(ref start, at), s0);
                s1 = Vector.MultiplyAddEstimate(factor, Vector.LoadUnsafe(ref start, at + (nuint)width), s1);
                s2 = Vector.MultiplyAddEstimate(factor, Vector.LoadUnsafe(ref start, at + (nuint)(2 * width)), s2);
                s3 = Vector.MultiplyAddEstimate(factor, Vector.LoadUnsafe(ref start, at + (nuint)(3 * width)), s3);
            }
            var whole = below.Length - o >= 4 * width;
            var to = whole ? below[o..] : sums;
            s0.CopyTo(to);
            s1.CopyTo(to[width..]);
            s2.CopyTo(to[(2 * width)..]);
            s3.CopyTo(to[(3 * width)..]);
            if (!whole) sums[..(below.Length - o)].CopyTo(below[o..]);
        }
    }

    /// <summary>P(X &lt; T): the sum of the chances.</summary>
    public static double Chance(ReadOnlySpan<double> below)
    {
        var sum = 0.0;
        foreach (var mass in below) sum += mass;
        return Math.Min(1, sum);
    }

    /// <summary>E(T - X)+, where T is the length of the span.</summary>
    public static double Shortfall(ReadOnlySpan<double> below)
    {
        var missing = 0.0;
        for (var k = 0; k < below.Length; k++) missing += (below.Length - k) * below[k];
        return missing;
    }

    private static void AddLong(Span<double> below, ReadOnlySpan<double> masses)
    {
        var sum = new double[below.Length];
        var full = Math.Min(below.Length, below.Length + masses.Length - 1);
        Convolution.Of(below, masses, sum.AsSpan(0, full));
        sum.CopyTo(below);
    }

    /// <summary>The binomial masses below T; how many were written, or -1 when (1-p)^n is too small to start from.</summary>
    private static int BinomialBelow(int n, double p, Span<double> masses)
    {
        var lost = 1 - p;
        var mass = Power(lost, n);
        if (mass < 1e-280) return -1;
        var odds = p / lost;
        var count = Math.Min(masses.Length, n + 1);
        var mean = n * p;
        masses[0] = mass;
        for (var k = 1; k < count; k++)
        {
            mass *= odds * (n - k + 1) * Reciprocals[k - 1];
            masses[k] = mass;
            if (mass < Negligible && k > mean) return k;
        }
        return count;
    }

    /// <summary>The same by a kept row of C(n, k), four at a time; for a chance up to a half, so that nothing overflows.</summary>
    private static int BinomialByRow(int n, double p, Span<double> masses, int most)
    {
        var row = Rows[n];
        var (lost, odds) = (1 - p, p / (1 - p));
        var count = Math.Min(most, n + 1);
        var powers = Vector256.Create(1, odds, odds * odds, odds * odds * odds) * Power(lost, n);
        var step = odds * odds;
        step *= step;
        for (var k = 0; k < count; k += Lanes)
        {
            (Vector256.Create<double>(row.AsSpan(k)) * powers).CopyTo(masses[k..]);
            powers *= step;
        }
        while (count > 1 && masses[count - 1] < Negligible) count--;
        return count;
    }

    /// <summary>C(n, 0), C(n, 1), …, C(n, n), and zeros for a last load.</summary>
    private static double[] Row(int n)
    {
        var row = new double[n + 1 + Lanes];
        row[0] = 1;
        for (var k = 1; k <= n; k++) row[k] = row[k - 1] * (n - k + 1) / k;
        return row;
    }

    /// <summary>x^n by squaring.</summary>
    private static double Power(double x, int n)
    {
        var power = 1.0;
        for (; n > 0; n >>= 1)
        {
            if ((n & 1) == 1) power *= x;
            x *= x;
        }
        return power;
    }
}
