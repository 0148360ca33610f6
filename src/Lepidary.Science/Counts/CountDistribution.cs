namespace Lepidary.Science.Counts;

/// <summary>
/// The exact distribution of a count of animals: the chance of 0, 1, … <see cref="Max"/>. Immutable.
/// Masses are at least 0 and sum to 1 within 1e-12.
/// </summary>
public sealed class CountDistribution
{
    private readonly double[] masses;

    private CountDistribution(double[] masses) => this.masses = masses;

    /// <summary>The largest count with a mass.</summary>
    public int Max => masses.Length - 1;

    /// <summary>The chance of exactly <paramref name="count"/>; 0 outside 0…<see cref="Max"/>.</summary>
    public double this[int count] => count < 0 || count > Max ? 0 : masses[count];

    /// <summary>The masses, index = count.</summary>
    public ReadOnlySpan<double> Masses => masses;

    /// <summary>A count known for certain.</summary>
    /// <param name="count">At least 0.</param>
    public static CountDistribution Certain(int count)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        var masses = new double[count + 1];
        masses[count] = 1;
        return new(masses);
    }
}
