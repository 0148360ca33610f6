using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.App.Words;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Labels;

/// <summary>What stands on a lot's label.</summary>
/// <param name="Code">The lot's code.</param>
/// <param name="Address">Address that the QR code opens.</param>
/// <param name="Taxon">Accepted binomial.</param>
/// <param name="Form">Form, or null.</param>
/// <param name="Where">Cage and row.</param>
/// <param name="Hung"><c>20 hung 24 Nov</c>.</param>
/// <param name="Supplier">Who posted it, or null.</param>
internal sealed record LotLabel(string Code, string Address, string Taxon, string? Form, string Where, string Hung, string? Supplier);

/// <summary>Which lots to label.</summary>
/// <param name="Delivery">Those of one box; null for others.</param>
/// <param name="Lots">These, by code or key; null for all that hang.</param>
internal sealed record LabelsFor(Guid? Delivery, IReadOnlyList<string>? Lots);

/// <summary>Makes labels for lots, in the order in which they hang.</summary>
internal sealed class ShowLabels(BookContext book, HouseDay day, OpenLots openLots, FindLot finder, Places places)
{
    /// <param name="wanted">Which lots.</param>
    /// <param name="address">Where the pages are as a phone reaches them: <c>http://192.0.2.7:5280</c>.</param>
    /// <param name="cancellation">Stops reading.</param>
    public async Task<Checked<IReadOnlyList<LotLabel>>> Show(LabelsFor wanted, string address, CancellationToken cancellation)
    {
        if (!Uri.TryCreate(address, UriKind.Absolute, out var at) || at.Scheme is not ("http" or "https"))
        {
            return new Problem("address", address.Length == 0 ? "nothing" : address, "the address of these pages as a phone reaches it: http://192.0.2.7:5280");
        }

        var problems = new List<Problem>();
        var lots = new List<Lot>();
        if (wanted.Lots is { } named)
        {
            foreach (var name in named)
            {
                var found = await finder.Find(name, cancellation);
                problems.AddRange(found.Problems);
                if (found.IsGood)
                {
                    lots.Add(found.Value);
                }
            }
        }
        else if (wanted.Delivery is { } delivery)
        {
            lots = await book.Lots.AsNoTracking().Where(lot => lot.SourceId == delivery && lot.HouseId == day.HouseId).ToListAsync(cancellation);
            if (lots.Count == 0)
            {
                problems.Add(new("delivery", delivery.ToString(), "a delivery with lots of this house"));
            }
        }

        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var open = (await openLots.ReadAsync(day.HouseId, cancellation)).ToDictionary(balance => balance.Lot.Id);
        if (wanted is { Lots: null, Delivery: null })
        {
            lots = [.. open.Values.Where(balance => balance.Hanging > 0).Select(balance => balance.Lot)];
        }

        var house = await places.House(cancellation);
        var suppliers = await book.Suppliers.AsNoTracking().ToDictionaryAsync(supplier => supplier.Id, supplier => supplier.Name, cancellation);
        var root = at.ToString().TrimEnd('/');
        return lots.Select(lot =>
            {
                var balance = open.GetValueOrDefault(lot.Id);
                var (cage, row) = balance is null ? (lot.CageId, lot.Row) : (balance.CageId, balance.Row);
                return (Cage: house.Cages.Find(other => other.Id == cage)?.Name ?? "", Row: row, Lot: lot);
            })
            .OrderBy(item => item.Cage.Length == 0 ? 1 : 0).ThenBy(item => item.Cage, NaturalOrder.Instance).ThenBy(item => item.Row ?? "", NaturalOrder.Instance)
            .ThenBy(item => item.Lot.HungOn).ThenBy(item => item.Lot.Taxon, StringComparer.Ordinal).ThenBy(item => item.Lot.Id)
            .Select(item => new LotLabel(
                LotCode.Of(item.Lot.Id),
                $"{root}/pocket/{LotCode.Of(item.Lot.Id)}",
                item.Lot.Taxon,
                item.Lot.Form,
                item.Cage.Length == 0 ? "no cage yet" : item.Row is null ? item.Cage : $"{item.Cage}, row {item.Row}",
                $"{item.Lot.Received} hung {DayWords.Short(item.Lot.HungOn)}",
                item.Lot.SupplierId is { } id ? suppliers.GetValueOrDefault(id) : null))
            .ToList();
    }
}
