using Lepidary.Science.Emergence;
using Lepidary.Taxa;

namespace Lepidary.App.Orders;

/// <summary>A lot as its counts tell it, for learning rates and timing.</summary>
/// <param name="Taxon">Accepted binomial.</param>
/// <param name="Supplier">Name, or null for an own brood.</param>
/// <param name="Emerged">Emerged whole so far.</param>
/// <param name="Failed">Crippled, dead, parasitised so far.</param>
/// <param name="Hanging">Still hanging.</param>
/// <param name="EmergedByDay">Emerged on each day since hanging, index = days.</param>
/// <param name="DaysHung">Days since hanging.</param>
internal sealed record LotRecord(string Taxon, string? Supplier, int Emerged, int Failed, int Hanging, IReadOnlyList<int> EmergedByDay, int DaysHung);

/// <summary>What the book has taught beyond the table: emergence rates by taxon and supplier, days to emergence by taxon.</summary>
internal sealed class Learned
{
    private readonly ILookup<string, LotRecord> lots;
    private readonly Dictionary<(string Taxon, string? Supplier), EmergenceRate> rates = [];
    private readonly Dictionary<string, EmergenceTiming> timings = [];

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
        if (!rates.TryGetValue((taxon.Name, theirs), out var rate))
        {
            // A lot still hanging is not a failure: only finished lots teach.
            rate = EmergenceRate.FromTable(taxon.Life.EmergenceRate.Value).Learn(lots[taxon.Name]
                .Where(lot => lot.Hanging == 0 && (theirs is null || lot.Supplier == theirs) && lot.Emerged + lot.Failed > 0)
                .Select(lot => (lot.Emerged, lot.Emerged + lot.Failed)));
            rates.Add((taxon.Name, theirs), rate);
        }

        return rate;
    }

    /// <summary>Days to emergence of the taxon.</summary>
    public EmergenceTiming Timing(Taxon taxon)
    {
        if (!timings.TryGetValue(taxon.Name, out var timing))
        {
            var window = taxon.Life.DaysToEmergence.Value;
            timing = EmergenceTiming.FromWindow(window.From, window.To);
            var records = lots[taxon.Name].Select(lot => new TimingRecord(lot.EmergedByDay, lot.Hanging, lot.DaysHung)).ToList();
            if (records.Count > 0)
            {
                timing = timing.Learn(records, Rate(taxon, null).Mean);
            }

            timings.Add(taxon.Name, timing);
        }

        return timing;
    }
}
