using System.Globalization;
using Lepidary.App.Host;
using Lepidary.App.Odds;
using Lepidary.App.Weeks;
using Lepidary.App.Words;
using Lepidary.Book;
using Lepidary.Science.Costs;
using Lepidary.Science.Emergence;
using Lepidary.Science.Proportions;
using Lepidary.Taxa;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Suppliers;

/// <summary>One supplier's record.</summary>
/// <param name="Emerged">Emerged of those done, in words.</param>
/// <param name="Interval">95 % Wilson interval of that share, in words.</param>
/// <param name="From">Its lower end, 0…1, or null without a finished lot.</param>
/// <param name="To">Its upper end.</param>
/// <param name="LandedPupa">Landed cost of a pupa, in words.</param>
/// <param name="Butterfly">Landed cost of one that emerges, or null where none did or no price is known.</param>
/// <param name="ButterflyDay">Of a day that one is on the wing.</param>
internal sealed record SupplierRow(
    Guid Id, string Name, string Currency, int Boxes, int Counted, string DeadOnArrival, int Lots, double? Rate, string Emerged, string Interval, double? From, double? To, string LandedPupa,
    CostRange? Butterfly, CostRange? ButterflyDay);

/// <param name="Compared">Pairs of suppliers within the species that both sent, the clearest first.</param>
/// <param name="Alarms">Where failures have become more than usual.</param>
/// <param name="Way">What a longer way costs, in a sentence; empty where too few boxes say when they were posted.</param>
/// <param name="Watched">How long the watch over failures takes, in a sentence; empty where nothing is watched yet.</param>
internal sealed record SuppliersView(string Headline, string Lead, IReadOnlyList<SupplierRow> Rows, IReadOnlyList<ComparedRow> Compared, IReadOnlyList<WatchedRow> Alarms, string Way, string Watched);

/// <param name="Butterfly">Landed cost of one that emerges, or null where none did or no price is known.</param>
/// <param name="ButterflyDay">Of a day that one is on the wing.</param>
internal sealed record SupplierSpeciesRow(string Taxon, int Lots, int Done, int Emerged, double? Rate, string Words, CostRange? Butterfly, CostRange? ButterflyDay);

internal sealed record SupplierView(Guid Id, string Name, string? Email, SupplierRow Row, IReadOnlyList<(string What, string Value)> Terms, IReadOnlyList<SupplierSpeciesRow> Species, IReadOnlyList<(Guid Id, string Words)> Deliveries, IReadOnlyList<(Guid Id, string Words)> Lists);

/// <summary>Who was worth it?</summary>
internal sealed class ShowSuppliers(BookContext book, HouseDay day, OddsBook odds)
{
    /// <summary>Older boxes say little of a farm today.</summary>
    private const int DaysBack = 730;

    private sealed record LotSum(string Taxon, Guid SupplierId, DateOnly HungOn, int Received, int Emerged, int Failed, int Missing, decimal? UnitLanded)
    {
        public int Done => Emerged + Failed;

        public bool IsFinished => Received - Done - Missing <= 0;
    }

