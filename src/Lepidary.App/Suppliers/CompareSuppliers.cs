using Lepidary.App.Words;
using Lepidary.Science.Charts;
using Lepidary.Science.Emergence;
using Lepidary.Science.Tables;

namespace Lepidary.App.Suppliers;

/// <summary>Two suppliers, species by species, in words.</summary>
/// <param name="Apart">The counts tell them apart.</param>
/// <param name="Unlike">Where one figure for all species does not fit: how seldom that is chance; else empty.</param>
/// <param name="Kinds">Then species by species, those that fit worst first; else empty.</param>
internal sealed record ComparedRow(string One, string Other, int Species, string Said, string Odds, string Range, bool Apart, string Unlike, IReadOnlyList<ComparedKind> Kinds);

/// <summary>One species from two suppliers.</summary>
/// <param name="One">Emerged of done, the first supplier's.</param>
/// <param name="Other">The second's.</param>
internal sealed record ComparedKind(string Taxon, string One, string Other);

/// <summary>A supplier and species whose lots give more failures than usual.</summary>
/// <param name="Last">The lots in which the chart rose, in words.</param>
/// <param name="Means">How seldom such a run comes by chance.</param>
internal sealed record WatchedRow(Guid SupplierId, string Supplier, string Taxon, string Last, string Means);

/// <summary>Who is better, like with like; who is getting worse.</summary>
internal static class CompareSuppliers
{
    /// <summary>Boxes between false alarms of one supplier and species: with twenty of them watched, one false alarm in five boxes each.</summary>
    private const double FalseAlarmEvery = 100;

    /// <summary>Below this chance one odds ratio for all species is not believed: 1 of 20.</summary>
    private const double Unlike = 0.05;

    /// <summary>Species that are listed then.</summary>
    private const int MostKinds = 6;

    /// <summary>A chart of fewer lots says nothing yet.</summary>
    private const int LeastLots = 3;

    /// <summary>A finished lot.</summary>
    internal sealed record Lot(Guid SupplierId, string Supplier, string Taxon, DateOnly HungOn, int Emerged, int Done);

    public static IReadOnlyList<ComparedRow> Pairs(IEnumerable<Lot> lots)
    {
        var all = lots.ToList();
        return
        [
            .. FairComparison.Of(all.Select(lot => new GroupedLot(lot.Supplier, lot.Taxon, lot.Emerged, lot.Done))).Pairs.Select(pair =>
            {
                var isUnlike = pair.Unlike < Unlike;
                return new ComparedRow(
                    pair.One,
                    pair.Other,
                    pair.Strata,
                    pair.Apart ? isUnlike ? $"{pair.One} gives more, not of every species alike" : $"{pair.One} gives more" : "can't be told apart",
                    double.IsInfinity(pair.OddsRatio) ? "" : $"{pair.OddsRatio:0.0}",
                    $"{pair.From:0.0} to {(double.IsInfinity(pair.To) || pair.To > 99 ? "99 or more" : $"{pair.To:0.0}")}",
                    pair.Apart,
                    isUnlike ? pair.Unlike < 0.001 ? "by chance less than once in 1,000 such tables" : $"by chance once in {1 / pair.Unlike:0} such tables" : "",
                    isUnlike ? Kinds(all, pair) : []);
            }),
        ];
    }

    /// <summary>Species of both, those first that lie farthest from the one figure, in standard errors of their own log odds ratio.</summary>
    private static List<ComparedKind> Kinds(List<Lot> lots, PairComparison pair)
    {
        (int Emerged, int Done) Sum(string supplier, string taxon) => lots.Where(lot => lot.Supplier == supplier && lot.Taxon == taxon).Aggregate((0, 0), (sum, lot) => (sum.Item1 + lot.Emerged, sum.Item2 + lot.Done));
        return
        [
            .. lots.Where(lot => lot.Supplier == pair.One).Select(lot => lot.Taxon).Distinct(StringComparer.Ordinal).Select(taxon => (Taxon: taxon, One: Sum(pair.One, taxon), Other: Sum(pair.Other, taxon)))
                .Where(kind => kind.One.Done > 0 && kind.Other.Done > 0)
                .OrderByDescending(kind => Off(kind.One, kind.Other, pair.OddsRatio)).ThenBy(kind => kind.Taxon, StringComparer.Ordinal).Take(MostKinds)
                .Select(kind => new ComparedKind(kind.Taxon, $"{kind.One.Emerged} of {kind.One.Done}", $"{kind.Other.Emerged} of {kind.Other.Done}")),
        ];
    }

