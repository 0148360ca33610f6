using CsCheck;
using Lepidary.Book.Tests.Databases;
using Xunit;

namespace Lepidary.Book.Tests.Ledger;

public sealed class LotCountsTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    /// <summary>A reader that remembers against one that starts anew and against the facts themselves, after every batch of a random history.</summary>
    [Theory]
    [OnBothDatabases]
    public async Task Read_randomHistories_agreesWithTheFacts(DatabaseKind kind)
    {
        var histories = Gen.Select(Histories.Facts, Gen.Int[0, 40]).Array[3].Single(_ => true, "0000Lepidary");
        foreach (var (facts, hangAt) in histories)
        {
            await using var book = await TestBook.MakeEmptyAsync(kind, Token);
            await using (var context = book.CreateDbContext())
            {
                context.Add(new House { Id = Histories.House, Name = "Thornmere", Currency = "GBP", TimeZone = "Europe/London" });
                await context.SaveChangesAsync(Token);
            }

            var remembering = new LotCounts(book);
            var hanging = new Hanging { HouseId = Histories.House, OnDay = Histories.FirstDay, Lots = [.. Histories.Lots.Select(Copy)] };
            var stream = facts.Take(hangAt).Append(hanging).Concat(facts.Skip(hangAt)).ToList();
            for (var from = 0; from < stream.Count; from += 11)
            {
                await book.Inbox.ReceiveAsync([.. stream.Skip(from).Take(11)], Token);
                var expected = Expected([.. stream.Take(from + 11)]);
                Assert.Equal(expected, Shown(await remembering.ReadAsync(Histories.House, Histories.FirstDay, Token)));
                Assert.Equal(expected, Shown(await new LotCounts(book).ReadAsync(Histories.House, Histories.FirstDay, Token)));
            }
        }
    }

    [Theory]
    [OnBothDatabases]
    public async Task Read_fromALaterAndAnEarlierDay_givesTheLotsSinceThen(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var counts = new LotCounts(book);
        Lot Hung(int daysAgo) => new() { HouseId = book.House.Id, Taxon = "Morpho helenor", Received = 4, HungOn = book.Today.AddDays(-daysAgo) };
        await book.AcceptAsync(Token, book.Delivery(Hung(9), Hung(3)));
        async Task<int> Since(int daysAgo) => (await counts.ReadAsync(book.House.Id, book.Today.AddDays(-daysAgo), Token)).Count;

        Assert.Equal(1, await Since(5));
        Assert.Equal(2, await Since(10));
        Assert.Equal(1, await Since(5));
        Assert.Equal(0, await Since(-300));
        Assert.Equal(2, await Since(10));
    }

    [Theory]
    [OnBothDatabases]
    public async Task AdultCounts_read_sumsTheDayAndTakesTheLargerWalk(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var counts = new AdultCounts(book);
        var (house, area) = (book.House, book.House.Areas[0].Id);
        Walk Met(params int[] seen) => new() { HouseId = house.Id, OnDay = book.Today, Path = "Round", Counts = [.. seen.Select(count => new WalkCount { Taxon = "Morpho helenor", Count = count })] };
        Release Go(int male) => new() { HouseId = house.Id, OnDay = book.Today, Taxon = "Morpho helenor", AreaId = area, Male = male };
        await book.AcceptAsync(Token, Go(2), Go(3), Met(1, 3), Met(2));
        Assert.Equal(5, (await counts.ReadAsync(house.Id, book.Today, Token)).Released["Morpho helenor"][book.Today].Total);

        await book.AcceptAsync(Token, new FoundDead { HouseId = house.Id, OnDay = book.Today, Taxon = "Morpho helenor", AreaId = area, Count = 2, Sex = AdultSex.Female });

        var read = await counts.ReadAsync(house.Id, book.Today, Token);
        Assert.Equal(new SexCount(0, 2, 0), read.FoundDead["Morpho helenor"][book.Today]);
        Assert.Equal(4, read.Walked[book.Today]["Morpho helenor"]);
        Assert.Empty((await counts.ReadAsync(Guid.NewGuid(), book.Today, Token)).Released);
    }

    private static Lot Copy(Lot lot) => new() { Id = lot.Id, HouseId = lot.HouseId, Taxon = lot.Taxon, Received = lot.Received, HungOn = lot.HungOn, Row = lot.Row };

    private static List<string> Expected(IReadOnlyList<Fact> known)
    {
        var standing = Book.Ledger.Standing(known);
        return !standing.OfType<Hanging>().Any() ? [] :
        [
            .. Histories.Lots.Where(lot => lot.HungOn >= Histories.FirstDay).Select(lot => Shown(
                lot.Id,
                standing.OfType<Entry>().Where(entry => entry.LotId == lot.Id && entry.Total > 0 && entry.OnDay >= Histories.FirstDay)
                    .Select(entry => (entry.OnDay, entry.EmergedMale, entry.EmergedFemale, entry.EmergedUnsexed, entry.Crippled + entry.Dead + entry.Parasitised, entry.Missing)))).Order(),
        ];
    }

    private static List<string> Shown(IEnumerable<CountedLot> lots) =>
        [.. lots.Select(lot => Shown(lot.Id, lot.Days.Select(day => (day.OnDay, day.Male, day.Female, day.Unsexed, day.Failed, day.Missing)))).Order()];

    private static string Shown(Guid lot, IEnumerable<(DateOnly Day, int Male, int Female, int Unsexed, int Failed, int Missing)> days) => $"{lot}: {string.Join("; ", days.Order())}";
}
