using System.Globalization;
using Lepidary.App.Host;
using Lepidary.App.Lists;
using Lepidary.App.Rounds;
using Lepidary.App.Words;
using Lepidary.Book;
using Lepidary.Taxa;
using Microsoft.EntityFrameworkCore;
using UUIDNext;

namespace Lepidary.App.Deliveries;

/// <summary>One line of a box: what the note says and what was in it.</summary>
internal sealed record BoxLine
{
    /// <summary>What messages call it: <c>line 3</c>.</summary>
    public required string Where { get; init; }

    /// <summary>The order's line, or null.</summary>
    public Guid? OrderLineId { get; init; }

    /// <summary>A name as printed; what it means is looked up. Null to take the order line's.</summary>
    public string? Taxon { get; init; }

    /// <summary>Subspecies or form; null to take what the name says.</summary>
    public string? Form { get; init; }

    /// <summary>On the note; null where it has none.</summary>
    public int? Noted { get; init; }

    /// <summary>Alive and fit to hang; null where it was not counted.</summary>
    public int? Alive { get; init; }

    public int Dead { get; init; }

    public int Damaged { get; init; }

    /// <summary>Emerged in the box.</summary>
    public int Emerged { get; init; }

    public int WrongSpecies { get; init; }

    /// <summary>Of the living, those whose wings show through the case.</summary>
    public int ColouredUp { get; init; }

    /// <summary>A name of what was ordered and this was sent in place of; null where it is none.</summary>
    public string? SubstituteFor { get; init; }

    public string? Remark { get; init; }

    /// <summary>Price for one pupa on the note, in the supplier's currency.</summary>
    public decimal? NotedPrice { get; init; }

    /// <summary>The counts layer by layer, the top one first.</summary>
    public IReadOnlyList<BoxLayer> Layers { get; init; } = [];

    /// <summary>Of a big lot, how many were looked at, taken by chance; the bad ones are those counted bad on this line. Null where all were.</summary>
    public int? LookedAt { get; init; }

    /// <summary>Portions that were counted and weighed.</summary>
    public IReadOnlyList<PortionTyped> Portions { get; init; } = [];

    /// <summary>What was not counted weighs so many grams.</summary>
    public double? RestGrams { get; init; }

    /// <summary>Cage that they are hung in, or null.</summary>
    public Guid? CageId { get; init; }

    public string? Row { get; init; }

    /// <summary>Place of the first pupa in the row, 1 the first; or null.</summary>
    public int? Place { get; init; }
}

/// <summary>A box that came.</summary>
internal sealed record BoxThatCame
{
    /// <summary>Key, made with the form: sent twice, it is one box.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>When the form was made; null for now.</summary>
    public DateTimeOffset? MadeAt { get; init; }

    /// <summary>The order that it answers, or null.</summary>
    public Guid? OrderId { get; init; }

    /// <summary>Supplier; null to take the order's.</summary>
    public Guid? SupplierId { get; init; }

    /// <summary>Mark or number on the box or its note.</summary>
    public string? BoxMark { get; init; }

    /// <summary>The day it came; null for today.</summary>
    public DateOnly? OnDay { get; init; }

    /// <summary>The day it was posted; null where nobody knows.</summary>
    public DateOnly? PostedOn { get; init; }

    public string? NoteText { get; init; }

    public string? Condition { get; init; }

    /// <summary>True where a line without a count of the living came as noted, less what was counted dead and so on.</summary>
    public bool AsNoted { get; init; }

    public IReadOnlyList<BoxLine> Lines { get; init; } = [];

    public string Who { get; init; } = "";
}

/// <summary>What came of taking a box in.</summary>
/// <param name="DeliveryId">The delivery.</param>
/// <param name="Receipt">Written, or there before.</param>
/// <param name="Lots">The lots that hang now.</param>
/// <param name="Differences">What was not as it should be, in a sentence.</param>
/// <param name="Warnings">Cages over their places.</param>
internal sealed record BoxTakenIn(Guid DeliveryId, Receipt Receipt, IReadOnlyList<Lot> Lots, string Differences, IReadOnlyList<string> Warnings);

/// <summary>Takes a box in against its note: the delivery with its lines, and a lot for each line that is hung.</summary>
internal sealed class TakeInDelivery(BookContext book, HouseDay day, FactInbox inbox, OpenLots openLots, Places places)
{
    /// <summary>No pupa travels longer: such a day is a slip of the pen.</summary>
    private const int LongestWay = 60;

