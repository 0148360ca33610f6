using Lepidary.Science.Emergence;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Tables;

/// <summary>A finished lot: who sent it, of what, and what came of it.</summary>
/// <param name="Group">The supplier.</param>
/// <param name="Stratum">The species.</param>
/// <param name="Emerged">0…Done.</param>
/// <param name="Done">At least 1.</param>
public sealed record GroupedLot(string Group, string Stratum, int Emerged, int Done);

/// <summary>Two suppliers compared within the species that both sent.</summary>
/// <param name="One">The one of whom the odds are higher, as far as the counts go.</param>
/// <param name="Other">The other.</param>
/// <param name="Strata">Species of both that tell something.</param>
/// <param name="OneDone">Pupae of <paramref name="One"/> in them.</param>
/// <param name="OtherDone">Pupae of <paramref name="Other"/> in them.</param>
/// <param name="OddsRatio">Odds to emerge, One's as a multiple of Other's; infinite where every one of theirs emerged.</param>
/// <param name="From">Lower end of its 95 % interval.</param>
/// <param name="To">Upper end.</param>
/// <param name="P">Chance of a difference as large or larger between two suppliers who are alike.</param>
/// <param name="Unlike">Breslow and Day's chance that one odds ratio fits all species as badly as this; null where fewer than two species tell.</param>
/// <param name="Exact">True where counts were so small that the exact odds were asked too.</param>
/// <param name="Apart">True where the counts tell them apart, all pairs of suppliers being compared at once (Holm, 1 of 20).</param>
public sealed record PairComparison(
    string One, string Other, int Strata, int OneDone, int OtherDone, double OddsRatio, double From, double To, double P, double? Unlike, bool Exact, bool Apart);

/// <summary>
/// All pairs of suppliers, like with like: Cochran, Mantel and Haenszel's test within species, its χ² divided by how much more lots vary than a fair coin would
/// make them; Fisher's exact odds beside it where counts are small, the more doubtful of the two counts; Holm's order over all pairs.
/// </summary>
/// <remarks>
/// Dispersion: Pearson's χ² of lots of one supplier and species around their common share, by its degrees of freedom, at least 1 (McCullagh and Nelder 1989, section 4.5; from
/// memory). With too few lots to tell, that of the table's lots (<see cref="EmergenceRate.TableLotConcentration"/>).
/// Holm 1979, Scand. J. Stat. 6, 65-70 (from memory).
/// </remarks>
public sealed record FairComparison
{
    private const double Chance = 0.05;
    private const int LeastDegrees = 8;

    /// <summary>Below this expected count in a table of all species together the exact odds are asked too (Cochran's rule of five).</summary>
    private const double Small = 5;

    /// <summary>Longer sums make no difference that could be seen, only work.</summary>
    private const int LongestExact = 4000;

    /// <summary>How much more lots vary than a binomial: 1 or more.</summary>
    public required double Dispersion { get; init; }

    /// <summary>The pairs that share a species, the clearest first.</summary>
    public required IReadOnlyList<PairComparison> Pairs { get; init; }

    /// <summary>Compares.</summary>
    /// <exception cref="ArgumentException">A lot's counts are none.</exception>
    public static FairComparison Of(IEnumerable<GroupedLot> lots)
    {
        ArgumentNullException.ThrowIfNull(lots);
        IReadOnlyList<GroupedLot> all = [.. lots];
        foreach (var lot in all)
            if (lot.Emerged < 0 || lot.Emerged > lot.Done || lot.Done == 0) throw new ArgumentException($"{lot.Emerged} of {lot.Done} is no lot.", nameof(lots));
        var dispersion = DispersionOf(all);
        var cells = all.GroupBy(lot => (lot.Group, lot.Stratum)).ToDictionary(cell => cell.Key, cell => (Emerged: cell.Sum(lot => lot.Emerged), Done: cell.Sum(lot => lot.Done)));
        var groups = all.Select(lot => lot.Group).Distinct().Order(StringComparer.Ordinal).ToList();
        var strata = all.Select(lot => lot.Stratum).Distinct().Order(StringComparer.Ordinal).ToList();
        var pairs = new List<PairComparison>();
        for (var i = 0; i < groups.Count; i++)
            for (var j = i + 1; j < groups.Count; j++)
                if (Pair(groups[i], groups[j], strata, cells, dispersion) is { } pair) pairs.Add(pair);
        pairs = [.. pairs.OrderBy(pair => pair.P).ThenBy(pair => pair.One, StringComparer.Ordinal).ThenBy(pair => pair.Other, StringComparer.Ordinal)];
        var apart = true;
        for (var k = 0; k < pairs.Count; k++)
        {
            apart = apart && pairs[k].P <= Chance / (pairs.Count - k);
            pairs[k] = pairs[k] with { Apart = apart };
        }
        return new() { Dispersion = dispersion, Pairs = pairs };
    }

