using System.Globalization;
using Lepidary.App.Host;
using Lepidary.App.Weeks;
using Lepidary.App.Words;
using Lepidary.Book;
using Lepidary.Lists;

namespace Lepidary.App.Lists;

/// <summary>An answer that settles a doubt with one tap.</summary>
/// <param name="Words">On the button.</param>
/// <param name="Meaning">What it says; for a name the taxon.</param>
internal sealed record Answer(string Words, string Meaning);

/// <summary>Something to settle.</summary>
/// <param name="Line">Line of the source; 0 for the list as a whole.</param>
/// <param name="Anchor">Where the line stands on the page, or null.</param>
/// <param name="About">What an answer is about; <see cref="DoubtAbout.Line"/> where none settles it.</param>
/// <param name="Subject">The printed name, or the column's title or key.</param>
/// <param name="Lines">How many lines the answer settles.</param>
internal sealed record DoubtRow(int Line, string? Anchor, string Text, string Why, DoubtAbout About, string Subject, IReadOnlyList<Answer> Answers, int Lines)
{
    /// <summary>Where on its page the line stands; null outside PDFs.</summary>
    public PageRegion? Region { get; init; }

    /// <summary>For a line: what was read of it, in words; empty where that can't stand.</summary>
    public string AsRead { get; init; } = "";

    /// <summary>For several lines that are in doubt for one reason: the words that say of all that they are right; else empty.</summary>
    public string AllAsRead { get; init; } = "";

    /// <summary>Whether an offer was read from the line, and of what.</summary>
    public bool HasSpecies { get; init; }

    /// <summary>Where the other lines of that page stand.</summary>
    public IReadOnlyList<PageRegion> OnPage { get; init; } = [];
}

internal sealed record OfferRowView(
    int Line, string Anchor, string LineAnchor, string Text, string? Taxon, string? Form, string? CommonName, string Kind, string Price, string Breaks, string Pack, string Minimum, string Available, bool SoldOut, string? Note, bool Doubtful, IReadOnlyList<string> Notes);

/// <summary>One line of the source.</summary>
/// <param name="Anchor">Where it stands on the page.</param>
/// <param name="OfferAnchor">The offer read from it, or null.</param>
/// <param name="Cells">By column; empty where it is one text.</param>
internal sealed record SourceRow(int Line, string Anchor, string? OfferAnchor, string Text, IReadOnlyList<string> Cells, string Kind, bool Doubtful, PageRegion? Region);

/// <summary>A part of the source with one heading: a sheet, a page of a PDF, or all of it.</summary>
/// <param name="Heading">Name of the sheet, number of the page; or null.</param>
/// <param name="Columns">Titles over the cells: letters in a workbook, numbers in a text; empty where there are no cells.</param>
internal sealed record SourcePart(string? Heading, IReadOnlyList<string> Columns, IReadOnlyList<SourceRow> Rows);

internal sealed record ListView(
    Guid Id, Guid SupplierId, string Supplier, string FileName, string Headline, string Lead, string Currency, IReadOnlyList<DoubtRow> Doubts, IReadOnlyList<OfferRowView> Offers,
    IReadOnlyList<string> Charges, IReadOnlyList<SourcePart> Source, int LinesLeftOut, string Made);

/// <summary>One list as it came, beside what was read from it.</summary>
internal sealed class ShowList(CurrentLists current, HouseDay day, SeenLists seen)
{
    /// <summary>No supplier's list that a person reads is longer; the file itself is a tap away.</summary>
    private const int MostLines = 1500;

    public async Task<ListView?> Show(Guid id, CancellationToken cancellation)
    {
        var found = await current.One(id, cancellation);
        if (found is null)
        {
            return null;
        }

        var list = found.List;
        var weeks = day.HouseName is null ? null : (await seen.Of(await day.House(cancellation), day.Today, cancellation)).FirstOrDefault(supplier => supplier.Terms.SupplierId == found.Supplier.Id);
        var sheets = list.Lines.Select(line => line.Sheet).Distinct().ToList();
        string LineAnchor(string? sheet, int line) => $"line-{sheets.IndexOf(sheet) + 1}-{line}";
        string OfferAnchor(Offer offer) => $"offer-{sheets.IndexOf(offer.Sheet) + 1}-{offer.Line}{(offer.OnLine == 1 ? "" : $"-{offer.OnLine}")}";
        var doubts = Doubts(list, found.Supplier, LineAnchor);
        var lines = list.Lines.Where(line => line.Kind != LineKind.Blank).ToList();
        return new ListView(
            found.ListId,
            found.Supplier.Id,
            found.Supplier.Name,
            found.FileName,
            doubts.Count == 0 ? $"{list.Offers.Count} offers, none in doubt" : $"{list.Offers.Count} offers, {doubts.Count} {(doubts.Count == 1 ? "doubt" : "doubts")} to settle",
            $"{found.Supplier.Name}, {DayWords.Short(list.Date ?? found.OnDay)}. {list.Format}. {(list.PricesExcludeTax switch { true => "Prices without tax.", false => "Prices with tax.", null => "" })}",
            list.Currency ?? "currency not said",
            doubts,
            [.. list.Offers.Select(offer => Row(offer, OfferAnchor(offer), LineAnchor(offer.Sheet, offer.Line), ShowWeeks.Notes(weeks, found, offer, day.Today)))],
            [.. list.Charges.Select(charge => charge.Text)],
            [.. Parts(list, lines.Take(MostLines).ToList(), LineAnchor, OfferAnchor)],
            Math.Max(0, lines.Count - MostLines),
            day.Now.ToString("O", CultureInfo.InvariantCulture));
    }

