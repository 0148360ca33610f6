using Lepidary.App.Host;
using Lepidary.Book;

namespace Lepidary.App.Orders;

/// <summary>An order goes on: sent, confirmed, refused, withdrawn.</summary>
internal sealed class StepOrder(FactInbox inbox, HouseDay day)
{
    public async Task<IReadOnlyList<Problem>> Step(Guid key, Guid order, OrderState state, string who, CancellationToken cancellation)
    {
        var receipts = await inbox.ReceiveAsync([new OrderStep { Id = key, HouseId = day.HouseId, OnDay = day.Today, DeviceTime = day.Now, Who = who, OrderId = order, State = state }], cancellation);
        return receipts[0].Problems;
    }
}
