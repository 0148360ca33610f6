using Lepidary.Science.Counts;
using Lepidary.Science.Ground;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Tables;

/// <summary>
/// The exact comparison of two groups with all margins fixed: Fisher's test for one table, its stratified form for many. The sum of the first cells is
/// hypergeometric (convolved over strata), tilted by the odds ratio: P(s) ∝ d(s)·ω^s.
/// </summary>
public sealed class ExactOdds
{
    /// <summary>Tables whose chance is equal to the observed one's up to this factor count as equally unlikely: R's rule.</summary>
    private const double Tie = 1 + 1e-7;

    private readonly double[] chances;
    private readonly int least;

    private ExactOdds(double[] chances, int least, int observed) => (this.chances, this.least, Observed) = (chances, least, observed);

    /// <summary>Sum of the first cells.</summary>
    public int Observed { get; }

    /// <summary>Chance that the sum is as observed or less when rows do not matter.</summary>
    public double PLess => Below(chances, Observed - least);

    /// <summary>Chance that the sum is as observed or more when rows do not matter.</summary>
    public double PGreater => Above(chances, Observed - least);

    /// <summary>Two-sided: the chance of all sums that are as unlikely as the observed one or more so.</summary>
    public double PTwoSided
    {
        get
        {
            var limit = chances[Observed - least] * Tie;
            return Math.Min(1, chances.Where(chance => chance <= limit).Sum());
        }
    }

    /// <summary>Conditional maximum-likelihood odds ratio: the ω whose expectation is the observed sum. 0 or infinite at the ends.</summary>
    public double OddsRatio
    {
        get
        {
            if (chances.Length == 1) return double.NaN;
            if (Observed == least) return 0;
            if (Observed == least + chances.Length - 1) return double.PositiveInfinity;
            return Math.Exp(SpecialFunctions.Root(logOdds => Mean(Tilted(logOdds)) - (Observed - least), -50, 50));
        }
    }

    /// <summary>One table: Fisher's exact test.</summary>
    public static ExactOdds Of(TwoByTwo table) => Of([table]);

    /// <summary>Many strata; those with an empty margin change nothing.</summary>
    public static ExactOdds Of(IEnumerable<TwoByTwo> strata)
    {
        var (chances, least, observed) = (new double[] { 1 }, 0, 0);
        foreach (var table in TwoByTwo.Check(strata))
        {
            var low = Math.Max(0, table.Row + table.Column - table.Total);
            var masses = Hypergeometric.Masses(table.Total, table.Column, table.Row);
            chances = Convolved(chances, masses.AsSpan(low));
            least += low;
            observed += table.A;
        }
        return new(chances, least, observed);
    }

    /// <summary>Chance of each possible sum when rows do not matter, from the least possible on.</summary>
    public IReadOnlyList<double> Chances => chances;

    /// <summary>Exact interval of the odds ratio: each tail (1-level)/2.</summary>
    /// <param name="level">Above 0, below 1.</param>
    public (double From, double To) Interval(double level = 0.95)
    {
        var tail = (1 - Guard.OpenChance(level)) / 2;
        var at = Observed - least;
        var from = at == 0 ? 0 : Math.Exp(SpecialFunctions.Root(logOdds => Above(Tilted(logOdds), at) - tail, -50, 50));
        var to = at == chances.Length - 1
            ? double.PositiveInfinity
            : Math.Exp(SpecialFunctions.Root(logOdds => Below(Tilted(logOdds), at) - tail, -50, 50));
        return (from, to);
    }

    private double[] Tilted(double logOdds)
    {
        var logs = new double[chances.Length];
        for (var i = 0; i < logs.Length; i++) logs[i] = Math.Log(chances[i]) + i * logOdds;
        var top = logs.Max();
        var tilted = Array.ConvertAll(logs, log => Math.Exp(log - top));
        var sum = tilted.Sum();
        return Array.ConvertAll(tilted, mass => mass / sum);
    }

    private static double[] Convolved(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        // Not trimmed: a tilt can make the lightest end the heaviest.
        var sum = new double[a.Length + b.Length - 1];
        Convolution.Of(a, b, sum);
        return sum;
    }

    private static double Mean(double[] masses) => masses.Select((mass, i) => i * mass).Sum();

    private static double Below(double[] masses, int at) => Math.Min(1, masses.Take(at + 1).Sum());

    private static double Above(double[] masses, int at) => Math.Min(1, masses.Skip(at).Sum());
}
