using Lepidary.Science.Counts;
using Lepidary.Science.Ground;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Proportions;

/// <summary>
/// An interval for an unknown share from x successes in n: five ways. <see cref="Wilson"/> for showing, <see cref="ClopperPearson"/>
/// where the level must be kept without fail.
/// </summary>
/// <remarks>
/// Newcombe 1998, Statist. Med. 17:857-872 compares them; Brown, Cai and DasGupta 2001, Statist. Sci. 16:101-133 (from memory).
/// Every method: n at least 1, 0 ≤ x ≤ n, level above 0 and below 1.
/// </remarks>
/// <param name="From">Lower end, 0…1.</param>
/// <param name="To">Upper end, 0…1.</param>
public readonly record struct ProportionInterval(double From, double To)
{
    /// <summary>The score interval (Wilson 1927).</summary>
    public static ProportionInterval Wilson(int x, int n, double level = 0.95)
    {
        var z = Z(x, n, level);
        var p = (double)x / n;
        var centre = (p + z * z / (2 * n)) / (1 + z * z / n);
        var half = z * Math.Sqrt(p * (1 - p) / n + z * z / (4.0 * n * n)) / (1 + z * z / n);
        return new(x == 0 ? 0 : Math.Max(0, centre - half), x == n ? 1 : Math.Min(1, centre + half));
    }

    /// <summary>The score interval with a continuity correction (Newcombe's method 4).</summary>
    public static ProportionInterval WilsonCorrected(int x, int n, double level = 0.95)
    {
        var z = Z(x, n, level);
        var (p, q) = ((double)x / n, (double)(n - x) / n);
        var below = z * Math.Sqrt(Math.Max(0, z * z - 2 - 1.0 / n + 4 * p * (n * q + 1)));
        var above = z * Math.Sqrt(Math.Max(0, z * z + 2 - 1.0 / n + 4 * p * (n * q - 1)));
        return new(
            x == 0 ? 0 : Math.Max(0, (2 * n * p + z * z - 1 - below) / (2 * (n + z * z))),
            x == n ? 1 : Math.Min(1, (2 * n * p + z * z + 1 + above) / (2 * (n + z * z))));
    }

    /// <summary>The exact interval (Clopper and Pearson 1934): each tail at most (1-level)/2, whatever the share.</summary>
    public static ProportionInterval ClopperPearson(int x, int n, double level = 0.95)
    {
        var tail = Tail(x, n, level);
        return new(
            x == 0 ? 0 : SpecialFunctions.BetaQuantile(tail, x, n - x + 1),
            x == n ? 1 : SpecialFunctions.BetaQuantile(1 - tail, x + 1, n - x));
    }

    /// <summary>The exact interval with the observed count taken half: less strict, on average closer to its level.</summary>
    public static ProportionInterval MidP(int x, int n, double level = 0.95)
    {
        var tail = Tail(x, n, level);
        double Above(double p)
        {
            var counts = CountDistribution.Binomial(n, p);
            return counts.AtLeast(x + 1) + counts[x] / 2;
        }
        return new(
            x == 0 ? 0 : SpecialFunctions.Root(p => Above(p) - tail, 0, 1),
            x == n ? 1 : SpecialFunctions.Root(p => Above(p) - (1 - tail), 0, 1));
    }

    /// <summary>
    /// Quantiles of Beta(x+½, n-x+½): the central interval under Jeffreys' prior. Left as they are at x = 0 and x = n, where Brown, Cai
    /// and DasGupta would set the end to 0 or 1.
    /// </summary>
    public static ProportionInterval Jeffreys(int x, int n, double level = 0.95)
    {
        var tail = Tail(x, n, level);
        return new(
            SpecialFunctions.BetaQuantile(tail, x + 0.5, n - x + 0.5),
            SpecialFunctions.BetaQuantile(1 - tail, x + 0.5, n - x + 0.5));
    }

    private static double Tail(int x, int n, double level)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(n, 1);
        ArgumentOutOfRangeException.ThrowIfNegative(x);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(x, n);
        return (1 - Guard.OpenChance(level)) / 2;
    }

    private static double Z(int x, int n, double level) => SpecialFunctions.NormalQuantile(1 - Tail(x, n, level));
}
