using System.Numerics;
using System.Runtime.InteropServices;

namespace Lepidary.Science.Counts;

/// <summary>
/// Thinning with one chance, for many distributions of up to n animals: the binomials of 0…n animals are worked out once,
/// then each distribution is a weighted sum of them. What fewer than 1e-17 of all would reach is left out.
/// </summary>
internal sealed class Thinning
{
    /// <summary>Rows are padded to whole blocks of this length; a result may need so much room beyond the masses.</summary>
    private static readonly int Block = Convolution.Block;

    private readonly double[] rows;
    private readonly int width;
    private readonly int reach;

    /// <param name="animals">The most animals, at least 0.</param>
    /// <param name="kept">Chance that an animal is kept, 0…1.</param>
    public Thinning(int animals, double kept)
    {
        var largest = Convolution.Trim(CountDistribution.Binomial(animals, kept).Masses, CountDistribution.Negligible, out var first);
        reach = first + largest.Length;
        width = (reach + Block - 1) / Block * Block;
        rows = new double[(animals + 2) * width];
        rows[0] = 1;
        var (step, lostAll, keptAll) = (Vector<double>.Count, new Vector<double>(1 - kept), new Vector<double>(kept));
        ref var start = ref MemoryMarshal.GetArrayDataReference(rows);
        for (var k = 1; k <= animals; k++)
        {
            // One more animal: lost, or kept. The last vector may reach into the next row, which is written after this one.
            var (above, row) = ((k - 1) * width, k * width);
            rows[row] = rows[above] * (1 - kept);
            for (var r = 1; r < Math.Min(reach, k + 1); r += step)
            {
                var one = Vector.LoadUnsafe(ref start, (nuint)(above + r)) * lostAll;
                Vector.MultiplyAddEstimate(Vector.LoadUnsafe(ref start, (nuint)(above + r - 1)), keptAll, one).StoreUnsafe(ref start, (nuint)(row + r));
            }
        }
        // Where a vector reached past the end of its row, the next row has been begun with it: what is no mass must be 0.
        for (var k = 0; k <= animals; k++) rows.AsSpan(k * width + Math.Min(reach, k + 1), width - Math.Min(reach, k + 1)).Clear();
    }

    /// <summary>Thins; the result is the front of <paramref name="room"/>, which holds the block-padded width.</summary>
    /// <param name="masses">Masses of <paramref name="first"/>, <paramref name="first"/>+1, … animals; fewer and more have none.</param>
    /// <param name="first">The least count with a mass.</param>
    /// <param name="room">Receives the result.</param>
    public ReadOnlySpan<double> Of(ReadOnlySpan<double> masses, int first, Span<double> room)
    {
        ref var row = ref MemoryMarshal.GetArrayDataReference(rows);
        ref var target = ref MemoryMarshal.GetReference(room);
        var step = Vector<double>.Count;
        for (var r = 0; r < width; r += Block)
        {
            Vector<double> s0 = default, s1 = default, s2 = default, s3 = default;
            for (var k = Math.Max(r, first); k < first + masses.Length; k++)
            {
                var weight = new Vector<double>(masses[k - first]);
                var at = (nuint)(k * width + r);
                s0 = Vector.MultiplyAddEstimate(weight, Vector.LoadUnsafe(ref row, at), s0);
                s1 = Vector.MultiplyAddEstimate(weight, Vector.LoadUnsafe(ref row, at + (nuint)step), s1);
                s2 = Vector.MultiplyAddEstimate(weight, Vector.LoadUnsafe(ref row, at + (nuint)(2 * step)), s2);
                s3 = Vector.MultiplyAddEstimate(weight, Vector.LoadUnsafe(ref row, at + (nuint)(3 * step)), s3);
            }
            s0.StoreUnsafe(ref target, (nuint)r);
            s1.StoreUnsafe(ref target, (nuint)(r + step));
            s2.StoreUnsafe(ref target, (nuint)(r + 2 * step));
            s3.StoreUnsafe(ref target, (nuint)(r + 3 * step));
        }
        return room[..Math.Min(reach, first + masses.Length)];
    }
}
