using Lepidary.Book.Tests.Databases;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace Lepidary.Book.Tests.Facts;

public sealed class FactInboxTests
{
    /// <summary>The bytes of the photo in <see cref="OneOfEach"/>.</summary>
    internal static readonly byte[] Picture = [0xFF, 0xD8, 0xFF, 0xE0, 1, 2];

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Theory]
    [OnBothDatabases]
    public async Task Receive_everyKind_comesBackWordForWord(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var lot = book.Lot("Morpho helenor", 10);
        var facts = OneOfEach(book, lot);

        await book.AcceptAsync(Token, facts);

        await using var context = book.CreateDbContext();
        var back = await context.Facts.AsNoTracking().WithRows().OrderBy(fact => fact.Arrival).ToListAsync(Token);
        Assert.Equal(facts.Select(FactJson.Canonical), back.Select(FactJson.Canonical));
        Assert.Equal(Enumerable.Range(1, facts.Length).Select(number => (long)number), back.Select(fact => fact.Arrival));
        Assert.All(back, fact => Assert.Equal(book.Clock.GetUtcNow(), fact.ReceivedAt));
        var kinds = typeof(Fact).Assembly.GetTypes().Where(type => type.IsSubclassOf(typeof(Fact)) && !type.IsAbstract);
        Assert.Equal(kinds.ToHashSet(), back.Select(fact => fact.GetType()).ToHashSet());
    }

    [Theory]
    [OnBothDatabases]
    public async Task Receive_sameRowsAgain_areDuplicatesAndChangeNothing(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var facts = OneOfEach(book, book.Lot("Morpho helenor", 10));
        await book.AcceptAsync(Token, facts);
        await using var context = book.CreateDbContext();
        var before = await context.Facts.CountAsync(Token) + await context.Lots.CountAsync(Token) + await context.WalkCounts.CountAsync(Token);

        // As a device sends them: from its own text, in another order, and twice in one batch.
        var again = facts.Select(fact => System.Text.Json.JsonSerializer.Deserialize<Fact>(FactJson.Write(fact), FactJson.Options)!).Reverse().ToList();
        var receipts = await book.Inbox.ReceiveAsync([.. again, .. again], Token);

        Assert.All(receipts, receipt => Assert.Equal(Receipt.Duplicate, receipt.Receipt));
        Assert.Equal(before, await context.Facts.CountAsync(Token) + await context.Lots.CountAsync(Token) + await context.WalkCounts.CountAsync(Token));
        Assert.Equal(0, await context.Conflicts.CountAsync(Token));
    }

    [Theory]
    [OnBothDatabases]
    public async Task Receive_sameKeyOtherContent_keepsBothAndCountsTheFirst(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var lot = book.Lot("Morpho helenor", 10);
        await book.AcceptAsync(Token, book.Delivery(lot));
        var first = book.Entry(lot, male: 2);
        await book.AcceptAsync(Token, first);
        var second = new Entry
        {
            Id = first.Id,
            HouseId = first.HouseId,
            LotId = lot.Id,
            OnDay = first.OnDay,
            DeviceTime = first.DeviceTime,
            Who = first.Who,
            EmergedMale = 3,
        };

        Assert.Equal(Receipt.Conflict, (await book.Inbox.ReceiveAsync([second], Token))[0].Receipt);
        Assert.Equal(Receipt.Conflict, (await book.Inbox.ReceiveAsync([second], Token))[0].Receipt);

        await using var context = book.CreateDbContext();
        var conflict = await context.Conflicts.SingleAsync(Token);
        Assert.Equal(FactJson.Canonical(second), conflict.Body);
        Assert.Equal(2, (await context.Entries.SingleAsync(Token)).EmergedMale);
    }

    [Theory]
    [OnBothDatabases]
    public async Task Receive_lotKeyOfAnotherDelivery_isKeptAsConflict(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var lot = book.Lot("Morpho helenor", 10);
        await book.AcceptAsync(Token, book.Delivery(lot));
        var copy = new Lot { Id = lot.Id, HouseId = lot.HouseId, Taxon = lot.Taxon, Received = 9, HungOn = lot.HungOn };

        Assert.Equal(Receipt.Conflict, (await book.Inbox.ReceiveAsync([book.Delivery(copy)], Token))[0].Receipt);

        await using var context = book.CreateDbContext();
        Assert.Equal(10, (await context.Lots.SingleAsync(Token)).Received);
        Assert.Equal(1, await context.Conflicts.CountAsync(Token));
    }

    [Theory]
    [OnBothDatabases]
    public async Task Receive_entryBeforeItsLot_isAccepted(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var lot = book.Lot("Morpho helenor", 10);

        await book.AcceptAsync(Token, book.Entry(lot, male: 1));
        await book.AcceptAsync(Token, book.Delivery(lot));

        var balance = Assert.Single(await new OpenLots(book).ReadAsync(book.House.Id, Token));
        Assert.Equal(9, balance.Hanging);
    }

    [Theory]
    [OnBothDatabases]
    public async Task Receive_badRowAmongGood_refusesItWithAllProblemsAndWritesTheRest(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var lot = book.Lot("Morpho helenor", 10);
        var good = book.Entry(lot, male: 1);
        var bad = book.Entry(lot, male: -1, female: 100_001, on: book.Today.AddDays(2));

        var receipts = await book.Inbox.ReceiveAsync([good, bad], Token);

        Assert.Equal([Receipt.Accepted, Receipt.Refused], receipts.Select(receipt => receipt.Receipt));
        Assert.Equal(
            [
                "day: found 2026-11-27; expected 2026-11-25 or a day before it; that is today in Thornmere Glasshouse",
                "males: found -1; expected a whole number from 0 to 100000",
                "females: found 100001; expected a whole number from 0 to 100000",
            ],
            receipts[1].Problems.Select(problem => problem.ToString()));
        await using var context = book.CreateDbContext();
        Assert.Equal(good.Id, (await context.Facts.SingleAsync(Token)).Id);
    }

    [Theory]
    [OnBothDatabases]
    public async Task Receive_tomorrowOfAFastClock_isKept(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        await book.AcceptAsync(Token, book.Entry(book.Lot("Morpho helenor", 10), male: 1, on: book.Today.AddDays(1)));
    }

    [Theory]
    [OnBothDatabases]
    public async Task Receive_fromManyAtOnce_numbersArrivalsWithoutGapAndWritesEachOnce(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var lot = book.Lot("Morpho helenor", 1000);
        await book.AcceptAsync(Token, book.Delivery(lot));
        var entries = Enumerable.Range(0, 40).Select(_ => book.Entry(lot, male: 1)).ToList();

        // Four devices, each of which sends every entry, so that each key is written by four at once.
        var receipts = await Task.WhenAll(Enumerable.Range(0, 4).Select(device => Task.Run(
            async () =>
            {
                var own = new List<Receipt>();
                foreach (var entry in entries)
                {
                    var copy = System.Text.Json.JsonSerializer.Deserialize<Fact>(FactJson.Write(entry), FactJson.Options)!;
                    own.AddRange((await book.Inbox.ReceiveAsync([copy], Token)).Select(receipt => receipt.Receipt));
                }

                return own;
            },
            Token)));

        Assert.Equal(40, receipts.SelectMany(own => own).Count(receipt => receipt == Receipt.Accepted));
        Assert.Equal(120, receipts.SelectMany(own => own).Count(receipt => receipt == Receipt.Duplicate));
        await using var context = book.CreateDbContext();
        var arrivals = await context.Facts.OrderBy(fact => fact.Arrival).Select(fact => fact.Arrival).ToListAsync(Token);
        Assert.Equal(Enumerable.Range(1, 41).Select(number => (long)number), arrivals);
    }

    [Theory]
    [OnBothDatabases]
    public async Task SaveChanges_changedFact_isRefused(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        await book.AcceptAsync(Token, book.Delivery(book.Lot("Morpho helenor", 10)));
        await using var context = book.CreateDbContext();
        context.Remove(await context.Lots.SingleAsync(Token));

        var refusal = await Assert.ThrowsAsync<InvalidOperationException>(() => context.SaveChangesAsync(Token));

        Assert.Equal("Lot is written once: write a fact that voids it instead of changing it.", refusal.Message);
    }

    [Theory]
    [OnBothDatabases]
    public async Task SaveChanges_changedTerms_areKept(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        await using (var context = book.CreateDbContext())
        {
            var terms = await context.Terms.SingleAsync(Token);
            Assert.Equal((1, 24.5m), (terms.Carriage[0].From, terms.Carriage[0].Cost));
            Assert.Equal(("permit", 15.25m, CountedBy.Box), (terms.Charges[0].Name, terms.Charges[0].Amount, terms.Charges[0].Per));
            terms.Rate = 0.875123m;
            terms.Carriage[1].Cost = 39.99m;
            terms.Carriage.Add(new() { From = 200, Cost = 50 });
            terms.Charges.Clear();
            await context.SaveChangesAsync(Token);
        }

        await using var reading = book.CreateDbContext();
        var back = await reading.Terms.AsNoTracking().SingleAsync(Token);
        Assert.Equal(0.875123m, back.Rate);
        Assert.Equal([24.5m, 39.99m, 50m], back.Carriage.Select(tier => tier.Cost));
        Assert.Empty(back.Charges);
        Assert.Equal(DayOfWeek.Tuesday, back.ArrivesOn);
        var house = await reading.Houses.AsNoTracking().SingleAsync(Token);
        Assert.Equal(Weekdays.All & ~Weekdays.Mon, house.OpenOn);
        Assert.Equal([new DateOnly(2026, 12, 25)], house.ClosedDays);
    }

    /// <summary>One fact of every kind, with a value in every place.</summary>
    internal static Fact[] OneOfEach(TestBook book, Lot lot)
    {
        var (house, today, now) = (book.House.Id, book.Today, book.Clock.GetUtcNow().AddTicks(7));
        var delivery = new Delivery
        {
            HouseId = house,
            OnDay = today,
            DeviceTime = now,
            Who = "Ines",
            DeviceId = "phone-1",
            DeviceSequence = 1,
            Note = "Warm, dry.",
            SupplierId = book.Supplier.Id,
            OrderId = BookId.New(),
            BoxMark = "Q-1187",
            PostedOn = today.AddDays(-2),
            NoteText = "10 Morpho helenor\n5 Idea leuconoe",
            Condition = "one corner crushed",
            Lots = [lot],
            Lines = [new() { Taxon = lot.Taxon, Form = "marinita", OrderLineId = BookId.New(), Ordered = 12, Noted = 11, Alive = 10, Dead = 1, Damaged = 2, Emerged = 3, WrongSpecies = 4, ColouredUp = 5, SubstituteFor = "Morpho menelaus", Remark = "small" }],
        };
        return
        [
            delivery,
            new Hanging { HouseId = house, OnDay = today, DeviceTime = now, From = HangingFrom.Brood, Lots = [book.Lot("Heliconius melpomene", 7)] },
            new Entry { HouseId = house, OnDay = today, DeviceTime = now, LotId = lot.Id, EmergedMale = 1, EmergedFemale = 2, EmergedUnsexed = 1, Crippled = 1, Dead = 1, Parasitised = 1, Missing = 1 },
            new Transfer { HouseId = house, OnDay = today, DeviceTime = now, LotId = lot.Id, Count = 1, To = "the school", ToHouseId = BookId.New() },
            new Move { HouseId = house, OnDay = today, DeviceTime = now, LotId = lot.Id, CageId = book.House.Cages[0].Id, Row = "B2", Position = 4 },
            new Recount { HouseId = house, OnDay = today, DeviceTime = now, LotId = lot.Id, Difference = -1 },
            new Release { HouseId = house, OnDay = today, DeviceTime = now, LotId = lot.Id, Taxon = lot.Taxon, AreaId = book.House.Areas[0].Id, CageId = null, Male = 1, Female = 1, Unsexed = 1 },
            new FoundDead { HouseId = house, OnDay = today, DeviceTime = now, Taxon = lot.Taxon, AreaId = book.House.Areas[0].Id, LotId = lot.Id, Count = 1, Sex = AdultSex.Female },
            new MarkedAdult { HouseId = house, OnDay = today, DeviceTime = now, Mark = "A17", Taxon = lot.Taxon, Sex = AdultSex.Male, AreaId = book.House.Areas[0].Id },
            new Walk { HouseId = house, OnDay = today, DeviceTime = now, Path = "Round the pond", AreaId = book.House.Areas[0].Id, Start = new(11, 5), Minutes = 12, Weather = "sun", TemperatureC = 27.5, SunPercent = 70, Beaufort = 1, Sections = 3, Counts = [new() { Taxon = "Idea leuconoe", Count = 4, Section = 2 }, new() { Taxon = "Morpho helenor", Count = 2 }] },
            new Reading { HouseId = house, OnDay = today, DeviceTime = now, AreaId = book.House.Areas[0].Id, CageId = book.House.Cages[0].Id, TemperatureC = 27.3, HumidityPercent = 81.5 },
            new OrderStep { HouseId = house, OnDay = today, DeviceTime = now, OrderId = BookId.New(), State = OrderState.Sent },
            new ClaimStep { HouseId = house, OnDay = today, DeviceTime = now, DeliveryId = delivery.Id, State = ClaimState.Credited, Amount = 12.345678m },
            new PackingStep { HouseId = house, OnDay = today, DeviceTime = now, DeliveryId = delivery.Id, State = PackingState.Sealed },
            new SettledName { HouseId = house, OnDay = today, DeviceTime = now, TextKey = "morpho peleides", Taxon = "Morpho helenor", Form = "marinita", SupplierId = book.Supplier.Id },
            new LearntOfList { HouseId = house, OnDay = today, DeviceTime = now, SupplierId = book.Supplier.Id, Matter = LearntMatter.PriceUnit, ColumnKey = "stk", Meaning = "pack" },
            new Photo { HouseId = house, OnDay = today, DeviceTime = now, AboutId = lot.Id, MediaType = "image/jpeg", Sha256 = ListShelf.Sha256(Picture) },
            new SettledDiscrepancy { HouseId = house, OnDay = today, DeviceTime = now, SubjectId = lot.Id, Excess = 2, Note = "Two came out unseen." },
            new Voiding { HouseId = house, OnDay = today, DeviceTime = now, VoidsId = BookId.New(), Note = "Written twice." },
        ];
    }
}
