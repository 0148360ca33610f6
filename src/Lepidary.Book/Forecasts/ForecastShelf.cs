using Microsoft.EntityFrameworkCore;

namespace Lepidary.Book;

/// <summary>Keeps forecasts, each once: the first that was shown stands.</summary>
/// <param name="book">Makes a context for each reading and writing.</param>
public sealed class ForecastShelf(IDbContextFactory<BookContext> book)
{
    private const int Batch = 200;

    /// <summary>Keys of those that a house has kept on a day: what need not be reckoned again.</summary>
    public async Task<IReadOnlySet<Guid>> KeptAsync(Guid houseId, DateOnly day, CancellationToken cancellation = default)
    {
        await using var context = await book.CreateDbContextAsync(cancellation).ConfigureAwait(false);
        return (await context.Forecasts.Where(forecast => forecast.HouseId == houseId && forecast.MadeOn == day).Select(forecast => forecast.Id).ToListAsync(cancellation).ConfigureAwait(false)).ToHashSet();
    }

    /// <summary>Keeps those that are not there yet.</summary>
    /// <param name="forecasts">Keys made from what they are about.</param>
    /// <param name="cancellation">Leaves the rest unwritten.</param>
    /// <returns>How many were new.</returns>
    public async Task<int> KeepAsync(IReadOnlyCollection<KeptForecast> forecasts, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(forecasts);
        var kept = 0;
        foreach (var batch in forecasts.DistinctBy(forecast => forecast.Id).Chunk(Batch))
        {
            await using var context = await book.CreateDbContextAsync(cancellation).ConfigureAwait(false);
            await using var transaction = await ProviderDifferences.BeginWritingAsync(context, cancellation).ConfigureAwait(false);
            var ids = batch.Select(forecast => forecast.Id).ToList();
            var there = (await context.Forecasts.Where(forecast => ids.Contains(forecast.Id)).Select(forecast => forecast.Id).ToListAsync(cancellation).ConfigureAwait(false)).ToHashSet();
            var fresh = batch.Where(forecast => !there.Contains(forecast.Id)).ToList();
            context.AddRange(fresh);
            await context.SaveChangesAsync(cancellation).ConfigureAwait(false);
            await transaction.CommitAsync(cancellation).ConfigureAwait(false);
            kept += fresh.Count;
        }

        return kept;
    }
}
