using Lepidary.Science.Ground;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Pairing;

/// <summary>The share of females among the adults of a species, and how well it is known: Beta(Females·Certainty, (1-Females)·Certainty).</summary>
/// <remarks>Learn from finished lots alone: where males come first, an unfinished lot shows too many of them.</remarks>
public readonly record struct SexShare
{
    /// <summary>
    /// A share that only a table says counts for as many sexed adults: enough that a few lots do not move it, few enough that a species far from even is found out in a season.
    /// A choice of this project, no source.
    /// </summary>
    public const double TableCertainty = 20;

    /// <summary>Creates a share.</summary>
    /// <param name="females">Expected share, 0…1.</param>
    /// <param name="certainty">In adults, above 0; +infinity where it is known.</param>
    public SexShare(double females, double certainty)
    {
        Females = Guard.Chance(females);
        Certainty = Guard.Positive(certainty);
    }

    /// <summary>Expected share of females, 0…1.</summary>
    public double Females { get; }

    /// <summary>How well it is known, in adults.</summary>
    public double Certainty { get; }

    /// <summary>What a table says.</summary>
    /// <param name="females">0…1.</param>
    public static SexShare FromTable(double females) => new(females, TableCertainty);

    /// <summary>What sexed adults add.</summary>
    /// <param name="males">At least 0.</param>
    /// <param name="females">At least 0.</param>
    public SexShare Learn(int males, int females)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(males);
        ArgumentOutOfRangeException.ThrowIfNegative(females);
        if (double.IsPositiveInfinity(Certainty)) return this;
        var certainty = Certainty + males + females;
        return new(((Females * Certainty) + females) / certainty, certainty);
    }

    /// <summary>The expectation of a chance that hangs on the share, over all that is not known of it.</summary>
    /// <remarks>
    /// What so many adults do together is a polynomial in the share of no higher degree: it is known from that many places and one, the roots of Chebyshev's polynomial, and its
    /// expectation is that of what it takes between them (Berrut and Trefethen 2004, SIAM Rev. 46:501-517, from memory).
    /// </remarks>
    /// <param name="chance">The chance at a share, 0…1.</param>
    /// <param name="adults">How many adults the chance looks at, at least 0: its degree as a polynomial in the share.</param>
    public double Expect(Func<double, double> chance, int adults)
    {
        ArgumentNullException.ThrowIfNull(chance);
        ArgumentOutOfRangeException.ThrowIfNegative(adults);
        var nodes = BetaNodes.Of(Females, Certainty, adults);
        var sum = 0.0;
        if (nodes.At.Length <= adults + 1)
        {
            for (var i = 0; i < nodes.At.Length; i++) sum += nodes.Weights[i] * chance(nodes.At[i]);
            return sum;
        }
        var (places, values, signs) = (new double[adults + 1], new double[adults + 1], new double[adults + 1]);
        for (var k = 0; k <= adults; k++)
        {
            var angle = Math.PI * (2 * k + 1) / (2 * adults + 2);
            places[k] = (1 + Math.Cos(angle)) / 2;
            values[k] = chance(places[k]);
            signs[k] = (k % 2 == 0 ? 1 : -1) * Math.Sin(angle);
        }
        for (var i = 0; i < nodes.At.Length; i++)
        {
            var (above, below, at) = (0.0, 0.0, double.NaN);
            for (var k = 0; k <= adults; k++)
            {
                var off = nodes.At[i] - places[k];
                if (off == 0) at = values[k];
                above += signs[k] / off * values[k];
                below += signs[k] / off;
            }
            sum += nodes.Weights[i] * (double.IsNaN(at) ? above / below : at);
        }
        return sum;
    }
}
