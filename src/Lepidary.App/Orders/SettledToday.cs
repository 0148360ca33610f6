using Lepidary.App.Host;
using Lepidary.Book;
using Lepidary.Planning;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Orders;

/// <summary>What today's orders have settled, so that the rest is planned around it.</summary>
/// <param name="Lines">A line for each that was ordered, with what comes of it.</param>
/// <param name="Orders">The orders that these stand for; in the stock they would count twice.</param>
internal sealed record Settled(IReadOnlyList<SettledLine> Lines, IReadOnlySet<Guid> Orders);

/// <summary>Finds what suppliers were asked for today and what they answered.</summary>
internal sealed class SettledToday(BookContext book, HouseDay day)
{
    /// <param name="offers">The offers of this week's lists, by supplier.</param>
    /// <param name="cancellation">Stops reading.</param>
    public async Task<Settled> Read(ILookup<string, string> offers, CancellationToken cancellation)
    {
        var orders = await book.Orders.AsNoTracking().Include(order => order.Lines).Include(order => order.Supplier)
            .Where(order => order.HouseId == day.HouseId && order.OnDay == day.Today).OrderBy(order => order.MadeAt).ToListAsync(cancellation);
        var states = await OrderStates.ReadAsync(book, [.. orders.Select(order => order.Id)], null, cancellation);
        var byId = orders.ToDictionary(order => order.Id);
        var (lines, standing) = (new Dictionary<string, SettledLine>(StringComparer.Ordinal), new HashSet<Guid>());
        foreach (var asked in orders)
        {
            var (stands, key) = (asked, (Func<string, Guid>)(offer => NamedKey.Of("order-line", asked.Id, offer)));
            while (byId.TryGetValue(AnswerOrder.Answered(stands.Id), out var next))
            {
                var before = key;
                (stands, key) = (next, offer => AnswerOrder.AnsweredLine(before(offer)));
            }

            var state = states.GetValueOrDefault(stands.Id, OrderState.Drafted);
            var mine = offers[asked.Supplier!.Name].Where(offer => asked.Lines.Exists(line => line.Id == NamedKey.Of("order-line", asked.Id, offer))).ToList();
            if (mine.Count < asked.Lines.Count || stands.ArrivesOn is not { } arrives || state is not (OrderState.Sent or OrderState.Confirmed or OrderState.Refused))
            {
                continue;
            }

            // Ordered twice today: the second stays in the stock, and out of the plan.
            if (mine.Exists(lines.ContainsKey))
            {
                continue;
            }

            standing.Add(stands.Id);
            foreach (var offer in mine)
            {
                var before = asked.Lines.Single(line => line.Id == NamedKey.Of("order-line", asked.Id, offer));
                var comes = state == OrderState.Refused ? null : stands.Lines.Find(line => line.Id == key(offer));
                lines.Add(offer, new SettledLine(offer, arrives, comes?.Pupae ?? 0)
                {
                    Instead = comes is not null && comes.Taxon != before.Taxon ? comes.Taxon : null,
                    UnitPrice = before.UnitPrice,
                    Asked = before.Pupae,
                });
            }
        }

        return new Settled([.. lines.Values], standing);
    }
}
