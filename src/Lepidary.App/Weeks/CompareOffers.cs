using Lepidary.App.Host;
using Lepidary.App.Lists;
using Lepidary.App.Odds;
using Lepidary.App.Words;
using Lepidary.Science.Costs;
using Lepidary.Taxa;

namespace Lepidary.App.Weeks;

/// <summary>A cost in house money: 8 of 10 such lie between the ends.</summary>
internal sealed record CostRange(double Low, double Middle, double High)
{
    /// <summary>How far off a mean life of the table may be, as a standard deviation of its logarithm. A choice of this project, no source.</summary>
    public const double TableLifeSpread = 0.25;

    public static CostRange Of(UncertainCost cost) => new(cost.Low, cost.Middle, cost.High);

    public string Words => $"{MoneyWords.Plain((decimal)Middle)} ({MoneyWords.Plain((decimal)Low)} to {MoneyWords.Plain((decimal)High)})";
}

/// <summary>One offer of this week, by what it costs in the end.</summary>
/// <param name="Landed">A pupa, house money.</param>
/// <param name="SharedOver">The order that carriage is shared over, in words.</param>
internal sealed record ComparedOffer(
    Guid SupplierId, string Supplier, Guid ListId, string? Form, string Price, decimal Landed, string LandedWords, string SharedOver, string RateSource, CostRange Butterfly, CostRange ButterflyDay, IReadOnlyList<string> Notes);

/// <summary>One taxon at all suppliers who have it this week.</summary>
internal sealed record ComparedView(string Taxon, string Currency, string Sentence, IReadOnlyList<ComparedOffer> Offers);

/// <summary>What does this species cost, from whom?</summary>
internal sealed class CompareOffers(HouseDay day, CurrentLists current, SeenLists seen, UsualOrders usual, OddsBook odds)
{
    /// <summary>The offers of a taxon on this week's lists, by supplier; null for what is no name, or without a house.</summary>
    public async Task<ComparedView?> Show(string name, CancellationToken cancellation)
    {
        if (day.HouseName is null || (TaxonTable.Shipped.Find(name) ?? new NameFinder(TaxonTable.Shipped).Find(name, NameContext.None).Taxon) is not { } taxon)
        {
            return null;
        }

        var house = await day.House(cancellation);
        var suppliers = await seen.Of(house, day.Today, cancellation);
        var orders = await usual.Of(house, await current.OnOffer(house, day.Today, cancellation), suppliers, day.Today, cancellation);
        var learned = await odds.Learned(house.Id, day.Today, cancellation);
        var life = learned.Survival(taxon).MeanDaysCounted;
        var lifeSpread = learned.OnTheWing(taxon)?.LogFactorDeviation ?? CostRange.TableLifeSpread;
        var offers = new List<ComparedOffer>();
        foreach (var list in await current.On(day.Today, cancellation))
        {
            if (!orders.TryGetValue(list.Supplier.Name, out var order) || (list.List.Currency is { } currency && currency != order.Supplier.Currency))
            {
                continue;
            }

            var weeks = suppliers.FirstOrDefault(supplier => supplier.Terms.SupplierId == list.Supplier.Id);
            // Of several lines alike the cheapest.
            foreach (var offer in list.List.Offers.Where(offer => offer.Taxon == taxon.Name && offer is { SoldOut: false, Price: > 0 }).GroupBy(offer => offer.Form).Select(same => same.MinBy(offer => offer.Price)!))
            {
                var rate = learned.Rate(taxon, list.Supplier.Name);
                var landed = order.Landed(offer.Price!.Value);
                offers.Add(new(
                    list.Supplier.Id, list.Supplier.Name, list.ListId, offer.Form, MoneyWords.Sum(offer.Price.Value, order.Supplier.Currency), landed, MoneyWords.Plain(landed), order.Words, learned.RateSource(taxon, list.Supplier.Name),
                    CostRange.Of(CostOdds.OfAButterfly((double)landed, rate)),
                    CostRange.Of(CostOdds.OfAButterflyDay((double)landed, rate, life, lifeSpread)),
                    ShowWeeks.Notes(weeks, list, offer, day.Today)));
            }
        }

        return new(taxon.Name, house.Currency, Sentence(offers, house.Currency), offers);
    }

    // The life on the wing is the same from whomever: only the butterfly tells suppliers apart.
    private static string Sentence(List<ComparedOffer> offers, string currency)
    {
        if (offers.Count == 0)
        {
            return "Nobody has it this week.";
        }

        var cheapest = offers.MinBy(offer => offer.Butterfly.Middle)!;
        var middle = MoneyWords.Sum((decimal)cheapest.Butterfly.Middle, currency);
        var others = offers.Where(offer => offer.SupplierId != cheapest.SupplierId).ToList();
        return others.Count == 0 ? $"Only {cheapest.Supplier} has it this week: a butterfly for {middle}, all told."
            : others.All(offer => offer.Butterfly.Low > cheapest.Butterfly.High) ? $"Cheapest from {cheapest.Supplier}: a butterfly for {middle}, all told."
            : "By what a butterfly costs in the end, the suppliers can't be told apart: their ranges overlap.";
    }
}
