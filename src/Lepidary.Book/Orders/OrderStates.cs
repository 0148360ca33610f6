using Microsoft.EntityFrameworkCore;

namespace Lepidary.Book;

/// <summary>What became of orders.</summary>
public static class OrderStates
{
    /// <summary>The state that an order came to by its steps: the last by the day it is about, then by the device's clock.</summary>
    /// <param name="standing">Steps of one order that count.</param>
    /// <returns><see cref="OrderState.Drafted"/> where there is none.</returns>
    public static OrderState Of(IEnumerable<OrderStep> standing) =>
        standing.MaxBy(step => (step.OnDay, step.DeviceTime, step.Id))?.State ?? OrderState.Drafted;

    /// <summary>The states of some orders; an order without a step is left out.</summary>
    /// <param name="book">The book.</param>
    /// <param name="orderIds">Orders.</param>
    /// <param name="day">The day at whose end they are in that state; null for all that is known.</param>
    /// <param name="cancellation">Stops reading.</param>
    public static async Task<IReadOnlyDictionary<Guid, OrderState>> ReadAsync(
        BookContext book, IReadOnlyCollection<Guid> orderIds, DateOnly? day = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(book);
        var last = day ?? DateOnly.MaxValue;
        var steps = await book.Standing<OrderStep>().Where(step => EF.Parameter(orderIds).Contains(step.OrderId) && step.OnDay <= last)
            .ToListAsync(cancellation).ConfigureAwait(false);
        return steps.GroupBy(step => step.OrderId).ToDictionary(order => order.Key, Of);
    }
}
