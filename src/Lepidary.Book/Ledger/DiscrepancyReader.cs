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
        var newest = await ArrivalMark.NewestAsync(context, cancellation).ConfigureAwait(false);
        var suspects = memory is { } last && await last.UpTo.StandsInAsync(context, newest, cancellation).ConfigureAwait(false)
            ? await SuspectsSinceAsync(context, last, cancellation).ConfigureAwait(false)
            : await SuspectsOfTheWholeBookAsync(context, cancellation).ConfigureAwait(false);
        var suspectIds = suspects.Select(fact => fact.Id).Distinct().ToList();
        var lotIds = suspects.Select(fact => fact.LotId).OfType<Guid>().Distinct().ToList();
        var lots = lotIds.Count == 0 ? [] : await context.StandingLots().Where(lot => EF.Parameter(lotIds).Contains(lot.Id))
            .ToDictionaryAsync(lot => lot.Id, cancellation).ConfigureAwait(false);
        var voided = suspectIds.Count == 0 ? [] : await context.Facts.Where(fact => EF.Parameter(suspectIds).Contains(fact.VoidsId!.Value))
            .Select(fact => fact.VoidsId!.Value).ToHashSetAsync(cancellation).ConfigureAwait(false);
        var strays = suspects.Where(fact => fact.LotId is { } lotId && !voided.Contains(fact.Id)
                && !(lots.TryGetValue(lotId, out var lot) && lot.HungOn <= fact.OnDay))
            .DistinctBy(fact => fact.Id).ToList();
        memory = new(newest, [.. strays.Select(fact => fact.Id)]);
        var here = strays.Where(fact => fact.HouseId == houseId).Select(fact => fact.Id).ToList();
        if (here.Count == 0)
        {
            return [];
        }

        var facts = await context.Facts.AsNoTracking().Where(fact => EF.Parameter(here).Contains(fact.Id))
            .OrderBy(fact => fact.Arrival).ToListAsync(cancellation).ConfigureAwait(false);
        return facts.Select(fact => lots.TryGetValue(LotOf(fact), out var lot)
            ? Discrepancy.CountedBeforeHung(lot, fact)
            : Discrepancy.UnknownLot(fact, LotOf(fact)));
    }

    /// <summary>The strays there were, what came in since, and what is about a lot that was taken away since.</summary>
    private static async Task<List<FactAboutLot>> SuspectsSinceAsync(BookContext context, Remembered last, CancellationToken cancellation)
    {
        var newer = await FactsAboutLots.NewerAsync(context, last.UpTo.Arrival, cancellation).ConfigureAwait(false);
        var before = await FactsAboutLots.ByIdAsync(context, last.Strays, cancellation).ConfigureAwait(false);
        var voided = newer.Select(fact => fact.VoidsId).OfType<Guid>().ToList();
        var lotsGone = await FactsAboutLots.LotsOfAsync(context, voided, cancellation).ConfigureAwait(false);
        return [.. newer, .. before, .. await FactsAboutLots.ByLotAsync(context, lotsGone, cancellation).ConfigureAwait(false)];
    }

    /// <summary>Facts about lots that are not there, and about lots of which one fact is too early.</summary>
    private static async Task<List<FactAboutLot>> SuspectsOfTheWholeBookAsync(BookContext context, CancellationToken cancellation)
    {
        var lots = await context.StandingLots().Select(lot => new { lot.Id, lot.HungOn })
            .ToDictionaryAsync(lot => lot.Id, lot => lot.HungOn, cancellation).ConfigureAwait(false);
        var first = new List<(Guid LotId, DateOnly OnDay)>();
        foreach (var row in await context.Set<LotFact>().GroupBy(fact => fact.LotId)
            .Select(lot => new { LotId = lot.Key, OnDay = lot.Min(fact => fact.OnDay) }).ToListAsync(cancellation).ConfigureAwait(false))
        {
            first.Add((row.LotId, row.OnDay));
        }

        foreach (var row in await context.Set<Release>().Where(fact => fact.LotId != null).GroupBy(fact => fact.LotId!.Value)
            .Select(lot => new { LotId = lot.Key, OnDay = lot.Min(fact => fact.OnDay) }).ToListAsync(cancellation).ConfigureAwait(false))
        {
            first.Add((row.LotId, row.OnDay));
        }

        foreach (var row in await context.Set<FoundDead>().Where(fact => fact.LotId != null).GroupBy(fact => fact.LotId!.Value)
            .Select(lot => new { LotId = lot.Key, OnDay = lot.Min(fact => fact.OnDay) }).ToListAsync(cancellation).ConfigureAwait(false))
        {
            first.Add((row.LotId, row.OnDay));
        }

        var suspects = first.Where(lot => !lots.TryGetValue(lot.LotId, out var hungOn) || lot.OnDay < hungOn).Select(lot => lot.LotId).Distinct().ToList();
        return await FactsAboutLots.ByLotAsync(context, suspects, cancellation).ConfigureAwait(false);
    }

    private static Guid LotOf(Fact fact) => fact switch
    {
        LotFact about => about.LotId,
        Release release => release.LotId!.Value,
        FoundDead dead => dead.LotId!.Value,
        _ => throw new ArgumentOutOfRangeException(nameof(fact), fact.GetType().Name, "not about a lot"),
    };

    private static async Task<IEnumerable<Discrepancy>> CorrectedTwiceAsync(BookContext context, Guid houseId, CancellationToken cancellation)
    {
        var twice = await context.Facts.Where(fact => fact.VoidsId != null).GroupBy(fact => fact.VoidsId!.Value)
            .Where(group => group.Count() > 1).Select(group => group.Key).ToListAsync(cancellation).ConfigureAwait(false);
        if (twice.Count == 0)
        {
            return [];
        }

        var corrections = await context.Standing<Fact>()
            .Where(fact => EF.Parameter(twice).Contains(fact.VoidsId!.Value) && !(fact is Voiding) && fact.HouseId == houseId)
            .Select(fact => new { fact.Id, VoidsId = fact.VoidsId!.Value, fact.Arrival }).ToListAsync(cancellation).ConfigureAwait(false);
        return corrections.GroupBy(fact => fact.VoidsId).Where(group => group.Count() > 1).OrderBy(group => group.Min(fact => fact.Arrival))
            .Select(group => Discrepancy.CorrectedTwice(group.Key, [.. group.OrderBy(fact => fact.Arrival).Select(fact => fact.Id)]));
    }

    private static async Task<IEnumerable<Discrepancy>> BoxesTwiceAsync(BookContext context, Guid houseId, CancellationToken cancellation)
    {
        var deliveries = await context.Standing<Delivery>()
            .Where(delivery => delivery.HouseId == houseId && (delivery.BoxMark != null || delivery.OrderId != null))
            .OrderBy(delivery => delivery.OnDay).ThenBy(delivery => delivery.Arrival)
            .Select(delivery => new { delivery.Id, delivery.SupplierId, delivery.BoxMark, delivery.OrderId, delivery.OnDay })
            .ToListAsync(cancellation).ConfigureAwait(false);

        // Without a mark, the order that it answers tells a box: two phones may take the same one in.
        return deliveries.GroupBy(delivery => (delivery.SupplierId, delivery.BoxMark, Order: delivery.BoxMark is null ? delivery.OrderId : null))
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
            .Select(box => Discrepancy.BoxTakenInTwice(box[0].Id, [.. box.Select(delivery => delivery.Id)], mark.Key.BoxMark)));
    }

    private sealed record Remembered(ArrivalMark UpTo, IReadOnlyList<Guid> Strays);
}
