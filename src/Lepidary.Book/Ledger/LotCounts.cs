using System.Collections.Concurrent;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.Book;

/// <summary>What was counted on a lot in one look.</summary>
/// <param name="OnDay">The day.</param>
/// <param name="Male">Males emerged whole.</param>
/// <param name="Female">Females emerged whole.</param>
/// <param name="Unsexed">Emerged whole, sex not told.</param>
/// <param name="Failed">Crippled, dead, parasitised.</param>
/// <param name="Missing">Pupae that were not there.</param>
public readonly record struct CountedDay(DateOnly OnDay, int Male, int Female, int Unsexed, int Failed, int Missing)
{
    /// <summary>Emerged whole.</summary>
    public int Emerged => Male + Female + Unsexed;
}

/// <summary>A lot with all that was counted on it, by day.</summary>
/// <param name="Id">Key of the lot.</param>
/// <param name="Taxon">Accepted binomial.</param>
/// <param name="SupplierId">Supplier, or null for an own brood.</param>
/// <param name="CageId">The cage in which it was hung first, or null.</param>
/// <param name="HungOn">The day on which it was hung.</param>
/// <param name="Received">Pupae hung, as written down then.</param>
/// <param name="Days">Looks that found something, by day.</param>
public sealed record CountedLot(Guid Id, string Taxon, Guid? SupplierId, Guid? CageId, DateOnly HungOn, int Received, IReadOnlyList<CountedDay> Days)
{
    /// <summary>The day on which its box was posted, or null where nobody knows.</summary>
    public DateOnly? PostedOn { get; init; }
}

/// <summary>The lots of a house hung since a day, each with its counts: what odds are learnt from.</summary>
/// <remarks>
/// Remembered up to the newest fact, as <see cref="OpenLots"/> does: later readings read only the lots that a newer fact touches. What is remembered can be forgotten at
/// any moment. Keep one for the life of the process.
/// </remarks>
/// <param name="book">Makes a context for each reading.</param>
public sealed class LotCounts(IDbContextFactory<BookContext> book)
{
    /// <summary>More touched lots than this are read with all others in one pass: an import, or a book that lay for months.</summary>
    private const int MostTouched = 2000;

    private const int MostDaysBefore = 200;

    private readonly ConcurrentDictionary<Guid, Remembered> memory = new();

    /// <summary>Lots whose source stands and their counts that stand, by the day on which they were hung.</summary>
    /// <param name="houseId">House.</param>
    /// <param name="since">Lots hung earlier are left out.</param>
    /// <param name="cancellation">Stops reading.</param>
    public async Task<IReadOnlyList<CountedLot>> ReadAsync(Guid houseId, DateOnly since, CancellationToken cancellation = default)
    {
        await using var context = await book.CreateDbContextAsync(cancellation).ConfigureAwait(false);

        // Read before the lots: a fact that comes in between is looked at twice rather than never.
        var newest = await ArrivalMark.NewestAsync(context, cancellation).ConfigureAwait(false);
        List<CountedLot>? lots = null;
        if (memory.TryGetValue(houseId, out var last) && last.Since <= since && await last.UpTo.StandsInAsync(context, newest, cancellation).ConfigureAwait(false))
        {
            var touched = last.UpTo == newest ? [] : await FactsAboutLots.TouchedAsync(context, last.UpTo.Arrival, cancellation).ConfigureAwait(false);
            if (touched.Count == 0) lots = last.Lots;
            else if (touched.Count <= MostTouched)
            {
                var again = await LotsAsync(context, houseId, last.Since, touched, cancellation).ConfigureAwait(false);
                lots = Ordered(last.Lots.Where(lot => !touched.Contains(lot.Id)).Concat(again));
            }
        }

        if (lots is null) last = new(newest, since, Ordered(await LotsAsync(context, houseId, since, null, cancellation).ConfigureAwait(false)));
        else last = new(newest, last!.Since, lots);
        // What nobody asks for any more is let go.
        if (last.Since < since.AddDays(-MostDaysBefore)) last = new(last.UpTo, since, last.Lots.FindAll(lot => lot.HungOn >= since));
        memory[houseId] = last;
        return last.Since == since ? last.Lots : last.Lots.FindAll(lot => lot.HungOn >= since);
    }

    private static List<CountedLot> Ordered(IEnumerable<CountedLot> lots) => [.. lots.OrderBy(lot => lot.HungOn).ThenBy(lot => lot.Id)];

    private static async Task<IEnumerable<CountedLot>> LotsAsync(BookContext context, Guid houseId, DateOnly since, HashSet<Guid>? only, CancellationToken cancellation)
    {
        var standing = context.StandingLots().Where(lot => lot.HouseId == houseId && lot.HungOn >= since);
        // A look that found nothing new teaches nothing: nearly half of all rows.
        var entries = context.Standing<Entry>().Where(entry => entry.EmergedMale + entry.EmergedFemale + entry.EmergedUnsexed + entry.Crippled + entry.Dead + entry.Parasitised + entry.Missing > 0);
        if (only is null) entries = entries.Where(entry => entry.HouseId == houseId && entry.OnDay >= since);
        else
        {
            standing = standing.Where(lot => EF.Parameter(only).Contains(lot.Id));
            entries = entries.Where(entry => EF.Parameter(only).Contains(entry.LotId));
        }

        var lots = await standing.Select(lot => new
        {
            lot.Id,
            lot.Taxon,
            lot.SupplierId,
            lot.CageId,
            lot.HungOn,
            lot.Received,
            PostedOn = context.Set<Delivery>().Where(box => box.Id == lot.SourceId).Select(box => box.PostedOn).FirstOrDefault(),
        }).ToListAsync(cancellation).ConfigureAwait(false);
        var days = lots.ToDictionary(lot => lot.Id, _ => new List<CountedDay>());
        await foreach (var entry in entries.Select(entry => new
        {
            entry.LotId,
            entry.OnDay,
            entry.EmergedMale,
            entry.EmergedFemale,
            entry.EmergedUnsexed,
            Failed = entry.Crippled + entry.Dead + entry.Parasitised,
            entry.Missing,
        }).AsAsyncEnumerable().WithCancellation(cancellation).ConfigureAwait(false))
        {
            if (entry.OnDay >= since && days.TryGetValue(entry.LotId, out var counted)) counted.Add(new(entry.OnDay, entry.EmergedMale, entry.EmergedFemale, entry.EmergedUnsexed, entry.Failed, entry.Missing));
        }

        return lots.Select(lot => new CountedLot(lot.Id, lot.Taxon, lot.SupplierId, lot.CageId, lot.HungOn, lot.Received, [.. days[lot.Id].OrderBy(day => day.OnDay)]) { PostedOn = lot.PostedOn });
    }

    private sealed record Remembered(ArrivalMark UpTo, DateOnly Since, List<CountedLot> Lots);
}
