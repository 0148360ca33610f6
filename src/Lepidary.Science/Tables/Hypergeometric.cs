using Lepidary.Science.Counts;

namespace Lepidary.Science.Tables;

/// <summary>How many bad ones a sample without replacement holds.</summary>
public static class Hypergeometric
{
    /// <summary>Of <paramref name="lot"/> animals, <paramref name="bad"/> of them bad, <paramref name="sample"/> are looked at.</summary>
    /// <param name="lot">At least 0.</param>
    /// <param name="bad">0…<paramref name="lot"/>.</param>
    /// <param name="sample">0…<paramref name="lot"/>.</param>
    public static CountDistribution Of(int lot, int bad, int sample) => CountDistribution.FromMasses(Masses(lot, bad, sample));

    internal static double[] Masses(int lot, int bad, int sample)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(bad);
        ArgumentOutOfRangeException.ThrowIfNegative(sample);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(bad, lot);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(sample, lot);
        var masses = new double[Math.Min(bad, sample) + 1];
        var mode = (int)((sample + 1L) * (bad + 1L) / (lot + 2L));
        Recurrence.Fill(masses, Math.Clamp(mode, Math.Max(0, bad + sample - lot), masses.Length - 1), new HypergeometricRatio(lot, bad, sample));
        return masses;
    }

    private readonly struct HypergeometricRatio(int lot, int bad, int sample) : IRatio
    {
        public double Of(int k) => lot - bad - sample + k + 1 <= 0
            ? 0
            : (double)(bad - k) * (sample - k) / ((k + 1.0) * (lot - bad - sample + k + 1));
    }
}
