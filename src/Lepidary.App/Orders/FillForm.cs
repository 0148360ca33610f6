using Lepidary.App.Lists;
using Lepidary.Book;
using Lepidary.Lists;
using Lepidary.Lists.Forms;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Orders;

/// <summary>A supplier's form with the order in it.</summary>
/// <param name="FileName">The list's, with <c>-order</c> behind it.</param>
/// <param name="Content">The file.</param>
/// <param name="Lines">Lines filled in.</param>
/// <param name="Words">What was written where, in a sentence.</param>
internal sealed record FilledForm(string FileName, byte[] Content, int Lines, string Words);

/// <summary>What came of filling a form in.</summary>
internal sealed record FormOutcome(Checked<FilledForm> Filled);

/// <summary>Puts a written order into the supplier's own order form.</summary>
internal sealed class FillForm(BookContext book, CurrentLists lists)
{
    /// <param name="order">With its lines.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <returns>Null where the order was made from no list, or its list is no form.</returns>
    public async Task<FormOutcome?> Fill(Order order, CancellationToken cancellation)
    {
        if (order.ListId is not { } listId || await lists.One(listId, cancellation) is not { } current || !current.List.Offers.Any(offer => offer.OrderCell is not null))
        {
            return null;
        }

        var offerIds = order.Lines.Select(line => line.OfferId).OfType<Guid>().ToList();
        var rows = await book.Offers.AsNoTracking().Where(row => offerIds.Contains(row.Id)).ToDictionaryAsync(row => row.Id, cancellation);
        var problems = new List<Problem>();
        var entries = new List<FormEntry>();
        var counts = new SortedSet<int>();
        foreach (var line in order.Lines.OrderBy(line => line.Number))
        {
            var row = line.OfferId is { } id ? rows.GetValueOrDefault(id) : null;
            var onLine = current.List.Offers.Where(offer => row is not null && offer.Line == row.Line && offer.Sheet == row.Sheet).ToList();
            if ((onLine.Find(offer => offer.Text == row!.Text) ?? (onLine.Count == 1 ? onLine[0] : null)) is not { OrderCell: { } cell } offer)
            {
                problems.Add(new($"line {line.Number} of the order, {line.Text}", "no cell for it on the form", "an offer with a cell to be filled in; write it in by hand"));
            }
            else if (line.Pupae % cell.Counts != 0)
            {
                problems.Add(new($"line {line.Number} of the order, {line.Text}", $"{line.Pupae} pupae, and the form counts packs of {cell.Counts}", "whole packs"));
            }
            else
            {
                counts.Add(cell.Counts);
                entries.Add(new FormEntry(offer.Sheet, offer.Line, cell.Column, line.Pupae / cell.Counts));
            }
        }

        if (problems.Count > 0)
        {
            return new FormOutcome(problems.ToArray());
        }

        var content = await book.Lists.AsNoTracking().Where(list => list.Id == listId).Select(list => list.Original!.Bytes).SingleAsync(cancellation);
        var filled = OrderForm.Fill(content, current.FileName, entries);
        return new FormOutcome(filled.IsGood
            ? new FilledForm(
                $"{Path.GetFileNameWithoutExtension(current.FileName)}-order{Path.GetExtension(current.FileName)}",
                filled.Value,
                entries.Count,
                $"{(entries.Count == 1 ? "One line goes" : $"{entries.Count} lines go")} into {Columns(current.List, entries)} of {current.FileName}, counted in {(counts.Max > 1 ? "packs" : "pupae")}; nothing else of it changes.")
            : filled.Problems.ToArray());
    }

    /// <summary>The columns by their titles, as the supplier prints them.</summary>
    private static string Columns(SupplierList list, IReadOnlyList<FormEntry> entries)
    {
        var titles = entries.Select(entry => (entry.Sheet, entry.Column)).Distinct()
            .Select(place => list.Columns.FirstOrDefault(column => column.Sheet == place.Sheet && column.Column == place.Column && column.Role == ColumnRole.Order)?.Title ?? "")
            .Where(title => title.Length > 0).Distinct().ToList();
        return titles.Count == 0 ? "the column for the order" : $"the column “{string.Join("”, “", titles)}”";
    }
}
