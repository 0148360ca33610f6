using System.Globalization;
using Lepidary.Lists.Formats;
using Lepidary.Lists.Words;

namespace Lepidary.Lists.Reading;

/// <summary>A column of a table.</summary>
/// <param name="Index">From 0.</param>
/// <param name="Title">As printed, parts above one another joined; empty where there is none.</param>
/// <param name="Says">What the title says.</param>
/// <param name="Line">Line of the title, or 0.</param>
/// <param name="Hidden">True when the supplier hid it.</param>
internal sealed record Column(int Index, string Title, ColumnTitle Says, int Line, bool Hidden)
{
    public ColumnRole Role => Says.Role;
}

/// <summary>Columns that make one offer a row; side by side there can be several.</summary>
internal sealed record Block(IReadOnlyList<Column> Columns)
{
    public int From => Columns[0].Index;

    public int To => Columns[^1].Index;

    public bool Has(ColumnRole role) => Columns.Any(column => column.Role == role);

    public IEnumerable<Column> Of(ColumnRole role) => Columns.Where(column => column.Role == role);
}

/// <summary>Rows under one set of titles.</summary>
/// <param name="TitleRows">Indexes of the rows with titles; empty when the columns were told by their content.</param>
/// <param name="First">Index of the first row below.</param>
/// <param name="End">Index behind the last.</param>
/// <param name="Blocks">In order.</param>
internal sealed record Table(IReadOnlyList<int> TitleRows, int First, int End, IReadOnlyList<Block> Blocks);

/// <summary>Finds the tables of a sheet: the rows with titles, what they say, and blocks side by side.</summary>
internal sealed class TableFinder(Sheet sheet, SupplierLayout layout, ColumnEvidence evidence, IReadOnlyDictionary<int, ColumnRole> legend)
{
    private readonly Dictionary<string, ColumnRole> remembered = layout.Columns
        .GroupBy(pair => Folded.Of(pair.Key))
        .ToDictionary(group => group.Key, group => group.First().Value);

    public IReadOnlyList<Table> Find()
    {
        var heads = new List<(int From, int To)>();
        for (var i = 0; i < sheet.Rows.Count; i++)
        {
            if (!IsTitleRow(sheet.Rows[i]))
                continue;
            var from = i > 0 && sheet.Rows[i - 1].Part == sheet.Rows[i].Part && IsGroupRow(sheet.Rows[i - 1], sheet.Rows[i]) ? i - 1 : i;
            var to = i;
            while (to + 1 < sheet.Rows.Count && to - i < 2 && sheet.Rows[to + 1].Part == sheet.Rows[i].Part && ContinuesTitles(sheet.Rows[to + 1]))
                to++;
            heads.Add((from, to));
            i = to;
        }
        if (heads.Count == 0 && sheet.Rows.All(row => row.Part == 0) && TitlesByPlace() is { } place)
            heads.Add((place, place));
        var tables = new List<Table>();
        for (var i = 0; i < heads.Count; i++)
        {
            var (from, to) = heads[i];
            var end = Math.Min(i + 1 < heads.Count ? heads[i + 1].From : sheet.Rows.Count, EndOfPart(to));
            var columns = Columns(from, to, end);
            if (columns.Count > 0)
                tables.Add(new Table([.. Enumerable.Range(from, to - from + 1)], to + 1, end, Blocks(columns).ConvertAll(block => new Block(evidence.Settle([.. block.Columns], sheet.Rows, to + 1, end)))));
        }
        if (tables.Count == 0 && sheet.Rows.All(row => row.Part == 0) && evidence.Untitled(sheet.Rows, 0, sheet.Rows.Count, legend) is { Count: > 0 } untitled)
            tables.Add(new Table([], 0, sheet.Rows.Count, Blocks(Explained(untitled))));
        tables.AddRange(PartsWithoutTitles(tables));
        return tables;
    }

    /// <summary>
    /// A row of words right over rows of names and numbers that fill the same columns is a row of titles, whatever its words are: the reader of a
    /// list knows it by its place.
    /// </summary>
    private int? TitlesByPlace()
    {
        var first = Enumerable.Range(0, sheet.Rows.Count).FirstOrDefault(i => sheet.Rows[i].Content.Count() > 1 && evidence.NamesATaxon(sheet.Rows[i].Content) && sheet.Rows[i].Content.Any(cell => cell.Number is not null || cell.Text.Any(char.IsAsciiDigit)), -1);
        if (first < 1)
            return null;
        var columns = sheet.Rows.Skip(first).Take(8).SelectMany(row => row.Content).Select(cell => cell.Column).ToHashSet();
        for (var i = first - 1; i >= 0 && i >= first - 4; i--)
        {
            var cells = sheet.Rows[i].Content.ToList();
            if (cells.Count <= 1)
                continue;
            return cells.Count >= 3 && cells.Count * 10 >= columns.Count * 6 && cells.TrueForAll(cell => columns.Contains(cell.Column) && cell.Number is null && cell.Date is null && cell.Text.Length <= 30 && (!cell.Text.EndsWith('.') || cell.Text.Length <= 10)
                && !evidence.IsAmount(cell.Text)) && !evidence.NamesATaxon(cells) && cells.Exists(cell => (Title(cell.Text) ?? ColumnTitles.Guess(cell.Text)) is not null) ? i : null;
        }
        return null;
    }

