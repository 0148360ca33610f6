using Lepidary.App.Orders;
using Lepidary.Book;
using Lepidary.Planning;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Weeks;

/// <summary>What a pupa of one supplier costs landed, in an order of the usual size.</summary>
/// <param name="Supplier">The terms, as planning takes them.</param>
/// <param name="Pupae">Pupae of the order that carriage and charges are shared over.</param>
/// <param name="Goods">Its goods, supplier's currency.</param>
/// <param name="Orders">Orders that the size was read from; 0 where it is assumed.</param>
internal sealed record UsualOrder(PlanSupplier Supplier, int Pupae, decimal Goods, int Orders)
{
    /// <summary>House money landed for one of the supplier's on a list: everything that is not goods is shared out by goods, as in a proposal.</summary>
    public decimal Factor { get; } = LandedCost.Of(Supplier, default, Goods, Pupae).TotalInHouse / Goods;

    /// <summary>Landed cost of one pupa, house currency.</summary>
    /// <param name="price">As the list prints it, above 0.</param>
    public decimal Landed(decimal price) => price * Factor;

    /// <summary><c>112 pupae, as in your last 6 orders</c>.</summary>
    public string Words => Orders == 0 ? $"{Pupae} pupae, as assumed" : $"{Pupae} pupae, as in your last {(Orders == 1 ? "order" : $"{Orders} orders")}";
}

/// <summary>The usual orders of a house, by supplier: the middle of the last few, by today's terms.</summary>
internal sealed class UsualOrders(BookContext book)
{
    private const int Last = 8;

    /// <summary>Where nothing was ordered yet. A choice of this project, no source.</summary>
    private const int AssumedPupae = 100;
    private const decimal AssumedPrice = 2.5m;

    /// <summary>Of every supplier of the house, by name.</summary>
    /// <param name="house">With its terms.</param>
    /// <param name="onOffer">This week's lists: what they say of tax and charges holds.</param>
    /// <param name="suppliers">The lists over the weeks, for a usual price where nothing was ordered yet.</param>
    /// <param name="day">Order day.</param>
    /// <param name="cancellation">Stops reading.</param>
    public async Task<IReadOnlyDictionary<string, UsualOrder>> Of(Book.House house, IReadOnlyList<ListOnOffer> onOffer, IReadOnlyList<SupplierWeeks> suppliers, DateOnly day, CancellationToken cancellation)
    {
        var orders = await book.Orders.AsNoTracking().Where(order => order.HouseId == house.Id && order.OnDay <= day)
            .Select(order => new { order.SupplierId, order.OnDay, order.Goods, Pupae = order.Lines.Sum(line => line.Pupae) }).ToListAsync(cancellation);
        return house.Terms.ToDictionary(
            terms => terms.Supplier!.Name,
            terms =>
            {
                var from = onOffer.FirstOrDefault(list => list.Terms.SupplierId == terms.SupplierId) ?? new ListOnOffer(terms, new Lepidary.Lists.SupplierList(), "");
                var past = orders.Where(order => order.SupplierId == terms.SupplierId && order is { Pupae: > 0, Goods: > 0 }).OrderByDescending(order => order.OnDay).Take(Last).ToList();
                if (past.Count > 0)
                {
                    var middle = past.Select(order => order.Pupae).Order().ElementAt(past.Count / 2);
                    return new UsualOrder(PlanningDesk.Supplier(from, house, day), middle, middle * past.Sum(order => order.Goods) / past.Sum(order => order.Pupae), past.Count);
                }

                var pupae = Math.Max(AssumedPupae, terms.MinimumPupae ?? 0);
                var prices = suppliers.FirstOrDefault(supplier => supplier.Terms.SupplierId == terms.SupplierId)?.Weeks.SelectMany(week => week.Offers).Select(offer => offer.Price).OfType<decimal>().Where(price => price > 0).Order().ToList();
                var price = prices is { Count: > 0 } ? prices[prices.Count / 2] : AssumedPrice;
                return new UsualOrder(PlanningDesk.Supplier(from, house, day), pupae, Math.Max(pupae * price, terms.MinimumGoods ?? 0), 0);
            },
            StringComparer.Ordinal);
    }
}
