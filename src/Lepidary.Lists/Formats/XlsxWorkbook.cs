using System.Globalization;
using System.Text;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using S = DocumentFormat.OpenXml.Spreadsheet;

namespace Lepidary.Lists.Formats;

/// <summary>A workbook (.xlsx) as sheets of cells. Formulas are never computed: what the file last showed is read.</summary>
internal static class XlsxWorkbook
{
    private const int MostRows = FormatRecogniser.MostLines;
    private const int MostColumns = 512;
    private const int MostCells = 1_000_000;

    public static Checked<Source> Read(Stream stream, string fileName)
    {
        using var document = SpreadsheetDocument.Open(stream, isEditable: false);
        var workbook = document.WorkbookPart;
        if (workbook?.Workbook?.Sheets is null)
            return new Problem(fileName, "a workbook without sheets", "a workbook with a list in it");
        var reader = new SheetReader(workbook);
        var sheets = new List<Sheet>();
        foreach (var sheet in workbook.Workbook.Sheets.Elements<S.Sheet>())
        {
            if (sheet.Id?.Value is { } id && workbook.TryGetPartById(id, out var part) && part is WorksheetPart worksheet)
                sheets.Add(reader.Read(worksheet, sheet.Name?.Value, sheet.State is { } state && state.Value != S.SheetStateValues.Visible));
        }
        return sheets.Exists(sheet => sheet.Rows.Any(row => row.Content.Any()))
            ? new Source("XLSX", sheets)
            : new Problem(fileName, "a workbook with nothing in its cells", "a workbook with a list in it");
    }

    private sealed class SheetReader
    {
        private readonly List<SharedText> shared;
        private readonly CellStyles styles;
        private readonly bool from1904;
        private int cells;

        public SheetReader(WorkbookPart workbook)
        {
            shared = workbook.SharedStringTablePart is { } table ? Shared(table) : [];
            styles = new CellStyles(workbook.WorkbookStylesPart?.Stylesheet);
            from1904 = workbook.Workbook?.WorkbookProperties?.Date1904?.Value ?? false;
        }

        public Sheet Read(WorksheetPart part, string? name, bool hidden)
        {
            var hiddenColumns = new List<(uint From, uint To)>();
            var merges = new List<CellRange>();
            var rows = new SortedDictionary<int, (bool Hidden, SortedDictionary<int, Cell> Cells)>();
            using (var reader = OpenXmlReader.Create(part))
            {
                var last = 0;
                while (reader.Read())
                {
                    if (!reader.IsStartElement)
                        continue;
                    if (reader.ElementType == typeof(S.Column) && reader.LoadCurrentElement() is S.Column { Hidden.Value: true } column)
                        hiddenColumns.Add((column.Min?.Value ?? 0, column.Max?.Value ?? 0));
                    else if (reader.ElementType == typeof(S.Row) && reader.LoadCurrentElement() is S.Row row)
                        last = Add(rows, row, last, hiddenColumns);
                    else if (reader.ElementType == typeof(S.MergeCell) && reader.LoadCurrentElement() is S.MergeCell { Reference.Value: { } reference })
                        merges.AddRange(CellRange.Of(reference) is { } range ? [range] : []);
                }
            }
            foreach (var merge in merges.Take(10_000))
                Fill(rows, merge);
            return new Sheet(name, hidden, [.. Rows(rows)]);
        }

        private int Add(SortedDictionary<int, (bool, SortedDictionary<int, Cell>)> rows, S.Row row, int last, List<(uint From, uint To)> hiddenColumns)
        {
            var number = row.RowIndex?.Value is { } index and > 0 and <= int.MaxValue ? (int)index : last + 1;
            if (rows.Count >= MostRows || number > 1_048_576)
                throw new TooLargeException($"a sheet of more than {MostRows} rows");
            var read = new SortedDictionary<int, Cell>();
            var column = -1;
            foreach (var cell in row.Elements<S.Cell>())
            {
                column = cell.CellReference?.Value is { } reference && CellRange.Column(reference) is { } at ? at : column + 1;
                if (column >= MostColumns)
                    break;
                if (++cells > MostCells)
                    throw new TooLargeException($"a workbook of more than {MostCells} cells");
                if (Read(cell, column) is { } value)
                    read[column] = value with { Hidden = hiddenColumns.Exists(range => column + 1 >= range.From && column + 1 <= range.To) };
            }
            rows[number] = (row.Hidden?.Value ?? false, read);
            return number;
        }

        private Cell? Read(S.Cell cell, int column)
        {
            var style = styles.Of(cell.StyleIndex?.Value);
            var type = cell.DataType?.Value;
            var raw = cell.CellValue?.Text;
            if (type == S.CellValues.SharedString)
            {
                return raw is not null && int.TryParse(raw, NumberStyles.None, CultureInfo.InvariantCulture, out var i) && i < shared.Count
                    ? Rich(shared[i], column, style)
                    : null;
            }
            if (type == S.CellValues.InlineString)
                return cell.InlineString is { } inline ? Rich(TextOf(inline), column, style) : null;
            if (raw is null || raw.Length == 0)
                return null;
            if (type == S.CellValues.Boolean)
                return new Cell(column, raw == "1" ? "yes" : "no") { Struck = style.Struck };
            if (type == S.CellValues.Error)
                return new Cell(column, raw) { Struck = style.Struck };
            if (type == S.CellValues.Date && DateTime.TryParse(raw, CultureInfo.InvariantCulture, DateTimeStyles.None, out var moment))
                return Day(column, DateOnly.FromDateTime(moment), style);
            if (type == S.CellValues.String || !double.TryParse(raw, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) || !(Math.Abs(number) < 1e12))
                return Text(column, raw, style);
            if (style.IsDate && number is > 0 and < 2_958_466)
                return Day(column, DateOnly.FromDateTime((from1904 ? new DateTime(1904, 1, 1) : new DateTime(1899, 12, 30)).AddDays(number)), style);
            // A double holds 15 digits that mean something: 2.3999999999999999 was typed as 2.4.
            var value = (decimal)number;
            return new Cell(column, style.Show(value)) { Number = value, Currency = style.Currency, Struck = style.Struck };
        }

