using System.Globalization;
using Lepidary.App.Host;
using Lepidary.App.Weeks;
using Lepidary.App.Words;
using Lepidary.Book;
using Lepidary.Lists;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Lists;

internal sealed record ListRow(Guid Id, string Supplier, string FileName, string Came, int Offers, int Doubts, string Format);

internal sealed record SupplierChoice(Guid Id, string Name);

internal sealed record ListsView(string Headline, string Lead, IReadOnlyList<ListRow> ThisWeek, IReadOnlyList<ListRow> Earlier, IReadOnlyList<SupplierChoice> Suppliers);

/// <summary>What is on offer this week?</summary>
internal sealed class ShowLists(BookContext book, HouseDay day, CurrentLists current)
{
    private const int EarlierShown = 40;

    public async Task<ListsView> Show(CancellationToken cancellation)
    {
        var now = await current.On(day.Today, cancellation);
        var ids = now.Select(list => list.ListId).ToList();
        var earlier = await book.Lists.AsNoTracking().Where(list => !ids.Contains(list.Id)).OrderByDescending(list => list.OnDay).ThenBy(list => list.Supplier!.Name).Take(EarlierShown)
            .Select(list => new { list.Id, Supplier = list.Supplier!.Name, list.FileName, list.OnDay, list.Format, Offers = list.Offers.Count }).ToListAsync(cancellation);
        var suppliers = await book.Terms.AsNoTracking().Where(terms => terms.HouseId == day.HouseId).OrderBy(terms => terms.Supplier!.Name)
            .Select(terms => new SupplierChoice(terms.SupplierId, terms.Supplier!.Name)).ToListAsync(cancellation);
        var offers = now.Sum(list => list.List.Offers.Count);
        var doubts = now.Sum(list => list.List.Doubts.Count);
        return new ListsView(
            now.Count == 0 ? "No list has come this week" : $"{offers} offers on {(now.Count == 1 ? "one list" : $"{now.Count} lists")}",
            now.Count == 0 ? "Hand one in below: the file as it came, or its text." : doubts == 0 ? "Every line is read; nothing is in doubt." : doubts == 1 ? "One line is in doubt; settle it before it is ordered." : $"{doubts} lines are in doubt; settle them before they are ordered.",
            [.. now.Select(list => new ListRow(list.ListId, list.Supplier.Name, list.FileName, DayWords.Near(list.OnDay, day.Today), list.List.Offers.Count, list.List.Doubts.Count, list.List.Format))],
            [.. earlier.Select(list => new ListRow(list.Id, list.Supplier, list.FileName, DayWords.Short(list.OnDay), list.Offers, 0, list.Format))],
            suppliers);
    }
}

internal sealed record DoubtRow(int Line, string Text, string Why, string? PrintedName, IReadOnlyList<string> Candidates);

internal sealed record OfferRowView(
    int Line, string? Sheet, string Text, string? Taxon, string? Form, string? CommonName, string Kind, string Price, string Breaks, string Pack, string Minimum, string Available, bool SoldOut, string? Note, bool Doubtful, IReadOnlyList<string> Notes);

internal sealed record ListView(
    Guid Id, string Supplier, string FileName, string Headline, string Lead, string Currency, IReadOnlyList<DoubtRow> Doubts, IReadOnlyList<OfferRowView> Offers,
    IReadOnlyList<string> Charges, IReadOnlyList<(int Line, string? Sheet, string Text, string Kind)> Lines, string Made);

/// <summary>One list as it came, beside what was read from it.</summary>
internal sealed class ShowList(CurrentLists current, HouseDay day, SeenLists seen)
{
    public async Task<ListView?> Show(Guid id, CancellationToken cancellation)
    {
        var found = await current.One(id, cancellation);
        if (found is null)
        {
            return null;
        }

        var list = found.List;
        var weeks = day.HouseName is null ? null : (await seen.Of(await day.House(cancellation), day.Today, cancellation)).FirstOrDefault(supplier => supplier.Terms.SupplierId == found.Supplier.Id);
        var offersByLine = list.Offers.ToLookup(offer => offer.Line);
        return new ListView(
            found.ListId,
            found.Supplier.Name,
            found.FileName,
            list.Doubts.Count == 0 ? $"{list.Offers.Count} offers, none in doubt" : $"{list.Offers.Count} offers, {list.Doubts.Count} {(list.Doubts.Count == 1 ? "line" : "lines")} to settle",
            $"{found.Supplier.Name}, {DayWords.Short(list.Date ?? found.OnDay)}. {list.Format}. {(list.PricesExcludeTax switch { true => "Prices without tax.", false => "Prices with tax.", null => "" })}",
            list.Currency ?? "currency not said",
            [.. list.Doubts.GroupBy(doubt => (doubt.Line, doubt.Text)).Select(doubt => Doubt(doubt.Key.Line, doubt.Key.Text, doubt.Select(one => one.Why), offersByLine[doubt.Key.Line].FirstOrDefault(offer => offer.Text == doubt.Key.Text)))],
            [.. list.Offers.Select(offer => Offer(offer, ShowWeeks.Notes(weeks, found, offer, day.Today)))],
            [.. list.Charges.Select(charge => charge.Text)],
            [.. list.Lines.Where(line => line.Kind != LineKind.Blank).Select(line => (line.Line, line.Sheet, line.Text, line.Kind.ToString().ToLowerInvariant()))],
            day.Now.ToString("O", CultureInfo.InvariantCulture));
    }

    private static DoubtRow Doubt(int line, string text, IEnumerable<string> why, Offer? offer) =>
        new(line, text, string.Join(" ", why.Distinct()), offer?.Kind == OfferKind.Mix ? null : offer?.PrintedName, offer?.Candidates.Take(3).ToList() ?? []);

    private static OfferRowView Offer(Offer offer, IReadOnlyList<string> notes) => new(
        offer.Line, offer.Sheet, offer.Text, offer.Taxon, offer.Form, offer.CommonName, offer.Kind.ToString().ToLowerInvariant(),
        offer.Price is { } price ? MoneyWords.Plain(price) : "–",
        string.Join("; ", offer.Breaks.Select(step => string.Create(CultureInfo.InvariantCulture, $"{step.From}+ {MoneyWords.Plain(step.Price)}"))),
        offer.Pack == 1 ? "" : offer.Pack.ToString(CultureInfo.InvariantCulture),
        offer.Minimum?.ToString(CultureInfo.InvariantCulture) ?? "",
        offer.Available?.ToString(CultureInfo.InvariantCulture) ?? "",
        offer.SoldOut, offer.Note, offer.Doubts.Count > 0, notes);
}