    private int EndOfPart(int row)
    {
        var part = sheet.Rows[row].Part;
        var end = row + 1;
        while (end < sheet.Rows.Count && sheet.Rows[end].Part == part)
            end++;
        return end;
    }

    /// <summary>Tables of a page that have no titles of their own: they go on with the titles of the table before, if as wide, or are told by their content.</summary>
    private List<Table> PartsWithoutTitles(List<Table> titled)
    {
        var found = new List<Table>();
        for (var first = 0; first < sheet.Rows.Count; first = EndOfPart(first))
        {
            var (part, end) = (sheet.Rows[first].Part, EndOfPart(first));
            if (part == 0 || titled.Exists(table => table.End == end || (table.First > first && table.First <= end)))
                continue;
            var width = Width(first, end);
            var before = titled.Concat(found).Where(table => table.End <= first && table.TitleRows.Count > 0 && Width(table.TitleRows[0], table.End) == width).LastOrDefault();
            if (before is not null)
                found.Add(before with { TitleRows = [], First = first, End = end });
            else if (evidence.Untitled(sheet.Rows, first, end, legend) is { Count: > 0 } columns)
                found.Add(new Table([], first, end, Blocks(Explained(columns))));
        }
        return found;
    }

    private int Width(int first, int end) => sheet.Rows.Skip(first).Take(end - first).SelectMany(row => row.Cells).Select(cell => cell.Column + 1).DefaultIfEmpty(0).Max();

    private ColumnTitle? Title(string text) =>
        remembered.TryGetValue(Folded.Of(text), out var role)
            ? (ColumnTitles.Read(text) is { } read && read.Role == role ? read : new ColumnTitle(role)) with { Told = true, Bare = false }
            : ColumnTitles.Read(text);

