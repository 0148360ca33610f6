using System.Collections.Concurrent;
using Lepidary.App.Host;
using Lepidary.App.House;
using Lepidary.Book;
using Lepidary.Science.Flying;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Odds;

/// <summary>What the book knows that odds are made from: own stock, and what finished lots have taught.</summary>
internal sealed class OddsBook(IDbContextFactory<BookContext> books, StockReader stock, LotCounts counts, AdultCounts adults)
{
    /// <summary>Older lots say little of today's farms and climate, and would only slow the page.</summary>
    private const int DaysOfLearning = 730;

    /// <summary>Days of releases and walks from which life on the wing is learnt.</summary>
    private const int DaysOfFlying = 180;

    /// <summary>Days of releases before them, whose adults may still fly.</summary>
    private const int DaysBefore = 60;

    /// <summary>Share of those let go whose sex must be told before the found dead of one sex teach.</summary>
    private const double NearlyAll = 0.9;

    private readonly ConcurrentDictionary<Guid, (DateOnly Day, Learned Learned)> learned = new();

    /// <summary>What hangs, comes and flies at a day's end, as planning takes it.</summary>
    /// <param name="houseId">House.</param>
    /// <param name="day">The day.</param>
    /// <param name="cancellation">Stops reading.</param>
    /// <param name="without">Orders that are planned around by themselves and don't count as coming, or null.</param>
    public async Task<IReadOnlyList<StockItem>> Stock(Guid houseId, DateOnly day, CancellationToken cancellation, IReadOnlySet<Guid>? without = null)
    {
        var there = await stock.ReadAsync(houseId, day, cancellation);
        var suppliers = await Suppliers(cancellation);
        return
        [
            .. there.Lots.Where(lot => lot.Hanging > 0).Select(lot => new StockItem(
                StockPlace.Hanging, lot.Lot.Taxon, lot.Hanging, lot.Lot.HungOn, lot.Lot.SupplierId is { } supplier ? suppliers[supplier] : null,
                null, lot.Emerged, lot.Crippled + lot.Dead + lot.Parasitised, Cage: lot.CageId)),
            .. there.Lots.Where(lot => lot.ToRelease > 0).Select(lot => new StockItem(StockPlace.Flying, lot.Lot.Taxon, lot.ToRelease, day)),
            .. there.Coming.Where(coming => without?.Contains(coming.Order.Id) != true).SelectMany(coming => coming.Order.Lines.Where(line => line.Taxon is not null && line.Pupae > 0).Select(line => new StockItem(
                StockPlace.Coming, line.Taxon!, line.Pupae, Later(coming.Order.ArrivesOn, day), coming.Order.Supplier?.Name))),
            .. there.Flying.Select(group => new StockItem(StockPlace.Flying, group.Taxon, group.Count, group.ReleasedOn, Released: group.Released)),
        ];
    }

    /// <summary>What the lots of the last two years have taught, by the counts up to the day before.</summary>
    /// <remarks>Kept for the day: today's counts teach from tomorrow on, so that odds stand still while a keeper decides.</remarks>
    public async Task<Learned> Learned(Guid houseId, DateOnly today, CancellationToken cancellation)
    {
        if (learned.TryGetValue(houseId, out var kept) && kept.Day == today)
        {
            return kept.Learned;
        }

        var result = await Read(houseId, today, kept.Learned, cancellation);
        learned[houseId] = (today, result);
        return result;
    }

    /// <summary>What had been learnt by a day that has passed: nothing of that day or of a later one is in it, and what is kept for today stays.</summary>
    /// <param name="houseId">House.</param>
    /// <param name="day">The day.</param>
    /// <param name="cancellation">Stops reading.</param>
    /// <param name="near">What was learnt by a day near it, or null: only a quicker start.</param>
    public Task<Learned> LearnedBy(Guid houseId, DateOnly day, CancellationToken cancellation, Learned? near = null) => Read(houseId, day, near, cancellation);

    private async Task<Learned> Read(Guid houseId, DateOnly today, Learned? before, CancellationToken cancellation)
    {
        await using var book = await books.CreateDbContextAsync(cancellation);
        var suppliers = await Suppliers(cancellation);
        var since = today.AddDays(-DaysOfLearning);
        var lots = await counts.ReadAsync(houseId, since, cancellation);
        var warmth = await Warmth(book, houseId, since, today, cancellation);
        var changed = await book.ReceivedSince(houseId, since, today, cancellation);
        var wings = await adults.ReadAsync(houseId, today.AddDays(-DaysOfFlying - DaysBefore), cancellation);
        return new Learned(
            lots.Where(lot => lot.HungOn < today).Select(lot => Record(lot, lot.SupplierId is { } supplier ? suppliers[supplier] : null, lot.Received + changed.GetValueOrDefault(lot.Id), warmth.Clock(lot.CageId, lot.HungOn, today), today)),
            before, Wings(wings, today), today, SexedWings(wings, today), warmth);
    }

