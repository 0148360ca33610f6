using Microsoft.EntityFrameworkCore;

namespace Lepidary.Book;

/// <summary>Finds what does not add up in a house and is not settled. Keep one for the life of the process.</summary>
/// <param name="book">Makes a context for each reading.</param>
/// <param name="openLots">Finds the lots that do not balance.</param>
public sealed class DiscrepancyReader(IDbContextFactory<BookContext> book, OpenLots openLots)
{
    // What is remembered is only how far the book was searched for strays and which there were: see OpenLots.
    private Remembered? memory;

    /// <summary>Everything to settle in a house, lots first.</summary>
    /// <param name="houseId">House.</param>
    /// <param name="cancellation">Stops reading.</param>
    public async Task<IReadOnlyList<Discrepancy>> ReadAsync(Guid houseId, CancellationToken cancellation = default)
    {
        var balances = await openLots.ReadAsync(houseId, cancellation).ConfigureAwait(false);
        await using var context = await book.CreateDbContextAsync(cancellation).ConfigureAwait(false);
        List<Discrepancy> found =
        [
            .. balances.SelectMany(Ledger.Discrepancies),
            .. await StraysAsync(context, houseId, cancellation).ConfigureAwait(false),
            .. await CorrectedTwiceAsync(context, houseId, cancellation).ConfigureAwait(false),
            .. await BoxesTwiceAsync(context, houseId, cancellation).ConfigureAwait(false),
            .. (await context.Conflicts.AsNoTracking().Where(conflict => conflict.HouseId == houseId)
                .OrderBy(conflict => conflict.ReceivedAt).ThenBy(conflict => conflict.Id).ToListAsync(cancellation).ConfigureAwait(false))
                .Select(Discrepancy.TwoRowsOneKey),
        ];
        if (found.Count == 0)
        {
            return found;
        }

        var subjects = found.Select(discrepancy => discrepancy.SubjectId).ToList();
        var settled = (await context.Standing<SettledDiscrepancy>().Where(fact => EF.Parameter(subjects).Contains(fact.SubjectId))
            .ToListAsync(cancellation).ConfigureAwait(false)).ToLookup(fact => fact.SubjectId);
        found.RemoveAll(discrepancy => settled[discrepancy.SubjectId].Any(fact => fact.Excess >= discrepancy.Excess));
        return found;
    }

    /// <summary>Facts about a lot that is not there, or was not hung yet.</summary>
    private async Task<IEnumerable<Discrepancy>> StraysAsync(BookContext context, Guid houseId, CancellationToken cancellation)
    {
        var newest = await context.Facts.MaxAsync(fact => (long?)fact.Arrival, cancellation).ConfigureAwait(false) ?? 0;
        var about = About(context);
        if (memory is { } last && last.UpTo <= newest)
        {
            var newer = context.Facts.Where(fact => fact.Arrival > last.UpTo);
            var newerIds = newer.Select(fact => fact.Id);
            var lotsGone = context.Lots.Where(lot => newer.Any(other => other.VoidsId == lot.SourceId)).Select(lot => lot.Id);
            var before = last.Strays;
            about = about.Where(fact => EF.Parameter(before).Contains(fact.Id) || newerIds.Contains(fact.Id) || lotsGone.Contains(fact.LotId));
        }

        var lots = context.StandingLots();
        var strays = await about
            .Where(fact => !lots.Any(lot => lot.Id == fact.LotId && lot.HungOn <= fact.OnDay)
                && !context.Facts.Any(other => other.VoidsId == fact.Id))
            .Select(fact => fact.Id).ToListAsync(cancellation).ConfigureAwait(false);
        memory = new(newest, strays);
        if (strays.Count == 0)
        {
            return [];
        }

        var facts = await context.Facts.AsNoTracking().Where(fact => fact.HouseId == houseId && EF.Parameter(strays).Contains(fact.Id))
            .OrderBy(fact => fact.Arrival).ToListAsync(cancellation).ConfigureAwait(false);
        var lotIds = facts.Select(LotOf).ToList();
        var there = await lots.Where(lot => EF.Parameter(lotIds).Contains(lot.Id)).ToDictionaryAsync(lot => lot.Id, cancellation).ConfigureAwait(false);
        return facts.Select(fact => there.TryGetValue(LotOf(fact), out var lot)
            ? Discrepancy.CountedBeforeHung(lot, fact)
            : Discrepancy.UnknownLot(fact, LotOf(fact)));
    }

