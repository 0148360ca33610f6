using Lepidary.App.Host;
using Lepidary.App.Words;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Lists;

internal sealed record ListRow(Guid Id, string Supplier, string FileName, string Came, int Offers, int Doubts, string Format);

internal sealed record SupplierChoice(Guid Id, string Name);

internal sealed record ListsView(string Headline, string Lead, IReadOnlyList<ListRow> ThisWeek, IReadOnlyList<ListRow> Earlier, IReadOnlyList<SupplierChoice> Suppliers, int Waiting);

/// <summary>What is on offer this week?</summary>
internal sealed class ShowLists(BookContext book, HouseDay day, CurrentLists current, WatchedFolder folder)
{
    private const int EarlierShown = 40;

    /// <summary>Those whose lists can be handed in.</summary>
    public async Task<IReadOnlyList<SupplierChoice>> Suppliers(CancellationToken cancellation) =>
        await book.Terms.AsNoTracking().Where(terms => terms.HouseId == day.HouseId).OrderBy(terms => terms.Supplier!.Name)
            .Select(terms => new SupplierChoice(terms.SupplierId, terms.Supplier!.Name)).ToListAsync(cancellation);

    public async Task<ListsView> Show(CancellationToken cancellation)
    {
        var now = await current.On(day.Today, cancellation);
        var ids = now.Select(list => list.ListId).ToList();
        var earlier = await book.Lists.AsNoTracking().Where(list => !ids.Contains(list.Id)).OrderByDescending(list => list.OnDay).ThenBy(list => list.Supplier!.Name).Take(EarlierShown)
            .Select(list => new { list.Id, Supplier = list.Supplier!.Name, list.FileName, list.OnDay, list.Format, Offers = list.Offers.Count }).ToListAsync(cancellation);
        var suppliers = await Suppliers(cancellation);
        var offers = now.Sum(list => list.List.Offers.Count);
        var doubts = now.Sum(list => list.List.Doubts.Count);
        return new ListsView(
            now.Count == 0 ? "No list has come this week" : $"{offers} offers on {(now.Count == 1 ? "one list" : $"{now.Count} lists")}",
            now.Count == 0 ? "Hand one in below: the file as it came, or its text." : doubts == 0 ? "Every line is read; nothing is in doubt." : doubts == 1 ? "One line is in doubt; settle it before it is ordered." : $"{doubts} lines are in doubt; settle them before they are ordered.",
            [.. now.Select(list => new ListRow(list.ListId, list.Supplier.Name, list.FileName, DayWords.Near(list.OnDay, day.Today), list.List.Offers.Count, list.List.Doubts.Count, list.List.Format))],
            [.. earlier.Select(list => new ListRow(list.Id, list.Supplier, list.FileName, DayWords.Short(list.OnDay), list.Offers, 0, list.Format))],
            suppliers,
            folder.Waiting.Count);
    }
}
