using System.Runtime.CompilerServices;

namespace Lepidary.Science.Ground;

/// <summary>Argument checks that the platform does not have. A failure is the programmer's error.</summary>
internal static class Guard
{
    /// <summary>A chance: 0…1, not NaN.</summary>
    public static double Chance(double value, [CallerArgumentExpression(nameof(value))] string? name = null) =>
        value is >= 0 and <= 1 ? value : throw new ArgumentOutOfRangeException(name, value, "A chance lies in 0…1.");

    /// <summary>A chance that leaves both outcomes possible: above 0, below 1.</summary>
    public static double OpenChance(double value, [CallerArgumentExpression(nameof(value))] string? name = null) =>
        value is > 0 and < 1 ? value : throw new ArgumentOutOfRangeException(name, value, "Must lie above 0 and below 1.");

    /// <summary>Above 0; +infinity passes, NaN does not.</summary>
    public static double Positive(double value, [CallerArgumentExpression(nameof(value))] string? name = null) =>
        value > 0 ? value : throw new ArgumentOutOfRangeException(name, value, "Must be above 0.");

    /// <summary>Above 0 and finite.</summary>
    public static double FinitePositive(double value, [CallerArgumentExpression(nameof(value))] string? name = null) =>
        value > 0 && double.IsFinite(value)
            ? value
            : throw new ArgumentOutOfRangeException(name, value, "Must be above 0 and finite.");

    /// <summary>Neither NaN nor infinite.</summary>
    public static double Finite(double value, [CallerArgumentExpression(nameof(value))] string? name = null) =>
        double.IsFinite(value) ? value : throw new ArgumentOutOfRangeException(name, value, "Must be a finite number.");
}
