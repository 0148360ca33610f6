using Lepidary.App.Orders;
using Lepidary.Planning;
using Lepidary.Science.Listing;

namespace Lepidary.App.Weeks;

/// <summary>What the lists of the weeks to come are likely to offer, by taxon, for the planner.</summary>
/// <param name="Outlooks">Every taxon that any list had; a taxon that none ever had is not here.</param>
/// <param name="Arrivals">When the boxes of the next weeks' orders would come, earliest supplier.</param>
internal sealed record Ahead(IReadOnlyDictionary<string, ListingOutlook> Outlooks, IReadOnlyList<DateOnly> Arrivals)
{
    /// <summary>Nothing is known: plan as if this were the last order.</summary>
    public static Ahead Nothing { get; } = new(new Dictionary<string, ListingOutlook>(), []);
}

/// <summary>Foretells the lists of the weeks to come from those of the book.</summary>
internal sealed class WeeksAhead(ListingChances chances, UsualOrders usual)
{
    /// <summary>Weeks that are looked ahead: what is ordered later flies when this order's butterflies are gone.</summary>
    private const int Weeks = 4;

    /// <summary>Weeks from which the chance that a list comes at all is read.</summary>
    private const int WeeksBack = 26;

    /// <param name="house">With its terms.</param>
    /// <param name="suppliers">The lists so far.</param>
    /// <param name="onOffer">This week's lists.</param>
    /// <param name="day">Order day.</param>
    /// <param name="cancellation">Stops reading.</param>
    public async Task<Ahead> Of(Book.House house, IReadOnlyList<SupplierWeeks> suppliers, IReadOnlyList<ListOnOffer> onOffer, DateOnly day, CancellationToken cancellation)
    {
        if (suppliers.Count == 0)
        {
            return Ahead.Nothing;
        }

        var forecasts = chances.Of(suppliers, day.AddDays(7));
        var orders = await usual.Of(house, onOffer, suppliers, day, cancellation);
        var outlooks = suppliers.SelectMany(supplier => Of(supplier, forecasts[supplier.Name], orders[supplier.Name], day))
            .GroupBy(item => item.Taxon, StringComparer.Ordinal)
            .ToDictionary(taxon => taxon.Key, taxon => new ListingOutlook(taxon.Key, [.. taxon.Select(item => item.Outlook)]), StringComparer.Ordinal);
        return new(outlooks,
        [
            .. Enumerable.Range(1, Weeks).Select(week => suppliers.Min(supplier => PlanningDesk.Boxes(supplier.Terms, house, day.AddDays(7 * week))[0])),
        ]);
    }

    /// <summary>The chance that a list comes in a week: the weeks that had one, with one more each way (rule of succession).</summary>
    /// <param name="supplier">Its lists.</param>
    /// <param name="day">The day on which the weeks end.</param>
    public static double ListChance(SupplierWeeks supplier, DateOnly day)
    {
        var weeks = Math.Min(WeeksBack, ((day.DayNumber - supplier.Weeks[0].Day.DayNumber) / 7) + 1);
        var had = supplier.Weeks.Select(week => (day.DayNumber - week.Day.DayNumber) / 7).Where(ago => ago >= 0 && ago < weeks).Distinct().Count();
        return (had + 1.0) / (weeks + 2);
    }

    private static IEnumerable<(string Taxon, SupplierOutlook Outlook)> Of(SupplierWeeks supplier, ListingForecast forecast, UsualOrder order, DateOnly day)
    {
        var histories = supplier.Taxa.ToDictionary(taxon => taxon, taxon => supplier.Prices(taxon, day.AddDays(1)), StringComparer.Ordinal);
        var prices = new PriceForecast(histories.Values);
        var comes = ListChance(supplier, day);
        foreach (var (taxon, history) in histories.Where(history => history.Value.Count > 0))
        {
            var chance = forecast.Of(taxon);
            var (low, middle, high) = prices.Next(history);
            yield return (taxon, new SupplierOutlook
            {
                Supplier = supplier.Name,
                Listed = chance.Listed,
                Lists = chance.Lists,
                ListChance = comes,
                OnList = chance.OnList,
                OnNextList = chance.Next.Interval(0.8),
                Landed = new(order.Landed(low), order.Landed(middle), order.Landed(high)),
            });
        }
    }
}
