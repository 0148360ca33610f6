using System.Globalization;

namespace Lepidary.Demo;

/// <summary>What a supplier sells now and then: a line of market.csv.</summary>
internal sealed record Ware(
    int Index, char Key, string Section, string Printed, string? Taxon, bool Mix, string? Form, string Common, decimal Price,
    (int From, decimal Price)[] Breaks, int Pack, int Minimum, int Stock, double Listed, string Now, int Wish, string Note);

/// <summary>A ware on one week's list.</summary>
/// <param name="Available">Pupae on hand; 0 when sold out.</param>
internal sealed record WeekOffer(Ware Ware, decimal Price, (int From, decimal Price)[] Breaks, int Available)
{
    public bool SoldOut => Available == 0;

    /// <summary>Price for one when <paramref name="pupae"/> are taken.</summary>
    public decimal PriceFor(int pupae) => Breaks.LastOrDefault(b => pupae >= b.From) is { From: > 0 } b ? b.Price : Price;
}

/// <summary>One supplier's list of one Friday.</summary>
/// <param name="Day">0 is the Friday of the unread lists.</param>
internal sealed record WeekList(Supplier Supplier, int Day, IReadOnlyList<WeekOffer> Offers)
{
    public DateOnly Date => History.OrderDate.AddDays(Day);
}

/// <summary>What is on offer, week by week.</summary>
internal static class Market
{
    private static readonly Ware[] Wares = [.. Table.Read("market.csv").Select((row, index) => new Ware(
        index, row["supplier"][0] == 'C' ? 'B' : row["supplier"][0],
        row["supplier"] == "C" ? "Cocoons" : row["section"], row["printed"],
        row["taxon"] is "mix" or "" ? null : row["taxon"], row["taxon"] == "mix", row["form"] is { Length: > 0 } form ? form : null,
        row["common"], row.Money("price"), Breaks(row["breaks"]), row.Whole("pack"),
        row["minimum"] is { Length: > 0 } ? row.Whole("minimum") : 1, row.Whole("stock"), row.Whole("listed") / 100.0, row["now"],
        row.Whole("wish"), row["note"]))];

    public static WeekList Week(Supplier supplier, int day)
    {
        Chance chance = new(Truth.Seed, "market", supplier.Key, day);
        List<WeekOffer> offers = [];
        foreach (Ware ware in Wares.Where(w => w.Key == supplier.Key))
        {
            bool listed = chance.Happens(ware.Listed);
            bool gone = chance.Happens(0.06) && !ware.Mix;
            int stock = Rounded((int)(ware.Stock * (0.4 + (0.8 * chance.Unit()))), ware.Pack);
            if (day == 0 && ware.Now.Length > 0)
            {
                listed = true;
                gone = ware.Now == "gone";
            }

            if (listed)
            {
                decimal price = PriceOn(ware, day);
                var breaks = ware.Breaks.Select(b => (b.From, Price: b.Price - (ware.Price - price))).ToArray();
                offers.Add(new WeekOffer(ware, price, breaks, gone ? 0 : Math.Max(stock, Math.Max(ware.Pack, ware.Minimum))));
            }
        }

        return new WeekList(supplier, day, offers);
    }

    /// <summary>Most wares changed their price once in the ten weeks, by five or ten hundredths for each two of price.</summary>
    private static decimal PriceOn(Ware ware, int day)
    {
        Chance chance = new(Truth.Seed, "price", ware.Index);
        int changed = -7 * chance.Whole(0, 12);
        decimal step = (chance.Happens(0.75) ? -0.05m : 0.05m) * (1 + decimal.Floor(ware.Price / 2));
        return day < changed && !ware.Mix ? ware.Price + step : ware.Price;
    }

    private static int Rounded(int stock, int pack)
    {
        int unit = pack > 1 ? pack : stock >= 20 ? 5 : 1;
        return stock / unit * unit;
    }

    private static (int From, decimal Price)[] Breaks(string text) =>
    [
        .. text.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(part => part.Split('@')).Select(pair => (
            int.Parse(pair[0], CultureInfo.InvariantCulture), decimal.Parse(pair[1], CultureInfo.InvariantCulture))),
    ];
}
