using System.Collections.Concurrent;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.Book;

/// <summary>An order that was sent and has not come.</summary>
/// <param name="Order">The order with its lines and supplier.</param>
/// <param name="State">Sent or confirmed.</param>
public sealed record OnTheWay(Order Order, OrderState State);

/// <summary>What a house has at the end of a day.</summary>
public sealed record Stock
{
    /// <summary>The day.</summary>
    public required DateOnly Day { get; init; }

    /// <summary>Lots in which something hangs, waits to be let go, or does not add up; by the day on which they were hung.</summary>
    public required IReadOnlyList<LotBalance> Lots { get; init; }

    /// <summary>Adults released and not found dead, by taxon and day of release.</summary>
    public required IReadOnlyList<FlyingGroup> Flying { get; init; }

    /// <summary>Orders that were sent and have not come, by order day.</summary>
    public required IReadOnlyList<OnTheWay> Coming { get; init; }

    /// <summary>Pupae that hang.</summary>
    public int Hanging => Lots.Sum(lot => lot.Hanging);

    /// <summary>Adults in cages to let go.</summary>
    public int ToRelease => Lots.Sum(lot => lot.ToRelease);
}

/// <summary>Reads what a house has. Keep one for the life of the process: what flies is remembered until a newer fact comes in.</summary>
/// <param name="book">Makes a context for each reading.</param>
/// <param name="openLots">Finds the lots.</param>
public sealed class StockReader(IDbContextFactory<BookContext> book, OpenLots openLots)
{
    /// <summary>Adults released longer ago than this are taken to be dead: the longest-lived species in the table reach some nine months.</summary>
    public const int LongestLifeDays = 300;

    private readonly ConcurrentDictionary<Guid, Remembered> memory = new();

    /// <summary>What a house has at the end of a day.</summary>
    /// <param name="houseId">House.</param>
    /// <param name="day">The day.</param>
    /// <param name="cancellation">Stops reading.</param>
    public async Task<Stock> ReadAsync(Guid houseId, DateOnly day, CancellationToken cancellation = default)
    {
        await using var context = await book.CreateDbContextAsync(cancellation).ConfigureAwait(false);
        return new()
        {
            Day = day,
            Lots = await openLots.ReadAsync(houseId, day, cancellation).ConfigureAwait(false),
            Flying = await FlyingAsync(context, houseId, day, cancellation).ConfigureAwait(false),
            Coming = await ComingAsync(context, houseId, day, cancellation).ConfigureAwait(false),
        };
    }

    private async Task<IReadOnlyList<FlyingGroup>> FlyingAsync(
        BookContext context, Guid houseId, DateOnly day, CancellationToken cancellation)
    {
        // Read before the releases: a fact that comes in between is read twice rather than never.
        var newest = await ArrivalMark.NewestAsync(context, cancellation).ConfigureAwait(false);
        if (memory.TryGetValue(houseId, out var last) && last.UpTo == newest && last.Day == day)
        {
            return last.Flying;
        }

        var since = day.AddDays(-LongestLifeDays);
        var releases = await context.Standing<Release>()
            .Where(release => release.HouseId == houseId && release.OnDay >= since && release.OnDay <= day && release.CageId == null)
            .GroupBy(release => new { release.Taxon, release.OnDay, release.AreaId })
            .Select(group => new FlyingGroup
            {
                Taxon = group.Key.Taxon,
                ReleasedOn = group.Key.OnDay,
                AreaId = group.Key.AreaId,
                Male = group.Sum(release => release.Male),
                Female = group.Sum(release => release.Female),
                Unsexed = group.Sum(release => release.Unsexed),
            }).ToListAsync(cancellation).ConfigureAwait(false);
        var dead = await context.Standing<FoundDead>()
            .Where(found => found.HouseId == houseId && found.OnDay >= since && found.OnDay <= day && found.LotId == null)
            .ToListAsync(cancellation).ConfigureAwait(false);
        var flying = Flying.Less(releases, dead);
        memory[houseId] = new(newest, day, flying);
        return flying;
    }

    private static async Task<IReadOnlyList<OnTheWay>> ComingAsync(
        BookContext context, Guid houseId, DateOnly day, CancellationToken cancellation)
    {
        var deliveries = context.Standing<Delivery>().Where(delivery => delivery.OnDay <= day);
        var orders = await context.Orders.AsNoTracking().Include(order => order.Lines.OrderBy(line => line.Number)).Include(order => order.Supplier)
            .Where(order => order.HouseId == houseId && order.OnDay <= day && !deliveries.Any(delivery => delivery.OrderId == order.Id))
            .OrderBy(order => order.OnDay).ThenBy(order => order.Id)
            .ToListAsync(cancellation).ConfigureAwait(false);
        var states = await OrderStates.ReadAsync(context, [.. orders.Select(order => order.Id)], day, cancellation).ConfigureAwait(false);
        return
        [
            .. orders.Select(order => new OnTheWay(order, states.GetValueOrDefault(order.Id, OrderState.Drafted)))
                .Where(coming => coming.State is OrderState.Sent or OrderState.Confirmed),
        ];
    }

    private sealed record Remembered(ArrivalMark UpTo, DateOnly Day, IReadOnlyList<FlyingGroup> Flying);
}
