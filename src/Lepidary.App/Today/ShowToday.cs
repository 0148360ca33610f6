using Lepidary.App.Deliveries;
using Lepidary.App.Host;
using Lepidary.App.Lists;
using Lepidary.App.Rounds;
using Lepidary.App.Words;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Today;

/// <summary>One thing of the day.</summary>
/// <param name="What">A few words; the link.</param>
/// <param name="Detail">One line, or empty.</param>
/// <param name="Address">Where it is done.</param>
/// <param name="IsDone">True when nothing of it is left.</param>
/// <param name="IsTrouble">True for what does not add up.</param>
internal sealed record DayItem(string What, string Detail, string Address, bool IsDone = false, bool IsTrouble = false);

/// <summary>The day, in its order.</summary>
/// <param name="Headline">The first thing to do, or that nothing is left.</param>
/// <param name="Items">All that the day asks.</param>
/// <param name="Ahead">What the next days bring.</param>
internal sealed record TodayView(string Headline, string Lead, IReadOnlyList<DayItem> Items, IReadOnlyList<string> Ahead, bool IsDemo);

/// <summary>What is due today?</summary>
internal sealed class ShowToday(BookContext book, HouseDay day, StockReader stock, ShowRound round, WatchedFolder folder, ClaimsToFollow claims)
{
    /// <summary>A list is good for a week; so far back is looked for one.</summary>
    private const int ListDays = 7;

    public async Task<TodayView?> Show(CancellationToken cancellation)
    {
        if (day.HouseName is null)
        {
            return null;
        }

        var there = await stock.ReadAsync(day.HouseId, day.Today, cancellation);
        var cages = await round.Show(cancellation);
        var items = new List<DayItem>();
        items.AddRange(Boxes(there));
        items.AddRange(Round(cages));
        items.AddRange((await claims.Read(cancellation)).Select(claim => new DayItem(claim.What, claim.Detail, $"/deliveries/{claim.DeliveryId}")));
        if (there.ToRelease > 0)
        {
            items.Add(new($"{there.ToRelease} {(there.ToRelease == 1 ? "adult waits" : "adults wait")} to be let go", "Wings dry first; a large species takes some hours.", "/round"));
        }

        if (folder.Waiting is { Count: > 0 } waiting)
        {
            items.Add(new(waiting.Count == 1 ? "A list waits in the watched folder" : $"{waiting.Count} lists wait in the watched folder", $"{waiting[0].List.FileName}: {waiting[0].List.Words}", "/lists/waiting"));
        }

        items.AddRange(await Lists(cancellation));
        items.AddRange(await Drafts(cancellation));
        if (cages.Discrepancies > 0)
        {
            items.Add(new(cages.Discrepancies == 1 ? "One count does not add up" : $"{cages.Discrepancies} counts do not add up", "Every row is kept; say which is right.", "/round/discrepancies", IsTrouble: true));
        }

        var first = items.FirstOrDefault(item => !item.IsDone);
        return new TodayView(
            first?.What ?? "Nothing is left to do today",
            cages.Lead,
            items,
            [.. there.Coming.Where(coming => coming.Order.ArrivesOn > day.Today).OrderBy(coming => coming.Order.ArrivesOn)
                .Select(coming => $"{DayWords.Near(coming.Order.ArrivesOn!.Value, day.Today)}: {Box(coming)}")],
            day.IsDemo);
    }

    private IEnumerable<DayItem> Boxes(Stock there) =>
        there.Coming.Where(coming => coming.Order.ArrivesOn is null || coming.Order.ArrivesOn <= day.Today)
            .Select(coming => new DayItem(
                $"A box from {coming.Order.Supplier!.Name}",
                $"{Box(coming)}{(coming.Order.ArrivesOn < day.Today ? $"; it was due {DayWords.Near(coming.Order.ArrivesOn!.Value, day.Today)}" : "")}. Open it against its note.",
                $"/deliveries/new?order={coming.Order.Id}"));

    private static IEnumerable<DayItem> Round(RoundView cages)
    {
        var lots = cages.Lots.ToList();
        if (lots.Count == 0)
        {
            yield break;
        }

        var left = lots.Count - cages.Visited;
        var overdue = cages.Overdue.Count();
        yield return new(
            left == 0 ? "The round is made" : cages.Visited == 0 ? "Make the round" : "Go on with the round",
            $"{(left == lots.Count ? $"{lots.Count} lots" : $"{left} of {lots.Count} lots left")}{(overdue > 0 ? $"; {overdue} overdue" : "")}.",
            "/round",
            IsDone: left == 0);
    }

    private async Task<IReadOnlyList<DayItem>> Lists(CancellationToken cancellation)
    {
        var since = day.Today.AddDays(-ListDays);
        var came = await book.Lists.AsNoTracking().Where(list => list.OnDay > since && list.OnDay <= day.Today).Select(list => new { list.SupplierId, list.OnDay }).ToListAsync(cancellation);
        var ordered = await book.Orders.AsNoTracking().Where(order => order.HouseId == day.HouseId && order.OnDay > since && order.OnDay <= day.Today)
            .Select(order => order.OnDay).ToListAsync(cancellation);
        var suppliers = came.Select(list => list.SupplierId).Distinct().Count();
        if (suppliers == 0)
        {
            return [new("Hand this week's lists in", "None has come in the last seven days.", "/lists")];
        }

        var newest = came.Max(list => list.OnDay);
        var done = ordered.Exists(on => on >= newest);
        return [new(done ? "The order is written" : "Make the order", suppliers == 1 ? "One list is on offer." : $"{suppliers} lists are on offer.", "/order", done)];
    }

    private async Task<IReadOnlyList<DayItem>> Drafts(CancellationToken cancellation)
    {
        var since = day.Today.AddDays(-ListDays);
        var orders = await book.Orders.AsNoTracking().Include(order => order.Supplier).Include(order => order.Lines)
            .Where(order => order.HouseId == day.HouseId && order.OnDay > since && order.OnDay <= day.Today).OrderBy(order => order.MadeAt).ToListAsync(cancellation);
        var states = await OrderStates.ReadAsync(book, [.. orders.Select(order => order.Id)], null, cancellation);
        return
        [
            .. orders.Where(order => states.GetValueOrDefault(order.Id, OrderState.Drafted) == OrderState.Drafted)
                .Select(order => new DayItem($"Send the order to {order.Supplier!.Name}", $"{order.Lines.Sum(line => line.Pupae)} pupae, {MoneyWords.Sum(order.Landed, day.Currency)} landed.", $"/orders/{order.Id}")),
        ];
    }

    private static string Box(OnTheWay coming) => $"{coming.Order.Lines.Sum(line => line.Pupae)} pupae of {coming.Order.Lines.Count} kinds from {coming.Order.Supplier!.Name}";
}
