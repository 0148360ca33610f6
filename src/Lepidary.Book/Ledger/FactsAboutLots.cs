using Microsoft.EntityFrameworkCore;

namespace Lepidary.Book;

/// <summary>What is needed of a fact to know which lot it changes.</summary>
internal sealed record FactAboutLot(Guid Id, Guid HouseId, Guid? LotId, Guid? VoidsId, DateOnly OnDay);

/// <summary>
/// Facts found through one index each. Asked for in one statement, SQLite would walk through half a million facts instead.
/// </summary>
internal static class FactsAboutLots
{
    /// <summary>Facts that came in after a number.</summary>
    internal static Task<List<FactAboutLot>> NewerAsync(BookContext book, long after, CancellationToken cancellation) =>
        Short(book.Facts.Where(fact => fact.Arrival > after)).ToListAsync(cancellation);

    /// <summary>Facts by their keys; keys that are not there are left out.</summary>
    internal static Task<List<FactAboutLot>> ByIdAsync(BookContext book, IReadOnlyCollection<Guid> ids, CancellationToken cancellation) =>
        ids.Count == 0 ? Task.FromResult(new List<FactAboutLot>()) : Short(book.Facts.Where(fact => EF.Parameter(ids).Contains(fact.Id))).ToListAsync(cancellation);

    /// <summary>Facts about some lots.</summary>
    internal static async Task<List<FactAboutLot>> ByLotAsync(BookContext book, IReadOnlyCollection<Guid> lotIds, CancellationToken cancellation) =>
        lotIds.Count == 0
            ? []
            :
            [
                .. await book.Set<LotFact>().Where(fact => EF.Parameter(lotIds).Contains(fact.LotId))
                    .Select(fact => new FactAboutLot(fact.Id, fact.HouseId, fact.LotId, fact.VoidsId, fact.OnDay)).ToListAsync(cancellation).ConfigureAwait(false),
                .. await book.Set<Release>().Where(fact => EF.Parameter(lotIds).Contains(fact.LotId!.Value))
                    .Select(fact => new FactAboutLot(fact.Id, fact.HouseId, fact.LotId, fact.VoidsId, fact.OnDay)).ToListAsync(cancellation).ConfigureAwait(false),
                .. await book.Set<FoundDead>().Where(fact => EF.Parameter(lotIds).Contains(fact.LotId!.Value))
                    .Select(fact => new FactAboutLot(fact.Id, fact.HouseId, fact.LotId, fact.VoidsId, fact.OnDay)).ToListAsync(cancellation).ConfigureAwait(false),
            ];

    /// <summary>Lots that some facts brought.</summary>
    internal static async Task<List<Guid>> LotsOfAsync(BookContext book, IReadOnlyCollection<Guid> sourceIds, CancellationToken cancellation) =>
        sourceIds.Count == 0
            ? []
            : await book.Lots.Where(lot => EF.Parameter(sourceIds).Contains(lot.SourceId)).Select(lot => lot.Id).ToListAsync(cancellation).ConfigureAwait(false);

    /// <summary>Lots that a fact which came in after a number is about, brings, takes away or puts right.</summary>
    internal static async Task<HashSet<Guid>> TouchedAsync(BookContext context, long after, CancellationToken cancellation)
    {
        var newer = await NewerAsync(context, after, cancellation).ConfigureAwait(false);
        var voided = newer.Select(fact => fact.VoidsId).OfType<Guid>().ToList();
        var righted = await ByIdAsync(context, voided, cancellation).ConfigureAwait(false);
        var sources = newer.Where(fact => fact.LotId is null).Select(fact => fact.Id).Concat(voided).ToList();
        var brought = await LotsOfAsync(context, sources, cancellation).ConfigureAwait(false);
        return [.. newer.Concat(righted).Select(fact => fact.LotId).OfType<Guid>(), .. brought];
    }

    private static IQueryable<FactAboutLot> Short(IQueryable<Fact> facts) => facts.Select(fact => new FactAboutLot(
        fact.Id,
        fact.HouseId,
        fact is LotFact ? ((LotFact)fact).LotId : fact is Release ? ((Release)fact).LotId : fact is FoundDead ? ((FoundDead)fact).LotId : null,
        fact.VoidsId,
        fact.OnDay));
}
