using Lepidary.Book.Tests.Databases;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace Lepidary.Book.Tests.Lists;

public sealed class ListShelfTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Theory]
    [OnBothDatabases]
    public async Task Keep_sameFileFromSeveralAtOnce_isOneList(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var shelf = new ListShelf(book);

        var kept = await Task.WhenAll(Enumerable.Range(0, 4).Select(_ => Task.Run(() => shelf.KeepAsync(List(book.Supplier.Id, book.Today), Token), Token)));

        Assert.Single(kept, one => !one.WasThere);
        Assert.Single(kept.Select(one => one.ListId).Distinct());
        await using var context = book.CreateDbContext();
        Assert.Equal(1, await context.Lists.CountAsync(Token));
        Assert.Equal([7, 0, 255], (await context.ListOriginals.SingleAsync(Token)).Bytes);
    }

    [Theory]
    [OnBothDatabases]
    public async Task Keep_sameFileTheWeekAfter_isAListingOfThatWeekToo(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var shelf = new ListShelf(book);
        var monday = new DateOnly(2026, 11, 23);

        var first = await shelf.KeepAsync(List(book.Supplier.Id, monday), Token);
        var sunday = await shelf.KeepAsync(List(book.Supplier.Id, monday.AddDays(6)), Token);
        var next = await shelf.KeepAsync(List(book.Supplier.Id, monday.AddDays(7)), Token);

        Assert.Equal(new KeptList(first.ListId, WasThere: true), sunday);
        Assert.False(next.WasThere);
        Assert.NotEqual(first.ListId, next.ListId);
    }

    [Theory]
    [OnBothDatabases]
    public async Task Keep_sameFileOfAnotherSupplier_isAnotherList(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var other = new Supplier { Name = "Kessom Farm" };
        await using (var context = book.CreateDbContext())
        {
            context.Add(other);
            await context.SaveChangesAsync(Token);
        }

        var shelf = new ListShelf(book);
        Assert.False((await shelf.KeepAsync(List(book.Supplier.Id, book.Today), Token)).WasThere);
        Assert.False((await shelf.KeepAsync(List(other.Id, book.Today), Token)).WasThere);
    }

    [Theory]
    [OnBothDatabases]
    public async Task Keep_listWithoutItsOwnBytes_isAProgrammersError(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var list = new ReceivedList { SupplierId = book.Supplier.Id, FileName = "x.csv", Sha256 = ListShelf.Sha256([1]), Original = new() { Bytes = [2] } };

        await Assert.ThrowsAsync<ArgumentException>(() => new ListShelf(book).KeepAsync(list, Token));
    }

    [Theory]
    [OnBothDatabases]
    public async Task SettledNames_laterWordAndVoiding_count(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var second = Name(book, "morpho peleides", "Morpho helenor");
        await book.AcceptAsync(Token, Name(book, "morpho peleides", "Morpho achilles"), second, Name(book, "idea leucone", "Idea leuconoe"));

        await using var context = book.CreateDbContext();
        var names = await SettledNames.ReadAsync(context, Token);
        Assert.Equal(("Morpho helenor", "Idea leuconoe"), (names["morpho peleides"].Taxon, names["idea leucone"].Taxon));

        await book.AcceptAsync(Token, new Voiding { HouseId = book.House.Id, OnDay = book.Today, VoidsId = second.Id });
        Assert.Equal("Morpho achilles", (await SettledNames.ReadAsync(context, Token))["morpho peleides"].Taxon);
    }

    private static SettledName Name(TestBook book, string key, string taxon) => new() { HouseId = book.House.Id, OnDay = book.Today, TextKey = key, Taxon = taxon };

    private static ReceivedList List(Guid supplierId, DateOnly day) => new()
    {
        SupplierId = supplierId,
        FileName = "week 48.csv",
        OnDay = day,
        Sha256 = ListShelf.Sha256([7, 0, 255]),
        Original = new() { Bytes = [7, 0, 255] },
        Offers = { new() { Line = 2, Text = "Idea leuconoe 4.10", Taxon = "Idea leuconoe", Kind = "Pupa", Price = 4.1m } },
    };
}
