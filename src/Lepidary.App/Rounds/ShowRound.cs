using Lepidary.App.Host;
using Lepidary.App.Odds;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Rounds;

/// <summary>One lot as the round comes to it.</summary>
public sealed record RoundLot
{
    public required Guid Id { get; init; }

    public required string Code { get; init; }

    public required string Taxon { get; init; }

    public string? Form { get; init; }

    /// <summary>Null for the house's own.</summary>
    public string? Supplier { get; init; }

    /// <summary>Name of the cage, or null where not known.</summary>
    public string? Cage { get; init; }

    public string? Row { get; init; }

    /// <summary>Place of its first pupa in the row, 1 the first; or null.</summary>
    public int? Position { get; init; }

    /// <summary>Pupae that had coloured up when the box came and are not accounted for yet.</summary>
    public int ColouredUp { get; init; }

    public required DateOnly HungOn { get; init; }

    /// <summary>Whole days since hanging.</summary>
    public int DaysHung { get; init; }

    public int Received { get; init; }

    /// <summary>Pupae there at the end of yesterday; those hung today count as there.</summary>
    public int HungYesterday { get; init; }

    public int HangingNow { get; init; }

    public int ToRelease { get; init; }

    public int Excess { get; init; }

    public Expected Expected => Ahead[0];

    /// <summary>What is expected today, and on the days after it where they were asked for.</summary>
    public required IReadOnlyList<Expected> Ahead { get; init; }

    /// <summary>True where somebody counted it today.</summary>
    public bool Visited { get; init; }

    /// <summary>What was counted today, in words; null where it was not visited.</summary>
    public string? CountedToday { get; init; }

    public bool Overdue { get; init; }

    /// <summary><c>3 days overdue</c>, <c>may rest</c>, <c>2 coloured up</c> or null.</summary>
    public string? Mark { get; init; }

    /// <summary>True for what is better looked at first: overdue, or about to come out.</summary>
    public bool IsUrgent => Overdue || ColouredUp > 0;

    /// <summary><c>row 3</c>, <c>row 3, place 7</c>; null where no row is known.</summary>
    public string? Where => Row is null ? null : Position is > 1 and var place ? $"row {Row}, place {place}" : $"row {Row}";
}

/// <summary>The lots of one cage in the order of their rows.</summary>
internal sealed record RoundCage(string Name, int? Places, int Hanging, IReadOnlyList<RoundLot> Lots);

/// <summary>The daily check: what there is to look at.</summary>
internal sealed record RoundView
{
    public required DateOnly Day { get; init; }

    /// <summary>The page's answer.</summary>
    public required string Headline { get; init; }

    /// <summary>What today should bring, in a sentence.</summary>
    public required string Lead { get; init; }

    public required IReadOnlyList<RoundCage> Cages { get; init; }

    /// <summary>What does not add up and is not settled.</summary>
    public required int Discrepancies { get; init; }

    /// <summary>All lots in the order in which they hang.</summary>
    public IEnumerable<RoundLot> Lots => Cages.SelectMany(cage => cage.Lots);

    public IEnumerable<RoundLot> Overdue => Lots.Where(lot => lot.Overdue);

    /// <summary>Those about to come out, and not overdue.</summary>
    public IEnumerable<RoundLot> ColouredUp => Lots.Where(lot => lot is { ColouredUp: > 0, Overdue: false });

    public int Visited => Lots.Count(lot => lot.Visited);

    /// <summary>The lot to look at next, as they hang; null where all were visited.</summary>
    /// <param name="urgentFirst">True where overdue lots and those about to come out go before.</param>
    public RoundLot? Next(bool urgentFirst) => (urgentFirst ? Lots.FirstOrDefault(lot => lot is { IsUrgent: true, Visited: false }) : null) ?? Lots.FirstOrDefault(lot => !lot.Visited);
}

/// <summary>Lays out the daily check.</summary>
internal sealed class ShowRound(BookContext book, HouseDay day, OpenLots openLots, DiscrepancyReader discrepancies, OddsBook odds, Places places)
{
    public const string NoCage = "No cage written down";

    public Task<RoundView> Show(CancellationToken cancellation) => Show(1, cancellation);

