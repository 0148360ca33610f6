using System.Globalization;
using Lepidary.App.Host;
using Lepidary.Book;
using Lepidary.Lists;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Lists;

/// <summary>One thing that is remembered.</summary>
/// <param name="Id">What to take back; null for what the last list shows, which nobody had to say.</param>
/// <param name="About">Column, currency, tax, price, name.</param>
/// <param name="Printed">As the lists print it; empty where they do not.</param>
/// <param name="Means">In words; of a name the taxon.</param>
/// <param name="IsName">True where <paramref name="Means"/> is a taxon.</param>
/// <param name="Who">Who said it, or empty.</param>
/// <param name="On">Since when.</param>
internal sealed record LearntRow(Guid? Id, string About, string Printed, string Means, bool IsName, string Who, DateOnly On);

internal sealed record LearntView(Guid SupplierId, string Supplier, string Headline, IReadOnlyList<LearntRow> Rows, string Made);

/// <summary>What was learnt of this supplier's lists?</summary>
internal sealed class ShowLearnt(BookContext book, HouseDay day, CurrentLists lists)
{
    public async Task<LearntView?> Show(Guid supplierId, CancellationToken cancellation)
    {
        var supplier = await book.Suppliers.AsNoTracking().SingleOrDefaultAsync(supplier => supplier.Id == supplierId, cancellation);
        if (supplier is null)
        {
            return null;
        }

        var learnt = await LearntOfLists.ReadAsync(book, supplierId, cancellation);
        var names = (await SettledNames.ReadAsync(book, cancellation)).Values.Where(name => name.SupplierId == supplierId || name.SupplierId is null).OrderBy(name => name.TextKey, StringComparer.Ordinal);
        IReadOnlyList<LearntRow> rows =
        [
            .. names.Select(name => new LearntRow(name.Id, "name", name.TextKey, name.Taxon, true, name.Who, name.OnDay)),
            .. learnt.Select(one => new LearntRow(one.Id, About(one.Matter), one.ColumnKey, Means(one), false, one.Who, one.OnDay)),
            .. await Seen(supplierId, learnt, cancellation),
        ];
        var said = rows.Count(row => row.Id is not null);
        return new LearntView(
            supplierId, supplier.Name, said == 0 ? "Nothing had to be said yet" : said == 1 ? "One thing was said, and is remembered" : $"{said} things were said, and are remembered",
            rows, day.Now.ToString("O", CultureInfo.InvariantCulture));
    }

    /// <summary>What the supplier's last list shows by itself: its columns, and the currency and tax that stand in for a list that says neither.</summary>
    private async Task<IReadOnlyList<LearntRow>> Seen(Guid supplierId, IReadOnlyList<LearntOfList> learnt, CancellationToken cancellation)
    {
        var last = await book.Lists.AsNoTracking().Where(list => list.SupplierId == supplierId && list.OnDay <= day.Today)
            .OrderByDescending(list => list.OnDay).ThenByDescending(list => list.ReceivedAt).Select(list => (Guid?)list.Id).FirstOrDefaultAsync(cancellation);
        var rows = new List<LearntRow>();
        if (last is { } id && await lists.One(id, cancellation) is { } list)
        {
            rows.AddRange(list.List.Columns.Where(column => column.Title.Length > 0 && column.Role != ColumnRole.Unknown && !learnt.Any(one => one.Matter == LearntMatter.Column && one.ColumnKey == column.Key))
                .DistinctBy(column => column.Key).Select(column => new LearntRow(null, "column", column.Title, ListWords.Holds(column.Role), false, "", list.OnDay)));
        }

        var earlier = await SupplierMemory.Earlier(book, supplierId, day.Today.AddDays(1), cancellation);
        if (!learnt.Any(one => one.Matter == LearntMatter.Currency) && earlier.FirstOrDefault(one => one.Currency is not null) is { Currency: { } currency } saidCurrency)
        {
            rows.Add(new LearntRow(null, "currency", "", currency, false, "", saidCurrency.OnDay));
        }

        if (!learnt.Any(one => one.Matter == LearntMatter.Tax) && earlier.FirstOrDefault(one => one.PricesExcludeTax is not null) is { PricesExcludeTax: { } excluded } saidTax)
        {
            rows.Add(new LearntRow(null, "tax", "", excluded ? "prices without tax" : "prices with tax", false, "", saidTax.OnDay));
        }

        return rows;
    }

    public static string Csv(LearntView view)
    {
        var csv = new CsvText("supplier", "about", "printed", "means", "said by", "since");
        foreach (var row in view.Rows)
        {
            csv.Row(view.Supplier, row.About, row.Printed, row.Means, row.Id is null ? "list" : row.Who.Length > 0 ? row.Who : "keeper", row.On);
        }

        return csv.ToString();
    }

    private static string About(LearntMatter matter) => matter switch
    {
        LearntMatter.Column => "column",
        LearntMatter.Currency => "currency",
        LearntMatter.Tax => "tax",
        LearntMatter.PriceUnit => "price",
        LearntMatter.Line => "line",
        _ => throw new InvalidOperationException($"Matter {matter}."),
    };

    private static string Means(LearntOfList learnt) => learnt.Matter switch
    {
        LearntMatter.Column => Enum.TryParse<ColumnRole>(learnt.Meaning, out var role) ? ListWords.Holds(role) : learnt.Meaning,
        LearntMatter.Tax => learnt.Meaning == SupplierMemory.Excluded ? "prices without tax" : "prices with tax",
        LearntMatter.PriceUnit => learnt.Meaning == SupplierMemory.Pack ? "a price beside a pack is for the pack" : "a price beside a pack is for one",
        LearntMatter.Line => learnt.Meaning switch { ToldLine.AsRead => "right as it was read", ToldLine.NoOffer => "offers nothing", _ => learnt.Meaning },
        _ => learnt.Meaning,
    };
}