    /// <summary>What is to settle: what one answer settles for several lines is asked once, and what most lines hang on first.</summary>
    private static List<DoubtRow> Doubts(SupplierList list, Supplier supplier, Func<string?, int, string> anchor)
    {
        var offers = list.Offers.ToLookup(offer => (offer.Line, offer.Text));
        var rows = new List<DoubtRow>();
        var alike = list.Doubts.Where(doubt => doubt.About == DoubtAbout.Line && doubt.Line > 0).Select(doubt => doubt.Why).Distinct().ToDictionary(why => why, why => ToldLine.Alike(list, why));
        foreach (var group in list.Doubts.GroupBy(doubt => Matter(doubt, offers, alike)))
        {
            var first = group.First();
            var offer = offers[(first.Line, first.Text)].FirstOrDefault();
            var (subject, answers) = first.About switch
            {
                DoubtAbout.Name when offer?.PrintedName is { } printed => (printed, [.. offer.Candidates.Take(3).Select(candidate => new Answer(candidate, candidate))]),
                DoubtAbout.Column => (first.Text.Length > 0 ? first.Text : first.Key!, Asked.Select(role => new Answer(Capital(ListWords.Holds(role)), role.ToString())).ToList()),
                DoubtAbout.PriceUnit => ("", [new("For the pack", SupplierMemory.Pack), new Answer("For one", SupplierMemory.One)]),
                DoubtAbout.Tax => ("", [new("Without tax", SupplierMemory.Excluded), new Answer("With tax", SupplierMemory.Included)]),
                DoubtAbout.Currency => ("", [.. Currencies.Select(code => new Answer(code, code))]),
                _ => (first.Why, new List<Answer>()),
            };
            var all = first.About == DoubtAbout.Line && first.Line > 0 ? alike[first.Why].Count : 0;
            var region = list.Lines.FirstOrDefault(line => line.Region is not null && line.Line == first.Line && (offer is null ? line.Text == first.Text : line.Sheet == offer.Sheet))?.Region;
            rows.Add(new DoubtRow(
                first.Line,
                first.Line == 0 ? null : anchor(offer is null ? list.Lines.FirstOrDefault(line => line.Line == first.Line && line.Text == first.Text)?.Sheet ?? list.Columns.FirstOrDefault(column => column.Line == first.Line && column.Title == first.Text)?.Sheet : offer.Sheet, first.Line),
                first.Text,
                string.Join(" ", group.Where(doubt => doubt.Line == first.Line && doubt.Text == first.Text).Select(doubt => doubt.Why).Distinct()),
                answers.Count == 0 && first.About != DoubtAbout.Name ? DoubtAbout.Line : first.About,
                subject,
                answers,
                group.Select(doubt => (doubt.Line, doubt.Text)).Distinct().Count())
            {
                Region = region,
                HasSpecies = offer is not null && ToldLine.HasSpecies(offer),
                AsRead = offer is null ? "" : InWords(offer),
                AllAsRead = all > 1 ? $"All {all} are right as read" : "",
                OnPage = region is null ? [] : [.. list.Lines.Where(line => line.Region?.Page == region.Page).Select(line => line.Region!)],
            });
        }

        return [.. rows.OrderByDescending(row => row.About != DoubtAbout.Line).ThenByDescending(row => row.Lines)];
    }

    /// <summary>What was read of a line, for the keeper to say that it is right; empty where that can't stand, since nothing could be ordered.</summary>
    private static string InWords(Offer offer) => offer switch
    {
        _ when !ToldLine.CanStand(offer) => "",
        { SoldOut: true } => "sold out",
        { Price: { } price } => string.Join(", ", ((IEnumerable<string>)
            [
                $"{MoneyWords.Plain(price)} each",
                .. offer.Breaks.Select(step => $"{MoneyWords.Plain(step.Price)} from {step.From}"),
                .. offer.Pack > 1 ? [$"packs of {offer.Pack}"] : Array.Empty<string>(),
                .. offer.Minimum is { } fewest ? [$"at least {fewest}"] : Array.Empty<string>(),
                .. offer.Available is { } hand ? [$"{hand} on hand"] : Array.Empty<string>(),
            ])),
        _ => "",
    };