    public async Task<SuppliersView> Show(CancellationToken cancellation)
    {
        var house = await day.House(cancellation);
        var lots = await Lots(cancellation);
        var boxes = await Boxes(cancellation);
        var learned = await odds.Learned(day.HouseId, day.Today, cancellation);
        var rows = house.Terms.OrderBy(terms => terms.Supplier!.Name, StringComparer.Ordinal).Select(terms => Row(terms, lots, boxes, learned)).ToList();
        var names = house.Terms.ToDictionary(terms => terms.SupplierId, terms => terms.Supplier!.Name);
        var finished = lots.Where(lot => lot.IsFinished && lot.Done > 0 && names.ContainsKey(lot.SupplierId))
            .Select(lot => new CompareSuppliers.Lot(lot.SupplierId, names[lot.SupplierId], lot.Taxon, lot.HungOn, lot.Emerged, lot.Done)).ToList();
        var compared = CompareSuppliers.Pairs(finished);
        var alarms = CompareSuppliers.Alarms(finished, taxon => TaxonTable.Shipped.Find(taxon) is { } known ? learned.Rate(known, null) : EmergenceRate.Usual);
        var clearest = compared.FirstOrDefault(pair => pair.Apart);
        return new SuppliersView(
            compared.Count == 0 ? "Too few boxes to compare" : clearest is not null ? $"{clearest.One} gives more butterflies than {clearest.Other}" : "The counts can't tell your suppliers apart",
            compared.Count == 0 ? "Finished lots of one species from two suppliers are needed."
                : clearest is not null ? $"In the {Count(clearest.Species)} that both sent: odds to emerge {clearest.Odds} times as high, {clearest.Range} by the counts.{(clearest.Unlike.Length > 0 ? " Not of every species alike: see below." : "")}"
                : "Species by species, what looks like a difference may be chance.",
            rows,
            compared,
            alarms,
            learned.DayOnTheWay is { } way ? string.Create(CultureInfo.InvariantCulture, $"A day more on the way: odds to emerge {way.Factor:0.00} times as high, 8 of 10 such guesses between {way.From:0.00} and {way.To:0.00}.") : "",
            CompareSuppliers.Watched(finished));

        static string Count(int species) => species == 1 ? "one species" : $"{species} species";
    }

    public async Task<SupplierView?> One(Guid id, CancellationToken cancellation)
    {
        var house = await day.House(cancellation);
        var terms = house.Terms.FirstOrDefault(terms => terms.SupplierId == id);
        if (terms is null)
        {
            return null;
        }

        var lots = await Lots(cancellation);
        var boxes = await Boxes(cancellation);
        var learned = await odds.Learned(day.HouseId, day.Today, cancellation);
        var species = lots.Where(lot => lot.SupplierId == id && lot.IsFinished).GroupBy(lot => lot.Taxon).OrderBy(group => group.Key, StringComparer.Ordinal)
            .Select(group => Species(group.Key, [.. group], terms.Supplier!.Name, learned)).ToList();
        var lists = await book.Lists.AsNoTracking().Where(list => list.SupplierId == id).OrderByDescending(list => list.OnDay).Take(12).Select(list => new { list.Id, list.OnDay, Offers = list.Offers.Count }).ToListAsync(cancellation);
        return new SupplierView(
            id,
            terms.Supplier!.Name,
            terms.Supplier.Email,
            Row(terms, lots, boxes, learned),
            [.. TermWords(terms, house)],
            species,
            [.. boxes.Where(box => box.SupplierId == id).OrderByDescending(box => box.OnDay).Take(12).Select(box => (box.Id, $"{DayWords.Short(box.OnDay)}, {box.Lines.Sum(line => line.Alive)} alive of {box.Lines.Sum(line => line.Counted)}"))],
            [.. lists.Select(list => (list.Id, $"{DayWords.Short(list.OnDay)}, {list.Offers} offers"))]);
    }

    private static SupplierSpeciesRow Species(string taxon, List<LotSum> lots, string supplier, Learned learned)
    {
        var (emerged, done) = (lots.Sum(lot => lot.Emerged), lots.Sum(lot => lot.Done));
        var priced = lots.Where(lot => lot is { UnitLanded: > 0, Received: > 0 }).ToList();
        var (butterfly, butterflyDay) = ((CostRange?)null, (CostRange?)null);
        if (priced.Count > 0 && TaxonTable.Shipped.Find(taxon) is { } known && learned.Rate(known, supplier) is { Mean: > 0 } rate)
        {
            var landed = (double)(priced.Sum(lot => lot.UnitLanded!.Value * lot.Received) / priced.Sum(lot => lot.Received));
            (butterfly, butterflyDay) = (CostRange.Of(CostOdds.OfAButterfly(landed, rate)), CostRange.Of(CostOdds.OfAButterflyDay(landed, rate, learned.Survival(known).MeanDaysCounted, LifeSpread(known, learned))));
        }

        return new SupplierSpeciesRow(taxon, lots.Count, done, emerged, done == 0 ? null : (double)emerged / done, done == 0 ? "" : Interval(emerged, done), butterfly, butterflyDay);
    }

    private static double LifeSpread(Taxon taxon, Learned learned) => learned.OnTheWing(taxon)?.LogFactorDeviation ?? CostRange.TableLifeSpread;

