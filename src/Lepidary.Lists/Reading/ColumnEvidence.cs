using System.Globalization;
using Lepidary.Lists.Formats;
using Lepidary.Lists.Words;

namespace Lepidary.Lists.Reading;

/// <summary>What the content of a column says about it, where its title leaves that open.</summary>
internal sealed class ColumnEvidence(NameReader names, char? decimalMark)
{
    /// <summary>Rows looked at.</summary>
    private const int Sample = 40;

    /// <summary>True when a cell names a species beyond doubt: such a row is no row of titles.</summary>
    public bool NamesATaxon(IEnumerable<Cell> cells) => cells.Any(cell => ColumnTitles.Read(cell.Text) is null && names.IsScientific(cell.Text));

    /// <summary>Settles titles that can mean two things by what stands below them.</summary>
    public List<Column> Settle(List<Column> columns, IReadOnlyList<Row> rows, int first, int end)
    {
        var settled = columns.ConvertAll(column => column);
        var below = columns.ToDictionary(column => column.Index, column => Below(rows, first, end, column.Index));

        for (var i = 0; i < settled.Count; i++)
        {
            var column = settled[i];
            var cells = below[column.Index];
            settled[i] = column.Role switch
            {
                ColumnRole.Quantity => column with { Says = Quantity(column.Says, cells, settled) },
                // "Nombre" is a name in Spanish and a number in French: what stands below tells.
                ColumnRole.Name or ColumnRole.Common when !column.Says.Told && Whole(column.Title).Contains(Meaning.Quantity) && Share(cells, IsWhole) > 0.4 => column with { Says = Quantity(column.Says, cells, settled) },
                // "How many", filled in by the supplier all down the list and with no other column for it: so many there are.
                ColumnRole.Order when !column.Says.Told && !HasStock(settled) && cells.Count(cell => IsWhole(cell.Text) && !IsZero(cell)) is > 3 and var filled && filled * 2 > NamedRows(columns, below) => column with { Says = new ColumnTitle(ColumnRole.Available) { InPacks = column.Says.InPacks } },
                // A title that no one knows over numbers and "sold out" is that of the stock.
                ColumnRole.Unknown when !column.Says.Told && !HasStock(settled) && Share(cells, IsWhole) > 0.5 && cells.Exists(cell => Whole(cell.Text).Contains(Meaning.SoldOut)) => column with { Says = new ColumnTitle(ColumnRole.Available) },
                ColumnRole.Price when column.Says.Bare && !settled.Exists(other => other.Role == ColumnRole.Price && !other.Says.Bare) && Share(cells, IsMoney) < 0.5 => column with { Says = new ColumnTitle(ColumnRole.Unknown) },
                ColumnRole.Pack when Share(cells, IsMoney) > 0.5 => column with { Says = new ColumnTitle(ColumnRole.Price) { Per = column.Says.Per ?? 0 } },
                ColumnRole.Form when Share(cells, text => text.Any(char.IsDigit)) > 0.5 => column with { Says = new ColumnTitle(ColumnRole.Aside) },
                _ => column,
            };
        }
        BearOut(settled, below);
        CountsOfPacks(settled);
        Totals(settled);
        Gross(settled);
        SamePriceTwice(settled, rows, first, end);
        Names(settled, below);
        // A column of money with a title that is not understood is the price, before a hidden one is.
        if (!settled.Exists(column => column is { Role: ColumnRole.Price, Hidden: false }))
        {
            var money = settled.FindIndex(column => column.Role == ColumnRole.Unknown && !column.Hidden && Share(below[column.Index], IsMoney) > 0.6);
            if (money >= 0)
                settled[money] = settled[money] with { Says = new ColumnTitle(ColumnRole.Price) };
        }
        Hide(settled);
        return settled.ConvertAll(column => columns.Find(before => before.Index == column.Index && before.Says.Told) ?? column);
    }

    private static bool HasStock(List<Column> columns) => columns.Exists(column => column.Role is ColumnRole.Available or ColumnRole.Quantity);

