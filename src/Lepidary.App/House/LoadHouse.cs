using Lepidary.Book;
using Lepidary.Taxa;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.House;

/// <summary>Puts a house file into the book: a new house, its suppliers, and its stock as opening facts.</summary>
internal sealed class LoadHouse(BookContext book, FactInbox inbox)
{
    /// <param name="sheet">The house file.</param>
    /// <param name="on">Day of the opening stock.</param>
    /// <param name="now">The instant it is written down.</param>
    /// <param name="who">Who does it.</param>
    /// <param name="clockStandsAt">For a demo: where its clock stands.</param>
    /// <param name="cancellation">Leaves it unwritten.</param>
    /// <returns>Key of the house.</returns>
    public async Task<Checked<Guid>> Load(HouseSheet sheet, DateOnly on, DateTimeOffset now, string who, DateTimeOffset? clockStandsAt, CancellationToken cancellation)
    {
        if (await book.Houses.AnyAsync(house => house.Name == sheet.House.Name, cancellation))
        {
            return new Problem("house", $"a house named {sheet.House.Name} in this book", "a house that is not there yet; change it on the page House");
        }

        var names = new NameFinder(TaxonTable.Shipped);
        var stock = new List<(StockItem Item, string Taxon)>();
        var problems = new List<Problem>();
        foreach (var item in sheet.Stock)
        {
            var match = names.Find(item.Taxon, NameContext.None);
            if ((TaxonTable.Shipped.Find(item.Taxon) ?? (match.Doubts.Count == 0 ? match.Taxon : null)) is { } taxon)
            {
                stock.Add((item, taxon.Name));
            }
            else
            {
                problems.Add(new("stock", item.Taxon, "the name of a species"));
            }
        }

        foreach (var item in sheet.Stock.Where(item => item.Supplier is not null && sheet.House.Terms.All(terms => terms.Supplier!.Name != item.Supplier)))
        {
            problems.Add(new("stock", $"the supplier {item.Supplier}", "one of the file's suppliers"));
        }

        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var known = await book.Suppliers.ToDictionaryAsync(supplier => supplier.Name, StringComparer.OrdinalIgnoreCase, cancellation);
        var house = sheet.House;
        house.ClockStandsAt = clockStandsAt;
        var terms = house.Terms.Select(one => Tied(one, house.Id, known)).ToList();
        house.Terms.Clear();
        house.Terms.AddRange(terms);
        book.Houses.Add(house);
        var orders = Coming(stock, house, terms, on, now, who).ToList();
        book.Orders.AddRange(orders);
        await book.SaveChangesAsync(cancellation);

        var receipts = await inbox.ReceiveAsync([.. Opening(stock, house, terms, on, now, who), .. orders.Select(order => Sent(order, now))], cancellation);
        var refused = receipts.SelectMany(receipt => receipt.Problems).ToArray();
        return refused.Length > 0 ? refused : house.Id;
    }

    private static SupplierTerms Tied(SupplierTerms terms, Guid houseId, Dictionary<string, Supplier> known)
    {
        var there = known.GetValueOrDefault(terms.Supplier!.Name);
        return new SupplierTerms
        {
            HouseId = houseId,
            SupplierId = there?.Id ?? terms.Supplier.Id,
            Supplier = there ?? terms.Supplier,
            Currency = terms.Currency,
            Rate = terms.Rate,
            PricesExcludeTax = terms.PricesExcludeTax,
            TaxRate = terms.TaxRate,
            CarriageTaxed = terms.CarriageTaxed,
            Carriage = terms.Carriage,
            CarriageBy = terms.CarriageBy,
            PupaGrams = terms.PupaGrams,
            BreaksFromThere = terms.BreaksFromThere,
            Charges = terms.Charges,
            BoxPupae = terms.BoxPupae,
            MinimumPupae = terms.MinimumPupae,
            MinimumGoods = terms.MinimumGoods,
            ArrivesOn = terms.ArrivesOn,
            AlsoArrivesOn = terms.AlsoArrivesOn,
            OrderAheadDays = terms.OrderAheadDays,
            ClosedDays = terms.ClosedDays,
            Avoided = terms.Avoided,
            FavouredBy = terms.FavouredBy,
            ClaimWindowHours = terms.ClaimWindowHours,
        };
    }

    private static IEnumerable<Fact> Opening(List<(StockItem Item, string Taxon)> stock, Book.House house, List<SupplierTerms> terms, DateOnly on, DateTimeOffset now, string who)
    {
        var hanging = stock.Where(one => one.Item.Place == StockPlace.Hanging && one.Item.Count > 0).ToList();
        if (hanging.Count > 0)
        {
            yield return new Hanging
            {
                HouseId = house.Id,
                OnDay = on,
                DeviceTime = now,
                Who = who,
                From = HangingFrom.Opening,
                Lots = [.. hanging.Select(one => new Lot
                {
                    HouseId = house.Id,
                    Taxon = one.Taxon,
                    HungOn = one.Item.Since,
                    Received = one.Item.Count,
                    SupplierId = terms.FirstOrDefault(each => each.Supplier!.Name == one.Item.Supplier)?.SupplierId,
                    CageId = house.Cages.FirstOrDefault()?.Id,
                    EmergenceRate = one.Item.Rate,
                })],
            };
        }

        foreach (var (item, taxon) in stock.Where(one => one.Item.Place == StockPlace.Flying && one.Item.Count > 0))
        {
            yield return new Release { HouseId = house.Id, OnDay = item.Since, DeviceTime = now, Who = who, Taxon = taxon, AreaId = house.Areas.FirstOrDefault()?.Id, Unsexed = item.Count };
        }
    }

    private static IEnumerable<Order> Coming(List<(StockItem Item, string Taxon)> stock, Book.House house, List<SupplierTerms> terms, DateOnly on, DateTimeOffset now, string who) =>
        stock.Where(one => one.Item.Place == StockPlace.Coming && one.Item.Supplier is not null && one.Item.Count > 0)
            .GroupBy(one => (one.Item.Supplier, one.Item.Since))
            .Select(box =>
            {
                var from = terms.Single(each => each.Supplier!.Name == box.Key.Supplier);
                return new Order
                {
                    HouseId = house.Id,
                    SupplierId = from.SupplierId,
                    OnDay = on,
                    MadeAt = now,
                    Who = who,
                    ArrivesOn = box.Key.Since,
                    Currency = from.Currency,
                    Rate = from.Rate,
                    Lines = [.. box.Select((one, index) => new OrderLine { Number = index + 1, Text = one.Item.Taxon, Taxon = one.Taxon, Pupae = one.Item.Count })],
                };
            });

    private static OrderStep Sent(Order order, DateTimeOffset now) =>
        new() { HouseId = order.HouseId, OnDay = order.OnDay, DeviceTime = now, Who = order.Who, OrderId = order.Id, State = OrderState.Sent };
}