    private static PairComparison? Pair(
        string one, string other, List<string> strata, Dictionary<(string, string), (int Emerged, int Done)> cells, double dispersion)
    {
        var tables = new List<TwoByTwo>();
        foreach (var stratum in strata)
            if (cells.TryGetValue((one, stratum), out var a) && cells.TryGetValue((other, stratum), out var b))
                tables.Add(new(a.Emerged, a.Done - a.Emerged, b.Emerged, b.Done - b.Emerged));
        tables.RemoveAll(table => table.Variance == 0);
        if (tables.Count == 0) return null;
        var test = MantelHaenszel.Of(tables);
        if (test.Observed < test.Expected)
        {
            (one, other) = (other, one);
            tables = [.. tables.Select(table => new TwoByTwo(table.C, table.D, table.A, table.B))];
            test = MantelHaenszel.Of(tables);
        }
        var p = SpecialFunctions.ChiSquaredTail(test.ChiSquared() / dispersion, 1);
        var z = 1.959963984540054 * Math.Sqrt(dispersion) * test.LogOddsError;
        var (from, to) = (test.OddsRatio * Math.Exp(-z), test.OddsRatio * Math.Exp(z));
        var rows = tables.Sum(table => table.Expected);
        var least = Math.Min(
            Math.Min(rows, tables.Sum(table => table.Row - table.Expected)),
            Math.Min(tables.Sum(table => table.Column - table.Expected), tables.Sum(table => table.Total - table.Row - table.Column + table.Expected)));
        var exact = (least < Small || !double.IsFinite(z)) && tables.Sum(table => table.Total) <= LongestExact;
        if (exact)
        {
            var odds = ExactOdds.Of(tables);
            p = Math.Max(p, odds.PTwoSided);
            var (low, high) = odds.Interval();
            (from, to) = double.IsFinite(z) ? (Math.Min(from, low), Math.Max(to, high)) : (low, high);
        }
        double? unlike = tables.Count > 1 && double.IsFinite(test.OddsRatio) && test.OddsRatio > 0
            ? SpecialFunctions.ChiSquaredTail(BreslowDay.Of(tables).ChiSquared / dispersion, tables.Count - 1)
            : null;
        return new(one, other, tables.Count, tables.Sum(table => table.Row), tables.Sum(table => table.Total - table.Row), test.OddsRatio, from, to, p, unlike, exact, false);
    }

    private static double DispersionOf(IReadOnlyList<GroupedLot> lots)
    {
        var (sum, degrees) = (0.0, 0);
        foreach (var cell in lots.GroupBy(lot => (lot.Group, lot.Stratum)))
        {
            var (count, emerged, done) = (cell.Count(), cell.Sum(lot => lot.Emerged), cell.Sum(lot => lot.Done));
            if (count < 2 || emerged == 0 || emerged == done) continue;
            var share = (double)emerged / done;
            sum += cell.Sum(lot => (lot.Emerged - lot.Done * share) * (lot.Emerged - lot.Done * share) / (lot.Done * share * (1 - share)));
            degrees += count - 1;
        }
        if (degrees >= LeastDegrees) return Math.Max(1, sum / degrees);
        var size = lots.Count == 0 ? 1 : lots.Average(lot => lot.Done);
        return Math.Max(1, 1 + (size - 1) / (EmergenceRate.TableLotConcentration + 1));
    }
}
