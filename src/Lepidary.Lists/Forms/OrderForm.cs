using Lepidary.Lists.Formats;

namespace Lepidary.Lists.Forms;

/// <summary>A number to be written into a supplier's form.</summary>
/// <param name="Sheet">Sheet of a workbook, or null.</param>
/// <param name="Line">Line of the source, from 1, as of the offer.</param>
/// <param name="Column">From 1.</param>
/// <param name="Number">At least 1.</param>
public sealed record FormEntry(string? Sheet, int Line, int Column, int Number);

/// <summary>Writes an order into the supplier's own list, where that is an order form.</summary>
public static class OrderForm
{
    /// <summary>Fills the form in: the cells named get their numbers, and nothing else changes.</summary>
    /// <param name="content">The list as it came: a workbook (.xlsx) or text with a delimiter.</param>
    /// <param name="fileName">For messages.</param>
    /// <param name="entries">What is ordered; one a cell.</param>
    /// <returns>
    /// The file with the numbers in it. In a workbook the other parts keep their bytes, and of the sheet only the cells named change; a sheet with
    /// formulas is also told to reckon them anew when opened (ECMA-376 part 1, 18.3.1.78). A text keeps its encoding, delimiters, quotes and line ends.
    /// A problem where the file is no form, or where a cell can't be filled in; then nothing is.
    /// </returns>
    public static Checked<byte[]> Fill(ReadOnlyMemory<byte> content, string fileName, IReadOnlyList<FormEntry> entries)
    {
        ArgumentNullException.ThrowIfNull(fileName);
        ArgumentNullException.ThrowIfNull(entries);
        var before = FormatRecogniser.Read(content, fileName);
        if (!before.IsGood)
            return before.Problems.ToArray();
        if (entries.GroupBy(entry => (entry.Sheet, entry.Line, entry.Column)).FirstOrDefault(cell => cell.Count() > 1) is { } twice)
            return new Problem(Where(fileName, twice.First()), "two numbers for one cell", "one number a cell");
        var filled = before.Value.Format.StartsWith("XLSX", StringComparison.Ordinal) ? FilledWorkbook.Fill(content, fileName, entries)
            : before.Value.Format.StartsWith("CSV", StringComparison.Ordinal) || before.Value.Format.StartsWith("TSV", StringComparison.Ordinal) ? FilledText.Fill(content.Span, fileName, entries)
            : new Problem(fileName, before.Value.Format, "a workbook (.xlsx) or CSV: only these can be filled in");
        return filled.IsGood && FormatRecogniser.Read(filled.Value, fileName) is var after && !OnlyTheseDiffer(before.Value, after, entries)
            ? new Problem(fileName, "a form that would not be read again as it was", "a plain workbook (.xlsx) or CSV: fill this one in by hand")
            : filled;
    }

    internal static string Where(string fileName, FormEntry entry) => entry.Sheet is null ? $"{fileName}, line {entry.Line}" : $"{fileName}, sheet {entry.Sheet}, row {entry.Line}";

    /// <summary>Reads the filled form again: every other cell says what it said, and the cells named hold their numbers.</summary>
    private static bool OnlyTheseDiffer(Source before, Checked<Source> after, IReadOnlyList<FormEntry> entries)
    {
        if (!after.IsGood || after.Value.Sheets.Count != before.Sheets.Count)
            return false;
        var numbers = entries.ToDictionary(entry => (entry.Sheet, entry.Line, entry.Column - 1), entry => entry.Number);
        foreach (var (was, now) in before.Sheets.Zip(after.Value.Sheets))
        {
            var cellsNow = Cells(now);
            var cellsBefore = Cells(was);
            if (cellsBefore.Any(cell => !numbers.ContainsKey((was.Name, cell.Key.Line, cell.Key.Column)) && cellsNow.GetValueOrDefault(cell.Key) != cell.Value)
                || cellsNow.Keys.Any(place => !cellsBefore.ContainsKey(place) && !numbers.ContainsKey((was.Name, place.Line, place.Column))))
                return false;
            foreach (var ((_, line, column), number) in numbers.Where(entry => entry.Key.Sheet == was.Name))
            {
                if (cellsNow.GetValueOrDefault((line, column)) is not { } cell || (cell.Number ?? (decimal.TryParse(cell.Text, System.Globalization.CultureInfo.InvariantCulture, out var said) ? said : null)) != number)
                    return false;
            }
        }
        return entries.All(entry => before.Sheets.Any(sheet => sheet.Name == entry.Sheet));
    }

    private static Dictionary<(int Line, int Column), Cell> Cells(Sheet sheet) => sheet.Rows
        .SelectMany(row => row.Cells.Where(cell => !cell.CoveredAcross), (row, cell) => (row, cell))
        .GroupBy(pair => (pair.row.Number, pair.cell.Column))
        .ToDictionary(group => group.Key, group => group.First().cell);
}
