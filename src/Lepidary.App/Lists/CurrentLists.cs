using Lepidary.App.Orders;
using Lepidary.Book;
using Lepidary.Lists;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Lists;

/// <summary>A list of this week as it is read today, with what keepers settled since.</summary>
/// <param name="ListId">Key.</param>
/// <param name="FileName">As it came.</param>
/// <param name="OnDay">The day it came.</param>
/// <param name="Supplier">Who sent it.</param>
/// <param name="List">Read anew from the file as it came, so that a doubt settled once is settled everywhere.</param>
internal sealed record CurrentList(Guid ListId, string FileName, DateOnly OnDay, Supplier Supplier, SupplierList List);

/// <summary>The lists on offer: of each supplier the newest, if it came within the last week.</summary>
internal sealed class CurrentLists(BookContext book)
{
    /// <summary>A list is good until the next one is due.</summary>
    private const int DaysGood = 7;

    public async Task<IReadOnlyList<CurrentList>> On(DateOnly today, CancellationToken cancellation)
    {
        var since = today.AddDays(-DaysGood);
        var recent = await book.Lists.AsNoTracking().Where(list => list.OnDay > since && list.OnDay <= today)
            .OrderByDescending(list => list.OnDay).ThenByDescending(list => list.ReceivedAt)
            .Select(list => new { list.Id, list.SupplierId }).ToListAsync(cancellation);
        var newest = recent.DistinctBy(list => list.SupplierId).Select(list => list.Id).ToList();
        var lists = new List<CurrentList>();
        foreach (var id in newest)
        {
            if (await One(id, cancellation) is { } list)
            {
                lists.Add(list);
            }
        }

        return [.. lists.OrderBy(list => list.Supplier.Name, StringComparer.Ordinal)];
    }

    /// <summary>One list, or null where the book has none of that key.</summary>
    public async Task<CurrentList?> One(Guid id, CancellationToken cancellation)
    {
        var row = await book.Lists.AsNoTracking().Include(list => list.Original).Include(list => list.Supplier).SingleOrDefaultAsync(list => list.Id == id, cancellation);
        if (row is null)
        {
            return null;
        }

        var read = ListReader.Read(row.Original!.Bytes, row.FileName, await SupplierMemory.Options(book, row.Supplier!, row.OnDay, cancellation), cancellation);
        return new CurrentList(row.Id, row.FileName, row.OnDay, row.Supplier!, read.Value);
    }

    /// <summary>The lists on offer, with the house's terms; a list of a supplier without terms to this house can't be ordered from.</summary>
    public async Task<IReadOnlyList<ListOnOffer>> OnOffer(Book.House house, DateOnly today, CancellationToken cancellation) =>
    [
        .. from list in await On(today, cancellation)
           join terms in house.Terms on list.Supplier.Id equals terms.SupplierId
           select new ListOnOffer(terms, list.List, list.FileName, list.ListId),
    ];
}