    /// <summary>What a lot had shown when a day began.</summary>
    private static LotRecord Record(CountedLot lot, string? supplier, int received, LotClock clock, DateOnly today)
    {
        var (emerged, failed, missing, oldest, isSexed) = (0, 0, 0, 0, false);
        foreach (var day in lot.Days)
        {
            if (day.OnDay < today)
            {
                (emerged, failed, missing) = (emerged + day.Emerged, failed + day.Failed, missing + day.Missing);
                (oldest, isSexed) = (Math.Max(oldest, clock.AgeOn(day.OnDay)), isSexed || day.Male + day.Female > 0);
            }
        }

        var byDay = new int[oldest + 1];
        var (males, females) = (new int[isSexed ? byDay.Length : 0], new int[isSexed ? byDay.Length : 0]);
        foreach (var day in lot.Days)
        {
            if (day.OnDay < today)
            {
                var age = clock.AgeOn(day.OnDay);
                byDay[age] += day.Emerged;
                if (isSexed)
                {
                    males[age] += day.Male;
                    females[age] += day.Female;
                }
            }
        }

        return new LotRecord(lot.Taxon, supplier, emerged, failed, Math.Max(0, received - emerged - failed - missing), byDay, clock.AgeBefore(today), lot.HungOn, lot.PostedOn is { } posted && lot.HungOn >= posted ? lot.HungOn.DayNumber - posted.DayNumber : null)
        {
            Sexed = isSexed ? new(males, females) : null,
        };
    }

    private static async Task<CageWarmth> Warmth(BookContext book, Guid houseId, DateOnly since, DateOnly today, CancellationToken cancellation) =>
        new((await book.Standing<Reading>().Where(reading => reading.HouseId == houseId && reading.CageId != null && reading.TemperatureC != null && reading.OnDay >= since && reading.OnDay < today)
            .GroupBy(reading => new { reading.CageId, reading.OnDay })
            .Select(day => new { day.Key.CageId, day.Key.OnDay, Min = day.Min(reading => reading.TemperatureC), Max = day.Max(reading => reading.TemperatureC) }).ToListAsync(cancellation))
            .Select(day => (day.CageId!.Value, day.OnDay, day.Min!.Value, day.Max!.Value)));

    /// <remarks>Only where the sex of nearly all that were let go was told: of the others no sex has died. A walk does not tell them apart.</remarks>
    private static Dictionary<string, SexedWings> SexedWings(AdultsCounted counted, DateOnly today)
    {
        var (since, looked) = (today.AddDays(-DaysOfFlying - DaysBefore), today.AddDays(-DaysOfFlying));
        var wings = new Dictionary<string, SexedWings>(StringComparer.Ordinal);
        foreach (var (taxon, found) in counted.FoundDead)
        {
            if (!counted.Released.TryGetValue(taxon, out var released) || !found.Values.Any(dead => dead.Male + dead.Female > 0))
            {
                continue;
            }

            var letGo = released.Where(day => day.Key >= since && day.Key < today).ToDictionary();
            if (letGo.Count == 0 || letGo.Values.Sum(day => day.Male + day.Female) < NearlyAll * letGo.Values.Sum(day => day.Total))
            {
                continue;
            }

            var first = letGo.Keys.Min();
            IReadOnlyList<WingDay> Of(Func<SexCount, int> sex) =>
                [.. Enumerable.Range(0, today.DayNumber - first.DayNumber).Select(day => first.AddDays(day)).Select(day => new WingDay(sex(letGo.GetValueOrDefault(day)), day < looked ? 0 : sex(found.GetValueOrDefault(day)), null))];
            wings.Add(taxon, new(Of(count => count.Male), Of(count => count.Female)));
        }

        return wings;
    }

    /// <remarks>A walk that did not meet a species counted 0 of it.</remarks>
    private static Dictionary<string, IReadOnlyList<WingDay>> Wings(AdultsCounted counted, DateOnly today)
    {
        var (since, looked) = (today.AddDays(-DaysOfFlying - DaysBefore), today.AddDays(-DaysOfFlying));
        var wings = new Dictionary<string, IReadOnlyList<WingDay>>(StringComparer.Ordinal);
        foreach (var (taxon, released) in counted.Released)
        {
            var letGo = released.Where(day => day.Key >= since && day.Key < today).ToDictionary();
            if (letGo.Count == 0)
            {
                continue;
            }

            var (first, dead) = (letGo.Keys.Min(), counted.FoundDead.GetValueOrDefault(taxon));
            wings.Add(taxon,
            [
                .. Enumerable.Range(0, today.DayNumber - first.DayNumber).Select(day => first.AddDays(day)).Select(day => day < looked ? new WingDay(letGo.GetValueOrDefault(day).Total, 0, null) : new WingDay(
                    letGo.GetValueOrDefault(day).Total, dead?.GetValueOrDefault(day).Total ?? 0, counted.Walked.TryGetValue(day, out var met) ? met.GetValueOrDefault(taxon) : null)),
            ]);
        }

        return wings;
    }

    private async Task<Dictionary<Guid, string>> Suppliers(CancellationToken cancellation)
    {
        await using var book = await books.CreateDbContextAsync(cancellation);
        return await book.Suppliers.AsNoTracking().ToDictionaryAsync(supplier => supplier.Id, supplier => supplier.Name, cancellation);
    }

    /// <summary>A box that should have come is taken to come tomorrow.</summary>
    private static DateOnly Later(DateOnly? arrives, DateOnly day) => arrives is { } due && due > day ? due : day.AddDays(1);
}
