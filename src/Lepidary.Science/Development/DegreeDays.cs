using Lepidary.Science.Ground;

namespace Lepidary.Science.Development;

/// <summary>
/// Degree-days of a day from its extremes, above a lower threshold and up to an upper one (horizontal cut-off): f(lower) - f(upper), with f the area of the day's
/// curve above a threshold. Any one unit of temperature; the result is in that unit times days.
/// </summary>
/// <remarks>
/// Zalom et al. 1983, UC DANR Leaflet 21373; Baskerville and Emin 1969, Ecology 50:514-517 (sine). The double forms use today's minimum for the first half of the day
/// and tomorrow's for the second.
/// </remarks>
public static class DegreeDays
{
    /// <summary>The day as a triangle between its extremes.</summary>
    /// <param name="min">Lowest temperature, not above <paramref name="max"/>.</param>
    /// <param name="max">Highest temperature.</param>
    /// <param name="lower">Development threshold.</param>
    /// <param name="upper">Upper threshold, not below <paramref name="lower"/>; +infinity for none.</param>
    public static double Triangle(double min, double max, double lower, double upper = double.PositiveInfinity) =>
        Between(TriangleAbove, min, max, lower, upper);

    /// <summary>The day as a sine between its extremes.</summary>
    /// <inheritdoc cref="Triangle"/>
    public static double Sine(double min, double max, double lower, double upper = double.PositiveInfinity) =>
        Between(SineAbove, min, max, lower, upper);

    /// <summary>Two half triangles, down to tomorrow's lowest temperature.</summary>
    /// <param name="min">Today's lowest temperature.</param>
    /// <param name="max">Today's highest, not below either minimum.</param>
    /// <param name="nextMin">Tomorrow's lowest.</param>
    /// <param name="lower">Development threshold.</param>
    /// <param name="upper">Upper threshold, not below <paramref name="lower"/>; +infinity for none.</param>
    public static double DoubleTriangle(double min, double max, double nextMin, double lower, double upper = double.PositiveInfinity) =>
        (Triangle(min, max, lower, upper) + Triangle(nextMin, max, lower, upper)) / 2;

    /// <summary>Two half sines, down to tomorrow's lowest temperature.</summary>
    /// <inheritdoc cref="DoubleTriangle"/>
    public static double DoubleSine(double min, double max, double nextMin, double lower, double upper = double.PositiveInfinity) =>
        (Sine(min, max, lower, upper) + Sine(nextMin, max, lower, upper)) / 2;

    /// <summary>Method 1 of McMaster and Wilhelm 1997: max(0, mean - threshold).</summary>
    /// <param name="min">Lowest temperature, not above <paramref name="max"/>.</param>
    /// <param name="max">Highest temperature.</param>
    /// <param name="threshold">Development threshold.</param>
    public static double Average(double min, double max, double threshold)
    {
        Check(min, max);
        return Math.Max(0, (min + max) / 2 - Guard.Finite(threshold));
    }

    /// <summary>Method 2 of McMaster and Wilhelm 1997: extremes below the threshold are raised to it first.</summary>
    /// <inheritdoc cref="Average"/>
    public static double AverageRaised(double min, double max, double threshold)
    {
        Check(min, max);
        return (Math.Max(min, threshold) + Math.Max(max, threshold)) / 2 - Guard.Finite(threshold);
    }

    private static double Between(Func<double, double, double, double> above, double min, double max, double lower, double upper)
    {
        Check(min, max);
        Guard.Finite(lower);
        ArgumentOutOfRangeException.ThrowIfLessThan(upper, lower);
        return above(min, max, lower) - (double.IsPositiveInfinity(upper) ? 0 : above(min, max, upper));
    }

    private static double TriangleAbove(double min, double max, double threshold) =>
        min >= threshold ? (min + max) / 2 - threshold
        : max <= threshold ? 0
        : (max - threshold) * (max - threshold) / (2 * (max - min));

    private static double SineAbove(double min, double max, double threshold)
    {
        var (middle, half) = ((min + max) / 2, (max - min) / 2);
        if (min >= threshold) return middle - threshold;
        if (max <= threshold) return 0;
        var angle = Math.Asin((threshold - middle) / half);
        return ((middle - threshold) * (Math.PI / 2 - angle) + half * Math.Cos(angle)) / Math.PI;
    }

    private static void Check(double min, double max) => ArgumentOutOfRangeException.ThrowIfLessThan(Guard.Finite(max), Guard.Finite(min));
}
