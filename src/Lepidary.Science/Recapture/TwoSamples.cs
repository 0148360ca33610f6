using Lepidary.Science.Ground;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Recapture;

/// <summary>How many fly, from a marked and a later sample.</summary>
/// <param name="Population">Estimated number.</param>
/// <param name="Error">Standard error.</param>
public readonly record struct PopulationEstimate(double Population, double Error)
{
    /// <summary>Normal interval; never below 0. Rough where few were seen again.</summary>
    /// <param name="level">Above 0, below 1.</param>
    public (double From, double To) Interval(double level = 0.95)
    {
        var z = SpecialFunctions.NormalQuantile((1 + Guard.OpenChance(level)) / 2);
        return (Math.Max(0, Population - z * Error), Population + z * Error);
    }
}

/// <summary>Two samples of a closed population: n₁ marked, later n₂ looked at, m of them marked.</summary>
public static class TwoSamples
{
    /// <summary>Lincoln and Petersen: n₁·n₂/m; infinite when none was seen again. Too high in small samples.</summary>
    /// <param name="marked">n₁, at least 0.</param>
    /// <param name="seen">n₂, at least 0.</param>
    /// <param name="both">m, at most either.</param>
    public static double LincolnPetersen(int marked, int seen, int both)
    {
        Check(marked, seen, both);
        return (double)marked * seen / both;
    }

    /// <summary>Chapman: (n₁+1)(n₂+1)/(m+1) - 1, variance (n₁+1)(n₂+1)(n₁-m)(n₂-m)/((m+1)²(m+2)).</summary>
    /// <param name="marked">n₁, at least 0.</param>
    /// <param name="seen">n₂, at least 0.</param>
    /// <param name="both">m, at most either.</param>
    public static PopulationEstimate Chapman(int marked, int seen, int both)
    {
        Check(marked, seen, both);
        double a = marked + 1, b = seen + 1, m = both + 1;
        return new(a * b / m - 1, Math.Sqrt(a * b * (marked - both) * (seen - both) / (m * m * (m + 1))));
    }

    private static void Check(int marked, int seen, int both)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(both);
        ArgumentOutOfRangeException.ThrowIfLessThan(marked, both);
        ArgumentOutOfRangeException.ThrowIfLessThan(seen, both);
    }
}