    /// <summary>How many rows below the titles have a name.</summary>
    private static int NamedRows(List<Column> columns, Dictionary<int, List<Cell>> below) =>
        columns.Where(column => column.Role is ColumnRole.Name or ColumnRole.Common or ColumnRole.Epithet).Select(column => below[column.Index].Count(cell => cell.Text.Length > 0)).DefaultIfEmpty(0).Max();

    /// <summary>"Trays" beside "price per tray of 25", "units in stock" beside "unit": numbers of packs whose size another column tells.</summary>
    private static void CountsOfPacks(List<Column> columns)
    {
        for (var i = 0; i < columns.Count; i++)
        {
            var column = columns[i];
            var others = columns.FindAll(other => other != column);
            if (column.Role == ColumnRole.Pack && column.Says.Per is null && Whole(column.Title).Contains(Meaning.Packs) && !others.Exists(other => other.Role == ColumnRole.Available)
                && others.Exists(other => other.Role == ColumnRole.Price && other.Says.Per is > 1 || other.Role == ColumnRole.Pack))
                columns[i] = column with { Says = new ColumnTitle(ColumnRole.Available) { InPacks = true } };
            else if (column.Role == ColumnRole.Available && !column.Says.InPacks && others.Find(other => other.Role == ColumnRole.Pack && Whole(other.Title).Contains(Meaning.UnitTitle)) is { } unit && UnitsOf(column.Title, unit.Title))
                columns[i] = column with { Says = column.Says with { InPacks = true } };
        }
    }

    /// <summary>True where a title speaks of several of what another calls one: "units in stock" and "unit".</summary>
    private static bool UnitsOf(string title, string one) => Folded.Of(one) is { Length: > 3 } unit && Folded.Of(title).Split(' ', '(', ')', '.').Any(word => word.Length > unit.Length && word.Length <= unit.Length + 2 && word.StartsWith(unit[..^1], StringComparison.Ordinal));

    /// <summary>A title that is only like a known one holds where the cells below are what it says.</summary>
    private void BearOut(List<Column> columns, Dictionary<int, List<Cell>> below)
    {
        for (var i = 0; i < columns.Count; i++)
        {
            if (!columns[i].Says.Guessed)
                continue;
            var cells = below[columns[i].Index];
            var bornOut = columns[i].Role switch
            {
                ColumnRole.Price => Share(cells, text => IsMoney(text) || IsWhole(text)) > 0.5,
                ColumnRole.Available or ColumnRole.Minimum or ColumnRole.Pack => cells.Count > 0 && Share(cells, text => IsMoney(text)) < 0.2 && Share(cells, text => text.Any(char.IsAsciiDigit) || FactReader.Read(text, decimalMark).SoldOut) > 0.6,
                ColumnRole.Name or ColumnRole.Common => Share(cells, text => text.Any(char.IsAsciiDigit)) < 0.2,
                _ => true,
            };
            if (!bornOut)
                columns[i] = columns[i] with { Says = new ColumnTitle(ColumnRole.Unknown) };
        }
    }

    /// <summary>Value-added tax in the countries of the six languages; a second price that is so much higher all down a list is the first with tax. Published rates, rounded outwards.</summary>
    private const decimal LeastTax = 1.02m, MostTax = 1.28m;

