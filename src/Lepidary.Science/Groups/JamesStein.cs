using Lepidary.Science.Ground;

namespace Lepidary.Science.Groups;

/// <summary>
/// Values measured with one and the same error, each pulled towards their mean by the factor 1 - (k-3)·σ²/V, V = Σ(x - x̄)² (Efron and Morris 1975, J. Am. Stat. Assoc.
/// 70:311-319).
/// </summary>
/// <param name="Mean">x̄.</param>
/// <param name="Spread">V.</param>
/// <param name="Factor">How much of the distance to the mean is kept, 0…1.</param>
/// <param name="Values">The values after it.</param>
public sealed record JamesStein(double Mean, double Spread, double Factor, IReadOnlyList<double> Values)
{
    /// <summary>Pulls the values together.</summary>
    /// <param name="values">At least four, finite.</param>
    /// <param name="variance">Variance of the error of each, above 0, finite.</param>
    public static JamesStein Shrink(IReadOnlyList<double> values, double variance)
    {
        ArgumentNullException.ThrowIfNull(values);
        ArgumentOutOfRangeException.ThrowIfLessThan(values.Count, 4, nameof(values));
        Guard.FinitePositive(variance);
        foreach (var value in values) Guard.Finite(value, nameof(values));
        var mean = values.Average();
        var spread = values.Sum(value => (value - mean) * (value - mean));
        var factor = spread == 0 ? 0 : Math.Max(0, 1 - (values.Count - 3) * variance / spread);
        return new(mean, spread, factor, [.. values.Select(value => mean + factor * (value - mean))]);
    }
}
