using System.Text.RegularExpressions;

namespace Lepidary.Lists.Formats;

/// <summary>Collects the lines and tables of a page or document in reading order, each line with its number.</summary>
internal sealed partial class DocumentRows
{
    private readonly List<Row> rows = [];
    private int part;
    private int next = 1;

    public IReadOnlyList<Row> Rows => rows;

    /// <summary>Adds a line of text; blank ones are left out, a page has none.</summary>
    public void Line(string text, bool struck = false)
    {
        var trimmed = Clean(text);
        if (trimmed.Length > 0)
            rows.Add(new Row(next++, trimmed, [new Cell(0, trimmed) { Struck = struck }]));
    }

    /// <summary>Adds a text with lines and spaces of its own, read as a text file is.</summary>
    public void Text(IReadOnlyList<string> lines)
    {
        var (sheet, layout) = PlainText.Read(lines);
        if (layout != PlainText.OneALine)
            part++;
        foreach (var row in sheet.Rows.Where(row => row.Content.Any()))
        {
            rows.Add(row with { Number = next, Part = layout != PlainText.OneALine ? part : 0 });
            next += 1 + row.FurtherLines.Count;
        }
        if (layout != PlainText.OneALine)
            part++;
    }

    /// <summary>Adds the rows of a table, each with its cells by column.</summary>
    public void Table(IEnumerable<IReadOnlyList<Cell>> table)
    {
        part++;
        foreach (var cells in table)
        {
            var filled = cells.Where(cell => cell.Text.Length > 0).OrderBy(cell => cell.Column).ToList();
            if (filled.Count == 0)
                continue;
            var row = new Row(next++, "", filled) { Part = part };
            rows.Add(row with { Text = string.Join(" | ", row.Content.Select(cell => cell.Text)) });
        }
    }

    /// <summary>The lines of a cell: below a scientific name stands something else, anything else goes on.</summary>
    public static string Joined(IEnumerable<string> lines)
    {
        var all = lines.Select(line => line.Trim()).Where(line => line.Length > 0).ToList();
        return all.Count == 0 ? "" : all.Skip(1).Aggregate(all[0], (text, line) => text + (Binomial().IsMatch(all[0]) && (char.IsUpper(line[0]) || line[0] == '(') ? " | " : " ") + line);
    }

    [GeneratedRegex(@"^\p{Lu}\p{Ll}*\.?\s\p{Ll}{3,}(?:\s\p{Ll}+)?$")]
    private static partial Regex Binomial();

    /// <summary>One space for any white space, and nothing that does not print.</summary>
    public static string Clean(string text)
    {
        var clean = new System.Text.StringBuilder(text.Length);
        foreach (var c in text)
        {
            if (TextDecoder.DoesNotPrint(c) || c == '\0')
                continue;
            if (!char.IsWhiteSpace(c))
                clean.Append(c);
            else if (clean.Length > 0 && clean[^1] != ' ')
                clean.Append(' ');
        }
        return clean.ToString().TrimEnd();
    }
}

/// <summary>Lays cells that span rows and columns out on a grid.</summary>
internal sealed class SpanningTable
{
    private const int MostColumns = 200;
    private readonly List<SortedDictionary<int, Cell>> rows = [];
    private readonly Dictionary<int, (Cell Cell, int Left)> down = [];
    private int column;

    public void BeginRow()
    {
        rows.Add([]);
        column = 0;
        Carry();
    }

    /// <summary>Adds the next cell of the row.</summary>
    public void Add(string text, bool struck = false, int across = 1, int rowsDown = 1, decimal? number = null, string? currency = null, DateOnly? date = null)
    {
        across = Math.Clamp(across, 1, MostColumns);
        for (var i = 0; i < across && column < MostColumns; i++)
        {
            var cell = new Cell(column, text) { Struck = struck, CoveredAcross = i > 0, Number = number, Currency = currency, Date = date };
            rows[^1][column] = cell;
            if (rowsDown > 1)
                down[column] = (cell, Math.Min(rowsDown, 2000) - 1);
            column++;
        }
        Carry();
    }

    /// <summary>Leaves a place empty.</summary>
    public void Skip(int columns) => column = Math.Min(MostColumns, column + Math.Max(0, columns));

    private void Carry()
    {
        while (down.TryGetValue(column, out var above))
        {
            rows[^1][column] = above.Cell;
            if (above.Left <= 1)
                down.Remove(column);
            else
                down[column] = (above.Cell, above.Left - 1);
            column++;
        }
    }

    public IEnumerable<IReadOnlyList<Cell>> Rows => rows.Select(row => row.Values.ToList());
}