    private static readonly IReadOnlyList<ColumnRole> Asked = [ColumnRole.Available, ColumnRole.Price, ColumnRole.Pack, ColumnRole.Minimum, ColumnRole.Order, ColumnRole.Note, ColumnRole.Aside];

    private static readonly IReadOnlyList<string> Currencies = ["EUR", "GBP", "USD", "CHF"];

    /// <summary>What one answer settles together.</summary>
    private static (DoubtAbout About, string What) Matter(Doubt doubt, ILookup<(int, string), Offer> offers, Dictionary<string, IReadOnlyList<string>> alike) => doubt.About switch
    {
        DoubtAbout.Name => (doubt.About, offers[(doubt.Line, doubt.Text)].FirstOrDefault()?.PrintedName ?? doubt.Text),
        DoubtAbout.Column => (doubt.About, doubt.Key ?? ""),
        DoubtAbout.PriceUnit or DoubtAbout.Currency or DoubtAbout.Tax => (doubt.About, ""),
        _ when alike.GetValueOrDefault(doubt.Why) is { Count: > 1 } lines && lines.Contains(doubt.Text) => (doubt.About, doubt.Why),
        _ => (doubt.About, $"{doubt.Line} {doubt.Text}"),
    };

    private static string Capital(string words) => char.ToUpperInvariant(words[0]) + words[1..];

    private static IEnumerable<SourcePart> Parts(SupplierList list, IReadOnlyList<SourceLine> lines, Func<string?, int, string> anchor, Func<Offer, string> offerAnchor)
    {
        var offers = list.Offers.ToLookup(offer => (offer.Sheet, offer.Line));
        var doubtful = list.Doubts.Select(doubt => (doubt.Line, doubt.Text)).ToHashSet();
        var letters = list.Format.StartsWith("XLS", StringComparison.Ordinal) || list.Format.StartsWith("ODS", StringComparison.Ordinal);
        foreach (var part in lines.GroupBy(line => (line.Sheet, line.Page)))
        {
            var width = part.Max(line => line.Cells.Count);
            yield return new SourcePart(
                part.Key.Page is { } page ? $"Page {page}" : part.Key.Sheet,
                [.. Enumerable.Range(1, width).Select(column => letters ? Letters(column) : column.ToString(CultureInfo.InvariantCulture))],
                [.. part.Select(line =>
                {
                    var read = offers[(line.Sheet, line.Line)].ToList();
                    return new SourceRow(line.Line, anchor(line.Sheet, line.Line), read.Count > 0 ? offerAnchor(read[0]) : null, line.Text, line.Cells, Words(line.Kind), line.Kind == LineKind.Doubt || doubtful.Contains((line.Line, line.Text)) || read.Exists(offer => offer.Doubts.Count > 0), line.Region);
                })]);
        }
    }

    private static string Words(LineKind kind) => kind switch
    {
        LineKind.Offer => "offer",
        LineKind.Charge => "charge",
        LineKind.Heading => "heading",
        LineKind.Note => "note",
        LineKind.Doubt => "doubt",
        LineKind.Blank => "",
        _ => throw new InvalidOperationException($"Kind {kind}."),
    };

    private static string Letters(int column)
    {
        var letters = "";
        for (; column > 0; column = (column - 1) / 26)
        {
            letters = (char)('A' + ((column - 1) % 26)) + letters;
        }

        return letters;
    }

    private static OfferRowView Row(Offer offer, string anchor, string lineAnchor, IReadOnlyList<string> notes) => new(
        offer.Line, anchor, lineAnchor, offer.Text, offer.Taxon, offer.Form, offer.CommonName, offer.Kind.ToString().ToLowerInvariant(),
        offer.Price is { } price ? MoneyWords.Plain(price) : "–",
        string.Join("; ", offer.Breaks.Select(step => string.Create(CultureInfo.InvariantCulture, $"{step.From}+ {MoneyWords.Plain(step.Price)}"))),
        offer.Pack == 1 ? "" : offer.Pack.ToString(CultureInfo.InvariantCulture),
        offer.Minimum?.ToString(CultureInfo.InvariantCulture) ?? "",
        offer.Available?.ToString(CultureInfo.InvariantCulture) ?? "",
        offer.SoldOut, offer.Note, offer.Doubts.Count > 0, notes);
}
