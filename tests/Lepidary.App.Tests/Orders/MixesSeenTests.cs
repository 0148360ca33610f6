using Lepidary.App.Orders;
using Lepidary.App.Tests.Support;
using Lepidary.Book;
using Lepidary.Lists;
using Lepidary.Taxa;

namespace Lepidary.App.Tests.Orders;

public sealed class MixesSeenTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Box_that_was_counted_out_tells_what_the_next_mix_holds()
    {
        await using var book = new TestBook();
        var house = await HungHouse.Make(book);
        var (day, order) = (HungHouse.Today.AddDays(-7), (Order?)null);
        await book.Look(async context =>
        {
            var supplierId = context.Terms.Single().SupplierId;
            order = new Order
            {
                HouseId = house.Id,
                SupplierId = supplierId,
                OnDay = day.AddDays(-4),
                MadeAt = book.Clock.GetUtcNow(),
                Who = "Marit",
                Currency = "EUR",
                Rate = 0.86m,
                Lines = [new OrderLine { Number = 1, Text = "Mixed box", Pupae = 20 }, new OrderLine { Number = 2, Text = "Morpho", Taxon = "Morpho helenor", Pupae = 5 }],
            };
            context.Orders.Add(order);
            return await context.SaveChangesAsync(Stop);
        });
        await book.Receive(new Delivery
        {
            HouseId = house.Id,
            OnDay = day,
            DeviceTime = book.Clock.GetUtcNow(),
            SupplierId = order!.SupplierId,
            OrderId = order.Id,
            Lines =
            {
                new DeliveryLine { Taxon = "Morpho helenor", OrderLineId = order.Lines[1].Id, Ordered = 5, Alive = 5 },
                new DeliveryLine { Taxon = "Papilio memnon", Alive = 11, Dead = 1 },
                new DeliveryLine { Taxon = "Caligo memnon", OrderLineId = order.Lines[0].Id, Alive = 8 },
                new DeliveryLine { Taxon = "Idea leuconoe", SubstituteFor = "Morpho helenor", Alive = 2 },
            },
        });

        var seen = await book.Serve<MixesSeen, IReadOnlyDictionary<Guid, IReadOnlyDictionary<string, int>>>(mixes => mixes.Of(house.Id, HungHouse.Today, Stop));
        var before = await book.Serve<MixesSeen, IReadOnlyDictionary<Guid, IReadOnlyDictionary<string, int>>>(mixes => mixes.Of(house.Id, day.AddDays(-1), Stop));

        Assert.Equal(new Dictionary<string, int> { ["Papilio memnon"] = 12, ["Caligo memnon"] = 8 }, seen[order.SupplierId]);
        Assert.Empty(before);
        var terms = new SupplierTerms { SupplierId = order.SupplierId, HouseId = house.Id, Currency = "EUR", Supplier = new Supplier { Name = "Quillfeather Pupae" } };
        var input = new PlanningInput
        {
            House = house,
            Stock = [],
            OrderDay = HungHouse.Today,
            Lists = [new ListOnOffer(terms, new SupplierList { Offers = [new Offer { Line = 1, Text = "Mixed box", Kind = OfferKind.Mix, Price = 1.5m, Pack = 10 }] }, "list")],
        };
        var unknown = PlanningDesk.Lay(input, TaxonTable.Shipped).Value.Problem.Offers[0];
        var learnt = PlanningDesk.Lay(input with { Mixes = seen }, TaxonTable.Shipped).Value.Problem;
        Assert.Empty(unknown.Mix);
        // By hand: 12 and 8 of 20 seen and 5 that stay unknown.
        Assert.Equal([("Caligo memnon", 0.32), ("Papilio memnon", 0.48)], learnt.Offers[0].Mix.Select(part => (part.Taxon, Math.Round(part.Share, 9))));
        Assert.Equal(25, learnt.Offers[0].MixCertainty);
        Assert.Equal(["Caligo memnon", "Papilio memnon"], learnt.Taxa.Select(taxon => taxon.Name));
    }
}
