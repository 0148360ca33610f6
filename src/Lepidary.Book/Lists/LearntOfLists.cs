using Microsoft.EntityFrameworkCore;

namespace Lepidary.Book;

/// <summary>What the keepers of this book have said of suppliers' lists.</summary>
public static class LearntOfLists
{
    /// <summary>What counts now: of each matter the last word. What was taken back counts for nothing.</summary>
    /// <param name="book">The book.</param>
    /// <param name="supplierId">Supplier.</param>
    /// <param name="cancellation">Stops reading.</param>
    public static async Task<IReadOnlyList<LearntOfList>> ReadAsync(BookContext book, Guid supplierId, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(book);
        var standing = await book.Standing<LearntOfList>().Where(learnt => learnt.SupplierId == supplierId).ToListAsync(cancellation).ConfigureAwait(false);
        return [.. standing.GroupBy(learnt => (learnt.Matter, learnt.ColumnKey)).Select(group => group.MaxBy(learnt => learnt.Arrival)!).OrderBy(learnt => learnt.Matter).ThenBy(learnt => learnt.ColumnKey, StringComparer.Ordinal)];
    }
}
