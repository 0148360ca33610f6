using Lepidary.Science.Ground;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Charts;

/// <summary>One value of a two-sided CUSUM.</summary>
/// <param name="High">Sum of what lay above target + allowance.</param>
/// <param name="Low">Sum of what lay below target - allowance.</param>
public readonly record struct CusumPoint(double High, double Low);

/// <summary>
/// Cumulative sums of measured values: S⁺ = max(0, S⁺ + x - target - k), S⁻ = max(0, S⁻ + target - k - x); signal above the limit h. It sees a small lasting
/// shift sooner than single values do.
/// </summary>
public static class Cusum
{
    /// <summary>The sums.</summary>
    /// <param name="values">Finite.</param>
    /// <param name="target">Where values should lie.</param>
    /// <param name="allowance">k, at least 0: half the shift that matters, in the values' unit.</param>
    public static IReadOnlyList<CusumPoint> Of(IReadOnlyList<double> values, double target, double allowance)
    {
        ArgumentNullException.ThrowIfNull(values);
        Guard.Finite(target);
        ArgumentOutOfRangeException.ThrowIfNegative(Guard.Finite(allowance));
        var points = new CusumPoint[values.Count];
        var (high, low) = (0.0, 0.0);
        for (var t = 0; t < points.Length; t++)
        {
            var x = Guard.Finite(values[t], nameof(values));
            high = Math.Max(0, high + x - target - allowance);
            low = Math.Max(0, low + target - allowance - x);
            points[t] = new(high, low);
        }
        return points;
    }

    /// <summary>Index of the first value whose sum is above the limit on either side; null when none is.</summary>
    /// <param name="points">The sums.</param>
    /// <param name="limit">h, above 0.</param>
    public static int? FirstSignal(IReadOnlyList<CusumPoint> points, double limit)
    {
        ArgumentNullException.ThrowIfNull(points);
        Guard.Positive(limit);
        for (var t = 0; t < points.Count; t++)
            if (points[t].High > limit || points[t].Low > limit) return t;
        return null;
    }

    /// <summary>
    /// Mean number of values until a one-sided CUSUM of independent normal values signals, starting at 0; all in standard deviations. Fredholm's equation
    /// on Gauss-Legendre nodes (as R's spc does). Relative error below 1e-8 for limits up to 10.
    /// </summary>
    /// <param name="allowance">k, at least 0.</param>
    /// <param name="limit">h, above 0, at most 20.</param>
    /// <param name="shift">True mean minus target.</param>
    public static double MeanRunLength(double allowance, double limit, double shift = 0)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(Guard.Finite(allowance));
        ArgumentOutOfRangeException.ThrowIfGreaterThan(Guard.FinitePositive(limit), 20);
        Guard.Finite(shift);
        // L(s) = 1 + L(0)·Φ(k-s-δ) + ∫₀ʰ L(y)·φ(y+k-s-δ) dy.
        var (nodes, weights) = GaussLegendre.On(0, limit, 60);
        var n = nodes.Length;
        var system = new double[n + 1, n + 1];
        var right = new double[n + 1];
        for (var i = 0; i <= n; i++)
        {
            var s = i == n ? 0 : nodes[i];
            system[i, i] += 1;
            system[i, n] -= SpecialFunctions.NormalCumulative(allowance - s - shift);
            for (var j = 0; j < n; j++)
            {
                var z = nodes[j] + allowance - s - shift;
                system[i, j] -= weights[j] * Math.Exp(-z * z / 2) / Math.Sqrt(2 * Math.PI);
            }
            right[i] = 1;
        }
        return LinearAlgebra.Solve(system, right)[n];
    }

    /// <summary>Mean run length of the two-sided chart: 1/(1/L⁺ + 1/L⁻), exact because one side is at 0 whenever the other signals.</summary>
    /// <param name="allowance">k, above 0.</param>
    /// <param name="limit">h, above 0.</param>
    /// <param name="shift">True mean minus target.</param>
    public static double TwoSidedMeanRunLength(double allowance, double limit, double shift = 0) =>
        1 / (1 / MeanRunLength(allowance, limit, shift) + 1 / MeanRunLength(allowance, limit, -shift));
}