    // How far a species' own log odds ratio lies from the common one, halves added so that a full or an empty box has one too.
    private static double Off((int Emerged, int Done) one, (int Emerged, int Done) other, double common)
    {
        var (a, b, c, d) = (one.Emerged + 0.5, one.Done - one.Emerged + 0.5, other.Emerged + 0.5, other.Done - other.Emerged + 0.5);
        return Math.Abs(Math.Log(a * d / (b * c)) - Math.Log(common)) / Math.Sqrt((1 / a) + (1 / b) + (1 / c) + (1 / d));
    }

    /// <param name="lots">Finished lots.</param>
    /// <param name="usual">The rate that is usual for a species, whoever sends it.</param>
    public static IReadOnlyList<WatchedRow> Alarms(IEnumerable<Lot> lots, Func<string, EmergenceRate> usual)
    {
        var rows = new List<WatchedRow>();
        foreach (var kind in lots.GroupBy(lot => (lot.SupplierId, lot.Taxon)).OrderBy(kind => kind.First().Supplier, StringComparer.Ordinal).ThenBy(kind => kind.Key.Taxon, StringComparer.Ordinal))
        {
            var all = kind.OrderBy(lot => lot.HungOn).ToList();
            var rate = usual(kind.Key.Taxon);
            if (all.Count < LeastLots || rate.Mean is <= 0 or >= 1)
            {
                continue;
            }

            if (LotWatch.AlarmOf([.. all.Select(lot => (lot.Done - lot.Emerged, lot.Done))], rate, FalseAlarmEvery) is not { } watch)
            {
                continue;
            }

            var last = all.TakeLast(LeastLots).ToList();
            var (emerged, done) = (last.Sum(lot => lot.Emerged), last.Sum(lot => lot.Done));
            rows.Add(new WatchedRow(
                kind.Key.SupplierId, all[0].Supplier, kind.Key.Taxon,
                $"{emerged} of {done} emerged in the last {last.Count} lots; {ChanceWords.Picture(rate.Mean)} is usual",
                $"By chance about once in {watch.FalseAlarmEvery:0} lots; twice the usual odds of failure show after about {Math.Max(1, watch.FoundAfter):0}."));
        }

        return rows;
    }

    /// <summary>How long the watch takes, at the mean share of all and lots of the mean size; empty where nothing is watched yet.</summary>
    public static string Watched(IReadOnlyList<Lot> lots)
    {
        var watched = lots.GroupBy(lot => (lot.SupplierId, lot.Taxon)).Where(kind => kind.Count() >= LeastLots).ToList();
        var (emerged, done) = (watched.Sum(kind => kind.Sum(lot => lot.Emerged)), watched.Sum(kind => kind.Sum(lot => lot.Done)));
        if (emerged == 0 || emerged == done)
        {
            return "";
        }

        var size = Math.Max(1, (int)Math.Round((double)done / watched.Sum(kind => kind.Count())));
        var watch = LotWatch.Of([(0, size)], EmergenceRate.FromTable((double)emerged / done), FalseAlarmEvery);
        return $"{(watched.Count == 1 ? "One species of a supplier is" : $"{watched.Count} species of suppliers are")} watched: for lots of {size} of which {ChanceWords.Picture((double)emerged / done)} emerge, a false alarm comes about once in {watch.FalseAlarmEvery:0} lots of each, and twice the usual odds of failure are found after about {Math.Max(1, watch.FoundAfter):0}.";
    }
}
