using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Tests.Support;

/// <summary>A small house with two cages, two areas and a few lots, written through the inbox.</summary>
internal static class HungHouse
{
    public static readonly DateOnly Today = new(2026, 11, 27);

    /// <summary>Makes the house; gives it back with its areas and cages.</summary>
    public static async Task<Book.House> Make(TestBook book)
    {
        var stop = TestContext.Current.CancellationToken;
        return await book.Look(async context =>
        {
            await context.Database.MigrateAsync(stop);
            var house = new Book.House { Name = "Fernlight House", Currency = "GBP", TimeZone = "Europe/London" };
            house.Areas.Add(new FlightArea { HouseId = house.Id, Name = "Palm hall", FloorM2 = 200, HeightM = 6 });
            house.Areas.Add(new FlightArea { HouseId = house.Id, Name = "Walkway", FloorM2 = 60, HeightM = 3 });
            house.Cages.Add(new Cage { HouseId = house.Id, Name = "Cage A", Places = 40 });
            house.Cages.Add(new Cage { HouseId = house.Id, Name = "Cage B", Places = 20 });
            house.Cages.Add(new Cage { HouseId = house.Id, Name = "Pair cage", Places = 4, Use = CageUse.Pairing });
            var supplier = new Supplier { Name = "Quillfeather Pupae", Email = "claims@quillfeather.example" };
            supplier.Terms.Add(new SupplierTerms { SupplierId = supplier.Id, HouseId = house.Id, Currency = "EUR", Rate = 0.86m, ClaimWindowHours = 48 });
            context.AddRange(house, supplier);
            await context.SaveChangesAsync(stop);
            return house;
        });
    }

    /// <summary>Hangs a lot some days ago.</summary>
    public static async Task<Lot> Hang(TestBook book, Book.House house, string taxon, int pupae, int daysAgo, string cage = "Cage A", string? row = null)
    {
        var stop = TestContext.Current.CancellationToken;
        var supplier = await book.Look(context => context.Suppliers.Select(supplier => supplier.Id).FirstAsync(stop));
        var lot = new Lot
        {
            HouseId = house.Id,
            SupplierId = supplier,
            Taxon = taxon,
            CageId = house.Cages.Single(other => other.Name == cage).Id,
            Row = row,
            HungOn = Today.AddDays(-daysAgo),
            Received = pupae,
        };
        await book.Receive(new Hanging { HouseId = house.Id, OnDay = lot.HungOn, DeviceTime = book.Clock.GetUtcNow(), From = HangingFrom.Opening, Lots = { lot } });
        return lot;
    }

    /// <summary>Writes facts as another device would.</summary>
    public static async Task Receive(this TestBook book, params Fact[] facts)
    {
        var receipts = await book.Serve<FactInbox, IReadOnlyList<FactReceipt>>(inbox => inbox.ReceiveAsync(facts, TestContext.Current.CancellationToken));
        Assert.All(receipts, receipt => Assert.Empty(receipt.Problems));
    }
}
