namespace Lepidary.Demo;

/// <summary>What is deliberately odd in the history; demo/README.md lists it.</summary>
internal static class Oddities
{
    public const string CameInstead = "Battus polydamas";
    public const string WrongRemark = "keeled pupae, all of them Battus polydamas; photos taken, supplier told";
    public const string CameRemark = "sent in place of Papilio thoas; hung apart";
    public const string ShortRemark = "four fewer in the box than on the note, counted twice by two keepers";

    private const int WrongSpeciesDay = -28;
    private const int ShortDay = -42;
    private const string Wanted = "Papilio thoas";

    /// <summary>Makes sure that the order of which one line goes wrong has that line.</summary>
    public static IEnumerable<History.OrderLine> AlsoOrdered(WeekList list, IReadOnlyList<History.OrderLine> lines)
    {
        if (list is { Supplier.Key: 'Q', Day: WrongSpeciesDay } && lines.All(line => line.Taxon != Wanted))
        {
            WeekOffer offer = list.Offers.First(o => o.Ware.Taxon == Wanted && !o.SoldOut);
            yield return new(Wanted, offer.Ware.Form, offer.Ware.Printed, 8, offer.PriceFor(8));
        }
    }

    public static bool WrongSpecies(Supplier supplier, int orderDay, History.OrderLine line) =>
        supplier.Key == 'Q' && orderDay == WrongSpeciesDay && line.Taxon == Wanted;

    /// <summary>Pupae that the note claims and the box does not hold.</summary>
    public static int Short(Supplier supplier, History.Order order, History.OrderLine line) =>
        supplier.Key == 'B' && order.Day == ShortDay && line == order.Lines.MaxBy(l => l.Pupae) ? 4 : 0;

    /// <summary>One round counted an emergence twice: the lot gives two more than it held.</summary>
    public static void CountTwiceTooMany(History history)
    {
        History.Lot lot = history.Lots.First(l => l is { Supplier: "Brackenfold Lepidoptera", Day: >= -31, Received: 10, Cage: "Cage A" });
        int last = history.Entries.FindLastIndex(e => e.Lot == lot.Id);
        History.Entry entry = history.Entries[last];
        history.Entries.Insert(last + 1, new(
            lot.Id, entry.Day, "16:05", "Joss", 0, 0, 2, 0, 0, 0, 0, "two on the net under this row, perhaps counted this morning"));
    }
}
