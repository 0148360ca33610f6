using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.Book;

/// <summary>What became of a list that came in.</summary>
/// <param name="ListId">The list as it stands in the book.</param>
/// <param name="WasThere">True when the same file of the same supplier was kept in the same week before.</param>
public sealed record KeptList(Guid ListId, bool WasThere);

/// <summary>Keeps lists with their original bytes, each once a week: who sends the same list the week after offers the same again.</summary>
/// <param name="book">Makes a context for each writing.</param>
public sealed class ListShelf(IDbContextFactory<BookContext> book)
{
    /// <summary>SHA-256 of a file, 64 lower-case hexadecimal digits.</summary>
    public static string Sha256(byte[] bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));

    /// <summary>Monday and Sunday of the week of a day (ISO 8601).</summary>
    public static (DateOnly Monday, DateOnly Sunday) Week(DateOnly day)
    {
        var monday = day.AddDays(-(((int)day.DayOfWeek + 6) % 7));
        return (monday, monday.AddDays(6));
    }

    /// <summary>Keeps a list; the same file of the same supplier a second time in a week is the list that is there.</summary>
    /// <param name="list">With its <see cref="ReceivedList.Original"/>, whose SHA-256 it bears.</param>
    /// <param name="cancellation">Leaves it unwritten.</param>
    /// <exception cref="ArgumentException">The list lacks its original or bears another SHA-256.</exception>
    public async Task<KeptList> KeepAsync(ReceivedList list, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(list);
        if (list.Original is null || list.Sha256 != Sha256(list.Original.Bytes))
        {
            throw new ArgumentException("A list is kept with its original bytes and their SHA-256.", nameof(list));
        }

        await using var context = await book.CreateDbContextAsync(cancellation).ConfigureAwait(false);
        await using var transaction = await ProviderDifferences.BeginWritingAsync(context, cancellation).ConfigureAwait(false);
        var (monday, sunday) = Week(list.OnDay);
        var there = await context.Lists.Where(other => other.SupplierId == list.SupplierId && other.Sha256 == list.Sha256 && other.OnDay >= monday && other.OnDay <= sunday)
            .OrderBy(other => other.OnDay).Select(other => (Guid?)other.Id).FirstOrDefaultAsync(cancellation).ConfigureAwait(false);
        if (there is { } listId)
        {
            return new(listId, WasThere: true);
        }

        context.Add(list);
        await context.SaveChangesAsync(cancellation).ConfigureAwait(false);
        await transaction.CommitAsync(cancellation).ConfigureAwait(false);
        return new(list.Id, WasThere: false);
    }
}
