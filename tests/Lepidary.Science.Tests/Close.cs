namespace Lepidary.Science.Tests;

/// <summary>Comparisons with a named tolerance.</summary>
internal static class Close
{
    /// <summary>Rounding of a few hundred operations on doubles.</summary>
    public const double Rounding = 1e-12;

    /// <summary>Fails unless the two differ by at most <paramref name="within"/>.</summary>
    public static void To(double expected, double actual, double within) =>
        Assert.True(
            Math.Abs(expected - actual) <= within,
            FormattableString.Invariant($"expected {expected:R} within {within:R}, got {actual:R} (off by {actual - expected:R})"));

    /// <summary>Fails unless all pairs differ by at most <paramref name="within"/> and the lengths agree.</summary>
    public static void To(ReadOnlySpan<double> expected, ReadOnlySpan<double> actual, double within)
    {
        Assert.Equal(expected.Length, actual.Length);
        for (var i = 0; i < expected.Length; i++)
            Assert.True(
                Math.Abs(expected[i] - actual[i]) <= within,
                FormattableString.Invariant($"at {i}: expected {expected[i]:R} within {within:R}, got {actual[i]:R}"));
    }

    /// <summary>Fails unless both give every count the same chance within <paramref name="within"/>; lengths may differ.</summary>
    public static void To(CountDistribution expected, CountDistribution actual, double within)
    {
        for (var k = 0; k <= Math.Max(expected.Max, actual.Max); k++)
            Assert.True(
                Math.Abs(expected[k] - actual[k]) <= within,
                FormattableString.Invariant($"at {k}: expected {expected[k]:R} within {within:R}, got {actual[k]:R}"));
    }
}

public class CloseTest
{
    [Fact]
    public void To_further_than_tolerance_fails()
    {
        Assert.ThrowsAny<Exception>(() => Close.To(1, 1.1, 0.05));
        Assert.ThrowsAny<Exception>(() => Close.To([1.0, 2], [1.0, 2.1], 0.05));
        Assert.ThrowsAny<Exception>(() => Close.To([1.0], [1.0, 2], 0.05));
        Assert.ThrowsAny<Exception>(() => Close.To(CountDistribution.Certain(1), CountDistribution.Certain(2), 0.05));
        Assert.ThrowsAny<Exception>(() => Close.To(1, double.NaN, 0.05));
    }

    [Fact]
    public void To_within_tolerance_passes()
    {
        Close.To(1, 1.04, 0.05);
        Close.To([1.0, 2], [1.04, 1.96], 0.05);
    }
}