    /// <summary>
    /// What a butterfly and a butterfly-day of a supplier's mixture of species cost: the share that emerges is as sure as its pupae say, divided by how unlike lots are; the lives of its species are
    /// weighed by their butterflies, and as unsure together as one by one.
    /// </summary>
    private static (CostRange? Butterfly, CostRange? Day) Costs(List<LotSum> priced, Learned learned)
    {
        var (spent, pupae, butterflies) = ((double)priced.Sum(lot => lot.UnitLanded!.Value * lot.Received), priced.Sum(lot => lot.Received), priced.Sum(lot => lot.Emerged));
        if (spent <= 0 || butterflies == 0)
        {
            return (null, null);
        }

        var unlike = 1 + ((((double)pupae / priced.Count) - 1) / (EmergenceRate.TableLotConcentration + 1));
        var rate = new EmergenceRate(Math.Min(1, (double)butterflies / pupae), pupae / unlike, double.PositiveInfinity);
        var lives = priced.Where(lot => lot.Emerged > 0).GroupBy(lot => lot.Taxon).Select(taxon => (Taxon: TaxonTable.Shipped.Find(taxon.Key), Butterflies: taxon.Sum(lot => lot.Emerged)))
            .Where(taxon => taxon.Taxon is not null).Select(taxon => (Days: learned.Survival(taxon.Taxon!).MeanDaysCounted, Spread: LifeSpread(taxon.Taxon!, learned), taxon.Butterflies)).ToList();
        var told = lives.Sum(life => life.Butterflies);
        return (
            CostRange.Of(CostOdds.OfAButterfly(spent / pupae, rate)),
            told == 0 ? null : CostRange.Of(CostOdds.OfAButterflyDay(spent / pupae, rate, lives.Sum(life => life.Butterflies * life.Days) / told, lives.Sum(life => life.Butterflies * life.Spread) / told)));
    }

    private static SupplierRow Row(SupplierTerms terms, List<LotSum> lots, List<Delivery> boxes, Learned learned)
    {
        var theirs = lots.Where(lot => lot.SupplierId == terms.SupplierId).ToList();
        var finished = theirs.Where(lot => lot.IsFinished && lot.Done > 0).ToList();
        var (emerged, done) = (finished.Sum(lot => lot.Emerged), finished.Sum(lot => lot.Done));
        var lines = boxes.Where(box => box.SupplierId == terms.SupplierId).SelectMany(box => box.Lines).ToList();
        var (counted, dead) = (lines.Sum(line => line.Counted), lines.Sum(line => line.Dead));
        var priced = finished.Where(lot => lot is { UnitLanded: not null, Received: > 0 }).ToList();
        var (spent, pupae) = (priced.Sum(lot => lot.UnitLanded!.Value * lot.Received), priced.Sum(lot => lot.Received));
        var (butterfly, butterflyDay) = Costs(priced, learned);
        var interval = done == 0 ? (ProportionInterval?)null : ProportionInterval.Wilson(emerged, done);
        return new SupplierRow(
            terms.SupplierId, terms.Supplier!.Name, terms.Currency, boxes.Count(box => box.SupplierId == terms.SupplierId), counted,
            counted == 0 ? "" : $"{dead} of {counted}",
            finished.Count,
            done == 0 ? null : (double)emerged / done,
            done == 0 ? "no finished lot" : $"{emerged} of {done}",
            done == 0 ? "" : Interval(emerged, done),
            interval?.From, interval?.To,
            pupae == 0 ? "" : MoneyWords.Plain(spent / pupae),
            butterfly, butterflyDay);
    }

    private static string Interval(int emerged, int done)
    {
        var wilson = ProportionInterval.Wilson(emerged, done);
        return $"{wilson.From * 100:0} to {wilson.To * 100:0}";
    }

