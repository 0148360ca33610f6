using Lepidary.App.Host;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Marks;

/// <summary>Reads the marked adults of a house that may still fly.</summary>
internal sealed class ReadMarks(BookContext book, HouseDay day)
{
    /// <summary>A mark of longer ago is free again: no adult lives so long.</summary>
    private const int Days = 365;

    public async Task<IReadOnlyList<MarkedAdult>> Of(CancellationToken cancellation)
    {
        var since = day.Today.AddDays(-Days);
        return await book.Standing<MarkedAdult>(day.HouseId).Where(row => row.OnDay >= since).OrderBy(row => row.OnDay).ThenBy(row => row.Arrival).ToListAsync(cancellation);
    }
}
