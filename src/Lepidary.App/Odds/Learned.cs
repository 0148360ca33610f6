using System.Collections.Concurrent;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;
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
/// <param name="HungOn">The day on which it was hung.</param>
internal sealed record LotRecord(string Taxon, string? Supplier, int Emerged, int Failed, int Hanging, IReadOnlyList<int> EmergedByDay, int DaysHung, DateOnly HungOn);

/// <summary>
/// What the book has taught beyond the table: emergence rates by taxon and supplier, from all lots together; days to emergence by taxon. Each is
/// reckoned when first asked for and kept; requests ask at the same time, and at worst reckon the same thing twice.
/// </summary>
internal sealed class Learned
{
    /// <summary>Own broods are a supplier of their own.</summary>
    private const string Own = "";

    private readonly ILookup<string, LotRecord> lots;
    private readonly Lazy<EmergenceModel?> model;
    private readonly ConcurrentDictionary<(string Taxon, string? Supplier), EmergenceRate> rates = [];
    private readonly ConcurrentDictionary<(string Taxon, bool Bred), EmergenceTiming> timings = [];
    private readonly IReadOnlyDictionary<string, IReadOnlyList<WingDay>> wings;
    private readonly ConcurrentDictionary<string, (AdultSurvival Survival, WingLifeFit? Fit)> lives = [];

    /// <param name="lots">What every lot shows.</param>
    /// <param name="before">What was learnt a day before: only a quicker start.</param>
    /// <param name="wings">By taxon what was let go, found dead and walked, day after day.</param>
    public Learned(IEnumerable<LotRecord> lots, Learned? before = null, IReadOnlyDictionary<string, IReadOnlyList<WingDay>>? wings = null)
    {
        this.wings = wings ?? new Dictionary<string, IReadOnlyList<WingDay>>();
        this.lots = lots.ToLookup(lot => lot.Taxon, StringComparer.Ordinal);
        var near = before is { model.IsValueCreated: true } ? before.model.Value : null;
        model = new(() => EmergenceModel.Learn(this.lots.SelectMany(taxon => Told(taxon.Key, taxon)), near));
    }

    /// <summary>The table alone.</summary>
    public static Learned Nothing => new([]);

    /// <summary>Lots of the taxon that are finished, from one supplier or from all.</summary>
    public int FinishedLots(string taxon, string? supplier = null) =>
        lots[taxon].Count(lot => lot.Hanging == 0 && (supplier is null || lot.Supplier == supplier));

    /// <summary>The emergence rate of the taxon from a supplier; null for one not known.</summary>
    public EmergenceRate Rate(Taxon taxon, string? supplier) => rates.GetOrAdd((taxon.Name, supplier), _ =>
        model.Value is { } learnt ? learnt.Rate(taxon.Name, supplier, taxon.Life.EmergenceRate.Value) : EmergenceRate.FromTable(taxon.Life.EmergenceRate.Value));

    /// <remarks>A lot still hanging is not a failure: its own curve says how much of it is decided.</remarks>
    private IEnumerable<EmergedLot> Told(string name, IEnumerable<LotRecord> records)
    {
        if (TaxonTable.Shipped.Find(name) is not { } taxon)
        {
            yield break;
        }

        var table = taxon.Life.EmergenceRate.Value;
        var thought = SpeciesRate(taxon).Mean;
        foreach (var lot in records)
        {
            var received = lot.Emerged + lot.Failed + lot.Hanging;
            if (received == 0)
            {
                continue;
            }

            var outByNow = lot.Hanging == 0 ? 1 : 1 - Timing(taxon, lot.Supplier is null).NotBefore(lot.DaysHung);
            var (emerged, done) = EmergenceModel.Told(received, lot.Emerged, lot.Failed, outByNow, thought);
            yield return new EmergedLot(name, lot.Supplier ?? Own, table, emerged, done, lot.HungOn.DayOfYear);
        }
    }

    /// <summary>The table and the species' own finished lots: what the curves of emergence are learnt with, so that rate and curve do not wait for each other.</summary>
    private EmergenceRate SpeciesRate(Taxon taxon) => EmergenceRate.FromTable(taxon.Life.EmergenceRate.Value).Learn(
        lots[taxon.Name].Where(lot => lot.Hanging == 0 && lot.Emerged + lot.Failed > 0).Select(lot => (lot.Emerged, lot.Emerged + lot.Failed)));

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
        return records.Count > 0 ? timing.Learn(records, SpeciesRate(taxon).Mean) : timing;
    });

    /// <summary>How long adults of the taxon live in this house: the table's curve, its risk moved by what was found dead and counted on walks.</summary>
    public AdultSurvival Survival(Taxon taxon) => Life(taxon).Survival;

    /// <summary>What the counts of adults have taught, or null for the table alone.</summary>
    public WingLifeFit? OnTheWing(Taxon taxon) => Life(taxon).Fit;

    private (AdultSurvival Survival, WingLifeFit? Fit) Life(Taxon taxon) => lives.GetOrAdd(taxon.Name, _ =>
    {
        var table = AdultSurvival.FromLife(taxon.Life.AdultLifeDays.Value, taxon.Life.AdultLifeDaysMax.Value);
        var fit = wings.TryGetValue(taxon.Name, out var days) ? WingLifeFit.Fit(days, table) : null;
        return (fit?.Survival ?? table, fit);
    });

    /// <summary>What a rate rests on, for the page: <c>from the table</c>, <c>from the table and your other lots</c>, <c>from 14 lots of yours</c>.</summary>
    public string RateSource(Taxon taxon, string? supplier)
    {
        var theirs = supplier is null ? 0 : FinishedLots(taxon.Name, supplier);
        var all = FinishedLots(taxon.Name);
        return theirs > 0 ? $"from {Count(theirs)} of theirs" : all > 0 ? $"from {Count(all)} of yours" : lots.Count > 0 ? "from the table and your other lots" : "from the table";

        static string Count(int lots) => lots == 1 ? "1 lot" : $"{lots} lots";
    }
}