    private static IQueryable<FactAboutLot> About(BookContext context) =>
        context.Set<LotFact>().Select(fact => new FactAboutLot { Id = fact.Id, LotId = fact.LotId, OnDay = fact.OnDay })
            .Concat(context.Set<Release>().Where(fact => fact.LotId != null)
                .Select(fact => new FactAboutLot { Id = fact.Id, LotId = fact.LotId!.Value, OnDay = fact.OnDay }))
            .Concat(context.Set<FoundDead>().Where(fact => fact.LotId != null)
                .Select(fact => new FactAboutLot { Id = fact.Id, LotId = fact.LotId!.Value, OnDay = fact.OnDay }));

    private static Guid LotOf(Fact fact) => fact switch
    {
        LotFact about => about.LotId,
        Release release => release.LotId!.Value,
        FoundDead dead => dead.LotId!.Value,
        _ => throw new ArgumentOutOfRangeException(nameof(fact), fact.GetType().Name, "not about a lot"),
    };

    private static async Task<IEnumerable<Discrepancy>> CorrectedTwiceAsync(BookContext context, Guid houseId, CancellationToken cancellation)
    {
        var corrections = await context.Standing<Fact>()
            .Where(fact => fact.VoidsId != null && !(fact is Voiding) && fact.HouseId == houseId
                && context.Facts.Count(other => other.VoidsId == fact.VoidsId) > 1)
            .Select(fact => new { fact.Id, VoidsId = fact.VoidsId!.Value, fact.Arrival }).ToListAsync(cancellation).ConfigureAwait(false);
        return corrections.GroupBy(fact => fact.VoidsId).Where(group => group.Count() > 1)
            .Select(group => Discrepancy.CorrectedTwice(group.Key, [.. group.OrderBy(fact => fact.Arrival).Select(fact => fact.Id)]));
    }

    private static async Task<IEnumerable<Discrepancy>> BoxesTwiceAsync(BookContext context, Guid houseId, CancellationToken cancellation)
    {
        var deliveries = await context.Standing<Delivery>()
            .Where(delivery => delivery.HouseId == houseId && delivery.BoxMark != null
                && context.Deliveries.Any(other => other.Id != delivery.Id && other.SupplierId == delivery.SupplierId && other.BoxMark == delivery.BoxMark))
            .OrderBy(delivery => delivery.OnDay).ThenBy(delivery => delivery.Arrival)
            .Select(delivery => new { delivery.Id, delivery.SupplierId, delivery.BoxMark, delivery.OnDay })
            .ToListAsync(cancellation).ConfigureAwait(false);
        return deliveries.GroupBy(delivery => (delivery.SupplierId, delivery.BoxMark))
            .SelectMany(mark => mark.Aggregate(new List<List<(Guid Id, DateOnly OnDay)>>(), (boxes, delivery) =>
            {
                // A mark used again after a while is another box.
                if (boxes.Count > 0 && boxes[^1][0].OnDay.AddDays(DeliveryQueries.SameBoxDays) >= delivery.OnDay)
                {
                    boxes[^1].Add((delivery.Id, delivery.OnDay));
                }
                else
                {
                    boxes.Add([(delivery.Id, delivery.OnDay)]);
                }

                return boxes;
            }).Where(box => box.Count > 1)
            .Select(box => Discrepancy.BoxTakenInTwice(box[0].Id, [.. box.Select(delivery => delivery.Id)], mark.Key.BoxMark!)));
    }

    private sealed class FactAboutLot
    {
        public Guid Id { get; init; }

        public Guid LotId { get; init; }

        public DateOnly OnDay { get; init; }
    }

    private sealed record Remembered(long UpTo, IReadOnlyList<Guid> Strays);
}
