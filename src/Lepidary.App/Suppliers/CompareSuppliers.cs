using Lepidary.App.Words;
using Lepidary.Science.Charts;
using Lepidary.Science.Emergence;
using Lepidary.Science.Tables;

namespace Lepidary.App.Suppliers;

/// <summary>Two suppliers, species by species, in words.</summary>
/// <param name="Apart">The counts tell them apart.</param>
internal sealed record ComparedRow(string One, string Other, int Species, string Said, string Odds, string Range, bool Apart);

/// <summary>A supplier and species whose lots give more failures than usual.</summary>
/// <param name="Last">The lots in which the chart rose, in words.</param>
/// <param name="Means">How seldom such a run comes by chance.</param>
internal sealed record WatchedRow(Guid SupplierId, string Supplier, string Taxon, string Last, string Means);

/// <summary>Who is better, like with like; who is getting worse.</summary>
internal static class CompareSuppliers
{
    /// <summary>Boxes between false alarms of one supplier and species: with twenty of them watched, one false alarm in five boxes each.</summary>
    private const double FalseAlarmEvery = 100;

    /// <summary>A chart of fewer lots says nothing yet.</summary>
    private const int LeastLots = 3;

    /// <summary>A finished lot.</summary>
    internal sealed record Lot(Guid SupplierId, string Supplier, string Taxon, DateOnly HungOn, int Emerged, int Done);

    public static IReadOnlyList<ComparedRow> Pairs(IEnumerable<Lot> lots) =>
    [
        .. FairComparison.Of(lots.Select(lot => new GroupedLot(lot.Supplier, lot.Taxon, lot.Emerged, lot.Done))).Pairs.Select(pair => new ComparedRow(
            pair.One,
            pair.Other,
            pair.Strata,
            pair.Apart ? $"{pair.One} gives more" : "can't be told apart",
            double.IsInfinity(pair.OddsRatio) ? "" : $"{pair.OddsRatio:0.0}",
            $"{pair.From:0.0} to {(double.IsInfinity(pair.To) || pair.To > 99 ? "99 or more" : $"{pair.To:0.0}")}",
            pair.Apart)),
    ];

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
}
