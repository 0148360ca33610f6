using System.Collections.Concurrent;
using Lepidary.Science.Emergence;
using Lepidary.Taxa;

namespace Lepidary.App.Odds;

/// <summary>A lot as its counts tell it, for learning rates and timing.</summary>
/// <param name="Taxon">Accepted binomial.</param>
/// <param name="Supplier">Name, or null for an own brood.</param>
/// <param name="Emerged">Emerged whole so far.</param>
/// <param name="Failed">Crippled, dead, parasitised so far.</param>
/// <param name="Hanging">Still hanging.</param>
/// <param name="EmergedByDay">Emerged on each day since hanging, index = days.</param>
/// <param name="DaysHung">Days since hanging.</param>
internal sealed record LotRecord(string Taxon, string? Supplier, int Emerged, int Failed, int Hanging, IReadOnlyList<int> EmergedByDay, int DaysHung);

/// <summary>
/// What the book has taught beyond the table: emergence rates by taxon and supplier, days to emergence by taxon. Each is
/// reckoned when first asked for and kept; requests ask at the same time, and at worst reckon the same thing twice.
/// </summary>
internal sealed class Learned
{
    private readonly ILookup<string, LotRecord> lots;
    private readonly ConcurrentDictionary<(string Taxon, string? Supplier), EmergenceRate> rates = [];
    private readonly ConcurrentDictionary<(string Taxon, bool Bred), EmergenceTiming> timings = [];

    public Learned(IEnumerable<LotRecord> lots) => this.lots = lots.ToLookup(lot => lot.Taxon, StringComparer.Ordinal);

    /// <summary>The table alone.</summary>
    public static Learned Nothing => new([]);

    /// <summary>Lots of the taxon that are finished, from one supplier or from all.</summary>
    public int FinishedLots(string taxon, string? supplier = null) =>
        lots[taxon].Count(lot => lot.Hanging == 0 && (supplier is null || lot.Supplier == supplier));

    /// <summary>The emergence rate of the taxon from a supplier; from all where that supplier has sent none.</summary>
    public EmergenceRate Rate(Taxon taxon, string? supplier)
    {
        var theirs = supplier is not null && FinishedLots(taxon.Name, supplier) > 0 ? supplier : null;
        // A lot still hanging is not a failure: only finished lots teach.
        return rates.GetOrAdd((taxon.Name, theirs), _ => EmergenceRate.FromTable(taxon.Life.EmergenceRate.Value).Learn(lots[taxon.Name]
            .Where(lot => lot.Hanging == 0 && (theirs is null || lot.Supplier == theirs) && lot.Emerged + lot.Failed > 0)
            .Select(lot => (lot.Emerged, lot.Emerged + lot.Failed))));
    }

    /// <summary>Days from hanging to emergence.</summary>
    /// <param name="taxon">Its window in the table is the prior.</param>
    /// <param name="bred">True for own pupae, which hang for the whole of their time; posted ones have spent days of it on the way.</param>
    public EmergenceTiming Timing(Taxon taxon, bool bred = false) => timings.GetOrAdd((taxon.Name, bred), _ =>
    {
        var window = taxon.Life.DaysToEmergence.Value;
        if (bred && taxon.Life.PupalDays is { } pupal)
        {
            // A fifth to either side: pupal time moves with temperature (a choice of this project, no source).
            window = new WholeRange((int)Math.Floor(pupal.Value * 0.8), (int)Math.Ceiling(pupal.Value * 1.2));
        }

        var timing = EmergenceTiming.FromWindow(window.From, window.To);
        var records = lots[taxon.Name].Where(lot => lot.Supplier is null == bred)
            .Select(lot => new TimingRecord(lot.EmergedByDay, lot.Hanging, lot.DaysHung)).ToList();
        return records.Count > 0 ? timing.Learn(records, Rate(taxon, null).Mean) : timing;
    });

    /// <summary>What a rate rests on, for the page: <c>from the table</c>, <c>from 14 lots of yours</c>.</summary>
    public string RateSource(Taxon taxon, string? supplier)
    {
        var theirs = supplier is null ? 0 : FinishedLots(taxon.Name, supplier);
        var all = FinishedLots(taxon.Name);
        return theirs > 0 ? $"from {Count(theirs)} of theirs" : all > 0 ? $"from {Count(all)} of yours" : "from the table";

        static string Count(int lots) => lots == 1 ? "1 lot" : $"{lots} lots";
    }
}