    private static IEnumerable<(string What, string Value)> TermWords(SupplierTerms terms, Book.House house)
    {
        yield return ("Currency", terms.Currency == house.Currency ? terms.Currency : $"{terms.Currency}, 1 {terms.Currency} = {terms.Rate:0.####} {house.Currency}");
        yield return ("Prices", $"{(terms.PricesExcludeTax ? "without" : "with")} tax of {(terms.TaxRate ?? house.TaxRate) * 100:0.#} %");
        yield return ("Carriage", terms.Carriage.Count == 0 ? "as the list prints it" : string.Join("; ", terms.Carriage.Select(tier => $"from {From(tier)} {MoneyWords.Sum(tier.Cost, terms.Currency)}")));
        foreach (var charge in terms.Charges)
        {
            yield return (charge.Name, $"{MoneyWords.Sum(charge.Amount, terms.Currency)} {(charge.Per == CountedBy.Box ? "a box" : "an order")}");
        }

        if (terms.MinimumPupae is { } pupae)
        {
            yield return ("Smallest order", $"{pupae} pupae");
        }

        if (terms.MinimumGoods is { } goods)
        {
            yield return ("Smallest order", MoneyWords.Sum(goods, terms.Currency));
        }

        yield return ("Boxes come on", (terms.ArrivesOn ?? DayOfWeek.Tuesday) + (terms.AlsoArrivesOn is { } also ? $" and {also}" : ""));
        if (terms.OrderAheadDays is { } ahead)
        {
            yield return ("Last order", $"{ahead} days before the box");
        }

        if (terms.ClosedDays is { Count: > 0 } closed)
        {
            yield return ("No box on", string.Join(", ", closed.Order().Select(DayWords.Short)));
        }

        if (terms.BreaksFromThere)
        {
            yield return ("Price from a number on", "for the pupae from there on");
        }

        if (terms.Avoided)
        {
            yield return ("Ordered from", "no, as the house file says");
        }
        else if (terms.FavouredBy != 0)
        {
            yield return ("Favoured", terms.FavouredBy > 0 ? $"worth {terms.FavouredBy * 100:0.#} % more for the same" : $"only where {-terms.FavouredBy * 100:0.#} % cheaper");
        }

        string From(CarriageTier tier) => terms.CarriageBy switch { CarriageCount.Goods => MoneyWords.Sum(tier.From, terms.Currency) + " of goods", CarriageCount.Grams => $"{tier.From} g", _ => $"{tier.From} pupae" };
    }

    private async Task<List<Delivery>> Boxes(CancellationToken cancellation)
    {
        var since = day.Today.AddDays(-DaysBack);
        return await book.Standing<Delivery>().Include(delivery => delivery.Lines).Where(delivery => delivery.HouseId == day.HouseId && delivery.OnDay >= since).ToListAsync(cancellation);
    }

    private async Task<List<LotSum>> Lots(CancellationToken cancellation)
    {
        var since = day.Today.AddDays(-DaysBack);
        var lots = await book.Lots.AsNoTracking()
            .Where(lot => lot.HouseId == day.HouseId && lot.SupplierId != null && lot.HungOn >= since && !book.Facts.Any(other => other.VoidsId == lot.SourceId))
            .ToListAsync(cancellation);
        var counts = (await book.Standing<Entry>().Where(entry => entry.HouseId == day.HouseId && entry.OnDay >= since)
            .GroupBy(entry => entry.LotId)
            .Select(group => new
            {
                Lot = group.Key,
                Emerged = group.Sum(entry => entry.EmergedMale + entry.EmergedFemale + entry.EmergedUnsexed),
                Failed = group.Sum(entry => entry.Crippled + entry.Dead + entry.Parasitised),
                Missing = group.Sum(entry => entry.Missing),
            }).ToListAsync(cancellation)).ToDictionary(count => count.Lot);
        var changed = await book.ReceivedSince(day.HouseId, since, DateOnly.MaxValue, cancellation);
        return
        [
            .. lots.Select(lot =>
            {
                // What was moved away is another lot's to tell.
                var received = lot.Received + changed.GetValueOrDefault(lot.Id);
                return counts.TryGetValue(lot.Id, out var count)
                    ? new LotSum(lot.Taxon, lot.SupplierId!.Value, lot.HungOn, received, count.Emerged, count.Failed, count.Missing, lot.UnitLanded)
                    : new LotSum(lot.Taxon, lot.SupplierId!.Value, lot.HungOn, received, 0, 0, 0, lot.UnitLanded);
            }),
        ];
    }
}
