using Lepidary.App.Host;
using Lepidary.App.Lists;
using Lepidary.App.Rounds;
using Lepidary.Book;
using Lepidary.Taxa;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Deliveries;

/// <summary>Finds what a box file names (order, supplier, cages) and takes the box in.</summary>
internal sealed class TakeInBoxFile(BookContext book, HouseDay day, StockReader stock, Places places, TakeInDelivery takeIn)
{
    /// <param name="box">The box.</param>
    /// <param name="asOrdered">True where every line of the order came as ordered, and the box names no lines.</param>
    /// <param name="who">Who took it in.</param>
    public async Task<Checked<BoxTakenIn>> Do(BoxFile box, bool asOrdered, string who, CancellationToken cancellation)
    {
        var problems = new List<Problem>();
        var order = box.Order is null ? null : await Order(box.Order, problems, cancellation);
        var supplierId = box.Supplier is null ? null : await Supplier(box.Supplier, problems, cancellation);
        var finder = await SettledFinder.Of(book, cancellation);
        List<BoxLine> lines = [];
        foreach (var (at, line) in box.Lines.Index())
        {
            var where = $"line {at + 1}";
            var cage = await places.Named(line.Cage, $"{where}, cage", cancellation);
            problems.AddRange(cage.Problems);
            var taxon = line.Taxon is null ? null : finder.Find(line.Taxon, NameContext.None).Taxon?.Name;
            lines.Add(new BoxLine
            {
                Where = where,
                OrderLineId = order?.Lines.Find(ordered => ordered.Taxon is not null && ordered.Taxon == taxon && lines.TrueForAll(other => other.OrderLineId != ordered.Id))?.Id,
                Taxon = line.Taxon,
                Form = line.Form,
                Noted = line.Noted,
                Alive = line.Alive ?? (line.Layers.Count > 0 ? line.Layers.Sum(layer => layer.Alive ?? 0) : null),
                Dead = line.Dead,
                Damaged = line.Damaged,
                Emerged = line.Emerged,
                WrongSpecies = line.Wrong,
                ColouredUp = line.Coloured,
                SubstituteFor = line.Instead,
                Remark = line.Remark,
                CageId = cage.IsGood ? cage.Value?.Id : null,
                Row = line.Row,
                Place = line.Place,
                NotedPrice = line.Price,
                Layers = line.Layers,
                LookedAt = line.Looked,
                Portions = [.. line.Portions.Select((portion, number) => new PortionTyped($"{where}, portion {number + 1}", portion.Pupae, portion.Grams))],
                RestGrams = line.Rest,
            });
        }

        if (asOrdered && order is not null && lines.Count == 0)
        {
            lines.AddRange(order.Lines.OrderBy(line => line.Number).Select(line => new BoxLine { Where = $"line {line.Number}", OrderLineId = line.Id, Noted = line.Pupae, Alive = line.Pupae }));
        }

        return problems.Count > 0
            ? problems.ToArray()
            : await takeIn.Do(
                new()
                {
                    Id = box.Id ?? BookId.New(),
                    OrderId = order?.Id,
                    SupplierId = supplierId,
                    BoxMark = box.Box,
                    OnDay = box.On,
                    PostedOn = box.Posted,
                    NoteText = box.Note,
                    Condition = box.Condition,
                    AsNoted = box.AsNoted,
                    Lines = lines,
                    Who = who,
                },
                cancellation);
    }

    private async Task<Order?> Order(string named, List<Problem> problems, CancellationToken cancellation)
    {
        var orders = book.Orders.AsNoTracking().Include(order => order.Lines).Include(order => order.Supplier).Where(order => order.HouseId == day.HouseId);
        var found = Guid.TryParse(named, out var key)
            ? await orders.Where(order => order.Id == key).ToListAsync(cancellation)
            : [.. (await stock.ReadAsync(day.HouseId, day.Today, cancellation)).Coming.Select(coming => coming.Order).Where(order => string.Equals(order.Supplier?.Name, named.Trim(), StringComparison.OrdinalIgnoreCase))];
        if (found.Count == 1)
        {
            return found[0];
        }

        problems.Add(new("order", named, found.Count == 0 ? "the key of an order, or the supplier of one that is on its way" : $"one order; {found.Count} of this supplier are on their way: {string.Join(", ", found.Select(order => order.Id))}"));
        return null;
    }

    private async Task<Guid?> Supplier(string name, List<Problem> problems, CancellationToken cancellation)
    {
        var all = await book.Suppliers.AsNoTracking().OrderBy(supplier => supplier.Name).Select(supplier => new { supplier.Id, supplier.Name }).ToListAsync(cancellation);
        if (all.Find(supplier => string.Equals(supplier.Name, name.Trim(), StringComparison.OrdinalIgnoreCase)) is { } found)
        {
            return found.Id;
        }

        problems.Add(new("supplier", name, $"one of {string.Join(", ", all.Select(supplier => supplier.Name))}"));
        return null;
    }
}
