using Lepidary.Science.Ground;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Tables;

/// <summary>
/// Two groups compared within strata, like with like only: the Cochran-Mantel-Haenszel test and the common odds ratio. Two suppliers by species: a supplier
/// who sells more of the difficult species is not blamed for it.
/// </summary>
/// <param name="Observed">Σa.</param>
/// <param name="Expected">Σ E(a) when rows do not matter.</param>
/// <param name="Variance">Σ var(a).</param>
/// <param name="OddsRatio">Mantel and Haenszel's common odds ratio; NaN or infinite where no stratum decides it.</param>
/// <param name="LogOddsError">Standard error of its logarithm (Robins, Breslow and Greenland 1986).</param>
public sealed record MantelHaenszel(double Observed, double Expected, double Variance, double OddsRatio, double LogOddsError)
{
    /// <summary>The comparison.</summary>
    /// <param name="strata">One table a stratum; strata with an empty margin carry no information and change nothing.</param>
    public static MantelHaenszel Of(IEnumerable<TwoByTwo> strata)
    {
        var (observed, expected, variance) = (0.0, 0.0, 0.0);
        double r = 0, s = 0, pr = 0, mixed = 0, qs = 0;
        foreach (var table in TwoByTwo.Check(strata))
        {
            if (table.Total == 0) continue;
            double n = table.Total;
            observed += table.A;
            expected += table.Expected;
            variance += table.Variance;
            var (ad, bc) = (table.A * (double)table.D / n, table.B * (double)table.C / n);
            var (p, q) = ((table.A + table.D) / n, (table.B + table.C) / n);
            r += ad;
            s += bc;
            pr += p * ad;
            mixed += p * bc + q * ad;
            qs += q * bc;
        }
        return new(observed, expected, variance, r / s, Math.Sqrt(pr / (2 * r * r) + mixed / (2 * r * s) + qs / (2 * s * s)));
    }

    /// <summary>The statistic, 1 degree of freedom; NaN when no stratum carries information.</summary>
    /// <param name="corrected">True for the continuity correction of ½, used only when the difference is at least ½.</param>
    public double ChiSquared(bool corrected = true)
    {
        var off = Math.Abs(Observed - Expected);
        if (corrected && off >= 0.5) off -= 0.5;
        return off * off / Variance;
    }

    /// <summary>Chance of a statistic as large or larger when rows do not matter.</summary>
    public double P(bool corrected = true) => Variance > 0 ? SpecialFunctions.ChiSquaredTail(ChiSquared(corrected), 1) : 1;

    /// <summary>Interval of the common odds ratio.</summary>
    /// <param name="level">Above 0, below 1.</param>
    public (double From, double To) Interval(double level = 0.95)
    {
        var z = SpecialFunctions.NormalQuantile((1 + Guard.OpenChance(level)) / 2);
        return (OddsRatio * Math.Exp(-z * LogOddsError), OddsRatio * Math.Exp(z * LogOddsError));
    }
}

/// <summary>Is one odds ratio enough for all strata? (Breslow and Day 1980, without Tarone's correction.)</summary>
/// <param name="ChiSquared">The statistic.</param>
/// <param name="Degrees">Strata that carry information, minus 1.</param>
/// <param name="P">Chance of a statistic as large or larger when the odds ratio is the same everywhere.</param>
public sealed record BreslowDay(double ChiSquared, int Degrees, double P)
{
    /// <summary>The test, at Mantel and Haenszel's common odds ratio.</summary>
    /// <param name="strata">At least two with information; the common odds ratio must be finite and above 0.</param>
    /// <exception cref="ArgumentException">Fewer than two strata carry information, or there is no common odds ratio.</exception>
    public static BreslowDay Of(IEnumerable<TwoByTwo> strata)
    {
        var tables = TwoByTwo.Check(strata).Where(table => table.Variance > 0).ToList();
        var ratio = MantelHaenszel.Of(tables).OddsRatio;
        if (tables.Count < 2 || !(ratio > 0) || !double.IsFinite(ratio))
            throw new ArgumentException("Fewer than two strata carry information, or they give no common odds ratio.", nameof(strata));
        var chiSquared = 0.0;
        foreach (var table in tables)
        {
            double row = table.Row, column = table.Column, n = table.Total;
            // The a for which a(n-row-column+a) = ratio·(row-a)(column-a), between its bounds: the excess rises with a.
            var (low, high) = (Math.Max(0, row + column - n), Math.Min(row, column));
            var a = SpecialFunctions.Root(x => x * (n - row - column + x) - ratio * (row - x) * (column - x), low, high);
            var variance = 1 / (1 / a + 1 / (row - a) + 1 / (column - a) + 1 / (n - row - column + a));
            chiSquared += (table.A - a) * (table.A - a) / variance;
        }
        return new(chiSquared, tables.Count - 1, SpecialFunctions.ChiSquaredTail(chiSquared, tables.Count - 1));
    }
}
