using Lepidary.Science.Ground;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Charts;

/// <summary>One value of an EWMA chart.</summary>
/// <param name="Average">z: weighted average of all values so far.</param>
/// <param name="Lower">Lower limit.</param>
/// <param name="Upper">Upper limit.</param>
public readonly record struct EwmaPoint(double Average, double Lower, double Upper)
{
    /// <summary>Outside the limits.</summary>
    public bool IsOut => Average < Lower || Average > Upper;
}

/// <summary>Exponentially weighted moving average: z_t = λ·x_t + (1-λ)·z_{t-1} from the target on.</summary>
public static class Ewma
{
    /// <summary>The chart.</summary>
    /// <param name="values">Finite.</param>
    /// <param name="target">Centre and first average.</param>
    /// <param name="deviation">Standard deviation of one value, above 0.</param>
    /// <param name="weight">λ, above 0, at most 1.</param>
    /// <param name="width">Limits in standard deviations of the average, above 0.</param>
    /// <param name="steady">
    /// True for limits ± width·σ·√(λ/(2-λ)) throughout; false for the exact ones, which start narrow: times √(1-(1-λ)^2t).
    /// </param>
    public static IReadOnlyList<EwmaPoint> Of(
        IReadOnlyList<double> values, double target, double deviation, double weight, double width = 3, bool steady = false)
    {
        ArgumentNullException.ThrowIfNull(values);
        Guard.Finite(target);
        Guard.FinitePositive(deviation);
        Guard.FinitePositive(width);
        if (Guard.Chance(weight) == 0) throw new ArgumentOutOfRangeException(nameof(weight), weight, "Must be above 0.");
        var points = new EwmaPoint[values.Count];
        var (average, left) = (target, 1.0);
        for (var t = 0; t < points.Length; t++)
        {
            average = weight * Guard.Finite(values[t], nameof(values)) + (1 - weight) * average;
            left *= (1 - weight) * (1 - weight);
            var half = width * deviation * Math.Sqrt(weight / (2 - weight) * (steady ? 1 : 1 - left));
            points[t] = new(average, target - half, target + half);
        }
        return points;
    }

    /// <summary>
    /// Mean number of values until the chart with steady limits signals, starting at the target, for independent normal values: Fredholm's equation on
    /// Gauss-Legendre nodes. Relative error below 1e-6 for weights of at least 0.05.
    /// </summary>
    /// <param name="weight">λ, at least 0.05, at most 1.</param>
    /// <param name="width">Limits in standard deviations of the average, above 0, at most 6.</param>
    /// <param name="shift">True mean minus target, in standard deviations of one value.</param>
    public static double MeanRunLength(double weight, double width, double shift = 0)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(Guard.Chance(weight), 0.05);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(Guard.FinitePositive(width), 6);
        Guard.Finite(shift);
        // L(z) = 1 + ∫ L(y)·φ((y-(1-λ)z)/λ - δ)/λ dy over the limits.
        var limit = width * Math.Sqrt(weight / (2 - weight));
        var (nodes, weights) = GaussLegendre.On(-limit, limit, 101);
        var n = nodes.Length;
        var system = new double[n, n];
        var right = new double[n];
        for (var i = 0; i < n; i++)
        {
            system[i, i] += 1;
            right[i] = 1;
            for (var j = 0; j < n; j++)
            {
                var z = (nodes[j] - (1 - weight) * nodes[i]) / weight - shift;
                system[i, j] -= weights[j] * Math.Exp(-z * z / 2) / Math.Sqrt(2 * Math.PI) / weight;
            }
        }
        // An odd number of nodes: the middle one is the target.
        return LinearAlgebra.Solve(system, right)[n / 2];
    }
}
