using Lepidary.Book.Tests.Databases;
using Xunit;

namespace Lepidary.Book.Tests.Ledger;

public sealed class DiscrepancyReaderTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Theory]
    [OnBothDatabases]
    public async Task Read_aRoundThatAddsUp_findsNothing(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var lot = book.Lot("Morpho helenor", 10);
        await book.AcceptAsync(Token, book.Delivery(lot), book.Entry(lot, male: 3, dead: 1));

        Assert.Empty(await Reader(book).ReadAsync(book.House.Id, Token));
    }

    [Theory]
    [OnBothDatabases]
    public async Task Read_twoBrowsersOnOneLot_showsTheExcessUntilItIsSettledAndAgainWhenItGrows(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var reader = Reader(book);
        var lot = book.Lot("Morpho helenor", 10);
        await book.AcceptAsync(Token, book.Delivery(lot));

        // Each of the two sees ten hanging.
        await Task.WhenAll(
            book.AcceptAsync(Token, book.Entry(lot, male: 6)),
            book.AcceptAsync(Token, book.Entry(lot, male: 6)));
        var found = Assert.Single(await reader.ReadAsync(book.House.Id, Token));
        Assert.Equal((DiscrepancyKind.MoreCountedThanHung, lot.Id, 2), (found.Kind, found.SubjectId, found.Excess));

        var settled = Settle(book, found);
        await book.AcceptAsync(Token, settled);
        Assert.Empty(await reader.ReadAsync(book.House.Id, Token));
        await book.AcceptAsync(Token, book.Entry(lot, female: 1));
        Assert.Equal(3, Assert.Single(await reader.ReadAsync(book.House.Id, Token)).Excess);
    }

    [Theory]
    [OnBothDatabases]
    public async Task Read_factsAboutAnUnknownLot_areShownUntilItsDeliveryComesIn(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var reader = Reader(book);
        var lot = book.Lot("Morpho helenor", 10);
        var entry = book.Entry(lot, male: 1);
        Assert.Empty(await reader.ReadAsync(book.House.Id, Token));
        await book.AcceptAsync(Token, entry);

        var found = Assert.Single(await reader.ReadAsync(book.House.Id, Token));
        Assert.Equal((DiscrepancyKind.UnknownLot, entry.Id), (found.Kind, found.SubjectId));
        Assert.StartsWith("A row of 2026-11-25 by Ines is about a lot that is not in the book.", found.Sentence, StringComparison.Ordinal);
        Assert.Equal(found.Sentence, Assert.Single(await Reader(book).ReadAsync(book.House.Id, Token)).Sentence);

        var delivery = book.Delivery(lot);
        await book.AcceptAsync(Token, delivery);
        Assert.Empty(await reader.ReadAsync(book.House.Id, Token));
        await book.AcceptAsync(Token, new Voiding { HouseId = book.House.Id, OnDay = book.Today, VoidsId = delivery.Id });
        Assert.Equal(entry.Id, Assert.Single(await reader.ReadAsync(book.House.Id, Token)).SubjectId);
        Assert.Equal(entry.Id, Assert.Single(await Reader(book).ReadAsync(book.House.Id, Token)).SubjectId);
        await book.AcceptAsync(Token, new Voiding { HouseId = book.House.Id, OnDay = book.Today, VoidsId = entry.Id });
        Assert.Empty(await reader.ReadAsync(book.House.Id, Token));
        Assert.Empty(await Reader(book).ReadAsync(book.House.Id, Token));
    }

    [Theory]
    [OnBothDatabases]
    public async Task Read_countBeforeTheLotHung_isShown(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var reader = Reader(book);
        var lot = book.Lot("Morpho helenor", 10);
        await book.AcceptAsync(Token, book.Delivery(lot));
        Assert.Empty(await reader.ReadAsync(book.House.Id, Token));
        var early = book.Entry(lot, male: 1, on: book.Today.AddDays(-3));
        await book.AcceptAsync(Token, early);

        Assert.Equal(DiscrepancyKind.CountedBeforeHung, Assert.Single(await reader.ReadAsync(book.House.Id, Token)).Kind);
        Assert.Equal(early.Id, Assert.Single(await Reader(book).ReadAsync(book.House.Id, Token)).SubjectId);
    }

    [Theory]
    [OnBothDatabases]
    public async Task Read_oneRowCorrectedOnTwoPhones_showsBothCorrections(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var lot = book.Lot("Morpho helenor", 10);
        var first = book.Entry(lot, male: 3);
        Entry[] corrections = [book.Entry(lot, male: 2, voids: first.Id), book.Entry(lot, male: 4, voids: first.Id)];
        await book.AcceptAsync(Token, [book.Delivery(lot), first, .. corrections]);

        var found = Assert.Single(await Reader(book).ReadAsync(book.House.Id, Token));
        Assert.Equal((DiscrepancyKind.CorrectedTwice, first.Id), (found.Kind, found.SubjectId));
        Assert.Equal(corrections.Select(entry => entry.Id), found.FactIds);

        await book.AcceptAsync(Token, new Voiding { HouseId = book.House.Id, OnDay = book.Today, VoidsId = corrections[0].Id });
        Assert.Empty(await Reader(book).ReadAsync(book.House.Id, Token));
    }

    [Theory]
    [OnBothDatabases]
    public async Task Read_oneKeyWithTwoContents_isShownUntilSettled(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var lot = book.Lot("Morpho helenor", 10);
        var first = book.Entry(lot, male: 3);
        await book.AcceptAsync(Token, book.Delivery(lot), first);
        await book.Inbox.ReceiveAsync([new Entry { Id = first.Id, HouseId = first.HouseId, LotId = lot.Id, OnDay = first.OnDay, EmergedMale = 1 }], Token);

        var found = Assert.Single(await Reader(book).ReadAsync(book.House.Id, Token));
        Assert.Equal(DiscrepancyKind.TwoRowsOneKey, found.Kind);
        await book.AcceptAsync(Token, Settle(book, found));
        Assert.Empty(await Reader(book).ReadAsync(book.House.Id, Token));
    }

    [Theory]
    [OnBothDatabases]
    public async Task Read_oneBoxTakenInTwice_isShownAndAMarkUsedAgainMonthsLaterIsNot(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        Delivery[] deliveries = [Box(-90), Box(-1), Box(0)];
        await book.AcceptAsync(Token, deliveries);
        await using var context = book.CreateDbContext();
        Assert.Equal(2, (await context.SameBoxAsync(book.House.Id, book.Supplier.Id, "Q-1187", book.Today, Token)).Count);
        Assert.Empty(await context.SameBoxAsync(book.House.Id, book.Supplier.Id, "Q-1188", book.Today, Token));
        Assert.Empty(await context.SameBoxAsync(book.House.Id, book.Supplier.Id, " ", book.Today, Token));

        var found = Assert.Single(await Reader(book).ReadAsync(book.House.Id, Token));
        Assert.Equal(DiscrepancyKind.BoxTakenInTwice, found.Kind);
        Assert.Equal(deliveries[1..].Select(delivery => delivery.Id), found.FactIds);

        await book.AcceptAsync(Token, new Voiding { HouseId = book.House.Id, OnDay = book.Today, VoidsId = deliveries[2].Id });
        Assert.Empty(await Reader(book).ReadAsync(book.House.Id, Token));

        Delivery Box(int day) => new() { HouseId = book.House.Id, SupplierId = book.Supplier.Id, OnDay = book.Today.AddDays(day), BoxMark = "Q-1187" };
    }

    [Theory]
    [OnBothDatabases]
    public async Task Read_boxOfOneOrderTakenInByTwoPhonesWithoutAMark_isShown(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var order = BookId.New();
        await book.AcceptAsync(Token, Box(order, null), Box(order, null), Box(order, "second"), Box(null, null), Box(null, null));

        var found = Assert.Single(await Reader(book).ReadAsync(book.House.Id, Token));

        Assert.Equal((DiscrepancyKind.BoxTakenInTwice, 1), (found.Kind, found.Excess));
        Assert.StartsWith("The box of one order, without a mark, was taken in 2 times.", found.Sentence, StringComparison.Ordinal);

        Delivery Box(Guid? answers, string? mark) => new() { HouseId = book.House.Id, SupplierId = book.Supplier.Id, OnDay = book.Today, OrderId = answers, BoxMark = mark };
    }

    private static DiscrepancyReader Reader(TestBook book) => new(book, new OpenLots(book));

    private static SettledDiscrepancy Settle(TestBook book, Discrepancy found) =>
        new() { HouseId = book.House.Id, OnDay = book.Today, SubjectId = found.SubjectId, Excess = found.Excess };
}
