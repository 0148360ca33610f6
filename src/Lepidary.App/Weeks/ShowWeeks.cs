using System.Globalization;
using System.Text.Json.Serialization;
using Lepidary.App.Host;
using Lepidary.App.Lists;
using Lepidary.App.Words;
using Lepidary.Lists;
using Lepidary.Science.Listing;
using Lepidary.Taxa;

namespace Lepidary.App.Weeks;

/// <summary>An offer of this week that is worth a word.</summary>
internal sealed record NotedOffer(string Taxon, string? Form, string Supplier, Guid ListId, int Line, string Price, IReadOnlyList<string> Notes);

/// <summary>One supplier's lists, in a line.</summary>
/// <param name="Pattern">How its lists follow each other, in a sentence; empty with one list.</param>
internal sealed record SupplierLine(Guid Id, string Name, int Lists, string Since, string Latest, int Taxa, string Pattern);

/// <summary>This week against the weeks before.</summary>
internal sealed record WeeksView(string Headline, string Lead, IReadOnlyList<NotedOffer> Noted, IReadOnlyList<SupplierLine> Suppliers);

/// <summary>How often and at what price one supplier lists one taxon.</summary>
/// <param name="Listed">Of the last <paramref name="Lists"/> lists.</param>
/// <param name="Usual">The middle price of those lists, worded; empty below three.</param>
/// <param name="Latest">The newest price, worded, with its day where that is not the newest list.</param>
/// <param name="NextList">Chance to be on their next list, 0…1.</param>
/// <param name="NextFrom">8 of 10 such chances lie from here …</param>
/// <param name="NextTo">… to here.</param>
/// <param name="NextWords">The chance in words.</param>
/// <param name="NextRange">The range in words.</param>
/// <param name="Marks">List by list, oldest first.</param>
public sealed record TaxonAtSupplier(
    string Taxon, Guid SupplierId, string Supplier, string Currency, int Listed, int Lists, string Frequency, string Usual, string Latest, double NextList, double NextFrom, double NextTo, string NextWords,
    string NextRange, IReadOnlyList<ListMark> Marks)
{
    /// <summary>The last lists, for a row of squares.</summary>
    [JsonIgnore] public IReadOnlyList<ListMark> Strip => [.. Marks.TakeLast(ListingWord.Last)];
}

/// <summary>One day's lists in the table beside the picture.</summary>
/// <param name="Cells">By supplier: a price, <c>sold out</c>, a dash, or nothing where no list came.</param>
internal sealed record WeekRow(DateOnly Day, string Words, IReadOnlyList<string> Cells);

/// <summary>One taxon over the weeks.</summary>
internal sealed record TaxonWeeksView(string Taxon, string Sentence, IReadOnlyList<TaxonAtSupplier> Suppliers, IReadOnlyList<WeekRow> Weeks, string Currency, [property: JsonIgnore] IReadOnlyList<WeeksPanel> Panels);

/// <summary>One supplier over the weeks.</summary>
internal sealed record SupplierWeeksView(Guid Id, string Supplier, string Sentence, string Currency, IReadOnlyList<TaxonAtSupplier> Taxa);

/// <summary>What do the lists say over the weeks?</summary>
internal sealed class ShowWeeks(HouseDay day, SeenLists seen, CurrentLists current, ListingChances chances)
{
    /// <summary>Lists that are shown: a year of weekly ones.</summary>
    private const int Shown = 52;