    /// <summary>Columns without a title as the keeper explained them, also those that nothing else speaks of.</summary>
    private List<Column> Explained(List<Column> columns)
    {
        var explained = columns.ConvertAll(column => column.Title.Length == 0 && remembered.TryGetValue($"#{column.Index + 1}", out var role) ? column with { Says = new ColumnTitle(role) { Told = true } } : column);
        foreach (var (key, role) in remembered)
        {
            if (key.StartsWith('#') && int.TryParse(key.AsSpan(1), NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number is > 0 and < 512 && !explained.Exists(column => column.Index == number - 1))
                explained.Add(new Column(number - 1, "", new ColumnTitle(role) { Told = true }, 0, false));
        }
        return [.. explained.OrderBy(column => column.Index)];
    }

    private bool IsTitleRow(Row row)
    {
        var cells = row.Content.ToList();
        if (cells.Count < 2 || cells.Exists(cell => (cell.Number is { } number && number != decimal.Truncate(number)) || evidence.IsAmount(cell.Text)))
            return false;
        var titles = cells.Select(cell => Title(cell.Text)).Where(title => title is not null).ToList();
        var roles = titles.Where(title => !title!.Bare).Select(title => title!.Role).Distinct().ToList();
        var named = roles.Exists(role => role is ColumnRole.Name or ColumnRole.Common or ColumnRole.Genus or ColumnRole.Epithet);
        var counted = roles.Exists(role => role is ColumnRole.Price or ColumnRole.Available or ColumnRole.Quantity or ColumnRole.Pack or ColumnRole.Minimum or ColumnRole.Status or ColumnRole.Order or ColumnRole.Form or ColumnRole.Common or ColumnRole.Code or ColumnRole.Family);
        var enough = named && counted && roles.Count >= 2 || roles.Contains(ColumnRole.Price) && roles.Exists(role => role is ColumnRole.Available or ColumnRole.Code);
        return enough && titles.Count * 2 >= cells.Count && !evidence.NamesATaxon(cells);
    }

    /// <summary>A row over the titles that groups them: "Price" over "1-9", "10-49", "50+".</summary>
    private bool IsGroupRow(Row row, Row titles)
    {
        var cells = row.Content.ToList();
        return cells.Count > 0 && cells.TrueForAll(cell => cell.Number is null && cell.Text.Length <= 30 && Title(cell.Text) is { Bare: false, Role: ColumnRole.Price or ColumnRole.Available or ColumnRole.Name or ColumnRole.Order or ColumnRole.Quantity })
            && cells.Exists(cell => cell.Column > titles.Cells[0].Column);
    }

    private bool ContinuesTitles(Row row)
    {
        var cells = row.Content.ToList();
        return cells.Count > 0 && !(cells.Count == 1 && (cells[0].Text.Length > 25 || cells[0].Text.TrimEnd().EndsWith('.') && cells[0].Text.Contains(' ', StringComparison.Ordinal))) && cells.TrueForAll(cell => cell.Number is null && cell.Date is null && (Title(cell.Text) is not null || IsUnit(cell.Text))) && !evidence.NamesATaxon(cells);
    }

    private static bool IsUnit(string text) => text.StartsWith('(') && text.EndsWith(')') && text.Length < 25;

    private List<Column> Columns(int from, int to, int end)
    {
        var titles = new SortedDictionary<int, (string Text, bool Hidden, int Line)>();
        for (var i = from; i <= to; i++)
        {
            foreach (var cell in Spread(i, from, to))
            {
                var (text, _, line) = titles.GetValueOrDefault(cell.Column);
                titles[cell.Column] = (text is null || text == cell.Text ? cell.Text : $"{text} {cell.Text}", cell.Hidden, line == 0 ? sheet.Rows[i].Number : line);
            }
        }
        var columns = titles
            .Select(pair => new Column(pair.Key, pair.Value.Text, Title(pair.Value.Text) ?? LastPart(pair.Key, from, to) ?? ColumnTitles.Guess(pair.Value.Text) ?? new ColumnTitle(ColumnRole.Unknown), pair.Value.Line, pair.Value.Hidden))
            .ToList();
        columns = columns.ConvertAll(column => legend.TryGetValue(column.Index, out var role) && !column.Says.Told ? column with { Says = new ColumnTitle(role) { Explained = true } } : column);
        columns = evidence.Promote(columns, sheet.Rows, to + 1, end);
        return Explained(columns.Exists(column => column.Role is ColumnRole.Name or ColumnRole.Epithet)
            ? columns
            : [.. columns.Concat(evidence.NamesWithoutTitle(columns, sheet.Rows, to + 1, end)).OrderBy(column => column.Index)]);
    }

    private ColumnTitle? LastPart(int column, int from, int to)
    {
        for (var i = to; i >= from; i--)
        {
            if (sheet.Rows[i].Cells.FirstOrDefault(cell => cell.Column == column) is { } cell && Title(cell.Text) is { } title)
                return title;
        }
        return null;
    }

    /// <summary>The cells of a title row; a group's title stands over its columns up to the next.</summary>
    private IEnumerable<Cell> Spread(int row, int from, int to)
    {
        if (row == to || from == to || row > from || IsTitleRow(sheet.Rows[row]))
            return sheet.Rows[row].Cells;
        var below = sheet.Rows[row + 1].Content.ToList();
        var tops = sheet.Rows[row].Content.ToList();
        return below
            .Select(cell => (cell, top: tops.LastOrDefault(top => top.Column <= cell.Column)))
            .Where(pair => pair.top is not null && (pair.cell.Column == pair.top.Column || ColumnTitles.Read(pair.cell.Text) is { Role: ColumnRole.Price } or { Role: ColumnRole.Quantity }))
            .Select(pair => pair.top! with { Column = pair.cell.Column });
    }

    /// <summary>Cuts the columns where the names begin again, if prices or stock do too.</summary>
    private static List<Block> Blocks(List<Column> columns)
    {
        var key = new[] { ColumnRole.Name, ColumnRole.Epithet, ColumnRole.Common }.FirstOrDefault(role => columns.Any(column => column.Role == role));
        var names = columns.FindAll(column => column.Role == key).ConvertAll(columns.IndexOf);
        if (names.Count > 1)
        {
            // What stands before the first name (a code, a family) stands before each.
            var before = Enumerable.Range(0, names[0]).Reverse().TakeWhile(i => i + (names[1] - names[0]) is var j && j < columns.Count && columns[j].Role == columns[i].Role).Count();
            var cuts = names.ConvertAll(name => Math.Max(0, name - before));
            var blocks = cuts.Select((cut, i) => columns.GetRange(i == 0 ? 0 : cut, (i + 1 < cuts.Count ? cuts[i + 1] : columns.Count) - (i == 0 ? 0 : cut))).ToList();
            if (blocks.TrueForAll(block => block.Exists(column => column.Role is ColumnRole.Price or ColumnRole.Available or ColumnRole.Quantity)))
                return blocks.ConvertAll(block => new Block(block));
            // Names twice and the rest once: the further ones are other names of the same.
            columns = columns.ConvertAll(column => names.IndexOf(columns.IndexOf(column)) > 0 ? column with { Says = new ColumnTitle(ColumnRole.Common) } : column);
        }
        return [new Block(columns)];
    }
}
