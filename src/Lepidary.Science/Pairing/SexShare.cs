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
    /// <param name="chance">The chance at a share, 0…1; smooth in it.</param>
    /// <param name="adults">How many adults the chance looks at: how sharply it can depend on the share; at least 0.</param>
    public double Expect(Func<double, double> chance, int adults)
    {
        ArgumentNullException.ThrowIfNull(chance);
        ArgumentOutOfRangeException.ThrowIfNegative(adults);
        var nodes = BetaNodes.Of(Females, Certainty, adults);
        var sum = 0.0;
        for (var i = 0; i < nodes.At.Length; i++) sum += nodes.Weights[i] * chance(nodes.At[i]);
        return sum;
    }
}
