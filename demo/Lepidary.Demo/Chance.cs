using System.Numerics;

namespace Lepidary.Demo;

/// <summary>
/// A stream of chance that a label names, so that a change in one part of the story moves no other part.
/// Only whole numbers, sums, products and quotients are used: the same bytes come out on every machine.
/// </summary>
/// <remarks>The generator is SplitMix64 (Steele, Lea and Flood 2014).</remarks>
internal sealed class Chance
{
    private ulong _state;

    /// <param name="seed">The seed of the whole scenario.</param>
    /// <param name="labels">What the stream is for.</param>
    public Chance(ulong seed, params ReadOnlySpan<object> labels)
    {
        _state = seed;
        foreach (object label in labels)
        {
            foreach (char c in FormattableString.Invariant($"{label}|"))
            {
                _state = (_state ^ c) * 0x100000001B3UL;
            }

            Next();
        }
    }

    /// <summary>A number from 0 up to but not 1.</summary>
    public double Unit() => (Next() >> 11) * (1.0 / (1UL << 53));

    /// <summary>True with the chance <paramref name="p"/>.</summary>
    public bool Happens(double p) => Unit() < p;

    /// <summary>A whole number from <paramref name="from"/> to <paramref name="to"/>, both included.</summary>
    public int Whole(int from, int to) => from + (int)BigInteger.Remainder(Next(), (ulong)(to - from + 1));

    /// <summary>One of <paramref name="things"/>, each as likely as the others.</summary>
    public T OneOf<T>(params ReadOnlySpan<T> things) => things[Whole(0, things.Length - 1)];

    /// <summary>About normal, mean 0, standard deviation 1: twelve units less six.</summary>
    public double Bell()
    {
        double sum = -6;
        for (int i = 0; i < 12; i++)
        {
            sum += Unit();
        }

        return sum;
    }

    /// <summary>How many of <paramref name="n"/> with the chance <paramref name="p"/> each.</summary>
    public int HowMany(int n, double p)
    {
        int hits = 0;
        for (int i = 0; i < n; i++)
        {
            hits += Happens(p) ? 1 : 0;
        }

        return hits;
    }

    private ulong Next()
    {
        _state += 0x9E3779B97F4A7C15UL;
        ulong z = _state;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
        return z ^ (z >> 31);
    }
}

/// <summary>
/// Draws that resemble one another, as the pupae of one box do: a Pólya urn. Over many urns the share is
/// <c>mean</c>; the smaller <c>likeness</c>, the more one urn differs from the next.
/// </summary>
internal sealed class Urn(double mean, double likeness)
{
    private double _yes = mean * likeness;
    private double _no = (1 - mean) * likeness;

    public bool Draw(Chance chance)
    {
        bool yes = chance.Happens(_yes / (_yes + _no));
        _ = yes ? _yes++ : _no++;
        return yes;
    }
}