    /// <summary>This week's offers that are worth a word, and every supplier's lists in a line.</summary>
    public async Task<WeeksView> Week(CancellationToken cancellation)
    {
        var suppliers = await Suppliers(cancellation);
        var noted = new List<NotedOffer>();
        foreach (var list in await current.On(day.Today, cancellation))
        {
            var weeks = suppliers.FirstOrDefault(supplier => supplier.Terms.SupplierId == list.Supplier.Id);
            noted.AddRange(list.List.Offers.Where(offer => offer is { Taxon: not null, SoldOut: false })
                .Select(offer => new NotedOffer(offer.Taxon!, offer.Form, list.Supplier.Name, list.ListId, offer.Line, Price(offer.Price, list.List.Currency ?? weeks?.Terms.Currency), Notes(weeks, list, offer, day.Today)))
                .Where(offer => offer.Notes.Count > 0));
        }

        var forecasts = chances.Of(suppliers, NextLists);
        var lists = suppliers.Sum(supplier => supplier.Weeks.Count);
        return new(
            lists == 0 ? "No list has come yet" : noted.Count == 0 ? "Nothing unusual on this week's lists" : noted.Count == 1 ? "One unusual offer this week" : $"{noted.Count} unusual offers this week",
            lists == 0 ? "Hand one in on the page Lists; what is usual shows itself after some weeks." : $"Against {lists} lists since {DayWords.Short(suppliers.Min(supplier => supplier.Weeks[0].Day))}.",
            [.. noted.OrderBy(offer => offer.Taxon, StringComparer.Ordinal).ThenBy(offer => offer.Supplier, StringComparer.Ordinal)],
            [
                .. suppliers.Select(supplier => new SupplierLine(
                    supplier.Terms.SupplierId, supplier.Name, supplier.Weeks.Count, DayWords.Short(supplier.Weeks[0].Day), DayWords.Near(supplier.Weeks[^1].Day, day.Today), supplier.Taxa.Count(), Pattern(forecasts[supplier.Name]))),
            ]);
    }

    /// <summary>One taxon at every supplier that ever listed it, or null for what is no name.</summary>
    public async Task<TaxonWeeksView?> Taxon(string name, CancellationToken cancellation)
    {
        if ((TaxonTable.Shipped.Find(name) ?? new NameFinder(TaxonTable.Shipped).Find(name, NameContext.None).Taxon) is not { } taxon)
        {
            return null;
        }

        var suppliers = await Suppliers(cancellation);
        var forecasts = chances.Of(suppliers, NextLists);
        var having = suppliers.Where(supplier => supplier.Taxa.Contains(taxon.Name)).ToList();
        var rows = having.Select(supplier => At(taxon.Name, supplier, forecasts[supplier.Name])).ToList();
        return new(
            taxon.Name,
            rows.Count == 0 ? "No list has had it yet." : string.Join(" ", rows.Select(row => $"{row.Supplier}: {row.Frequency}{(row.Usual.Length > 0 ? $", usually {row.Usual}" : "")}.")),
            rows,
            [.. Weeks(rows)],
            day.Currency,
            [.. having.Zip(rows, (supplier, row) => new WeeksPanel(row.Supplier, [.. row.Marks.Select(mark => (mark, (double?)(mark.Price * supplier.Terms.Rate)))]))]);
    }

    /// <summary>All that one supplier ever listed, or null where no list of that supplier came.</summary>
    public async Task<SupplierWeeksView?> Supplier(Guid id, CancellationToken cancellation)
    {
        var suppliers = await Suppliers(cancellation);
        if (suppliers.FirstOrDefault(supplier => supplier.Terms.SupplierId == id) is not { } one)
        {
            return null;
        }

        var forecast = chances.Of(suppliers, NextLists)[one.Name];
        var taxa = one.Taxa.Select(taxon => At(taxon, one, forecast)).OrderByDescending(row => row.NextList).ThenBy(row => row.Taxon, StringComparer.Ordinal).ToList();
        var shown = Math.Min(Shown, one.Weeks.Count);
        var always = taxa.Count(row => row.Listed == row.Lists);
        return new(
            id, one.Name,
            $"{taxa.Count} species on {(shown == 1 ? "one list" : $"{shown} lists")}{(shown > 1 && always > 0 ? $", {always} of them on each of the last {Math.Min(ListingWord.Last, shown)}" : "")}. {Pattern(forecast)}".TrimEnd(),
            one.Terms.Currency, taxa);
    }

