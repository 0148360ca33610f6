using Lepidary.Book;
using Lepidary.Taxa;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.Bench.Book;

/// <summary>
/// Ten years (or another number of weeks) of a house that hangs 500 pupae a week in 50 lots: each lot is looked at every day until it is empty, one count in a hundred
/// is corrected, and a lot in two hundred is never written off to the end.
/// </summary>
internal sealed class TenYearBook(IDbContextFactory<BookContext> book, int weeks = TenYearBook.Weeks)
{
    internal static readonly DateOnly LastDay = new(2026, 11, 25);

    internal const int Weeks = 522;
    private const int LotsAWeek = 50;
    private const int PupaeALot = 10;
    private const int Taxa = 80;
    private const int BatchFacts = 4000;

    private readonly Random random = new(1);
    private readonly Clock clock = new();
    private long sequence;

    internal async Task MakeAsync()
    {
        var house = new House
        {
            Name = "Thornmere Glasshouse",
            Currency = "GBP",
            TimeZone = "Europe/London",
            Areas = { new() { Name = "Palm hall", FloorM2 = 240, HeightM = 6, Ceiling = 400 } },
            Cages = { new() { Name = "Cage A", Places = 600 } },
        };
        var supplier = new Supplier { Name = "Quillfeather Pupae" };
        await using (var context = book.CreateDbContext())
        {
            _ = (await context.BringUpToDateAsync()).Value;
            context.AddRange(house, supplier);
            await context.SaveChangesAsync();
        }

        var inbox = new FactInbox(book, clock);
        var batch = new List<Fact>();
        for (var week = 0; week < weeks; week++)
        {
            batch.AddRange(Week(house, supplier, LastDay.AddDays(-7 * (weeks - 1 - week) - 1)));
            if (batch.Count >= BatchFacts || week == weeks - 1)
            {
                clock.Now = new DateTimeOffset(batch.Max(fact => fact.OnDay), new TimeOnly(18, 0), TimeSpan.Zero);
                var receipts = await inbox.ReceiveAsync(batch);
                if (receipts.FirstOrDefault(receipt => receipt.Receipt != Receipt.Accepted) is { } refused)
                {
                    throw new InvalidOperationException(refused.ToString());
                }

                batch.Clear();
            }
        }
    }

    private IEnumerable<Fact> Week(House house, Supplier supplier, DateOnly day)
    {
        var order = BookId.New();
        var lots = Enumerable.Range(0, LotsAWeek).Select(_ => new Lot
        {
            HouseId = house.Id,
            SupplierId = supplier.Id,
            Taxon = TaxonTable.Shipped.All[random.Next(Taxa)].Name,
            CageId = house.Cages[0].Id,
            Row = "A1",
            HungOn = day,
            Received = PupaeALot,
            UnitLanded = 3.25m,
        }).ToList();
        yield return new Delivery { HouseId = house.Id, OnDay = day, DeviceTime = At(day), Who = "Ines", SupplierId = supplier.Id, OrderId = order, BoxMark = $"Q-{day:yyMMdd}", Lots = lots };
        foreach (var lot in lots)
        {
            var left = PupaeALot;
            var forgotten = random.Next(200) == 0;
            var first = random.Next(3, 10);
            for (var step = 0; step < 19 && left > 0 && lot.HungOn.AddDays(first + step) is var today && today <= LastDay; step++)
            {
                var last = step == 18 && !forgotten;
                var taken = last ? left : random.NextDouble() < 0.55 && !(forgotten && left == 1) ? 1 : 0;
                var fate = random.NextDouble();
                var entry = new Entry
                {
                    HouseId = house.Id,
                    OnDay = today,
                    DeviceTime = At(today),
                    Who = "Ines",
                    DeviceId = "phone-1",
                    DeviceSequence = ++sequence,
                    LotId = lot.Id,
                    EmergedMale = fate < 0.4 ? taken : 0,
                    EmergedFemale = fate is >= 0.4 and < 0.8 ? taken : 0,
                    Dead = fate >= 0.8 ? taken : 0,
                };
                left -= taken;
                yield return entry;
                if (random.Next(100) == 0)
                {
                    yield return new Entry
                    {
                        HouseId = house.Id,
                        OnDay = today,
                        DeviceTime = At(today),
                        Who = "Ines",
                        DeviceId = "phone-1",
                        DeviceSequence = ++sequence,
                        LotId = lot.Id,
                        VoidsId = entry.Id,
                        EmergedMale = entry.EmergedMale,
                        EmergedFemale = entry.EmergedFemale,
                        Dead = entry.Dead,
                    };
                }

                if (entry.Emerged > 0)
                {
                    yield return new Release
                    {
                        HouseId = house.Id,
                        OnDay = today,
                        DeviceTime = At(today),
                        Who = "Ines",
                        DeviceId = "phone-1",
                        DeviceSequence = ++sequence,
                        LotId = lot.Id,
                        Taxon = lot.Taxon,
                        AreaId = house.Areas[0].Id,
                        Male = entry.EmergedMale,
                        Female = entry.EmergedFemale,
                    };
                }
            }
        }
    }

    private static DateTimeOffset At(DateOnly day) => new(day, new TimeOnly(9, 12, 33), TimeSpan.Zero);

    private sealed class Clock : TimeProvider
    {
        public DateTimeOffset Now { get; set; }

        public override DateTimeOffset GetUtcNow() => Now;
    }
}
