using Microsoft.EntityFrameworkCore;

namespace Lepidary.Book;

/// <summary>Facts as pages ask for them.</summary>
public static class FactQueries
{
    /// <summary>With the rows below them: lots, lines of deliveries, counts of walks.</summary>
    public static IQueryable<Fact> WithRows(this IQueryable<Fact> facts) => facts
        .Include(fact => ((LotSource)fact).Lots)
        .Include(fact => ((Delivery)fact).Lines)
        .Include(fact => ((Walk)fact).Counts)
        .AsSplitQuery();

    /// <summary>Facts that count.</summary>
    public static IQueryable<T> Standing<T>(this BookContext book)
        where T : Fact =>
        book.Set<T>().AsNoTracking().Where(fact => !book.Facts.Any(other => other.VoidsId == fact.Id));
}
