using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Host;

/// <summary>Reading and writing facts of one house.</summary>
internal static class HouseFacts
{
    /// <summary>Facts of a house that count.</summary>
    public static IQueryable<T> Standing<T>(this BookContext book, Guid houseId)
        where T : Fact =>
        book.Standing<T>().Where(fact => fact.HouseId == houseId);

    /// <summary>By how much the pupae of a lot differ from what was received: recounts added, what was moved to other lots taken off. Lots without either are left out.</summary>
    /// <param name="since">First day of what was moved.</param>
    /// <param name="before">The day after the last of it.</param>
    public static async Task<Dictionary<Guid, int>> ReceivedSince(this BookContext book, Guid houseId, DateOnly since, DateOnly before, CancellationToken cancellation)
    {
        var changes = (await book.Standing<Recount>(houseId).Where(fact => fact.OnDay >= since)
            .GroupBy(fact => fact.LotId).Select(lot => new { lot.Key, Count = lot.Sum(fact => fact.Difference) }).ToListAsync(cancellation)).ToDictionary(lot => lot.Key, lot => lot.Count);
        foreach (var moved in await book.Standing<Transfer>(houseId).Where(fact => fact.OnDay >= since && fact.OnDay < before)
            .GroupBy(fact => fact.LotId).Select(lot => new { lot.Key, Count = lot.Sum(fact => fact.Count) }).ToListAsync(cancellation))
        {
            changes[moved.Key] = changes.GetValueOrDefault(moved.Key) - moved.Count;
        }

        return changes;
    }

    /// <summary>Takes one fact in, or several that belong together; problems where one of them is refused.</summary>
    /// <returns>What became of the first.</returns>
    public static async Task<Checked<Receipt>> Take(this FactInbox inbox, CancellationToken cancellation, params IReadOnlyList<Fact> facts)
    {
        var receipts = await inbox.ReceiveAsync(facts, cancellation);
        var problems = receipts.SelectMany(receipt => receipt.Problems).Distinct().ToArray();
        return problems.Length > 0 ? problems : receipts[0].Receipt;
    }
}
