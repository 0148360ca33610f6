using System.Collections.Concurrent;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.Book;

/// <summary>
/// The lots of a house in which something hangs, waits to be let go, or does not add up.
/// </summary>
/// <remarks>
/// Whether a lot is closed is never stored. The first reading sums the whole book; it is remembered up to which fact that was, and
/// later ones sum only the lots that a newer fact touches. What is remembered can be forgotten at any
/// moment, and several processes remember each for themselves. Keep one for the life of the process.
/// </remarks>
/// <param name="book">Makes a context for each reading.</param>
public sealed class OpenLots(IDbContextFactory<BookContext> book)
{
    private readonly ConcurrentDictionary<Guid, Remembered> memory = new();

    /// <summary>Balances of the lots that are not closed, with all that is known, by the day on which they were hung.</summary>
    /// <param name="houseId">House.</param>
    /// <param name="cancellation">Stops reading.</param>
    public async Task<IReadOnlyList<LotBalance>> ReadAsync(Guid houseId, CancellationToken cancellation = default)
    {
        await using var context = await book.CreateDbContextAsync(cancellation).ConfigureAwait(false);

        // Read before the lots: a fact that comes in between is looked at twice rather than never.
        var newest = await ArrivalMark.NewestAsync(context, cancellation).ConfigureAwait(false);
        IReadOnlyList<LotBalance> open;
        if (memory.TryGetValue(houseId, out var last) && await last.UpTo.StandsInAsync(context, newest, cancellation).ConfigureAwait(false))
        {
            var touched = last.UpTo == newest ? [] : await FactsAboutLots.TouchedAsync(context, last.UpTo.Arrival, cancellation).ConfigureAwait(false);
            open = touched.Count == 0 ? last.Open : Merge(
                last.Open.Where(balance => !touched.Contains(balance.Lot.Id)),
                await LotSums.BalancesAsync(context, touched, null, cancellation).ConfigureAwait(false));
        }
        else
        {
            var found = await LotSums.OpenLotIdsAsync(context, houseId, cancellation).ConfigureAwait(false);
            open = Merge([], await LotSums.BalancesAsync(context, found, null, cancellation).ConfigureAwait(false));
        }

        memory[houseId] = new(newest, open);
        return open;

        List<LotBalance> Merge(IEnumerable<LotBalance> untouched, IEnumerable<LotBalance> read) =>
        [
            .. untouched.Concat(read.Where(balance => balance.Lot.HouseId == houseId && !balance.IsClosed))
                .OrderBy(balance => balance.Lot.HungOn).ThenBy(balance => balance.Lot.Id),
        ];
    }

    /// <summary>Balances of the lots that were not closed at the end of a day, by the day on which they were hung.</summary>
    /// <param name="houseId">House.</param>
    /// <param name="day">The day; facts about later days are left out, but what is known of it today is in.</param>
    /// <param name="cancellation">Stops reading.</param>
    public async Task<IReadOnlyList<LotBalance>> ReadAsync(Guid houseId, DateOnly day, CancellationToken cancellation = default)
    {
        var open = await ReadAsync(houseId, cancellation).ConfigureAwait(false);
        await using var context = await book.CreateDbContextAsync(cancellation).ConfigureAwait(false);

        // Open then is open still, or was closed by a fact about a later day.
        var later = await context.Set<LotFact>().Where(fact => fact.HouseId == houseId && fact.OnDay > day).Select(fact => fact.LotId)
            .Union(context.Set<Release>().Where(fact => fact.HouseId == houseId && fact.OnDay > day && fact.LotId != null).Select(fact => fact.LotId!.Value))
            .Union(context.Set<FoundDead>().Where(fact => fact.HouseId == houseId && fact.OnDay > day && fact.LotId != null).Select(fact => fact.LotId!.Value))
            .ToListAsync(cancellation).ConfigureAwait(false);
        if (later.Count == 0 && open.All(balance => balance.Lot.HungOn <= day))
        {
            return open;
        }

        HashSet<Guid> candidates = [.. open.Select(balance => balance.Lot.Id), .. later];
        var then = await LotSums.BalancesAsync(context, candidates, day, cancellation).ConfigureAwait(false);
        then.RemoveAll(balance => balance.IsClosed || balance.Lot.HouseId != houseId);
        return then;
    }

    private sealed record Remembered(ArrivalMark UpTo, IReadOnlyList<LotBalance> Open);
}
