using CsCheck;
using Lepidary.Book.Tests.Databases;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace Lepidary.Book.Tests.Ledger;

public sealed class OpenLotsTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    /// <summary>
    /// The database's sums against the pure ledger: after every batch of a random history, for one reader that remembers, one that
    /// starts anew, and for days gone by.
    /// </summary>
    [Theory]
    [OnBothDatabases]
    public async Task Read_randomHistories_agreesWithTheLedger(DatabaseKind kind)
    {
        var histories = Gen.Select(Histories.Facts, Gen.Int[0, 40]).Array[6].Single(_ => true, "0000Lepidary");
        foreach (var (facts, hangAt) in histories)
        {
            await using var book = await TestBook.MakeEmptyAsync(kind, Token);
            await using (var context = book.CreateDbContext())
            {
                context.Add(new House { Id = Histories.House, Name = "Thornmere", Currency = "GBP", TimeZone = "Europe/London" });
                await context.SaveChangesAsync(Token);
            }

            var remembering = new OpenLots(book);
            var hanging = new Hanging { HouseId = Histories.House, OnDay = Histories.FirstDay, Lots = [.. Histories.Lots.Select(Copy)] };
            var stream = facts.Take(hangAt).Append(hanging).Concat(facts.Skip(hangAt)).ToList();
            for (var from = 0; from < stream.Count; from += 11)
            {
                var batch = stream.Skip(from).Take(11).ToList();
                Assert.All(await book.Inbox.ReceiveAsync(batch, Token), receipt => Assert.Equal(Receipt.Accepted, receipt.Receipt));
                var known = stream.Take(from + 11).ToList();
                var expected = Expected(known, null);
                Assert.Equal(expected, Shown(await remembering.ReadAsync(Histories.House, Token)));
                Assert.Equal(expected, Shown(await new OpenLots(book).ReadAsync(Histories.House, Token)));
                foreach (var day in new[] { 5, 14 }.Select(Histories.FirstDay.AddDays))
                {
                    Assert.Equal(Expected(known, day), Shown(await remembering.ReadAsync(Histories.House, day, Token)));
                }
            }
        }
    }

    [Theory]
    [OnBothDatabases]
    public async Task Read_deliveryTakenBack_takesItsLotsAway(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var open = new OpenLots(book);
        var delivery = book.Delivery(book.Lot("Morpho helenor", 10), book.Lot("Idea leuconoe", 5));
        await book.AcceptAsync(Token, delivery);
        Assert.Equal(2, (await open.ReadAsync(book.House.Id, Token)).Count);

        await book.AcceptAsync(Token, new Voiding { HouseId = book.House.Id, OnDay = book.Today, VoidsId = delivery.Id });

        Assert.Empty(await open.ReadAsync(book.House.Id, Token));
    }

    [Theory]
    [OnBothDatabases]
    public async Task Read_closedLotReopenedByAVoid_comesBack(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var open = new OpenLots(book);
        var lot = book.Lot("Morpho helenor", 3);
        var all = book.Entry(lot, dead: 3);
        await book.AcceptAsync(Token, book.Delivery(lot), all);
        Assert.Empty(await open.ReadAsync(book.House.Id, Token));

        await book.AcceptAsync(Token, book.Entry(lot, dead: 2, voids: all.Id));

        Assert.Equal(1, Assert.Single(await open.ReadAsync(book.House.Id, Token)).Hanging);
    }

    [Theory]
    [OnBothDatabases]
    public async Task Read_anotherHouse_sharesNothing(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var other = new House { Name = "Little house", Currency = "EUR", TimeZone = "Europe/Berlin" };
        await using (var context = book.CreateDbContext())
        {
            context.Add(other);
            await context.SaveChangesAsync(Token);
        }

        var open = new OpenLots(book);
        await book.AcceptAsync(Token, book.Delivery(book.Lot("Morpho helenor", 10)));
        Assert.Empty(await open.ReadAsync(other.Id, Token));
        await book.AcceptAsync(Token, new Hanging
        {
            HouseId = other.Id,
            OnDay = book.Today,
            Lots = [new() { HouseId = other.Id, Taxon = "Idea leuconoe", Received = 4, HungOn = book.Today }],
        });

        Assert.Equal("Idea leuconoe", Assert.Single(await open.ReadAsync(other.Id, Token)).Lot.Taxon);
        Assert.Equal("Morpho helenor", Assert.Single(await open.ReadAsync(book.House.Id, Token)).Lot.Taxon);
    }

    private static Lot Copy(Lot lot) => new()
    {
        Id = lot.Id,
        HouseId = lot.HouseId,
        Taxon = lot.Taxon,
        Received = lot.Received,
        HungOn = lot.HungOn,
        Row = lot.Row,
    };

    private static List<string> Expected(IReadOnlyList<Fact> known, DateOnly? day) => Shown(
        !known.OfType<Hanging>().Any(hanging => Book.Ledger.Standing(known).Contains(hanging))
            ? []
            : [.. Histories.Lots.Select(lot => Book.Ledger.Balance(lot, known, day)).Where(balance => !balance.IsClosed)]);

    // A lot is a class: its balance is compared by what it says.
    private static List<string> Shown(IEnumerable<LotBalance> balances) =>
        [.. balances.Select(balance => $"{balance.Lot.Taxon} {balance with { Lot = Histories.Lots[0] }}")];
}