    /// <summary>
    /// Two columns whose amounts stand in one ratio all down the list are one price twice, without tax and with it: the one without is kept.
    /// </summary>
    private void SamePriceTwice(List<Column> columns, IReadOnlyList<Row> rows, int first, int end)
    {
        for (var i = 0; i < columns.Count; i++)
        {
            for (var j = i + 1; j < columns.Count; j++)
            {
                if (columns[i].Role != ColumnRole.Price || columns[j].Role is not (ColumnRole.Price or ColumnRole.Unknown) || columns[i].Hidden || columns[j].Hidden
                    || (columns[i].Says.Currency is not null && columns[j].Says.Currency is not null && columns[i].Says.Currency != columns[j].Says.Currency)
                    || (columns[j].Role == ColumnRole.Price && (columns[i].Says.From != columns[j].Says.From || columns[i].Says.Per is > 1 or 0 || columns[j].Says.Per is > 1 or 0)))
                    continue;
                var pairs = rows.Skip(first).Take(Math.Min(end - first, Sample)).Select(row => (One: AmountIn(row, columns[i].Index), Two: AmountIn(row, columns[j].Index))).Where(pair => pair is { One: > 0, Two: > 0 }).Select(pair => (One: pair.One!.Value, Two: pair.Two!.Value)).ToList();
                if (pairs.Count < 4 || pairs.Select(pair => pair.One).Distinct().Count() < 3)
                    continue;
                var ratio = pairs.Sum(pair => pair.Two) / pairs.Sum(pair => pair.One);
                // Amounts are rounded to the cent, and some to five.
                if (ratio is > 0.985m and < 1.015m || !pairs.TrueForAll(pair => Math.Abs(pair.Two - (pair.One * ratio)) <= 0.012m + (pair.One * 0.004m)))
                    continue;
                if (ratio is >= LeastTax and <= MostTax)
                    columns[j] = columns[j] with { Says = new ColumnTitle(ColumnRole.Aside) };
                else if (1 / ratio is >= LeastTax and <= MostTax && (Statements.TaxExcluded(columns[i].Title, titles: true) ?? Statements.TaxExcluded(columns[j].Title, titles: true)) is not null)
                    columns[i] = columns[i] with { Says = new ColumnTitle(ColumnRole.Aside) };
            }
        }
    }

    private decimal? AmountIn(Row row, int column)
    {
        if (row.Cells.FirstOrDefault(cell => cell.Column == column) is not { } cell)
            return null;
        return cell.Number ?? (Tokeniser.Cut(cell.Text, decimalMark).FindAll(token => token.Kind == TokenKind.Number) is [{ } number] ? number.Value : null);
    }

    /// <summary>A second column of money to the right of the one to be filled in is what the order comes to.</summary>
    private static void Totals(List<Column> columns)
    {
        var order = columns.FindIndex(column => column.Role == ColumnRole.Order);
        if (order < 0 || !columns.Take(order).Any(column => column.Role == ColumnRole.Price))
            return;
        for (var i = order + 1; i < columns.Count; i++)
        {
            if (columns[i] is { Role: ColumnRole.Price, Says: { From: 1, Per: null } })
                columns[i] = columns[i] with { Says = new ColumnTitle(ColumnRole.Total) };
        }
    }

    /// <summary>Of a price without and one with tax the former is taken; a keeper's tax is his own.</summary>
    private static void Gross(List<Column> columns)
    {
        for (var i = 0; i < columns.Count; i++)
        {
            if (columns[i] is { Role: ColumnRole.Price } gross && Statements.TaxExcluded(gross.Title, titles: true) == false
                && columns.Exists(net => net.Role == ColumnRole.Price && net.Says.From == gross.Says.From && net.Says.Per == gross.Says.Per && Statements.TaxExcluded(net.Title, titles: true) == true))
                columns[i] = gross with { Says = new ColumnTitle(ColumnRole.Aside) };
        }
    }

    private ColumnTitle Quantity(ColumnTitle says, List<Cell> cells, List<Column> columns)
    {
        if (cells.Count > 0 && Share(cells, IsMoney) > 0.5)
            return new ColumnTitle(ColumnRole.Price) { Per = 1 };
        if (Share(cells, text => names.IsScientific(text)) > 0.5)
            return new ColumnTitle(ColumnRole.Name);
        if (Counts([.. cells.Select(cell => cell.Text)]))
            return new ColumnTitle(ColumnRole.Code);
        var filled = cells.Count(cell => !IsZero(cell));
        // Beside a column of what there is, one that the supplier filled in numbers the lines; what is to be ordered is left empty.
        if (filled * 2 > cells.Count && columns.Exists(column => column.Role == ColumnRole.Available))
            return new ColumnTitle(ColumnRole.Code);
        return filled == 0 || columns.Exists(column => column.Role == ColumnRole.Available)
            ? new ColumnTitle(ColumnRole.Order) { InPacks = says.InPacks }
            : new ColumnTitle(ColumnRole.Available) { InPacks = says.InPacks };
    }

