using System.Collections.Concurrent;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.Book;

/// <summary>Adults by sex.</summary>
/// <param name="Male">Males.</param>
/// <param name="Female">Females.</param>
/// <param name="Unsexed">Sex not told.</param>
public readonly record struct SexCount(int Male, int Female, int Unsexed)
{
    /// <summary>In all.</summary>
    public int Total => Male + Female + Unsexed;
}

/// <summary>What was let go, found dead and met on walks in a house's flight areas.</summary>
/// <param name="Released">By taxon and day.</param>
/// <param name="FoundDead">By taxon and day, of those that flew.</param>
/// <param name="Walked">By day of a walk and taxon. Two walks on a day look at the same butterflies: the larger count stands.</param>
public sealed record AdultsCounted(
    IReadOnlyDictionary<string, IReadOnlyDictionary<DateOnly, SexCount>> Released,
    IReadOnlyDictionary<string, IReadOnlyDictionary<DateOnly, SexCount>> FoundDead,
    IReadOnlyDictionary<DateOnly, IReadOnlyDictionary<string, int>> Walked);

/// <summary>
/// Reads what was counted of adults, day by day. Keep one for the life of the process: it is remembered until a newer fact comes in.
/// </summary>
/// <param name="book">Makes a context for each reading.</param>
public sealed class AdultCounts(IDbContextFactory<BookContext> book)
{
    private readonly ConcurrentDictionary<Guid, Remembered> memory = new();

    /// <summary>What stands of it.</summary>
    /// <param name="houseId">House.</param>
    /// <param name="since">What was counted earlier may be in, or be left out.</param>
    /// <param name="cancellation">Stops reading.</param>
    public async Task<AdultsCounted> ReadAsync(Guid houseId, DateOnly since, CancellationToken cancellation = default)
    {
        await using var context = await book.CreateDbContextAsync(cancellation).ConfigureAwait(false);

        // Read before the counts: a fact that comes in between is read twice rather than never.
        var newest = await ArrivalMark.NewestAsync(context, cancellation).ConfigureAwait(false);
        if (memory.TryGetValue(houseId, out var last) && last.UpTo == newest && last.Since <= since) return last.Counted;
        var released = await context.Standing<Release>().Where(fact => fact.HouseId == houseId && fact.AreaId != null && fact.OnDay >= since)
            .GroupBy(fact => new { fact.Taxon, fact.OnDay }).Select(day => new TaxonDay(day.Key.Taxon, day.Key.OnDay, day.Sum(fact => fact.Male), day.Sum(fact => fact.Female), day.Sum(fact => fact.Unsexed)))
            .ToListAsync(cancellation).ConfigureAwait(false);
        var dead = await context.Standing<FoundDead>().Where(fact => fact.HouseId == houseId && fact.LotId == null && fact.OnDay >= since)
            .GroupBy(fact => new { fact.Taxon, fact.OnDay }).Select(day => new TaxonDay(day.Key.Taxon, day.Key.OnDay, day.Sum(fact => fact.Sex == AdultSex.Male ? fact.Count : 0), day.Sum(fact => fact.Sex == AdultSex.Female ? fact.Count : 0), day.Sum(fact => fact.Sex == null ? fact.Count : 0)))
            .ToListAsync(cancellation).ConfigureAwait(false);
        var walks = await context.Standing<Walk>().Include(walk => walk.Counts).Where(fact => fact.HouseId == houseId && fact.OnDay >= since).ToListAsync(cancellation).ConfigureAwait(false);
        AdultsCounted counted = new(ByTaxon(released), ByTaxon(dead), walks.GroupBy(walk => walk.OnDay).ToDictionary(
            day => day.Key,
            IReadOnlyDictionary<string, int> (day) => day.SelectMany(walk => walk.Sums()).GroupBy(met => met.Taxon).ToDictionary(taxon => taxon.Key, taxon => taxon.Max(met => met.Count))));
        memory[houseId] = new(newest, since, counted);
        return counted;
    }

    private static Dictionary<string, IReadOnlyDictionary<DateOnly, SexCount>> ByTaxon(List<TaxonDay> days) => days.GroupBy(day => day.Taxon)
        .ToDictionary(taxon => taxon.Key, IReadOnlyDictionary<DateOnly, SexCount> (taxon) => taxon.ToDictionary(day => day.OnDay, day => new SexCount(day.Male, day.Female, day.Unsexed)));

    private sealed record TaxonDay(string Taxon, DateOnly OnDay, int Male, int Female, int Unsexed);

    private sealed record Remembered(ArrivalMark UpTo, DateOnly Since, AdultsCounted Counted);
}