    /// <summary>The round with what is expected on so many days, from today on.</summary>
    public async Task<RoundView> Show(int days, CancellationToken cancellation)
    {
        var yesterday = day.Today.AddDays(-1);
        var house = await places.House(cancellation);
        var now = (await openLots.ReadAsync(day.HouseId, cancellation)).ToDictionary(balance => balance.Lot.Id);
        var before = (await openLots.ReadAsync(day.HouseId, yesterday, cancellation)).ToDictionary(balance => balance.Lot.Id);

        // A lot that today's counts closed was there to be looked at.
        var entries = (await book.Standing<Entry>(day.HouseId).AsNoTracking().Where(entry => entry.OnDay == day.Today).ToListAsync(cancellation))
            .ToLookup(entry => entry.LotId);
        var closed = before.Values.Where(balance => !now.ContainsKey(balance.Lot.Id)).Select(balance => balance.Lot).ToList();
        var aboutClosed = await LotFacts.Of(book, [.. closed.Select(lot => lot.Id)], cancellation);
        var lots = now.Values.Concat(closed.Select(lot => Ledger.Balance(lot, aboutClosed)))
            .Where(balance => balance.Lot.HungOn <= day.Today).ToList();
        var learned = await odds.Learned(day.HouseId, day.Today, cancellation);
        var suppliers = await book.Suppliers.AsNoTracking().ToDictionaryAsync(supplier => supplier.Id, supplier => supplier.Name, cancellation);

        var lineIds = lots.Where(balance => balance.Lot.FromLotId is null).Select(balance => balance.Lot.DeliveryLineId).OfType<Guid>().ToList();
        var coloured = lineIds.Count == 0 ? [] : await book.DeliveryLines.AsNoTracking().Where(line => line.ColouredUp > 0 && EF.Parameter(lineIds).Contains(line.Id))
            .ToDictionaryAsync(line => line.Id, line => line.ColouredUp, cancellation);

        var shown = lots.Select(balance =>
        {
            var lot = balance.Lot;
            var supplier = lot.SupplierId is { } id ? suppliers.GetValueOrDefault(id) : null;
            var was = before.GetValueOrDefault(lot.Id) ?? new LotBalance { Lot = lot, Received = lot.Received };
            var late = EmergingToday.Late(balance, learned, day.Today);
            var colouredUp = lot is { FromLotId: null, DeliveryLineId: { } line } && coloured.TryGetValue(line, out var seen)
                ? Math.Min(balance.Hanging, Math.Max(0, seen - balance.Emerged - balance.Crippled - balance.Dead - balance.Parasitised - balance.Missing))
                : 0;
            return (balance.CageId, Lot: new RoundLot
            {
                Id = lot.Id,
                Code = LotCode.Of(lot.Id),
                Taxon = lot.Taxon,
                Form = lot.Form,
                Supplier = supplier,
                Cage = house.Cages.Find(cage => cage.Id == balance.CageId)?.Name,
                Row = balance.Row,
                Position = balance.Position,
                ColouredUp = colouredUp,
                HungOn = lot.HungOn,
                DaysHung = day.Today.DayNumber - lot.HungOn.DayNumber,
                Received = balance.Received,
                HungYesterday = was.Hanging,
                HangingNow = balance.Hanging,
                ToRelease = balance.ToRelease,
                Excess = balance.Excess,
                Ahead = EmergingToday.Days(was, supplier, learned, day.Today, days),
                Visited = entries[lot.Id].Any(),
                CountedToday = entries[lot.Id].Any() ? CountWords.Of([.. entries[lot.Id]]) : null,
                Overdue = late.IsOverdue,
                Mark = late.Mark ?? (colouredUp > 0 ? $"{colouredUp} coloured up" : null),
            });
        }).ToList();
        var cages = shown.GroupBy(item => item.Lot.Cage ?? NoCage)
            .OrderBy(group => group.Key == NoCage ? 1 : 0).ThenBy(group => group.Key, NaturalOrder.Instance)
            .Select(group => new RoundCage(
                group.Key,
                house.Cages.Find(cage => cage.Name == group.Key)?.Places,
                group.Sum(item => item.Lot.HangingNow),
                [.. group.Select(item => item.Lot).OrderBy(lot => lot.Row ?? "", NaturalOrder.Instance).ThenBy(lot => lot.Position ?? 0).ThenBy(lot => lot.HungOn).ThenBy(lot => lot.Taxon, StringComparer.Ordinal).ThenBy(lot => lot.Id)]))
            .ToList();
        return new()
        {
            Day = day.Today,
            Cages = cages,
            Discrepancies = (await discrepancies.ReadAsync(day.HouseId, cancellation)).Count,
            Headline = Headline([.. cages.SelectMany(cage => cage.Lots)]),
            Lead = Lead([.. cages.SelectMany(cage => cage.Lots)]),
        };
    }

    private static string Headline(IReadOnlyList<RoundLot> lots) => (lots.Count, lots.Count(lot => !lot.Visited)) switch
    {
        (0, _) => "Nothing hangs",
        (_, 0) => "Every lot was looked at today",
        (1, 1) => "One lot to look at",
        (var all, var left) when all == left => $"{all} lots to look at",
        (_, 1) => "One lot is left to look at",
        (_, var left) => $"{left} lots are left to look at",
    };

    private static string Lead(IReadOnlyList<RoundLot> lots)
    {
        if (lots.Count == 0)
        {
            return "When a box comes, take it in under Deliveries; its lots are then listed here in the order in which they hang.";
        }

        var likely = lots.Sum(lot => lot.Expected.Likely);
        var sentence = $"{lots.Sum(lot => lot.HangingNow)} pupae hang. About {likely} should come out today.";
        var waiting = lots.Sum(lot => lot.ToRelease);
        return waiting == 0 ? sentence : $"{sentence} {waiting} {(waiting == 1 ? "adult waits" : "adults wait")} to be let go.";
    }
}

/// <summary>Row 2 before row 10: runs of figures are compared as numbers.</summary>
internal sealed class NaturalOrder : IComparer<string>
{
    public static NaturalOrder Instance { get; } = new();

    public int Compare(string? x, string? y)
    {
        var (a, b) = (x ?? "", y ?? "");
        int i = 0, j = 0;
        while (i < a.Length && j < b.Length)
        {
            var (left, right) = (Run(a, ref i), Run(b, ref j));
            var order = char.IsAsciiDigit(left[0]) && char.IsAsciiDigit(right[0])
                ? Numbers(left, right)
                : string.Compare(left, right, StringComparison.OrdinalIgnoreCase);
            if (order != 0)
            {
                return order;
            }
        }

        return (a.Length - i).CompareTo(b.Length - j);
    }

    private static int Numbers(string left, string right)
    {
        var (a, b) = (left.TrimStart('0'), right.TrimStart('0'));
        return a.Length != b.Length ? a.Length.CompareTo(b.Length) : string.CompareOrdinal(a, b);
    }

    private static string Run(string text, ref int at)
    {
        var start = at;
        var digits = char.IsAsciiDigit(text[at]);
        while (at < text.Length && char.IsAsciiDigit(text[at]) == digits)
        {
            at++;
        }

        return text[start..at];
    }
}
