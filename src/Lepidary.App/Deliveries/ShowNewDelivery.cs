using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.App.Words;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Deliveries;

/// <summary>A line of the form before anything is counted.</summary>
public sealed record FormLine(int Number, Guid? OrderLineId, string? Taxon, string? Form, string? OrderText, int? Ordered);

/// <summary>The form for a box.</summary>
internal sealed record NewDeliveryView
{
    public required string Headline { get; init; }

    public Guid? OrderId { get; init; }

    /// <summary>The order's supplier, or the one chosen; null to choose one.</summary>
    public Guid? SupplierId { get; init; }

    public required IReadOnlyList<(Guid Id, string Name)> Suppliers { get; init; }

    public required IReadOnlyList<FormLine> Lines { get; init; }

    public required IReadOnlyList<CageRoom> Cages { get; init; }

    /// <summary>Boxes taken in for the same order before, in a sentence; null where there are none.</summary>
    public string? Before { get; init; }

    public Guid DeliveryId { get; } = BookId.New();

    public required string MadeAt { get; init; }

    public required DateOnly Day { get; init; }
}

/// <summary>Lays out the form for a box: the lines of its order, and empty ones.</summary>
internal sealed class ShowNewDelivery(BookContext book, HouseDay day, OpenLots openLots, Places places)
{
    /// <summary>Empty lines behind those of the order; without an order there are more.</summary>
    public const int Spare = 3;

    private const int WithoutOrder = 12;

    /// <summary>The form; null where the order is not there.</summary>
    public async Task<NewDeliveryView?> Show(Guid? orderId, Guid? supplierId, CancellationToken cancellation)
    {
        var order = orderId is null ? null : await book.Orders.AsNoTracking().Include(order => order.Lines).Include(order => order.Supplier)
            .FirstOrDefaultAsync(order => order.Id == orderId && order.HouseId == day.HouseId, cancellation);
        if (orderId is not null && order is null)
        {
            return null;
        }

        var suppliers = await book.Suppliers.AsNoTracking().OrderBy(supplier => supplier.Name).Select(supplier => new { supplier.Id, supplier.Name }).ToListAsync(cancellation);
        var before = order is null ? [] : await book.Standing<Delivery>(day.HouseId).Where(delivery => delivery.OrderId == order.Id).OrderBy(delivery => delivery.Arrival).ToListAsync(cancellation);
        List<FormLine> lines = [.. (order?.Lines ?? []).OrderBy(line => line.Number).Select((line, at) => new FormLine(at, line.Id, line.Taxon, line.Form, line.Text, line.Pupae))];
        lines.AddRange(Enumerable.Range(lines.Count, order is null ? WithoutOrder : Spare).Select(at => new FormLine(at, null, null, null, null, null)));
        return new()
        {
            Headline = order is null ? "Take a box in" : $"Take in the box of {order.Supplier?.Name}",
            OrderId = order?.Id,
            SupplierId = order?.SupplierId ?? supplierId,
            Suppliers = [.. suppliers.Select(supplier => (supplier.Id, supplier.Name))],
            Lines = lines,
            Cages = await CageRoom.Read(day, openLots, places, cancellation),
            Before = before.Count == 0 ? null : $"A box for this order was taken in on {DayWords.Short(before[^1].OnDay)}{(before[^1].Who.Length == 0 ? "" : $" by {before[^1].Who}")}{(before[^1].BoxMark is null ? "" : $" under the mark {before[^1].BoxMark}")}. Go on only if this is another box.",
            MadeAt = day.Now.ToString("O", System.Globalization.CultureInfo.InvariantCulture),
            Day = day.Today,
        };
    }
}
