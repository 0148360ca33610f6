using Lepidary.Book.Sqlite;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace Lepidary.Book.Tests;

public sealed class SmokeTests
{
    private sealed class Factory(DbContextOptions<BookContext> o) : IDbContextFactory<BookContext> { public BookContext CreateDbContext() => new(o); }

    [Fact]
    public async Task A_week_comes_back_as_it_was_written()
    {
        var token = TestContext.Current.CancellationToken;
        var path = Path.Combine(Path.GetTempPath(), $"book-{Guid.NewGuid():n}.db");
        var options = new DbContextOptionsBuilder<BookContext>();
        options.UseSqliteBook(path);
        var factory = new Factory(options.Options);
        var house = new House { Name = "Thornmere", Currency = "GBP", TimeZone = "Europe/London", TaxRate = 0.2m, ClosedDays = [new(2026, 12, 25)], OpenOn = Weekdays.Tue | Weekdays.Sun };
        var supplier = new Supplier { Name = "Quillfeather Pupae" };
        house.Terms.Add(new() { Supplier = supplier, Currency = "EUR", Rate = 0.86m, Carriage = [new() { From = 1, Cost = 24.5m }], Charges = [new() { Name = "permit", Amount = 15, Per = CountedBy.Box }], ArrivesOn = DayOfWeek.Tuesday });
        await using (var book = factory.CreateDbContext())
        {
            await book.Database.MigrateAsync(token);
            book.Add(house);
            await book.SaveChangesAsync(token);
        }

        var inbox = new FactInbox(factory, TimeProvider.System);
        var today = house.DayAt(TimeProvider.System.GetUtcNow());
        var delivery = new Delivery
        {
            HouseId = house.Id,
            OnDay = today,
            SupplierId = supplier.Id,
            DeviceTime = TimeProvider.System.GetUtcNow(),
            Lines = [new() { Taxon = "Morpho helenor", Alive = 10 }],
            Lots = [new() { HouseId = house.Id, Taxon = "Morpho helenor", Received = 10, HungOn = today, UnitLanded = 3.25m }, new() { HouseId = house.Id, Taxon = "Morpho helenor", Received = 9, HungOn = today }],
        };
        Assert.Equal(Receipt.Accepted, (await inbox.ReceiveAsync([delivery], token))[0].Receipt);
        Assert.Equal(Receipt.Duplicate, (await inbox.ReceiveAsync([delivery], token))[0].Receipt);
        await using (var book = factory.CreateDbContext())
        {
            var terms = await book.Terms.AsNoTracking().SingleAsync(token);
            Assert.Equal(24.5m, terms.Carriage[0].Cost);
            Assert.Equal(CountedBy.Box, terms.Charges[0].Per);
            var lots = await book.Lots.AsNoTracking().ToListAsync(token);
            Assert.Equal(2, lots.Count);
            var back = (await book.Houses.AsNoTracking().SingleAsync(token));
            Assert.Equal(house.OpenOn, back.OpenOn);
            Assert.Equal(house.ClosedDays, back.ClosedDays);
        }
    }
}
