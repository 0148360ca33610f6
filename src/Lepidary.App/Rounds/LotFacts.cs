using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Rounds;

/// <summary>Everything that was ever written about a lot.</summary>
internal static class LotFacts
{
    /// <summary>All facts about the lot and those that void one of them, in the order in which they came in.</summary>
    public static Task<IReadOnlyList<Fact>> Of(BookContext book, Guid lotId, CancellationToken cancellation) => Of(book, [lotId], cancellation);

    /// <summary>The same for several lots.</summary>
    public static async Task<IReadOnlyList<Fact>> Of(BookContext book, IReadOnlyCollection<Guid> lotIds, CancellationToken cancellation)
    {
        if (lotIds.Count == 0)
        {
            return [];
        }

        List<Fact> facts =
        [
            .. await book.Set<LotFact>().AsNoTracking().Where(fact => EF.Parameter(lotIds).Contains(fact.LotId)).ToListAsync(cancellation),
            .. await book.Set<Release>().AsNoTracking().Where(fact => fact.LotId != null && EF.Parameter(lotIds).Contains(fact.LotId.Value)).ToListAsync(cancellation),
            .. await book.Set<FoundDead>().AsNoTracking().Where(fact => fact.LotId != null && EF.Parameter(lotIds).Contains(fact.LotId.Value)).ToListAsync(cancellation),
        ];
        var ids = facts.Select(fact => fact.Id).ToList();
        var known = ids.ToHashSet();
        facts.AddRange((await book.Facts.AsNoTracking().Where(fact => fact.VoidsId != null && EF.Parameter(ids).Contains(fact.VoidsId.Value)).ToListAsync(cancellation))
            .Where(fact => !known.Contains(fact.Id)));
        return [.. facts.OrderBy(fact => fact.Arrival)];
    }
}
