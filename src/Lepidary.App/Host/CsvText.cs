using System.Buffers;
using System.Globalization;
using System.Text;

namespace Lepidary.App.Host;

/// <summary>
/// What goes out as CSV (RFC 4180), and the one place that knows which texts a spreadsheet program would take for a formula. Every export for
/// spreadsheets is made with it: texts from suppliers' lists are foreign, and a formula in one would run on the keeper's machine.
/// </summary>
internal sealed class CsvText
{
    private static readonly SearchValues<char> Parting = SearchValues.Create(",;\t\"\r\n");

    private readonly StringBuilder text = new();
    private readonly int width;

    public CsvText(params string[] titles)
    {
        width = titles.Length;
        Row([.. titles]);
    }

    /// <summary>Adds a row: texts are neutralised, numbers written with a point, days as 2026-11-27, nothing as an empty cell.</summary>
    public void Row(params object?[] cells)
    {
        if (cells.Length != width)
        {
            throw new ArgumentException($"{cells.Length} cells under {width} titles.", nameof(cells));
        }

        text.AppendJoin(',', cells.Select(cell => cell switch
        {
            null => "",
            string said => Quoted(Safe(said)),
            decimal amount => amount.ToString("0.00##", CultureInfo.InvariantCulture),
            DateOnly day => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
            DateTimeOffset at => at.ToString("O", CultureInfo.InvariantCulture),
            int or long or double => Convert.ToString(cell, CultureInfo.InvariantCulture)!,
            _ => throw new ArgumentException($"A cell of {cell.GetType().Name}.", nameof(cells)),
        })).Append("\r\n");
    }

    /// <summary>
    /// A text that no spreadsheet takes for a formula: an apostrophe goes before the signs that begin one (OWASP, CSV Injection: equals, plus,
    /// minus, at, tab, line ends, and their full-width forms). For cells of CSV and workbooks alike.
    /// </summary>
    public static string Safe(string text) =>
        text.Length > 0 && text[0] is '=' or '+' or '-' or '@' or '\t' or '\r' or '\n' or '＝' or '＋' or '－' or '＠' ? "'" + text : text;

    /// <summary>As a file to be fetched, with the mark by which spreadsheet programs know UTF-8.</summary>
    public static IResult File(string csv, string name) =>
        Results.File((byte[])[.. Encoding.UTF8.GetPreamble(), .. Encoding.UTF8.GetBytes(csv)], "text/csv; charset=utf-8", name);

    public override string ToString() => text.ToString();

    /// <summary>In quotes also where another delimiter than the comma is usual, so that a foreign text stays one cell.</summary>
    private static string Quoted(string cell) =>
        cell.AsSpan().IndexOfAny(Parting) < 0 ? cell : $"\"{cell.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
}
