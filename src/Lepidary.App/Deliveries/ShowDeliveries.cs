using Lepidary.App.Host;
using Lepidary.App.Words;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Deliveries;

/// <summary>An order that was sent and has not come.</summary>
public sealed record DueBox(Guid OrderId, string Supplier, DateOnly OrderedOn, DateOnly? ArrivesOn, string When, bool Late, int Pupae, int Lines, string State);

/// <summary>A box that came.</summary>
/// <param name="Claim">What became of the claim, in words; empty where there is none.</param>
/// <param name="ClaimOpen">True while a claim may still be sent and was not.</param>
public sealed record CameBox(Guid Id, string Supplier, DateOnly OnDay, string When, string? BoxMark, string Who, int Alive, int Species, string Differences, string Claim, bool ClaimOpen);

/// <summary>What is due and what came.</summary>
internal sealed record DeliveriesView(string Headline, string Lead, IReadOnlyList<DueBox> Due, IReadOnlyList<CameBox> Came);

/// <summary>Lays out what is due and what came.</summary>
internal sealed class ShowDeliveries(BookContext book, HouseDay day, StockReader stock)
{
    private const int MostShown = 60;

    public async Task<DeliveriesView> Show(CancellationToken cancellation)
    {
        var coming = (await stock.ReadAsync(day.HouseId, day.Today, cancellation)).Coming;
        var due = coming.Select(on => new DueBox(
                on.Order.Id,
                on.Order.Supplier?.Name ?? "",
                on.Order.OnDay,
                on.Order.ArrivesOn,
                on.Order.ArrivesOn is { } arrives ? DayWords.Near(arrives, day.Today) : "day not known",
                on.Order.ArrivesOn < day.Today,
                on.Order.Lines.Sum(line => line.Pupae),
                on.Order.Lines.Count,
                on.State == OrderState.Confirmed ? "confirmed" : "sent, not confirmed"))
            .OrderBy(box => box.ArrivesOn ?? DateOnly.MaxValue).ThenBy(box => box.Supplier, StringComparer.Ordinal).ToList();
        var deliveries = await book.Standing<Delivery>(day.HouseId).AsNoTracking().Include(delivery => delivery.Lines)
            .OrderByDescending(delivery => delivery.OnDay).ThenByDescending(delivery => delivery.Arrival).Take(MostShown).ToListAsync(cancellation);
        var suppliers = await book.Suppliers.AsNoTracking().ToDictionaryAsync(supplier => supplier.Id, supplier => supplier.Name, cancellation);
        var windows = await book.Terms.AsNoTracking().Where(terms => terms.HouseId == day.HouseId).ToDictionaryAsync(terms => terms.SupplierId, terms => terms.ClaimWindowHours, cancellation);
        var ids = deliveries.Select(delivery => delivery.Id).ToList();
        var steps = (await book.Standing<ClaimStep>(day.HouseId).Where(step => ids.Contains(step.DeliveryId)).ToListAsync(cancellation)).ToLookup(step => step.DeliveryId);
        var came = deliveries.Select(delivery =>
        {
            var claim = ClaimWords.Of(Claim.Of(delivery, windowHours: windows.GetValueOrDefault(delivery.SupplierId)), delivery.OnDay, steps[delivery.Id], day);
            return new CameBox(
                delivery.Id, suppliers.GetValueOrDefault(delivery.SupplierId) ?? "", delivery.OnDay, DayWords.Near(delivery.OnDay, day.Today), delivery.BoxMark, delivery.Who,
                delivery.Lines.Sum(line => line.Alive), delivery.Lines.Select(line => line.Taxon).Distinct().Count(), Differences.Of(delivery.Lines), claim.Words, claim.CanSend);
        }).ToList();
        return new(Headline(due), Lead(came), due, came);
    }

    private string Headline(IReadOnlyList<DueBox> due)
    {
        var now = due.Count(box => box.ArrivesOn <= day.Today);
        return (now, due.Count) switch
        {
            (0, 0) => "No box is on its way",
            (0, 1) => $"One box is on its way, due {due[0].When}",
            (0, var all) => $"{all} boxes are on their way",
            (1, _) => "One box is due",
            (var boxes, _) => $"{boxes} boxes are due",
        };
    }

    private static string Lead(IReadOnlyList<CameBox> came)
    {
        var open = came.Count(box => box.ClaimOpen);
        return open switch
        {
            0 => "Count each box against its note on the day it comes; what was short or dead becomes a claim.",
            1 => $"A claim on the box of {came.First(box => box.ClaimOpen).Supplier} can still be sent.",
            _ => $"{open} claims can still be sent.",
        };
    }
}
