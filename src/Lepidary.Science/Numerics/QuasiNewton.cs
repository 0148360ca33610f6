namespace Lepidary.Science.Numerics;

/// <summary>A smooth function's minimum by Broyden, Fletcher, Goldfarb and Shanno's steps, for a handful of parameters.</summary>
internal sealed class QuasiNewton
{
    private const int MostSteps = 200;

    /// <summary>No parameter moves further in one step: far from the minimum the first curvature may mislead.</summary>
    private const double LongestMove = 2;

    /// <summary>Where the search ended.</summary>
    public required double[] At { get; init; }

    /// <summary>The value there.</summary>
    public required double Value { get; init; }

    /// <summary>The gradient there.</summary>
    public required double[] Gradient { get; init; }

    /// <summary>The inverse curvature as the steps have taught it; a good start for the next search nearby.</summary>
    public required double[,] Inverse { get; init; }

    /// <summary>Function values taken.</summary>
    public required int Evaluations { get; init; }

    /// <summary>True when a further step would win less than the tolerance.</summary>
    public required bool Converged { get; init; }

    /// <summary>Searches.</summary>
    /// <param name="function">Value at a point, which fills the gradient; infinite where it cannot be reckoned.</param>
    /// <param name="start">Where to begin; not changed.</param>
    /// <param name="inverse">First inverse curvature, positive definite; not changed.</param>
    /// <param name="tolerance">The value that a further step may still win.</param>
    public static QuasiNewton Minimise(Func<double[], double[], double> function, double[] start, double[,] inverse, double tolerance)
    {
        var n = start.Length;
        var at = (double[])start.Clone();
        var h = (double[,])inverse.Clone();
        var gradient = new double[n];
        var value = function(at, gradient);
        var evaluations = 1;
        var converged = false;
        while (evaluations < MostSteps)
        {
            var move = new double[n];
            var (slope, longest) = (0.0, 0.0);
            for (var i = 0; i < n; i++)
            {
                for (var j = 0; j < n; j++) move[i] -= h[i, j] * gradient[j];
                slope += move[i] * gradient[i];
                longest = Math.Max(longest, Math.Abs(move[i]));
            }
            converged = -slope / 2 < tolerance;
            if (converged) break;
            var length = Math.Min(1, LongestMove / longest);
            var next = new double[n];
            var nextGradient = new double[n];
            var nextValue = double.PositiveInfinity;
            var better = false;
            for (var tries = 0; tries < 40 && !better; tries++)
            {
                for (var i = 0; i < n; i++) next[i] = at[i] + length * move[i];
                nextValue = function(next, nextGradient);
                evaluations++;
                better = nextValue <= value + 1e-4 * length * slope;
                // The parabola through value, slope and what was found; halved at least, and cut by ten at most.
                if (!better)
                    length = double.IsFinite(nextValue)
                        ? Math.Clamp(-slope * length * length / (2 * (nextValue - value - slope * length)), length / 10, length / 2)
                        : length / 10;
            }
            if (!better) break;
            Update(h, at, next, gradient, nextGradient);
            (at, gradient, value) = (next, nextGradient, nextValue);
        }
        return new() { At = at, Value = value, Gradient = gradient, Inverse = h, Evaluations = evaluations, Converged = converged };
    }

    private static void Update(double[,] h, double[] at, double[] next, double[] gradient, double[] nextGradient)
    {
        var n = at.Length;
        var (s, y, hy) = (new double[n], new double[n], new double[n]);
        var (sy, yhy) = (0.0, 0.0);
        for (var i = 0; i < n; i++) (s[i], y[i]) = (next[i] - at[i], nextGradient[i] - gradient[i]);
        for (var i = 0; i < n; i++)
        {
            for (var j = 0; j < n; j++) hy[i] += h[i, j] * y[j];
            sy += s[i] * y[i];
            yhy += y[i] * hy[i];
        }
        // Where the curvature along the step is not positive, the old one is kept.
        if (sy <= 1e-12 * Math.Sqrt(yhy)) return;
        for (var i = 0; i < n; i++)
            for (var j = 0; j < n; j++)
                h[i, j] += (1 + yhy / sy) * s[i] * s[j] / sy - (hy[i] * s[j] + s[i] * hy[j]) / sy;
    }
}
