using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace Lepidary.Planning.Seasons;

/// <summary>
/// Random numbers that are a function of a key and a place: the block function Philox4x32 with ten rounds (Salmon, Moraes, Dror and Shaw 2011,
/// "Parallel random numbers: as easy as 1, 2, 3"). A stream can be split by a label without touching its own numbers, so what is drawn for one lot does
/// not move what is drawn for another: two policies meet the same season.
/// </summary>
public sealed class SeasonRandom
{
    private const uint M0 = 0xD2511F53, M1 = 0xCD9E8D57, W0 = 0x9E3779B9, W1 = 0xBB67AE85;
    private const int Rounds = 10;
    private const int Lanes = 8;
    private const int Kept = 8 * 4 * Lanes;
    private const uint ForNumbers = 0, ForSplitting = 1;

    private readonly uint[] kept = new uint[Kept];
    private ulong key;
    private ulong block;
    private int at;
    private int filled;

    /// <summary>The stream of a seed.</summary>
    public SeasonRandom(ulong seed) => Restart(seed);

    /// <summary>The key of the part of this stream that a label names: for <see cref="Restart"/> or a new stream.</summary>
    /// <param name="label">Any number; another label, another stream.</param>
    public ulong Split(ulong label) => Split(key, label);

    /// <summary>The same for a key.</summary>
    public static ulong Split(ulong key, ulong label)
    {
        Span<uint> words = stackalloc uint[4];
        Block((uint)label, (uint)(label >> 32), 0, ForSplitting, (uint)key, (uint)(key >> 32), words);
        return words[0] | ((ulong)words[1] << 32);
    }

    /// <summary>Begins the stream of another key, without making a new object.</summary>
    public void Restart(ulong newKey)
    {
        (key, block, at, filled) = (newKey, 0, 0, 0);
    }

    /// <summary>Whole number 0 … 2^32-1.</summary>
    public uint Next()
    {
        if (at == filled)
            Refill(1);
        return kept[at++];
    }

    /// <summary>0 ≤ u &lt; 1, a multiple of 2^-53.</summary>
    public double NextShare()
    {
        ulong high = Next();
        return (((high << 32) | Next()) >> 11) * (1.0 / (1UL << 53));
    }

    /// <summary>The next numbers of the stream, at most 256 of them, to be read before anything else is asked of it.</summary>
    /// <param name="count">How many.</param>
    internal ReadOnlySpan<uint> Take(int count)
    {
        if (count > filled - at)
            Refill(count);
        at += count;
        return kept.AsSpan(at - count, count);
    }

    /// <summary>A normal number, mean 0, deviation 1 (Box and Muller 1958).</summary>
    public double NextNormal() => Math.Sqrt(-2 * Math.Log(1 - NextShare())) * Math.Cos(2 * Math.PI * NextShare());

    /// <summary>A number of the beta distribution.</summary>
    /// <param name="a">Above 0.</param>
    /// <param name="b">Above 0.</param>
    public double NextBeta(double a, double b)
    {
        var x = NextGamma(a);
        var y = NextGamma(b);
        return x + y > 0 ? x / (x + y) : a / (a + b);
    }

    /// <summary>A number of the gamma distribution, scale 1 (Marsaglia and Tsang 2000; below shape 1 by their power of a uniform).</summary>
    /// <param name="shape">Above 0.</param>
    public double NextGamma(double shape)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(shape);
        if (shape < 1)
            return NextGamma(shape + 1) * Math.Pow(1 - NextShare(), 1 / shape);
        var d = shape - (1.0 / 3);
        var c = 1 / Math.Sqrt(9 * d);
        while (true)
        {
            var x = NextNormal();
            var v = 1 + (c * x);
            if (v <= 0)
                continue;
            v = v * v * v;
            if (Math.Log(1 - NextShare()) < (0.5 * x * x) + d - (d * v) + (d * Math.Log(v)))
                return d * v;
        }
    }

    /// <summary>The block function: four numbers of a counter of four words and a key of two.</summary>
    public static void Block(uint c0, uint c1, uint c2, uint c3, uint k0, uint k1, Span<uint> words)
    {
        for (var round = 0; round < Rounds; round++)
        {
            var p0 = (ulong)M0 * c0;
            var p1 = (ulong)M1 * c2;
            (c0, c1, c2, c3) = ((uint)(p1 >> 32) ^ c1 ^ k0, (uint)p1, (uint)(p0 >> 32) ^ c3 ^ k1, (uint)p0);
            k0 += W0;
            k1 += W1;
        }

        (words[0], words[1], words[2], words[3]) = (c0, c1, c2, c3);
    }

    // Numbers lie by eights of blocks, word by word, whichever way they were made.
    private void Refill(int wanted)
    {
        var left = filled - at;
        kept.AsSpan(at, left).CopyTo(kept);
        (at, filled) = (0, left);
        while (filled < wanted || filled - left == 0)
        {
            var to = kept.AsSpan(filled, 4 * Lanes);
            if (Avx2.IsSupported)
                Eight(block, key, to);
            else
                EightPlain(block, key, to);
            block += Lanes;
            filled += 4 * Lanes;
        }
    }

    /// <summary>Eight blocks from a place on, one after the other.</summary>
    internal static void EightPlain(ulong from, ulong key, Span<uint> to)
    {
        Span<uint> words = stackalloc uint[4];
        for (var lane = 0; lane < Lanes; lane++)
        {
            var counter = from + (ulong)lane;
            Block((uint)counter, (uint)(counter >> 32), 0, ForNumbers, (uint)key, (uint)(key >> 32), words);
            for (var word = 0; word < 4; word++)
                to[(word * Lanes) + lane] = words[word];
        }
    }

    /// <summary>The same eight blocks side by side. Places are multiples of eight, so the low word never runs over within them.</summary>
    internal static void Eight(ulong from, ulong key, Span<uint> to)
    {
        var c0 = Vector256.Create((uint)from) + Vector256<uint>.Indices;
        var c1 = Vector256.Create((uint)(from >> 32));
        var c2 = Vector256<uint>.Zero;
        var c3 = Vector256.Create(ForNumbers);
        var (k0, k1) = ((uint)key, (uint)(key >> 32));
        var (m0, m1) = (Vector256.Create(M0), Vector256.Create(M1));
        for (var round = 0; round < Rounds; round++)
        {
            Multiply(c0, m0, out var low0, out var high0);
            Multiply(c2, m1, out var low1, out var high1);
            c0 = high1 ^ c1 ^ Vector256.Create(k0);
            c2 = high0 ^ c3 ^ Vector256.Create(k1);
            c1 = low1;
            c3 = low0;
            k0 += W0;
            k1 += W1;
        }

        c0.CopyTo(to);
        c1.CopyTo(to[Lanes..]);
        c2.CopyTo(to[(2 * Lanes)..]);
        c3.CopyTo(to[(3 * Lanes)..]);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Multiply(Vector256<uint> x, Vector256<uint> m, out Vector256<uint> low, out Vector256<uint> high)
    {
        var even = Avx2.Multiply(x, m).AsUInt32();
        var odd = Avx2.Multiply(Avx2.ShiftRightLogical(x.AsUInt64(), 32).AsUInt32(), m).AsUInt32();
        low = Avx2.Blend(even, Avx2.Shuffle(odd, 0b10_10_00_00), 0b1010_1010);
        high = Avx2.Blend(Avx2.Shuffle(even, 0b11_11_01_01), odd, 0b1010_1010);
    }
}