    /// <summary>Of several columns of names the one with scientific names is the name, whatever the titles say; the others are common names.</summary>
    private void Names(List<Column> columns, Dictionary<int, List<Cell>> below)
    {
        var candidates = columns.FindAll(column => column.Role is ColumnRole.Name or ColumnRole.Common or ColumnRole.Unknown && below[column.Index].Count > 0);
        if (columns.Exists(column => column.Role == ColumnRole.Genus) && columns.FindIndex(column => column.Role == ColumnRole.Name && Share(below[column.Index], text => char.IsLower(text[0])) > 0.6) is >= 0 and var second)
            columns[second] = columns[second] with { Says = new ColumnTitle(ColumnRole.Epithet) };
        if (columns.Exists(column => column.Role == ColumnRole.Epithet))
            return;
        var shares = candidates.ToDictionary(column => column, column => Share(below[column.Index], names.IsScientific));
        var best = candidates.Where(column => shares[column] > 0.3).MaxBy(column => shares[column]);
        for (var i = 0; i < columns.Count; i++)
        {
            if (!candidates.Contains(columns[i]))
                continue;
            var scientific = shares[columns[i]];
            if (scientific > 0.3)
                columns[i] = columns[i] with { Says = new ColumnTitle(ColumnRole.Name) };
            else if (columns[i].Role == ColumnRole.Name && best is not null && below[columns[i].Index].Count > 0)
                columns[i] = columns[i] with { Says = new ColumnTitle(ColumnRole.Common) };
        }
        if (best is null && !columns.Exists(column => column.Role == ColumnRole.Name) && columns.FindIndex(column => column.Role == ColumnRole.Common) is >= 0 and var common)
            columns[common] = columns[common] with { Says = new ColumnTitle(ColumnRole.Name) };
    }

    /// <summary>A hidden column helps the supplier and tells the keeper nothing, unless it is the only one of its kind.</summary>
    private static void Hide(List<Column> columns)
    {
        for (var i = 0; i < columns.Count; i++)
        {
            if (columns[i].Hidden && columns.Exists(other => !other.Hidden && other.Role == columns[i].Role))
                columns[i] = columns[i] with { Says = new ColumnTitle(ColumnRole.Aside) };
            else if (columns[i] is { Hidden: true, Role: not (ColumnRole.Name or ColumnRole.Price or ColumnRole.Epithet or ColumnRole.Genus) })
                columns[i] = columns[i] with { Says = new ColumnTitle(ColumnRole.Aside) };
        }
    }

    /// <summary>A column whose title is no known one ("Asia") and that holds names of species is a column of names.</summary>
    public List<Column> Promote(List<Column> columns, IReadOnlyList<Row> rows, int first, int end) => columns.ConvertAll(column =>
        column.Role == ColumnRole.Unknown && Share(Below(rows, first, end, column.Index), names.IsScientific) > 0.5 ? column with { Says = new ColumnTitle(ColumnRole.Name) } : column);

    /// <summary>Columns with names of species under no title.</summary>
    public IEnumerable<Column> NamesWithoutTitle(List<Column> titled, IReadOnlyList<Row> rows, int first, int end)
    {
        for (var index = 0; index < 20; index++)
        {
            if (!titled.Exists(column => column.Index == index) && Share(Below(rows, first, end, index), text => names.IsScientific(text) || IsEpithet(text)) > 0.4)
                yield return new Column(index, "", new ColumnTitle(ColumnRole.Name), 0, false);
        }
    }

    private static bool IsEpithet(string text) => text.Length > 3 && text.All(c => char.IsLower(c) || c == '-') && Epithets.Find(text).Count > 0;

