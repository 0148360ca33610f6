using Microsoft.EntityFrameworkCore;

namespace Lepidary.Book;

/// <summary>Names that the keepers of this book have settled.</summary>
public static class SettledNames
{
    /// <summary>By the folded text; where two keepers settled one text, the later counts.</summary>
    /// <param name="book">The book.</param>
    /// <param name="cancellation">Stops reading.</param>
    public static async Task<IReadOnlyDictionary<string, SettledName>> ReadAsync(BookContext book, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(book);
        var names = await book.Standing<SettledName>().ToListAsync(cancellation).ConfigureAwait(false);
        return names.GroupBy(name => name.TextKey, StringComparer.Ordinal)
            .ToDictionary(group => group.Key, group => group.MaxBy(name => name.Arrival)!, StringComparer.Ordinal);
    }
}
