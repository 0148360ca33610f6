using Lepidary.Book.Tests.Databases;
using Xunit;

namespace Lepidary.Book.Tests.Ledger;

public sealed class StockReaderTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Theory]
    [OnBothDatabases]
    public async Task Read_aDayInTheWeek_tellsWhatHangsWaitsFliesAndComes(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var reader = new StockReader(book, new OpenLots(book));
        var (monday, tuesday) = (book.Today.AddDays(-2), book.Today.AddDays(-1));
        var lot = book.Lot("Morpho helenor", 10, monday);
        await book.AcceptAsync(
            Token,
            book.Delivery(lot),
            book.Entry(lot, male: 2, female: 1, on: tuesday),
            Release(book, lot, male: 2, on: tuesday));
        var early = await reader.ReadAsync(book.House.Id, tuesday, Token);
        Assert.Equal((7, 1, 2, 0), (early.Hanging, early.ToRelease, early.Flying.Sum(group => group.Count), early.Coming.Count));

        // A release voided, one found dead, and the reader must not go by what it remembers.
        var second = Release(book, lot, female: 1, on: book.Today);
        await book.AcceptAsync(Token, second, new FoundDead { HouseId = book.House.Id, OnDay = book.Today, Taxon = lot.Taxon, Count = 1 });
        var late = await reader.ReadAsync(book.House.Id, book.Today, Token);
        Assert.Equal((7, 0, 2), (late.Hanging, late.ToRelease, late.Flying.Sum(group => group.Count)));
        await book.AcceptAsync(Token, new Voiding { HouseId = book.House.Id, OnDay = book.Today, VoidsId = second.Id });
        var undone = await reader.ReadAsync(book.House.Id, book.Today, Token);
        Assert.Equal((7, 1, 1), (undone.Hanging, undone.ToRelease, undone.Flying.Sum(group => group.Count)));

        Assert.Equal((10, 0), await HangingAndFlying(monday));
        Assert.Equal((0, 0), await HangingAndFlying(monday.AddDays(-1)));

        async Task<(int, int)> HangingAndFlying(DateOnly day) =>
            await reader.ReadAsync(book.House.Id, day, Token) is var stock ? (stock.Hanging, stock.Flying.Sum(group => group.Count)) : default;
    }

    [Theory]
    [OnBothDatabases]
    public async Task Read_ordersThroughTheirSteps_comeUntilTheyAreDelivered(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var reader = new StockReader(book, new OpenLots(book));
        var order = new Order
        {
            HouseId = book.House.Id,
            SupplierId = book.Supplier.Id,
            OnDay = book.Today,
            Currency = "EUR",
            Lines = { new() { Number = 1, Text = "Idea leuconoe", Taxon = "Idea leuconoe", Pupae = 20, UnitPrice = 4.1m } },
        };
        await using (var context = book.CreateDbContext())
        {
            context.Add(order);
            await context.SaveChangesAsync(Token);
        }

        Assert.Empty(await ComingAsync());
        await book.AcceptAsync(Token, Step(OrderState.Sent));
        var coming = Assert.Single(await ComingAsync());
        Assert.Equal((OrderState.Sent, 20, "Quillfeather Pupae"), (coming.State, coming.Order.Lines[0].Pupae, coming.Order.Supplier!.Name));
        book.Clock.Move(TimeSpan.FromMinutes(5));
        var refused = Step(OrderState.Refused);
        await book.AcceptAsync(Token, refused);
        Assert.Empty(await ComingAsync());
        await book.AcceptAsync(Token, new Voiding { HouseId = book.House.Id, OnDay = book.Today, VoidsId = refused.Id });
        Assert.Single(await ComingAsync());
        await book.AcceptAsync(Token, new Delivery { HouseId = book.House.Id, SupplierId = book.Supplier.Id, OnDay = book.Today, OrderId = order.Id });
        Assert.Empty(await ComingAsync());

        async Task<IReadOnlyList<OnTheWay>> ComingAsync() => (await reader.ReadAsync(book.House.Id, book.Today, Token)).Coming;

        OrderStep Step(OrderState state) => new() { HouseId = book.House.Id, OnDay = book.Today, DeviceTime = book.Clock.GetUtcNow(), OrderId = order.Id, State = state };
    }

    private static Release Release(TestBook book, Lot lot, int male = 0, int female = 0, DateOnly on = default) => new()
    {
        HouseId = book.House.Id,
        LotId = lot.Id,
        Taxon = lot.Taxon,
        AreaId = book.House.Areas[0].Id,
        OnDay = on,
        Male = male,
        Female = female,
    };
}
