using Lepidary.Lists.Formats;

namespace Lepidary.Lists.Reading;

/// <summary>From sheets of cells to a supplier's list.</summary>
internal static class Assembler
{
    public static SupplierList Assemble(Source source, string fileName, ReadOptions options, CancellationToken cancellation = default)
    {
        var mark = DecimalMark(source);
        var names = new NameReader(options.Names);
        var rows = new RowReader(mark);
        var drafts = new List<Draft>();
        var columns = new List<ReadColumn>();
        var hidden = new List<string>();
        var legend = new Legend(names, mark);
        var legends = source.Sheets.Select(sheet => sheet.Hidden ? null : legend.Apply(Records.Join(sheet), source)).ToList();
        var explaining = legends.OfType<Legend.Applied>().SelectMany(one => one.Explaining).Select(row => (row.Number, row.Text)).ToHashSet();
        foreach (var (asIs, applied) in source.Sheets.Zip(legends))
        {
            var sheet = applied?.Sheet ?? asIs;
            if (sheet.Hidden)
            {
                drafts.AddRange(sheet.Rows.Select(row => new Draft { Row = row, Sheet = sheet, Text = row.Text, Kind = row.Content.Any() ? LineKind.Note : LineKind.Blank }));
                hidden.Add($"The sheet \"{sheet.Name}\" is hidden in the workbook and was left out.");
                continue;
            }
            var tables = new TableFinder(sheet, options.Layout, new ColumnEvidence(names, mark), applied!.Roles).Find();
            drafts.AddRange(Drafts(sheet, tables, rows, new Classifier(names), new ProseReader(names, mark), row => explaining.Contains((row.Number, row.Text)), cancellation));
            columns.AddRange(tables.Where(table => table.End > table.First).SelectMany(table => table.Blocks).SelectMany(block => block.Columns).Select(column => new ReadColumn(sheet.Name, column.Line, column.Index + 1, column.Title, column.Role)));
        }

        Footnotes.Follow(drafts, mark);
        PriceReferences.Follow(drafts);
        var statements = new Statements(drafts.FindAll(draft => !draft.IsQuoted && !draft.Sheet.Hidden), options, fileName);
        var maker = new OfferMaker(statements, drafts, mark);
        var onLine = new Dictionary<(string?, int), int>();
        var usualMoney = statements.Currency is null or "GBP" or "EUR" or "USD" or "CHF" or "CAD" or "AUD";
        var offers = Checks.Of([.. drafts.Where(draft => draft.Kind == LineKind.Offer).Select(maker.Offer).Select(offer => offer with { OnLine = onLine[(offer.Sheet, offer.Line)] = onLine.GetValueOrDefault((offer.Sheet, offer.Line)) + 1 })], usualMoney);
        var doubts = new List<Doubt>();
        doubts.AddRange(source.Doubts.Concat(hidden).Select(why => new Doubt(0, "", why)));
        doubts.AddRange(statements.Doubts);
        doubts.AddRange(columns.Where(column => column is { Role: ColumnRole.Unknown, Title.Length: > 0 }).DistinctBy(column => (column.Sheet, column.Title))
            .Select(column => new Doubt(column.Line, column.Title, $"The column \"{column.Title}\" is not understood and was left out: say what it holds if it matters.") { About = DoubtAbout.Column, Key = column.Key }));
        if (usualMoney)
            doubts.AddRange(Checks.OfAll(offers));
        if (maker.MostWithoutPrice && offers.Count > 0)
            doubts.Add(new Doubt(0, "", "Most offers of the list have no price: ask the supplier for the prices."));
        if (offers.Count == 0)
            doubts.Add(new Doubt(0, "", "No offer was found: check that this is a supplier's list."));
        doubts.AddRange(drafts.Where(draft => draft.Kind == LineKind.Doubt).Select(draft => new Doubt(draft.Row.Number, draft.Text, draft.Doubts.FirstOrDefault() ?? "This line is not understood: say what it is, or leave it out.")));
        doubts.AddRange(offers.SelectMany(offer => offer.Doubts.Select(why => new Doubt(offer.Line, offer.Text, why) { About = About(offer, why) })));
        return new SupplierList
        {
            Supplier = statements.Supplier,
            Currency = statements.Currency,
            Date = statements.Date,
            PricesExcludeTax = statements.PricesExcludeTax,
            Offers = offers,
            Charges = [.. drafts.Where(draft => draft.Kind is LineKind.Charge or LineKind.Offer).SelectMany(draft => draft.Kind == LineKind.Charge ? maker.Charges(draft) : OfferMaker.BesideOffer(draft))],
            Doubts = doubts,
            Lines = [.. SourceLines(drafts)],
            Columns = columns,
            Format = source.Format,
        };
    }

    private static DoubtAbout About(Offer offer, string why)
    {
        if (why.Contains(OfferMaker.MayBeForThePack, StringComparison.Ordinal))
            return DoubtAbout.PriceUnit;
        return offer.PrintedName is not null && (offer.Taxon is null || offer.Candidates.Count > 0) && offer.Kind != OfferKind.Mix ? DoubtAbout.Name : DoubtAbout.Line;
    }

