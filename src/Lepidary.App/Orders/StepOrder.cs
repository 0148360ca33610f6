using Lepidary.App.Host;
using Lepidary.Book;

namespace Lepidary.App.Orders;

/// <summary>An order goes on: sent, confirmed, refused, withdrawn.</summary>
internal sealed class StepOrder(FactInbox inbox, HouseDay day)
{
    /// <param name="key">Made when the keeper was asked: saying it twice with one key says it once.</param>
    /// <param name="order">The order.</param>
    /// <param name="state">What became of it.</param>
    /// <param name="who">Who says so.</param>
    /// <param name="made">When the keeper was asked.</param>
    /// <param name="cancellation">Leaves it unwritten.</param>
    public async Task<IReadOnlyList<Problem>> Step(Guid key, Guid order, OrderState state, string who, DateTimeOffset made, CancellationToken cancellation)
    {
        var receipts = await inbox.ReceiveAsync([new OrderStep { Id = key, HouseId = day.HouseId, OnDay = day.Today, DeviceTime = made, Who = who, OrderId = order, State = state }], cancellation);
        return receipts[0].Problems;
    }
}
