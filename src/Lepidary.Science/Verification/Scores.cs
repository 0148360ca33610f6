using Lepidary.Science.Counts;
using Lepidary.Science.Ground;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Verification;

/// <summary>
/// How good a forecast was once the day is past. All scores are losses: smaller is better, and only the honest forecast has the
/// smallest in expectation (Gneiting and Raftery 2007, J. Am. Stat. Assoc. 102:359-378; citation from memory).
/// </summary>
public static class Scores
{
    /// <summary>
    /// Continuous ranked probability score of a count, in animals: Σₖ (F(k) - 1{k ≥ y})². For a forecast without spread it is the absolute
    /// error.
    /// </summary>
    /// <param name="forecast">What was said.</param>
    /// <param name="happened">What came, at least 0.</param>
    public static double Crps(CountDistribution forecast, int happened)
    {
        ArgumentNullException.ThrowIfNull(forecast);
        ArgumentOutOfRangeException.ThrowIfNegative(happened);
        var (score, cumulated) = (0.0, 0.0);
        for (var k = 0; k < Math.Max(forecast.Max, happened); k++)
        {
            cumulated = k >= forecast.Max ? 1 : cumulated + forecast[k];
            var off = cumulated - (k >= happened ? 1 : 0);
            score += off * off;
        }
        return score;
    }

    /// <summary>CRPS of a set of equally likely values: mean |xᵢ-y| - Σᵢⱼ|xᵢ-xⱼ|/(2m²), or with 2m(m-1) for the fair one.</summary>
    /// <param name="ensemble">At least one value; at least two when <paramref name="fair"/>.</param>
    /// <param name="happened">What came.</param>
    /// <param name="fair">True to judge the values as a sample of the forecast and not as the forecast itself.</param>
    public static double Crps(IReadOnlyList<double> ensemble, double happened, bool fair = false)
    {
        ArgumentNullException.ThrowIfNull(ensemble);
        ArgumentOutOfRangeException.ThrowIfLessThan(ensemble.Count, fair ? 2 : 1, nameof(ensemble));
        var m = ensemble.Count;
        var sorted = ensemble.Order().ToArray();
        var (apart, off) = (0.0, 0.0);
        for (var i = 0; i < m; i++)
        {
            apart += 2 * (2 * i + 1 - m) * sorted[i];
            off += Math.Abs(sorted[i] - Guard.Finite(happened));
        }
        return off / m - apart / (fair ? 2.0 * m * (m - 1) : 2.0 * m * m);
    }

    /// <summary>CRPS of a normal forecast, closed form.</summary>
    /// <param name="mean">Its mean.</param>
    /// <param name="deviation">Its standard deviation, above 0.</param>
    /// <param name="happened">What came.</param>
    public static double CrpsNormal(double mean, double deviation, double happened)
    {
        var z = (Guard.Finite(happened) - Guard.Finite(mean)) / Guard.FinitePositive(deviation);
        var density = Math.Exp(-z * z / 2) / Math.Sqrt(2 * Math.PI);
        return deviation * (z * (2 * SpecialFunctions.NormalCumulative(z) - 1) + 2 * density - 1 / Math.Sqrt(Math.PI));
    }

    /// <summary>Logarithmic score: -ln of the chance given to what came; infinite when that was called impossible.</summary>
    public static double Log(CountDistribution forecast, int happened)
    {
        ArgumentNullException.ThrowIfNull(forecast);
        return -Math.Log(forecast[happened]);
    }

    /// <summary>
    /// Interval score, in animals: the width, and 2/α times the miss for each animal outside, α = 1-level.
    /// </summary>
    /// <param name="from">Lower end.</param>
    /// <param name="to">Upper end, not below.</param>
    /// <param name="level">Above 0, below 1.</param>
    /// <param name="happened">What came.</param>
    public static double Interval(double from, double to, double level, double happened)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(Guard.Finite(to), Guard.Finite(from));
        var alpha = 1 - Guard.OpenChance(level);
        return to - from + 2 / alpha * (Math.Max(0, from - happened) + Math.Max(0, happened - to));
    }

    /// <summary>
    /// Probability integral transform of a count: F(y-1) + v·(F(y)-F(y-1)). With v drawn evenly from 0…1 it is evenly spread when the forecasts are
    /// honest (Czado, Gneiting and Held 2009, Biometrics 65:1254-1261; citation from memory).
    /// </summary>
    /// <param name="forecast">What was said.</param>
    /// <param name="happened">What came, at least 0.</param>
    /// <param name="v">0…1; ½ for the middle.</param>
    public static double Pit(CountDistribution forecast, int happened, double v = 0.5)
    {
        ArgumentNullException.ThrowIfNull(forecast);
        ArgumentOutOfRangeException.ThrowIfNegative(happened);
        return (happened == 0 ? 0 : forecast.AtMost(happened - 1)) + Guard.Chance(v) * forecast[happened];
    }

    /// <summary>Skill against a reference: 1 - score/reference; 0 is no better, below 0 worse.</summary>
    /// <param name="score">Mean score of the forecast.</param>
    /// <param name="reference">Mean score of the rival, above 0.</param>
    public static double Skill(double score, double reference) => 1 - Guard.Finite(score) / Guard.FinitePositive(reference);
}
