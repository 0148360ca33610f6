using System.Collections.Concurrent;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;
using Lepidary.Science.Pairing;
using Lepidary.Taxa;

namespace Lepidary.App.Odds;

/// <summary>A lot as its counts tell it, for learning rates and timing.</summary>
/// <param name="Taxon">Accepted binomial.</param>
/// <param name="Supplier">Name, or null for an own brood.</param>
/// <param name="Emerged">Emerged whole so far.</param>
/// <param name="Failed">Crippled, dead, parasitised so far.</param>
/// <param name="Hanging">Still hanging.</param>
/// <param name="EmergedByDay">Emerged on each day since hanging, index = days; days of development where the cage's warmth is known.</param>
/// <param name="DaysHung">Days since hanging, the same days.</param>
/// <param name="HungOn">The day on which it was hung.</param>
/// <param name="DaysInTransit">Days from posting to hanging, or null where nobody knows.</param>
internal sealed record LotRecord(string Taxon, string? Supplier, int Emerged, int Failed, int Hanging, IReadOnlyList<int> EmergedByDay, int DaysHung, DateOnly HungOn, int? DaysInTransit = null)
{
    /// <summary>Males and females by day since hanging, of those whose sex was told; null where none was.</summary>
    public SexedLot? Sexed { get; init; }
}

/// <summary>The sexes of a species: how many of each, when they come and how long they live.</summary>
/// <param name="Share">Share of females.</param>
/// <param name="Counted">Adults of finished lots whose sex was told.</param>
/// <param name="Protandry">By how many days males come first.</param>
/// <param name="Males">Days and life of males.</param>
/// <param name="Females">Of females.</param>
/// <param name="MaleLife">What their own found dead taught of males, or null.</param>
/// <param name="FemaleLife">Of females, or null.</param>
internal sealed record Sexes(SexShare Share, int Counted, Protandry Protandry, WingLife Males, WingLife Females, WingLifeFit? MaleLife, WingLifeFit? FemaleLife);

/// <summary>Of one sex, what was let go and found dead, day after day.</summary>
internal sealed record SexedWings(IReadOnlyList<WingDay> Males, IReadOnlyList<WingDay> Females);

/// <summary>
/// What the book has taught beyond the table: emergence rates by taxon and supplier, from all lots together; days to emergence by taxon. Each is
/// reckoned when first asked for and kept; requests ask at the same time, and at worst reckon the same thing twice.
/// </summary>
internal sealed class Learned
{
    /// <summary>The table's window counts for so many pupae watched from arrival. A choice of this project, no source.</summary>
    private const double TableWorth = 10;

    /// <summary>Own broods are a supplier of their own.</summary>
    private const string Own = "";

    /// <summary>Dead of one sex from which its own life is learnt. A choice of this project.</summary>
    private const int LeastFound = 10;

    private readonly CageWarmth warmth;
    private readonly IReadOnlyDictionary<string, SexedWings> sexedWings;
    private readonly ConcurrentDictionary<string, Sexes> sexes = [];
    private readonly int? dayOfYear;
    private readonly Lazy<Dictionary<string, double>> transits;
    private readonly ILookup<string, LotRecord> lots;
    private readonly Lazy<EmergenceModel?> model;
    private readonly ConcurrentDictionary<(string Taxon, string? Supplier), EmergenceRate> rates = [];
    private readonly ConcurrentDictionary<(string Taxon, bool Bred), EmergenceTiming> timings = [];
    private readonly ConcurrentDictionary<string, double> speciesRates = [];
    private readonly IReadOnlyDictionary<string, IReadOnlyList<WingDay>> wings;
    private readonly ConcurrentDictionary<string, (AdultSurvival Survival, WingLifeFit? Fit)> lives = [];
    private readonly Dictionary<string, (AdultSurvival Survival, WingLifeFit? Fit)>? nearLives;

    /// <param name="lots">What every lot shows.</param>
    /// <param name="before">What was learnt a day before: only a quicker start.</param>
    /// <param name="wings">By taxon what was let go, found dead and walked, day after day.</param>
    /// <param name="on">The day for which rates are asked, where the season has an effect; null for the mean of the book's days.</param>
    /// <param name="sexedWings">The same of each sex, where the counts say it.</param>
    /// <param name="warmth">How warm the cages were: the lots' days are days of development by it.</param>
    public Learned(
        IEnumerable<LotRecord> lots, Learned? before = null, IReadOnlyDictionary<string, IReadOnlyList<WingDay>>? wings = null, DateOnly? on = null,
        IReadOnlyDictionary<string, SexedWings>? sexedWings = null, CageWarmth? warmth = null)
    {
        this.warmth = warmth ?? CageWarmth.Unknown;
        this.sexedWings = sexedWings ?? new Dictionary<string, SexedWings>();
        dayOfYear = on?.DayOfYear;
        transits = new(() => Records.Where(lot => lot is { Supplier: not null, DaysInTransit: not null }).GroupBy(lot => lot.Supplier!, lot => lot.DaysInTransit!.Value)
            .ToDictionary(days => days.Key, days => (double)days.Order().ElementAt(days.Count() / 2)));
        this.wings = wings ?? new Dictionary<string, IReadOnlyList<WingDay>>();
        this.lots = lots.ToLookup(lot => lot.Taxon, StringComparer.Ordinal);
        nearLives = before?.lives.ToDictionary();
        var near = before is { model.IsValueCreated: true } ? before.model.Value : null;
        model = new(() => EmergenceModel.Learn(this.lots.SelectMany(taxon => Told(taxon.Key, taxon)), near));
    }

    /// <summary>The table alone.</summary>
    public static Learned Nothing => new([]);

