using System.Reflection;
using System.Text;

namespace Lepidary.Taxa.Table;

/// <summary>
/// The two shipped tables. RFC 4180 with a header row; small and strict because the files are ours, and quick because every start waits for it.
/// </summary>
internal sealed class Csv
{
    private readonly Dictionary<string, int> columns;

    private Csv(Dictionary<string, int> columns, List<string[]> rows)
    {
        this.columns = columns;
        Rows = rows;
    }

    /// <summary>Cells by row, the header left out.</summary>
    public IReadOnlyList<string[]> Rows { get; }

    /// <summary>Position of a column.</summary>
    /// <exception cref="KeyNotFoundException">The file has no such column.</exception>
    public int Column(string name) => columns[name];

    /// <summary>The same table with some rows only.</summary>
    public Csv Where(Func<string[], bool> keeps) => new(columns, [.. Rows.Where(keeps)]);

    /// <summary>Reads an embedded table.</summary>
    public static Csv Shipped(string file)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream($"Lepidary.Taxa.Data.{file}")
            ?? throw new InvalidOperationException($"The table {file} is not embedded.");
        using var reader = new StreamReader(stream, Encoding.UTF8);
        return Read(reader.ReadToEnd());
    }

    /// <summary>Reads a table from text.</summary>
    /// <exception cref="FormatException">A row has another number of cells than the header, or a quote is never closed.</exception>
    public static Csv Read(string text)
    {
        var rows = new List<string[]>();
        var cells = new List<string>();
        var at = 0;
        while (at < text.Length)
        {
            cells.Add(Cell(text, ref at));
            if (at < text.Length && text[at] == ',')
            {
                at++;
                continue;
            }

            at += at + 1 < text.Length && text[at] == '\r' && text[at + 1] == '\n' ? 2 : 1;
            if (rows.Count > 0 && cells.Count != rows[0].Length)
                throw new FormatException($"Row {rows.Count + 1} has {cells.Count} cells; the header has {rows[0].Length}.");
            rows.Add([.. cells]);
            cells.Clear();
        }

        var header = rows[0];
        rows.RemoveAt(0);
        var columns = new Dictionary<string, int>(header.Length, StringComparer.Ordinal);
        for (var i = 0; i < header.Length; i++)
            columns.Add(header[i], i);
        return new Csv(columns, rows);
    }

    private static string Cell(string text, ref int at)
    {
        if (at >= text.Length || text[at] != '"')
        {
            var end = text.AsSpan(at).IndexOfAny(',', '\r', '\n');
            var cell = end < 0 ? text[at..] : text.Substring(at, end);
            at += cell.Length;
            return cell;
        }

        at++;
        var quoted = new StringBuilder();
        while (true)
        {
            var end = text.IndexOf('"', at);
            if (end < 0)
                throw new FormatException("A quote is never closed.");
            quoted.Append(text, at, end - at);
            at = end + 1;
            if (at >= text.Length || text[at] != '"')
                return quoted.ToString();
            quoted.Append('"');
            at++;
        }
    }
}
