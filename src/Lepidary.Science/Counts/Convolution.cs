using System.Buffers;
using System.Numerics;
using System.Runtime.InteropServices;

namespace Lepidary.Science.Counts;

/// <summary>
/// Sums of independent counts, on bare masses. Every output is a dot product over the shorter operand, taken for four
/// vectors of neighbouring outputs at a time so that nothing is stored until it is finished.
/// </summary>
internal static class Convolution
{
    /// <summary>
    /// <c>sum[o] = Σ_k a[k]·b[o-k]</c> for every o in <paramref name="sum"/>, which may be shorter than the full result
    /// (the rest is cut off) but not longer, and may be one of the operands.
    /// </summary>
    public static void Of(ReadOnlySpan<double> a, ReadOnlySpan<double> b, Span<double> sum)
    {
        if (a.Length < b.Length)
        {
            var swap = a;
            a = b;
            b = swap;
        }
        if (a.Length > sum.Length) a = a[..sum.Length];
        if (b.Length > sum.Length) b = b[..sum.Length];

        // a lies between zeros, so that no output needs to ask where it ends; the shorter operand is copied only if it would be overwritten.
        var left = b.Length - 1;
        var rented = ArrayPool<double>.Shared.Rent(left + sum.Length + b.Length);
        var padded = rented.AsSpan(0, left + sum.Length);
        padded[..left].Clear();
        a.CopyTo(padded[left..]);
        padded[(left + a.Length)..].Clear();
        if (b.Overlaps(sum))
        {
            var copy = rented.AsSpan(left + sum.Length, b.Length);
            b.CopyTo(copy);
            b = copy;
        }
        Padded(padded, left, a.Length, b, sum);
        ArrayPool<double>.Shared.Return(rented);
    }

    /// <summary>Sums are taken for so many neighbouring outputs at a time; spans of whole blocks have no slow rest.</summary>
    public static readonly int Block = 4 * Vector<double>.Count;

    /// <summary>
    /// The same for an operand that lies between zeros already: a[i] = padded[<paramref name="left"/>+i], with at least b.Length-1 zeros in front and zeros behind up to
    /// the length of <paramref name="sum"/>, which is other memory than both operands.
    /// </summary>
    public static void Padded(ReadOnlySpan<double> padded, int left, int length, ReadOnlySpan<double> b, Span<double> sum)
    {
        ref var start = ref MemoryMarshal.GetReference(padded);
        ref var target = ref MemoryMarshal.GetReference(sum);
        var width = Vector<double>.Count;
        var o = 0;
        for (; o + 4 * width <= sum.Length; o += 4 * width)
        {
            Vector<double> s0 = default, s1 = default, s2 = default, s3 = default;
            var last = Math.Min(b.Length - 1, o + 4 * width - 1);
            for (var k = Math.Max(0, o - length + 1); k <= last; k++)
            {
                var factor = new Vector<double>(b[k]);
                var at = (nuint)(left + o - k);
                s0 = Vector.MultiplyAddEstimate(factor, Vector.LoadUnsafe(ref start, at), s0);
                s1 = Vector.MultiplyAddEstimate(factor, Vector.LoadUnsafe(ref start, at + (nuint)width), s1);
                s2 = Vector.MultiplyAddEstimate(factor, Vector.LoadUnsafe(ref start, at + (nuint)(2 * width)), s2);
                s3 = Vector.MultiplyAddEstimate(factor, Vector.LoadUnsafe(ref start, at + (nuint)(3 * width)), s3);
            }
            s0.StoreUnsafe(ref target, (nuint)o);
            s1.StoreUnsafe(ref target, (nuint)(o + width));
            s2.StoreUnsafe(ref target, (nuint)(o + 2 * width));
            s3.StoreUnsafe(ref target, (nuint)(o + 3 * width));
        }
        for (; o + width <= sum.Length; o += width)
        {
            Vector<double> s = default;
            for (var k = Math.Max(0, o - length + 1); k <= Math.Min(b.Length - 1, o + width - 1); k++)
                s = Vector.MultiplyAddEstimate(new Vector<double>(b[k]), Vector.LoadUnsafe(ref start, (nuint)(left + o - k)), s);
            s.StoreUnsafe(ref target, (nuint)o);
        }
        for (; o < sum.Length; o++)
        {
            var s = 0.0;
            for (var k = Math.Max(0, o - length + 1); k <= Math.Min(b.Length - 1, o); k++) s += b[k] * padded[left + o - k];
            sum[o] = s;
        }
    }

    /// <summary>Adds <paramref name="weight"/> times the masses to <paramref name="mixed"/>, which is at least as long.</summary>
    public static void Mix(ReadOnlySpan<double> masses, double weight, Span<double> mixed)
    {
        mixed = mixed[..masses.Length];
        ref var from = ref MemoryMarshal.GetReference(masses);
        ref var to = ref MemoryMarshal.GetReference(mixed);
        var (k, width, factor) = (0, Vector<double>.Count, new Vector<double>(weight));
        for (; k + width <= masses.Length; k += width)
        {
            var sum = Vector.LoadUnsafe(ref to, (nuint)k);
            Vector.MultiplyAddEstimate(factor, Vector.LoadUnsafe(ref from, (nuint)k), sum).StoreUnsafe(ref to, (nuint)k);
        }
        for (; k < masses.Length; k++) mixed[k] += weight * masses[k];
    }

    /// <summary>
    /// Keeps each animal with chance <paramref name="kept"/>: the generating function at 1-p+pz, by Horner's rule.
    /// <paramref name="thinned"/> has the length of <paramref name="masses"/> and is not the same memory.
    /// </summary>
    public static void Thin(ReadOnlySpan<double> masses, double kept, Span<double> thinned)
    {
        var lost = 1 - kept;
        thinned.Clear();
        thinned[0] = masses[^1];
        ref var first = ref MemoryMarshal.GetReference(thinned);
        var width = Vector<double>.Count;
        var keptAll = new Vector<double>(kept);
        var lostAll = new Vector<double>(lost);
        for (var k = masses.Length - 2; k >= 0; k--)
        {
            // Multiply by (lost + kept·z) from the top down, so that a neighbour is read before it is changed.
            var i = masses.Length - 1 - k;
            for (; i >= width; i -= width)
            {
                var at = (nuint)(i - width + 1);
                var above = Vector.LoadUnsafe(ref first, at) * lostAll;
                Vector.MultiplyAddEstimate(Vector.LoadUnsafe(ref first, at - 1), keptAll, above).StoreUnsafe(ref first, at);
            }
            for (; i >= 1; i--) thinned[i] = thinned[i] * lost + thinned[i - 1] * kept;
            thinned[0] = thinned[0] * lost + masses[k];
        }
    }

    /// <summary>The part of the masses left when the ends that weigh less than <paramref name="weight"/> are cut.</summary>
    public static ReadOnlySpan<double> Trim(ReadOnlySpan<double> masses, double weight, out int first)
    {
        var last = masses.Length - 1;
        var cut = 0.0;
        while (last > 0 && (cut += masses[last]) < weight) last--;
        first = 0;
        cut = 0.0;
        while (first < last && (cut += masses[first]) < weight) first++;
        return masses[first..(last + 1)];
    }
}
