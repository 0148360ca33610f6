using System.Numerics;
using System.Runtime.InteropServices;

namespace Lepidary.Science.Counts;

/// <summary>
/// Thinning with one chance, for many distributions of up to n animals: the binomials of 0…n animals are worked out once,
/// then each distribution is a weighted sum of them. What fewer than 1e-17 of all would reach is left out.
/// </summary>
internal sealed class Thinning
{
    /// <summary>Vectors that are summed at a time; rows are padded to whole blocks.</summary>
    private const int Vectors = 4;

    private static readonly int Block = Vectors * Vector<double>.Count;

    /// <summary>Room that a result may need beyond the masses.</summary>
    public static readonly int Padding = Block;

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
        rows = new double[(animals + 1) * width];
        rows[0] = 1;
        for (var k = 1; k <= animals; k++)
        {
            ReadOnlySpan<double> above = rows.AsSpan((k - 1) * width, width);
            var row = rows.AsSpan(k * width, width);
            row[0] = above[0] * (1 - kept);
            for (var r = 1; r < Math.Min(reach, k + 1); r++) row[r] = above[r] * (1 - kept) + above[r - 1] * kept;
        }
    }

    /// <summary>Thins; the result is the front of <paramref name="room"/>, which holds the block-padded width.</summary>
    public ReadOnlySpan<double> Of(ReadOnlySpan<double> masses, Span<double> room)
    {
        ref var row = ref MemoryMarshal.GetArrayDataReference(rows);
        ref var target = ref MemoryMarshal.GetReference(room);
        var step = Vector<double>.Count;
        for (var r = 0; r < width; r += Block)
        {
            Vector<double> s0 = default, s1 = default, s2 = default, s3 = default;
            for (var k = r; k < masses.Length; k++)
            {
                var weight = new Vector<double>(masses[k]);
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
        return room[..Math.Min(reach, masses.Length)];
    }
}