    /// <summary>Columns of a table without titles; empty when the rows are no table.</summary>
    public List<Column> Untitled(IReadOnlyList<Row> rows, int first, int end, IReadOnlyDictionary<int, ColumnRole> legend)
    {
        var several = rows.Skip(first).Take(end - first).Where(row => row.Content.Count() > 1).Take(Sample).ToList();
        if (several.Count < 2)
            return [];
        var width = several.Max(row => row.Cells[^1].Column) + 1;
        var columns = new List<Column>();
        var hasName = false;
        for (var index = 0; index < Math.Min(width, 40); index++)
        {
            var cells = several.SelectMany(row => row.Content.Where(cell => cell.Column == index)).ToList();
            if (cells.Count == 0)
                continue;
            var hidden = cells.TrueForAll(cell => cell.Hidden);
            var role = legend.TryGetValue(index, out var explained) ? explained : Guess(cells);
            hasName |= role == ColumnRole.Name;
            columns.Add(new Column(index, "", new ColumnTitle(role), 0, hidden));
        }
        if (!hasName || columns.Count < 2)
            return [];
        var common = columns.FindIndex(column => column.Role == ColumnRole.Unknown && Share([.. several.SelectMany(row => row.Content.Where(cell => cell.Column == column.Index))], names.IsCommon) > 0.4);
        if (common >= 0)
            columns[common] = columns[common] with { Says = new ColumnTitle(ColumnRole.Common) };
        return columns;
    }

    private ColumnRole Guess(List<Cell> cells)
    {
        if (Share(cells, names.IsScientific) > 0.4)
            return ColumnRole.Name;
        if (Share(cells, IsMoney) > 0.5)
            return ColumnRole.Price;
        var numbers = cells.Where(cell => IsWhole(cell.Text)).ToList();
        if (numbers.Count * 2 > cells.Count)
        {
            var values = numbers.Select(cell => cell.Text).ToList();
            return Counts(values) ? ColumnRole.Code : ColumnRole.Unknown;
        }
        if (Share(cells, text => FactReader.Read(text, decimalMark) is { SoldOut: true } or { Available: not null } or { Pack: not null } or { Minimum: not null } or { Prices.Count: > 0 }) > 0.5)
            return ColumnRole.Status;
        return ColumnRole.Unknown;
    }

    /// <summary>1, 2, 3: numbers of lines and of nothing else.</summary>
    private static bool Counts(List<string> values) =>
        values.Count > 2 && values.Zip(values.Skip(1)).All(pair => int.TryParse(pair.First, NumberStyles.None, CultureInfo.InvariantCulture, out var before) && int.TryParse(pair.Second, NumberStyles.None, CultureInfo.InvariantCulture, out var after) && after == before + 1);

    private static List<Cell> Below(IReadOnlyList<Row> rows, int first, int end, int column)
    {
        var cells = new List<Cell>();
        for (var i = first; i < end && cells.Count < Sample; i++)
        {
            if (rows[i].Cells.FirstOrDefault(cell => cell.Column == column && !cell.CoveredAcross) is { } cell && rows[i].Content.Count() > 1)
                cells.Add(cell);
        }
        return cells;
    }

    private static double Share(List<Cell> cells, Func<string, bool> holds) => cells.Count == 0 ? 0 : (double)cells.Count(cell => holds(cell.Text)) / cells.Count;

    /// <summary>True for an amount of money: no title holds one.</summary>
    public bool IsAmount(string text) => text.Any(char.IsAsciiDigit) && Tokeniser.Cut(text, decimalMark).Exists(token => token.Kind == TokenKind.Number && token.Decimals is 1 or 2) || (text.Any(Currencies.IsSign) && IsMoney(text) && ColumnTitles.Read(text) is not ({ From: > 1 } or { Per: > 1 }));

    private bool IsMoney(string text)
    {
        var tokens = Tokeniser.Cut(text, decimalMark);
        return tokens.Exists(token => token.Kind == TokenKind.Number && (token.Decimals is 1 or 2 || token.Currency is not null))
            || (tokens.Exists(token => token.Kind == TokenKind.Currency) && tokens.Exists(token => token.Kind == TokenKind.Number));
    }

    private static bool IsWhole(string text) => text.Length < 8 && text.All(char.IsAsciiDigit);

    private static bool IsZero(Cell cell) => cell.Number == 0 || cell.Text is "0" or "_" or "__" or "___" or "____" or "....";

    /// <summary>Meanings of a whole cell.</summary>
    public static IReadOnlySet<Meaning> Whole(string text) => Vocabulary.Of(text.Trim(' ', '.', '!', '*', '(', ')', ':', ','));
}
