using System.Collections.Concurrent;
using Lepidary.App.Host;
using Lepidary.App.House;
using Lepidary.Book;
using Lepidary.Science.Flying;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Odds;

/// <summary>What the book knows that odds are made from: own stock, and what finished lots have taught.</summary>
internal sealed class OddsBook(IDbContextFactory<BookContext> books, StockReader stock)
{
    /// <summary>Older lots say little of today's farms and climate, and would only slow the page.</summary>
    private const int DaysOfLearning = 730;

    /// <summary>Days of releases and walks from which life on the wing is learnt.</summary>
    private const int DaysOfFlying = 180;

    /// <summary>Days of releases before them, whose adults may still fly.</summary>
    private const int DaysBefore = 60;

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
        var lots = await book.Lots.AsNoTracking()
            .Where(lot => lot.HouseId == houseId && lot.HungOn >= since && lot.HungOn < today && !book.Facts.Any(other => other.VoidsId == lot.SourceId))
            .Select(lot => new { lot.Id, lot.Taxon, lot.SupplierId, lot.HungOn, lot.Received, lot.CageId }).ToListAsync(cancellation);
        var warmth = await Warmth(book, houseId, since, today, cancellation);
        // A look that found nothing new teaches nothing: nearly half of all rows.
        var counts = (await book.Standing<Entry>().Where(entry => entry.HouseId == houseId && entry.OnDay >= since && entry.OnDay < today
                && entry.EmergedMale + entry.EmergedFemale + entry.EmergedUnsexed + entry.Crippled + entry.Dead + entry.Parasitised + entry.Missing > 0)
            .Select(entry => new { entry.LotId, entry.OnDay, entry.EmergedMale, entry.EmergedFemale, Emerged = entry.EmergedMale + entry.EmergedFemale + entry.EmergedUnsexed, Failed = entry.Crippled + entry.Dead + entry.Parasitised, entry.Missing })
            .ToListAsync(cancellation)).ToLookup(entry => entry.LotId);
        var changed = await book.ReceivedSince(houseId, since, today, cancellation);
        return new Learned(lots.Select(lot =>
        {
            var entries = counts[lot.Id].ToList();
            var emerged = entries.Sum(entry => entry.Emerged);
            var failed = entries.Sum(entry => entry.Failed);
            var clock = warmth.Clock(lot.CageId, lot.HungOn, today);
            var byDay = new int[entries.Select(entry => clock.AgeOn(entry.OnDay)).DefaultIfEmpty(0).Max() + 1];
            var isSexed = entries.Exists(entry => entry.EmergedMale + entry.EmergedFemale > 0);
            var (males, females) = (new int[isSexed ? byDay.Length : 0], new int[isSexed ? byDay.Length : 0]);
            foreach (var entry in entries)
            {
                var age = clock.AgeOn(entry.OnDay);
                byDay[age] += entry.Emerged;
                if (isSexed)
                {
                    males[age] += entry.EmergedMale;
                    females[age] += entry.EmergedFemale;
                }
            }

            return new LotRecord(
                lot.Taxon, lot.SupplierId is { } supplier ? suppliers[supplier] : null, emerged, failed,
                Math.Max(0, lot.Received + changed.GetValueOrDefault(lot.Id) - emerged - failed - entries.Sum(entry => entry.Missing)),
                byDay, clock.AgeBefore(today), lot.HungOn)
            {
                Sexed = isSexed ? new(males, females) : null,
            };
        }), before, await Wings(book, houseId, today, cancellation), today, warmth: warmth);
    }

    private static async Task<CageWarmth> Warmth(BookContext book, Guid houseId, DateOnly since, DateOnly today, CancellationToken cancellation) =>
        new((await book.Standing<Reading>().Where(reading => reading.HouseId == houseId && reading.CageId != null && reading.TemperatureC != null && reading.OnDay >= since && reading.OnDay < today)
            .GroupBy(reading => new { reading.CageId, reading.OnDay })
            .Select(day => new { day.Key.CageId, day.Key.OnDay, Min = day.Min(reading => reading.TemperatureC), Max = day.Max(reading => reading.TemperatureC) }).ToListAsync(cancellation))
            .Select(day => (day.CageId!.Value, day.OnDay, day.Min!.Value, day.Max!.Value)));

    /// <remarks>A walk that did not meet a species counted 0 of it.</remarks>
    private static async Task<Dictionary<string, IReadOnlyList<WingDay>>> Wings(BookContext book, Guid houseId, DateOnly today, CancellationToken cancellation)
    {
        var (since, counted) = (today.AddDays(-DaysOfFlying - DaysBefore), today.AddDays(-DaysOfFlying));
        var released = await book.Standing<Release>().Where(fact => fact.HouseId == houseId && fact.AreaId != null && fact.OnDay >= since && fact.OnDay < today)
            .GroupBy(fact => new { fact.Taxon, fact.OnDay }).Select(day => new { day.Key.Taxon, day.Key.OnDay, Count = day.Sum(fact => fact.Male + fact.Female + fact.Unsexed) }).ToListAsync(cancellation);
        var dead = (await book.Standing<FoundDead>().Where(fact => fact.HouseId == houseId && fact.LotId == null && fact.OnDay >= counted && fact.OnDay < today)
            .GroupBy(fact => new { fact.Taxon, fact.OnDay }).Select(day => new { day.Key.Taxon, day.Key.OnDay, Count = day.Sum(fact => fact.Count) }).ToListAsync(cancellation)).ToLookup(day => day.Taxon);
        var walks = await book.Standing<Walk>().Include(walk => walk.Counts).Where(fact => fact.HouseId == houseId && fact.OnDay >= counted && fact.OnDay < today).ToListAsync(cancellation);
        var walkDays = walks.Select(walk => walk.OnDay).ToHashSet();
        // Two walks on a day look at the same butterflies: the larger count stands.
        var walked = walks.SelectMany(walk => WalkSums.Of(walk).Select(met => (met.Taxon, walk.OnDay, met.Count)))
            .GroupBy(count => (count.Taxon, count.OnDay)).ToDictionary(day => day.Key, day => day.Max(count => count.Count));
        var wings = new Dictionary<string, IReadOnlyList<WingDay>>(StringComparer.Ordinal);
        foreach (var taxon in released.GroupBy(day => day.Taxon))
        {
            var first = taxon.Min(day => day.OnDay);
            var (letGo, found) = (taxon.ToDictionary(day => day.OnDay, day => day.Count), dead[taxon.Key].ToDictionary(day => day.OnDay, day => day.Count));
            wings.Add(taxon.Key,
            [
                .. Enumerable.Range(0, today.DayNumber - first.DayNumber).Select(day => first.AddDays(day)).Select(day => new WingDay(
                    letGo.GetValueOrDefault(day), found.GetValueOrDefault(day), walkDays.Contains(day) ? walked.GetValueOrDefault((taxon.Key, day)) : null)),
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
