using Lepidary.Science.Ground;

namespace Lepidary.Science.Numerics;

/// <summary>
/// The special functions that intervals and tests need, written for this room so that a reader can check them alone.
/// Each names its method and the accuracy that the tests hold it to.
/// </summary>
public static class SpecialFunctions
{
    private const double LogSqrtTwoPi = 0.91893853320467274178;

    /// <summary>Coefficients B(2k)/(2k(2k-1)) of Stirling's series; Abramowitz and Stegun 6.1.41.</summary>
    private static readonly double[] Stirling =
    [
        1.0 / 12, -1.0 / 360, 1.0 / 1260, -1.0 / 1680, 1.0 / 1188, -691.0 / 360360, 1.0 / 156, -3617.0 / 122400,
    ];

    /// <summary>
    /// Natural logarithm of the gamma function: the recurrence up to 10, then Stirling's series.
    /// Absolute error below 1e-13 up to 100, relative error below 1e-14 beyond.
    /// </summary>
    /// <param name="x">Above 0.</param>
    public static double LogGamma(double x)
    {
        Guard.FinitePositive(x);
        var product = 1.0;
        while (x < 10) product *= x++;
        var (inverse, series) = (1 / x, 0.0);
        var square = inverse * inverse;
        for (var k = Stirling.Length - 1; k >= 0; k--) series = series * square + Stirling[k];
        return (x - 0.5) * Math.Log(x) - x + LogSqrtTwoPi + series * inverse - Math.Log(product);
    }

    /// <summary>Natural logarithm of the beta function B(a, b); both above 0.</summary>
    public static double LogBeta(double a, double b) => LogGamma(a) + LogGamma(b) - LogGamma(a + b);

    /// <summary>Natural logarithm of the number of ways to choose k of n; -infinity outside 0…n.</summary>
    public static double LogChoose(int n, int k) =>
        k < 0 || k > n ? double.NegativeInfinity : LogGamma(n + 1.0) - LogGamma(k + 1.0) - LogGamma(n - k + 1.0);

    /// <summary>
    /// Regularised incomplete beta function I_x(a, b): the chance that a Beta(a, b) variable is at most x. Continued fraction
    /// (Abramowitz and Stegun 26.5.8) by Lentz's method on the side where it converges fast. Absolute error below 1e-12.
    /// </summary>
    /// <param name="x">0…1.</param>
    /// <param name="a">Above 0, finite.</param>
    /// <param name="b">Above 0, finite.</param>
    public static double BetaCumulative(double x, double a, double b)
    {
        Guard.Chance(x);
        Guard.FinitePositive(a);
        Guard.FinitePositive(b);
        if (x is 0 or 1) return x;
        return x < (a + 1) / (a + b + 2) ? LowerBeta(x, a, b) : 1 - LowerBeta(1 - x, b, a);
    }

    /// <summary>
    /// Quantile of Beta(a, b): the x with I_x(a, b) = p, by bisection to the last bits of a double. Absolute error below 1e-12
    /// where the density is not flat.
    /// </summary>
    /// <param name="p">0…1.</param>
    /// <param name="a">Above 0, finite.</param>
    /// <param name="b">Above 0, finite.</param>
    public static double BetaQuantile(double p, double a, double b)
    {
        Guard.Chance(p);
        if (p is 0 or 1) return p;
        return Root(x => BetaCumulative(x, a, b) - p, 0, 1);
    }

    /// <summary>
    /// Regularised lower incomplete gamma function P(a, x): series below a+1, continued fraction above (Abramowitz and Stegun
    /// 6.5.29, 6.5.31). Absolute error below 1e-13.
    /// </summary>
    /// <param name="a">Above 0, finite.</param>
    /// <param name="x">At least 0.</param>
    public static double GammaCumulative(double a, double x)
    {
        Guard.FinitePositive(a);
        if (!(x >= 0)) throw new ArgumentOutOfRangeException(nameof(x), x, "Must be at least 0.");
        return x < a + 1 ? LowerGammaSeries(a, x) : 1 - UpperGammaFraction(a, x);
    }