    /// <summary>The decimal mark that most of the list's numbers prove; null when none proves any.</summary>
    private static char? DecimalMark(Source source)
    {
        int points = 0, commas = 0;
        foreach (var cell in source.Sheets.SelectMany(sheet => sheet.Rows).SelectMany(row => row.Cells).Where(cell => cell.Number is null && cell.Text.Length <= Tokeniser.LongestLine))
        {
            for (var i = 0; i < cell.Text.Length;)
            {
                var length = char.IsAsciiDigit(cell.Text[i]) ? NumberText.LengthAt(cell.Text, i) : 0;
                if (length > 0 && NumberText.MarkProvedBy(cell.Text.Substring(i, length)) is { } mark)
                {
                    if (mark == '.')
                        points++;
                    else
                        commas++;
                }
                i += Math.Max(1, length);
            }
        }
        return points == 0 && commas == 0 ? null : points >= commas ? '.' : ',';
    }

    /// <summary>The drafts of a sheet in the order of its rows, classified block by block.</summary>
    private static List<Draft> Drafts(Sheet sheet, IReadOnlyList<Table> tables, RowReader rows, Classifier classifier, ProseReader prose, Func<Row, bool> explains, CancellationToken cancellation)
    {
        var all = new List<Draft>();
        var byBlock = new Dictionary<int, List<Draft>>();
        void Add(int block, Draft draft)
        {
            draft.Block = block;
            all.Add(draft);
            if (!byBlock.TryGetValue(block, out var list))
                byBlock[block] = list = [];
            list.Add(draft);
        }

        for (var i = 0; i < sheet.Rows.Count; i++)
        {
            cancellation.ThrowIfCancellationRequested();
            var row = sheet.Rows[i];
            if (row.Quoted)
            {
                all.Add(new Draft { Row = row, Sheet = sheet, Text = row.Text, Kind = row.Content.Any() ? LineKind.Note : LineKind.Blank, IsQuoted = true });
                continue;
            }
            if (explains(row))
            {
                all.Add(new Draft { Row = row, Sheet = sheet, Text = row.Text, Kind = LineKind.Note });
                continue;
            }
            var table = tables.FirstOrDefault(table => table.TitleRows.Contains(i) || (i >= table.First && i < table.End));
            if (table is null && prose.Split(sheet, row, Classifier.PrintedGenera(all)) is { } sentences)
            {
                foreach (var offer in sentences)
                    Add(0, offer);
            }
            else if (table is null || table.TitleRows.Contains(i))
            {
                Add(0, rows.Line(sheet, row, titles: table is not null));
            }
            else if (row.Content.Count() <= 1)
            {
                Add(BlockOf(table, row), rows.Line(sheet, row));
            }
            else
            {
                var parts = table.Blocks
                    .Select((block, number) => (block, number))
                    .Where(pair => table.Blocks.Count == 1 || row.Content.Any(cell => cell.Column >= pair.block.From && cell.Column <= pair.block.To))
                    .ToList();
                if (parts.Count == 0)
                    Add(0, rows.Line(sheet, row));
                foreach (var (block, number) in parts)
                {
                    var draft = rows.TableRow(sheet, row, block, table.Blocks.Count == 1);
                    // Terms below a table keep to its columns only by chance: they are read as a sentence.
                    if (table.Blocks.Count == 1 && (!draft.HasPrice || draft.AmountBesideName) && classifier.IsTerm(draft))
                        draft = rows.Line(sheet, row);
                    Add(number, draft);
                }
            }
        }
        foreach (var (_, drafts) in byBlock.OrderBy(pair => pair.Key))
            classifier.Classify(drafts, cancellation);
        return all;
    }

    private static int BlockOf(Table table, Row row)
    {
        var column = row.Content.FirstOrDefault()?.Column ?? 0;
        for (var i = 0; i < table.Blocks.Count; i++)
        {
            if (column <= table.Blocks[i].To)
                return i;
        }
        return 0;
    }

    /// <summary>One for each line of the source: of several blocks on one row the weightiest kind counts.</summary>
    private static IEnumerable<SourceLine> SourceLines(List<Draft> drafts)
    {
        foreach (var group in drafts.GroupBy(draft => (draft.Sheet, draft.Row)))
        {
            var (sheet, row) = group.Key;
            var kind = group.Select(draft => draft.Kind).MinBy(kind => Array.IndexOf(ByWeight, kind));
            yield return new SourceLine(row.Number, sheet.Name, row.Text, kind) { Cells = Cells(row), Page = row.Page, Region = row.Region };
            for (var i = 0; i < row.FurtherLines.Count; i++)
                yield return new SourceLine(row.Number + 1 + i, sheet.Name, row.FurtherLines[i], group.Any(draft => draft.Kind == LineKind.Offer && draft.Line == row.Number + 1 + i) ? LineKind.Offer : LineKind.Note);
        }
    }

    /// <summary>The texts of a row of cells, each at its place; nothing for a line that is one text.</summary>
    private static string[] Cells(Row row)
    {
        var content = row.Content.ToList();
        if (content.Count == 0 || (content.Count == 1 && content[0].Column == 0))
            return [];
        var cells = new string[content[^1].Column + 1];
        Array.Fill(cells, "");
        foreach (var cell in content)
            cells[cell.Column] = cell.Text;
        return cells;
    }

    private static readonly LineKind[] ByWeight = [LineKind.Doubt, LineKind.Offer, LineKind.Charge, LineKind.Heading, LineKind.Note, LineKind.Blank];
}