    /// <summary>What is worth saying of an offer of a list.</summary>
    /// <param name="weeks">Its supplier's lists, or null where none is known.</param>
    /// <param name="list">The list.</param>
    /// <param name="offer">The offer.</param>
    /// <param name="today">The house's day.</param>
    public static IReadOnlyList<string> Notes(SupplierWeeks? weeks, CurrentList list, Offer offer, DateOnly today) => weeks is null || offer.Taxon is null
        ? []
        : weeks.Notes(
            new(offer.Taxon, offer.Form, offer.Kind == OfferKind.Cocoon, offer.Price, offer.SoldOut), list.OnDay, list.List.Currency, list.List.PricesExcludeTax, today.DayNumber - list.OnDay.DayNumber < 7);

    private DateOnly NextLists => day.Today.AddDays(7);

    private async Task<IReadOnlyList<SupplierWeeks>> Suppliers(CancellationToken cancellation) =>
        day.HouseName is null ? [] : await seen.Of(await day.House(cancellation), day.Today, cancellation);

    private TaxonAtSupplier At(string taxon, SupplierWeeks supplier, ListingForecast forecast)
    {
        var marks = supplier.Marks(taxon, day.Today);
        var told = marks.Where(mark => mark.State != OnList.InDoubt).TakeLast(ListingWord.Last).ToList();
        var listed = told.Count(mark => mark.State == OnList.Listed);
        var prices = marks.TakeLast(ListingWord.Last).Where(mark => mark.Price is not null).ToList();
        var next = forecast.Of(taxon).Next;
        var (from, to) = next.Interval(0.8);
        var currency = supplier.Terms.Currency;
        return new(
            taxon, supplier.Terms.SupplierId, supplier.Name, currency, listed, told.Count,
            listed == told.Count ? told.Count == 1 ? "on its one list" : $"on each of its last {told.Count} lists" : $"on {listed} of its last {told.Count} lists",
            PriceForecast.Usual([.. prices.Select(mark => mark.Price!.Value)]) is { } usual ? MoneyWords.Sum(usual, currency) : "",
            prices.Count == 0 ? "" : MoneyWords.Sum(prices[^1].Price!.Value, currency) + (prices[^1].Day == marks[^1].Day ? "" : $" on {DayWords.Short(prices[^1].Day)}"),
            next.Mean, from, to,
            ChanceWords.Picture(next.Mean), Range(from, to),
            [.. marks.TakeLast(Shown)]);
    }

    private static string Range(double from, double to) => string.Create(CultureInfo.InvariantCulture, $"{from * 100:0} to {to * 100:0} %");

    private static IEnumerable<WeekRow> Weeks(List<TaxonAtSupplier> rows) =>
        rows.SelectMany(row => row.Marks).Select(mark => mark.Day).Distinct().OrderDescending()
            .Select(when => new WeekRow(when, DayWords.Short(when), [.. rows.Select(row => row.Marks.FirstOrDefault(mark => mark.Day == when) is { } mark ? Cell(mark, row.Currency) : "")]));

    private static string Cell(ListMark mark, string currency) => mark.State switch
    {
        OnList.Listed => mark.Price is { } price ? MoneyWords.Sum(price, currency) : "listed",
        OnList.SoldOut => "sold out",
        OnList.Absent => "–",
        OnList.InDoubt => "in doubt",
        _ => throw new InvalidOperationException($"State {mark.State}."),
    };

    private static string Price(decimal? price, string? currency) => price is not { } sum ? "–" : currency is null ? MoneyWords.Plain(sum) : MoneyWords.Sum(sum, currency);

    private static string Pattern(ListingForecast forecast) => forecast.Pattern switch
    {
        ListingPattern.Lasting => "What was on the last list tends to be on the next.",
        ListingPattern.Seasonal => "Its species have their seasons.",
        _ when forecast.Lists < 2 => "",
        _ => "Its lists show no pattern but how often each species comes.",
    };
}
