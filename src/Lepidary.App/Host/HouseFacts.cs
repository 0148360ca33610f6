using Lepidary.Book;

namespace Lepidary.App.Host;

/// <summary>Reading and writing facts of one house.</summary>
internal static class HouseFacts
{
    /// <summary>Facts of a house that count.</summary>
    public static IQueryable<T> Standing<T>(this BookContext book, Guid houseId)
        where T : Fact =>
        book.Standing<T>().Where(fact => fact.HouseId == houseId);

    /// <summary>Takes one fact in, or several that belong together; problems where one of them is refused.</summary>
    /// <returns>What became of the first.</returns>
    public static async Task<Checked<Receipt>> Take(this FactInbox inbox, CancellationToken cancellation, params IReadOnlyList<Fact> facts)
    {
        var receipts = await inbox.ReceiveAsync(facts, cancellation);
        var problems = receipts.SelectMany(receipt => receipt.Problems).Distinct().ToArray();
        return problems.Length > 0 ? problems : receipts[0].Receipt;
    }
}