    public async Task<Checked<BoxTakenIn>> Do(BoxThatCame box, CancellationToken cancellation)
    {
        var problems = FactDays.Check(box.OnDay, day.Today).ToList();
        if (box.PostedOn is { } posted && (posted > (box.OnDay ?? day.Today) || posted < (box.OnDay ?? day.Today).AddDays(-LongestWay)))
        {
            problems.Add(new("posted", posted.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), $"a day from {LongestWay} days before the box came to the day it came"));
        }

        var order = box.OrderId is { } orderId
            ? await book.Orders.AsNoTracking().Include(order => order.Lines).FirstOrDefaultAsync(order => order.Id == orderId && order.HouseId == day.HouseId, cancellation)
            : null;
        var supplierId = box.SupplierId ?? order?.SupplierId;
        problems.AddRange(await CheckSource(box, order, supplierId, cancellation));
        var lines = await Lines(box, order, problems, cancellation);
        if (problems.Count == 0)
        {
            problems.AddRange(await SeenBefore(box, supplierId!.Value, order, cancellation));
        }

        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var onDay = box.OnDay ?? day.Today;
        var delivery = new Delivery
        {
            Id = box.Id,
            HouseId = day.HouseId,
            OnDay = onDay,
            DeviceTime = box.MadeAt ?? day.Now,
            Who = box.Who,
            SupplierId = supplierId!.Value,
            OrderId = order?.Id,
            BoxMark = box.BoxMark,
            PostedOn = box.PostedOn,
            NoteText = box.NoteText,
            Condition = box.Condition,
            Lines = [.. lines.Select(line => line.Line)],
            Lots = [.. lines.Where(line => line.Line.Alive > 0).Select(line => new Lot
            {
                Id = Uuid.NewNameBased(line.Line.Id, "lot"),
                HouseId = day.HouseId,
                DeliveryLineId = line.Line.Id,
                SupplierId = supplierId,
                Taxon = line.Line.Taxon,
                Form = line.Line.Form,
                CageId = line.From.CageId,
                Row = line.From.Row,
                Position = line.From.Place,
                HungOn = onDay,
                Received = line.Line.Alive,
                UnitLanded = line.Ordered?.UnitLanded,
            })],
        };
        List<Lot> lots = [.. delivery.Lots];
        var taken = await inbox.Take(cancellation, delivery);
        return taken.IsGood
            ? new BoxTakenIn(box.Id, taken.Value, lots, Differences.Of(delivery.Lines), await OverTheirPlaces(lots, cancellation))
            : taken.Problems.ToArray();
    }

    private async Task<List<Problem>> CheckSource(BoxThatCame box, Order? order, Guid? supplierId, CancellationToken cancellation)
    {
        var problems = new List<Problem>();
        if (box.OrderId is { } asked && order is null)
        {
            problems.Add(new("order", asked.ToString(), "an order of this house"));
        }

        if (supplierId is null)
        {
            problems.Add(new("supplier", "nothing", "the supplier who sent the box, or the order that it answers"));
        }
        else if (order is not null && supplierId != order.SupplierId)
        {
            problems.Add(new("supplier", "another than the order's", "the supplier of the order"));
        }
        else if (!await book.Suppliers.AnyAsync(supplier => supplier.Id == supplierId, cancellation))
        {
            problems.Add(new("supplier", supplierId.Value.ToString(), "a supplier of this book"));
        }

        return problems;
    }

    private async Task<List<(DeliveryLine Line, BoxLine From, OrderLine? Ordered)>> Lines(BoxThatCame box, Order? order, List<Problem> problems, CancellationToken cancellation)
    {
        if (box.Lines.Count == 0)
        {
            problems.Add(new("lines", "none", "at least one line with what was in the box"));
        }

        var finder = await SettledFinder.Of(book, cancellation);
        var cages = (await places.House(cancellation)).Cages;
        var lines = new List<(DeliveryLine, BoxLine, OrderLine?)>();
        foreach (var (at, line) in box.Lines.Index())
        {
            var ordered = order?.Lines.Find(other => other.Id == line.OrderLineId);
            if (line.OrderLineId is not null && ordered is null)
            {
                problems.Add(new(line.Where, "a line of another order", "a line of the order that the box answers"));
            }

            if (line.CageId is { } cage && cages.TrueForAll(other => other.Id != cage))
            {
                problems.Add(new($"{line.Where}, cage", cage.ToString(), $"one of {string.Join(", ", cages.Select(other => other.Name))}"));
            }

            var match = line.Taxon is { } printed ? finder.Find(printed, NameContext.None) : null;
            var taxon = match is null ? ordered?.Taxon : match.Taxon?.Name;
            if (taxon is null)
            {
                var candidates = match?.Candidates.Take(3).Select(candidate => candidate.Name).ToList() ?? [];
                problems.Add(new(
                    $"{line.Where}, species",
                    line.Taxon ?? "nothing",
                    candidates.Count > 0 ? $"one species; it could be {string.Join(" or ", candidates)}" : "a scientific name, or a common name that means one species"));
            }

            if (MoveLot.CheckPlace($"{line.Where}, place", line.Place, line.Row) is { } misplaced)
            {
                problems.Add(misplaced);
            }

            var others = line.Dead + line.Damaged + line.Emerged + line.WrongSpecies;
            var weighed = LineEstimates.Weighed(line, problems);
            var alive = line.Alive ?? (weighed is not null ? Math.Max(0, weighed.Likely + weighed.Counted - others) : null);

            // Where a part was looked at, the rest came as noted until it hangs.
            alive ??= (box.AsNoted || line.LookedAt is not null) && (line.Noted ?? ordered?.Pupae) is { } came ? Math.Max(0, came - others) : null;
            if (alive is null && line is { Portions.Count: 0, RestGrams: null })
            {
                problems.Add(new($"{line.Where}, alive", "not counted", "a number, 0 where none came alive"));
            }

            if (line.ColouredUp > (alive ?? 0))
            {
                problems.Add(new($"{line.Where}, coloured up", $"{line.ColouredUp}", $"at most the {alive ?? 0} alive: they are counted among them"));
            }

            var estimate = LineEstimates.Of(line, weighed, alive ?? 0, others, problems);
            var instead = line.SubstituteFor is { } wanted ? finder.Find(wanted, NameContext.None).Taxon?.Name : null;
            if (line.SubstituteFor is not null && (instead is null || instead == taxon))
            {
                problems.Add(new($"{line.Where}, in place of", line.SubstituteFor, "the name of another species, the one that was ordered"));
            }

            if (taxon is not null)
            {
                var counted = new DeliveryLine
                {
                    Id = Uuid.NewNameBased(box.Id, FormattableString.Invariant($"line {at}")),
                    OrderLineId = ordered?.Id,
                    Taxon = taxon,
                    Form = line.Form ?? (match is null ? ordered?.Form : match.Form),
                    Ordered = ordered?.Pupae,
                    Noted = line.Noted,
                    Alive = alive ?? 0,
                    Dead = line.Dead,
                    Damaged = line.Damaged,
                    Emerged = line.Emerged,
                    WrongSpecies = line.WrongSpecies,
                    ColouredUp = line.ColouredUp,
                    SubstituteFor = instead,
                    Remark = line.Remark,
                    NotedPrice = line.NotedPrice,
                    Layers = [.. line.Layers],
                    Estimate = estimate,
                };
                lines.Add((counted, line, ordered));
            }
        }

        return lines;
    }

    /// <summary>A box that is in the book already is not taken in again; the same form sent twice is no second box.</summary>
    private async Task<IReadOnlyList<Problem>> SeenBefore(BoxThatCame box, Guid supplierId, Order? order, CancellationToken cancellation)
    {
        if (await book.Facts.AnyAsync(fact => fact.Id == box.Id, cancellation))
        {
            return [];
        }

        var same = await book.SameBoxAsync(day.HouseId, supplierId, box.BoxMark, box.OnDay ?? day.Today, cancellation);
        if (same.Count > 0)
        {
            return [new("box", $"{box.BoxMark}, {Before(same[0])}", $"a box that is not in the book. If it is another box with the same mark, tell them apart: {box.BoxMark} b")];
        }

        if (order is null || box.BoxMark is not null)
        {
            return [];
        }

        var answered = await book.Standing<Delivery>(day.HouseId).Where(delivery => delivery.OrderId == order.Id).OrderBy(delivery => delivery.Arrival).FirstOrDefaultAsync(cancellation);
        return answered is null ? [] : [new("box", $"no mark, and a box of this order {Before(answered)}", "the mark on this box, if a second one came for the same order")];

        static string Before(Delivery delivery) => $"taken in on {DayWords.Short(delivery.OnDay)}{(delivery.Who.Length == 0 ? "" : $" by {delivery.Who}")}";
    }

    private async Task<IReadOnlyList<string>> OverTheirPlaces(IReadOnlyList<Lot> lots, CancellationToken cancellation)
    {
        var cages = lots.Select(lot => lot.CageId).OfType<Guid>().ToHashSet();
        return [.. (await CageRoom.Read(day, openLots, places, cancellation)).Where(cage => cages.Contains(cage.Id) && cage.Over > 0).Select(cage => cage.Warning)];
    }
}
