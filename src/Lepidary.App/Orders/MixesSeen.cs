using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Orders;

/// <summary>What was in the mixes that came: the make-up of a supplier's next one is learnt from it.</summary>
internal sealed class MixesSeen(BookContext book)
{
    /// <summary>Pupae counted by supplier and species, of boxes whose order asked for a mix; what was ordered by name is not of the mix.</summary>
    /// <param name="houseId">House.</param>
    /// <param name="day">The last day that counts.</param>
    /// <param name="cancellation">Stops reading.</param>
    public async Task<IReadOnlyDictionary<Guid, IReadOnlyDictionary<string, int>>> Of(Guid houseId, DateOnly day, CancellationToken cancellation)
    {
        var orders = (await book.Orders.AsNoTracking().Include(order => order.Lines).Where(order => order.HouseId == houseId && order.OnDay <= day && order.Lines.Any(line => line.Taxon == null)).ToListAsync(cancellation))
            .ToDictionary(order => order.Id);
        if (orders.Count == 0)
        {
            return new Dictionary<Guid, IReadOnlyDictionary<string, int>>();
        }

        var ids = orders.Keys.ToHashSet();
        var boxes = await book.Standing<Delivery>().Include(box => box.Lines).Where(box => box.HouseId == houseId && box.OnDay <= day && box.OrderId != null && ids.Contains(box.OrderId.Value)).ToListAsync(cancellation);
        return boxes.SelectMany(box => box.Lines.Where(line => OfTheMix(line, orders[box.OrderId!.Value])), (box, line) => (box.SupplierId, line.Taxon, line.Counted))
            .Where(seen => seen.Counted > 0)
            .GroupBy(seen => seen.SupplierId)
            .ToDictionary(
                supplier => supplier.Key,
                supplier => (IReadOnlyDictionary<string, int>)supplier.GroupBy(seen => seen.Taxon, StringComparer.Ordinal).ToDictionary(taxon => taxon.Key, taxon => taxon.Sum(seen => seen.Counted), StringComparer.Ordinal));
    }

    private static bool OfTheMix(DeliveryLine line, Order order) =>
        line.OrderLineId is { } asked ? order.Lines.Exists(one => one.Id == asked && one.Taxon is null)
        : line.SubstituteFor is null && !order.Lines.Exists(one => one.Taxon == line.Taxon);
}
