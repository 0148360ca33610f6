using Microsoft.EntityFrameworkCore;

namespace Lepidary.Book;

/// <summary>How far a book was read: the newest fact, or <see cref="Nothing"/>.</summary>
internal readonly record struct ArrivalMark(long Arrival, Guid FactId)
{
    private static ArrivalMark Nothing => default;

    internal static async Task<ArrivalMark> NewestAsync(BookContext book, CancellationToken cancellation) =>
        await book.Facts.OrderByDescending(fact => fact.Arrival).Select(fact => new ArrivalMark(fact.Arrival, fact.Id))
            .FirstOrDefaultAsync(cancellation).ConfigureAwait(false);

    /// <summary>False when another book lies there now: a copy that was brought back is read anew.</summary>
    internal async Task<bool> StandsInAsync(BookContext book, ArrivalMark newest, CancellationToken cancellation)
    {
        var (arrival, id) = this;
        return this == newest || this == Nothing
            || await book.Facts.AnyAsync(fact => fact.Arrival == arrival && fact.Id == id, cancellation).ConfigureAwait(false);
    }
}
