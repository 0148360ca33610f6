namespace Lepidary.Demo;

/// <summary>How this house ordered before it planned: five of each, eight to breed, ten where ten is cheaper.</summary>
internal static class Buyer
{
    private static readonly HashSet<string> NotKept = ["Papilio demoleus"];

    public static History.Order Order(WeekList list, int pupae, string who)
    {
        Chance chance = new(Truth.Seed, "buyer", list.Supplier.Key, list.Day);
        List<WeekOffer> open = [.. list.Offers.Where(o => o is { SoldOut: false, Ware: { Wish: > 0, Taxon: not null } } && !NotKept.Contains(o.Ware.Taxon!))];
        List<History.OrderLine> lines = [];
        int taken = 0;
        while (taken < pupae - 3 && open.Count > 0)
        {
            WeekOffer offer = Pick(open, chance);
            open.Remove(offer);
            int number = Math.Min(Number(offer, chance), offer.Available);
            lines.Add(new(offer.Ware.Taxon!, offer.Ware.Form, offer.Ware.Printed, number, offer.PriceFor(number)));
            taken += number;
        }

        lines.AddRange([.. Oddities.AlsoOrdered(list, lines)]);
        bool late = list.Supplier.Key == 'K' && list.Day == -7;
        return new(
            list.Supplier.Name, list.Day, who, list.Day + (late ? 11 : 4),
            late ? "held back a week: frost on the way" : null,
            [.. lines.OrderBy(line => line.Taxon, StringComparer.Ordinal)]);
    }

    private static WeekOffer Pick(List<WeekOffer> open, Chance chance)
    {
        int at = chance.Whole(1, open.Sum(o => o.Ware.Wish));
        foreach (WeekOffer offer in open)
        {
            at -= offer.Ware.Wish;
            if (at <= 0)
            {
                return offer;
            }
        }

        throw new InvalidOperationException("The wishes do not add up.");
    }

    private static int Number(WeekOffer offer, Chance chance)
    {
        Ware ware = offer.Ware;
        int number = ware.Price > 4.5m ? 5
            : Husbandry.IsBred(ware.Taxon!) ? 8
            : ware.Breaks is [{ From: 10 }, ..] ? 10
            : ware.Wish >= 5 ? chance.OneOf(8, 10, 12)
            : chance.OneOf(5, 5, 6, 8);
        number = Math.Max(number, ware.Minimum);
        return (number + ware.Pack - 1) / ware.Pack * ware.Pack;
    }
}