    /// <summary>What every lot shows.</summary>
    public IEnumerable<LotRecord> Records => lots.SelectMany(taxon => taxon);

    /// <summary>Lots of the taxon that are finished, from one supplier or from all.</summary>
    public int FinishedLots(string taxon, string? supplier = null) =>
        lots[taxon].Count(lot => lot.Hanging == 0 && (supplier is null || lot.Supplier == supplier));

    /// <summary>The emergence rate of the taxon from a supplier; null for one not known.</summary>
    public EmergenceRate Rate(Taxon taxon, string? supplier) => rates.GetOrAdd((taxon.Name, supplier), _ =>
        model.Value is { } learnt ? learnt.Rate(taxon.Name, supplier, taxon.Life.EmergenceRate.Value, dayOfYear, UsualTransit(supplier)) : EmergenceRate.FromTable(taxon.Life.EmergenceRate.Value));

    /// <summary>What a day more on the way costs; null where too few boxes say when they were posted.</summary>
    public (double Factor, double From, double To)? DayOnTheWay => model.Value?.DayOnTheWay;

    /// <summary>The middle of a supplier's known times on the way, or null.</summary>
    private double? UsualTransit(string? supplier) => supplier is not null && transits.Value.TryGetValue(supplier, out var days) ? days : null;

    /// <remarks>A lot still hanging is not a failure: its own curve says how much of it is decided.</remarks>
    private IEnumerable<EmergedLot> Told(string name, IEnumerable<LotRecord> records)
    {
        if (TaxonTable.Shipped.Find(name) is not { } taxon)
        {
            yield break;
        }

        var table = taxon.Life.EmergenceRate.Value;
        var thought = SpeciesRate(taxon);
        foreach (var lot in records)
        {
            var received = lot.Emerged + lot.Failed + lot.Hanging;
            if (received == 0)
            {
                continue;
            }

            var outByNow = lot.Hanging == 0 ? 1 : 1 - Timing(taxon, lot.Supplier is null).NotBefore(lot.DaysHung);
            var (emerged, done) = EmergenceModel.Told(received, lot.Emerged, lot.Failed, outByNow, thought);
            yield return new EmergedLot(name, lot.Supplier ?? Own, table, emerged, done, lot.HungOn.DayOfYear, lot.DaysInTransit);
        }
    }

    /// <summary>The table and the species' own finished lots: what the curves of emergence are learnt with, so that rate and curve do not wait for each other.</summary>
    private double SpeciesRate(Taxon taxon) => speciesRates.GetOrAdd(taxon.Name, _ => EmergenceRate.FromTable(taxon.Life.EmergenceRate.Value).LearntMean(
        lots[taxon.Name].Where(lot => lot.Hanging == 0).Select(lot => (lot.Emerged, lot.Emerged + lot.Failed))));

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
        return records.Count > 0 ? timing.Learn(records, SpeciesRate(taxon), TableWorth) : timing.KnownFrom(TableWorth);
    });

    /// <summary>The same for a lot that hangs, as seen from a day: where its cage was read, warm days brought it forward and cool ones held it back.</summary>
    public EmergenceTiming TimingOf(Taxon taxon, bool bred, Guid? cage, DateOnly hungOn, DateOnly today) => warmth.Timing(Timing(taxon, bred), cage, hungOn, today);

    /// <summary>What the book has taught of the sexes of a taxon; the table's share and the usual protandry before.</summary>
    public Sexes Sexes(Taxon taxon) => sexes.GetOrAdd(taxon.Name, _ =>
    {
        // Males come first: an unfinished lot would show too many of them.
        var told = lots[taxon.Name].Where(lot => lot is { Hanging: 0, Sexed: not null }).Select(lot => lot.Sexed!).ToList();
        var (males, females) = (told.Sum(lot => lot.Males.Sum()), told.Sum(lot => lot.Females.Sum()));
        var share = SexShare.FromTable(taxon.Life.FemaleShare.Value).Learn(males, females);
        var ahead = Protandry.Usual.Learn(told);
        var (maleDays, femaleDays) = ahead.Apart(Timing(taxon), share.Females);
        var life = Survival(taxon);
        var (maleLife, femaleLife) = sexedWings.TryGetValue(taxon.Name, out var days) ? (OfSex(days.Males, life), OfSex(days.Females, life)) : (null, null);
        return new(share, males + females, ahead, new(maleDays, maleLife?.Survival ?? life), new(femaleDays, femaleLife?.Survival ?? life), maleLife, femaleLife);
    });

    /// <remarks>A few found say nothing of one sex that both together do not say better.</remarks>
    private static WingLifeFit? OfSex(IReadOnlyList<WingDay> days, AdultSurvival both) => days.Sum(day => day.FoundDead) >= LeastFound ? WingLifeFit.Fit(days, both) : null;

    /// <summary>How long adults of the taxon live in this house: the table's curve, its risk moved by what was found dead and counted on walks.</summary>
    public AdultSurvival Survival(Taxon taxon) => Life(taxon).Survival;

    /// <summary>What the counts of adults have taught, or null for the table alone.</summary>
    public WingLifeFit? OnTheWing(Taxon taxon) => Life(taxon).Fit;

    private (AdultSurvival Survival, WingLifeFit? Fit) Life(Taxon taxon) => lives.GetOrAdd(taxon.Name, _ =>
    {
        var table = AdultSurvival.FromLife(taxon.Life.AdultLifeDays.Value, taxon.Life.AdultLifeDaysMax.Value);
        var fit = wings.TryGetValue(taxon.Name, out var days) ? WingLifeFit.Fit(days, table, near: nearLives?.GetValueOrDefault(taxon.Name).Fit) : null;
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
