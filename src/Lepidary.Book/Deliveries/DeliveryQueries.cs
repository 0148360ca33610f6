using Microsoft.EntityFrameworkCore;

namespace Lepidary.Book;

/// <summary>Deliveries as pages ask for them.</summary>
public static class DeliveryQueries
{
    /// <summary>Suppliers use their marks again; within this many days the same mark is the same box.</summary>
    public const int SameBoxDays = 21;

    /// <summary>Deliveries that took in the same box before; empty where there are none.</summary>
    /// <param name="book">The book.</param>
    /// <param name="houseId">House.</param>
    /// <param name="supplierId">Supplier.</param>
    /// <param name="boxMark">Mark on the box; nothing is found without one.</param>
    /// <param name="day">Day of the delivery at hand.</param>
    /// <param name="cancellation">Stops reading.</param>
    public static async Task<IReadOnlyList<Delivery>> SameBoxAsync(
        this BookContext book, Guid houseId, Guid supplierId, string? boxMark, DateOnly day, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(book);
        if (string.IsNullOrWhiteSpace(boxMark))
        {
            return [];
        }

        var (from, to) = (day.AddDays(-SameBoxDays), day.AddDays(SameBoxDays));
        return await book.Standing<Delivery>()
            .Where(delivery => delivery.HouseId == houseId && delivery.SupplierId == supplierId && delivery.BoxMark == boxMark
                && delivery.OnDay >= from && delivery.OnDay <= to)
            .OrderBy(delivery => delivery.Arrival).ToListAsync(cancellation).ConfigureAwait(false);
    }
}
