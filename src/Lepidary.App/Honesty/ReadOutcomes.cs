using Lepidary.App.Odds;
using Lepidary.App.Weeks;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Honesty;

/// <summary>Reads what came, for all that was foretold since a day.</summary>
internal sealed class ReadOutcomes(BookContext book, SeenLists seen, OddsBook odds)
{
    /// <summary>Days of walks.</summary>
    public async Task<IReadOnlySet<DateOnly>> WalkedSince(Book.House house, DateOnly since, CancellationToken cancellation) =>
        (await book.Standing<Walk>().Where(walk => walk.HouseId == house.Id && walk.OnDay >= since).Select(walk => walk.OnDay).Distinct().ToListAsync(cancellation)).ToHashSet();

    /// <param name="house">With its terms.</param>
    /// <param name="since">Forecasts made before it are not asked about.</param>
    /// <param name="today">Only days before it are past.</param>
    /// <param name="cancellation">Stops reading.</param>
    public async Task<Outcomes> Of(Book.House house, DateOnly since, DateOnly today, CancellationToken cancellation)
    {
        var entries = await book.Standing<Entry>().Where(entry => entry.HouseId == house.Id && entry.OnDay >= since.AddDays(-1) && entry.OnDay <= today)
            .Select(entry => new { entry.LotId, entry.OnDay, Emerged = entry.EmergedMale + entry.EmergedFemale + entry.EmergedUnsexed, Failed = entry.Crippled + entry.Dead + entry.Parasitised, entry.Missing })
            .ToListAsync(cancellation);
        var touched = await book.Standing<LotFact>().Where(fact => fact.HouseId == house.Id && (fact is Transfer || fact is Recount)).Select(fact => fact.LotId).ToListAsync(cancellation);
        var walks = await book.Standing<Walk>().Include(walk => walk.Counts).Where(walk => walk.HouseId == house.Id && walk.OnDay >= since && walk.OnDay < today).ToListAsync(cancellation);
        var dead = await book.Standing<FoundDead>().Where(found => found.HouseId == house.Id && found.LotId == null && found.OnDay >= since && found.OnDay < today)
            .GroupBy(found => new { found.OnDay, found.Taxon }).Select(day => new { day.Key.OnDay, day.Key.Taxon, Count = day.Sum(found => found.Count) }).ToListAsync(cancellation);
        var before = since.AddDays(-StockReader.LongestLifeDays);
        var released = await book.Standing<Release>().Where(release => release.HouseId == house.Id && release.CageId == null && release.OnDay >= before && release.OnDay < today)
            .GroupBy(release => new { release.Taxon, release.OnDay }).Select(day => new { day.Key.Taxon, day.Key.OnDay, Count = day.Sum(release => release.Male + release.Female + release.Unsexed) }).ToListAsync(cancellation);
        return new()
        {
            Today = today,
            Rounds = entries.Where(entry => entry.OnDay < today).Select(entry => entry.OnDay).ToHashSet(),
            Emerged = entries.GroupBy(entry => (entry.LotId, entry.OnDay)).ToDictionary(group => group.Key, group => group.Sum(entry => entry.Emerged)),
            Sums = entries.GroupBy(entry => entry.LotId).ToDictionary(group => group.Key, group => (group.Sum(entry => entry.Emerged), group.Sum(entry => entry.Failed), group.Sum(entry => entry.Missing))),
            First = entries.Where(entry => entry.Emerged > 0).GroupBy(entry => entry.LotId).ToDictionary(group => group.Key, group => group.Min(entry => entry.OnDay)),
            Lots = await book.Lots.AsNoTracking().Where(lot => lot.HouseId == house.Id && lot.HungOn >= since).Select(lot => new { lot.Id, lot.HungOn, lot.Received })
                .ToDictionaryAsync(lot => lot.Id, lot => new HungLot(lot.HungOn, lot.Received), cancellation),
            Touched = touched.ToHashSet(),
            Walks = walks.GroupBy(walk => walk.OnDay).ToDictionary(
                day => day.Key,
                IReadOnlyDictionary<string, int> (day) => day.SelectMany(walk => walk.Sums()).GroupBy(count => count.Taxon).ToDictionary(taxon => taxon.Key, taxon => taxon.Max(count => count.Count))),
            FoundDead = dead.ToDictionary(found => (found.OnDay, found.Taxon), found => found.Count),
            Released = released.GroupBy(group => group.Taxon).ToDictionary(taxon => taxon.Key, IReadOnlyList<(DateOnly, int)> (taxon) => [.. taxon.Select(group => (group.OnDay, group.Count))]),
            Learned = await odds.Learned(house.Id, today, cancellation),
            Suppliers = await seen.Of(house, today, cancellation),
        };
    }
}