        private static Cell Day(int column, DateOnly day, CellStyle style) =>
            new(column, day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)) { Date = day, Struck = style.Struck };

        private static Cell? Text(int column, string text, CellStyle style) =>
            Clean(text) is { Length: > 0 } clean ? new Cell(column, clean) { Struck = style.Struck } : null;

        /// <summary>A text with its runs: all of it, and what is not struck.</summary>
        private sealed record SharedText(string Kept, string All);

        /// <summary>The texts that cells share, one after the other: a table of them can be many times longer than the sheet.</summary>
        private static List<SharedText> Shared(SharedStringTablePart part)
        {
            var texts = new List<SharedText>();
            using var reader = OpenXmlReader.Create(part);
            while (reader.Read())
            {
                if (!reader.IsStartElement || reader.ElementType != typeof(S.SharedStringItem) || reader.LoadCurrentElement() is not { } item)
                    continue;
                if (texts.Count >= MostCells)
                    throw new TooLargeException($"a workbook of more than {MostCells} texts");
                texts.Add(TextOf(item));
            }
            return texts;
        }

        private static SharedText TextOf(OpenXmlElement item)
        {
            var runs = item.Elements<S.Run>().ToList();
            if (runs.Count == 0)
            {
                var plain = string.Concat(item.Elements<S.Text>().Select(text => text.Text));
                return new SharedText(plain, plain);
            }
            bool Struck(S.Run run) => run.RunProperties?.GetFirstChild<S.Strike>() is { } strike && (strike.Val?.Value ?? true);
            return new SharedText(string.Concat(runs.Where(run => !Struck(run)).Select(run => run.Text?.Text)), string.Concat(runs.Select(run => run.Text?.Text)));
        }

        /// <summary>What is struck is left out when something else stands beside it.</summary>
        private static Cell? Rich(SharedText text, int column, CellStyle style) => Clean(text.Kept).Length > 0
            ? Text(column, text.Kept, style)
            : Text(column, text.All, style) is { } cell ? cell with { Struck = true } : null;

        private static string Clean(string lines)
        {
            var text = lines.Contains('\n', StringComparison.Ordinal) ? DocumentRows.Joined(lines.Split('\n')) : lines;
            var clean = new StringBuilder(text.Length);
            foreach (var c in text)
            {
                if (!TextDecoder.DoesNotPrint(c) && c != '\0')
                    clean.Append(c is '\n' or '\r' or '\t' ? ' ' : c);
            }
            return clean.ToString().Trim();
        }

        /// <summary>A merged cell stands for all its rows; in its further columns it only covers.</summary>
        private static void Fill(SortedDictionary<int, (bool Hidden, SortedDictionary<int, Cell> Cells)> rows, CellRange merge)
        {
            if (!rows.TryGetValue(merge.Top, out var top) || !top.Cells.TryGetValue(merge.Left, out var cell))
                return;
            for (var row = merge.Top; row <= Math.Min(merge.Bottom, merge.Top + 2000); row++)
            {
                if (!rows.TryGetValue(row, out var line))
                    continue;
                for (var column = merge.Left; column <= Math.Min(merge.Right, MostColumns); column++)
                    line.Cells.TryAdd(column, cell with { Column = column, CoveredAcross = column > merge.Left });
            }
        }

        private static IEnumerable<Row> Rows(SortedDictionary<int, (bool Hidden, SortedDictionary<int, Cell> Cells)> rows)
        {
            var next = 1;
            foreach (var (number, (hidden, cells)) in rows)
            {
                // Rows that the file leaves out are blank lines; beyond a screenful they say nothing.
                for (; next < number && number - next < 200; next++)
                    yield return new Row(next, "", []);
                next = number + 1;
                var row = new Row(number, "", [.. cells.Values]) { Hidden = hidden };
                yield return row with { Text = string.Join(" | ", row.Content.Select(cell => cell.Text)) };
            }
        }
    }

    /// <summary>Rows and columns of a reference such as <c>B2:D9</c>; rows from 1, columns from 0.</summary>
    private sealed record CellRange(int Top, int Left, int Bottom, int Right)
    {
        public static CellRange? Of(string reference)
        {
            var ends = reference.Split(':');
            if (ends.Length != 2 || Column(ends[0]) is not { } left || Column(ends[1]) is not { } right || RowOf(ends[0]) is not { } top || RowOf(ends[1]) is not { } bottom)
                return null;
            return bottom >= top && right >= left ? new CellRange(top, left, bottom, right) : null;
        }

        public static int? Column(string reference)
        {
            var column = 0;
            var letters = 0;
            for (; letters < reference.Length && letters < 4 && char.IsAsciiLetter(reference[letters]); letters++)
                column = (column * 26) + (char.ToUpperInvariant(reference[letters]) - 'A' + 1);
            return letters is > 0 and < 4 ? column - 1 : null;
        }

        private static int? RowOf(string reference) =>
            int.TryParse(reference.AsSpan().TrimStart("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"), NumberStyles.None, CultureInfo.InvariantCulture, out var row) ? row : null;
    }
}