    /// <summary>P(χ² with <paramref name="degrees"/> degrees of freedom ≥ <paramref name="x"/>), keeping small tails exact.</summary>
    /// <param name="x">At least 0.</param>
    /// <param name="degrees">Above 0.</param>
    public static double ChiSquaredTail(double x, double degrees)
    {
        Guard.FinitePositive(degrees);
        if (!(x >= 0)) throw new ArgumentOutOfRangeException(nameof(x), x, "Must be at least 0.");
        var (a, half) = (degrees / 2, x / 2);
        return half < a + 1 ? 1 - LowerGammaSeries(a, half) : UpperGammaFraction(a, half);
    }

    /// <summary>Standard normal distribution function, from the incomplete gamma function; relative error below 1e-12 in the tails.</summary>
    /// <param name="z">Any number.</param>
    public static double NormalCumulative(double z)
    {
        var tail = z == 0 ? 0.5 : ChiSquaredTail(z * z, 1) / 2;
        return z > 0 ? 1 - tail : tail;
    }

    /// <summary>Quantile of the standard normal distribution: bisection on <see cref="NormalCumulative"/>. Error below 1e-11.</summary>
    /// <param name="p">Above 0, below 1.</param>
    public static double NormalQuantile(double p)
    {
        Guard.OpenChance(p);
        return p > 0.5
            ? -Root(z => NormalCumulative(z) - (1 - p), -40, 0)
            : Root(z => NormalCumulative(z) - p, -40, 0);
    }

    /// <summary>ln(1+x) without the loss of digits near 0 (Kahan's correction); x above -1.</summary>
    internal static double Log1P(double x)
    {
        var u = 1 + x;
        return u == 1 ? x : Math.Log(u) * x / (u - 1);
    }

    /// <summary>
    /// A root of a function that is below 0 at <paramref name="low"/> and above 0 at <paramref name="high"/>, or the other way
    /// round: bisection until the two ends are neighbouring doubles or 200 steps.
    /// </summary>
    internal static double Root(Func<double, double> function, double low, double high)
    {
        var rising = function(low) <= 0;
        for (var step = 0; step < 200; step++)
        {
            var middle = low + (high - low) / 2;
            if (middle <= low || middle >= high) break;
            if (function(middle) <= 0 == rising) low = middle;
            else high = middle;
        }
        return low + (high - low) / 2;
    }

    private static double LowerBeta(double x, double a, double b)
    {
        const double Tiny = 1e-300;
        var front = Math.Exp(a * Math.Log(x) + b * Log1P(-x) - LogBeta(a, b)) / a;
        var c = 1.0;
        var d = 1 - (a + b) * x / (a + 1);
        d = 1 / (Math.Abs(d) < Tiny ? Tiny : d);
        var fraction = d;
        for (var m = 1; m < 10_000; m++)
        {
            var even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
            d = 1 + even * d;
            d = 1 / (Math.Abs(d) < Tiny ? Tiny : d);
            c = 1 + even / c;
            if (Math.Abs(c) < Tiny) c = Tiny;
            fraction *= d * c;
            var odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
            d = 1 + odd * d;
            d = 1 / (Math.Abs(d) < Tiny ? Tiny : d);
            c = 1 + odd / c;
            if (Math.Abs(c) < Tiny) c = Tiny;
            var change = d * c;
            fraction *= change;
            if (Math.Abs(change - 1) < 1e-16) break;
        }
        return front * fraction;
    }

    private static double LowerGammaSeries(double a, double x)
    {
        if (x == 0) return 0;
        var (term, sum, n) = (1 / a, 1 / a, a);
        while (term > sum * 1e-17)
        {
            n++;
            term *= x / n;
            sum += term;
        }
        return sum * Math.Exp(a * Math.Log(x) - x - LogGamma(a));
    }

    private static double UpperGammaFraction(double a, double x)
    {
        if (double.IsPositiveInfinity(x)) return 0;
        var b = x + 1 - a;
        var c = 1e300;
        var d = 1 / b;
        var fraction = d;
        for (var i = 1; i < 10_000; i++)
        {
            var an = -i * (i - a);
            b += 2;
            d = 1 / (an * d + b);
            c = b + an / c;
            var change = d * c;
            fraction *= change;
            if (Math.Abs(change - 1) < 1e-16) break;
        }
        return fraction * Math.Exp(a * Math.Log(x) - x - LogGamma(a));
    }
}
