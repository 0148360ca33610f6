using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Xml;
using System.Xml.Linq;

namespace Lepidary.Lists.Formats;

/// <summary>A workbook of the OpenDocument kind (.ods), or the tables of a text of that kind (.odt).</summary>
internal static class OpenDocumentSheets
{
    private static readonly XNamespace Table = "urn:oasis:names:tc:opendocument:xmlns:table:1.0";
    private static readonly XNamespace Office = "urn:oasis:names:tc:opendocument:xmlns:office:1.0";
    private static readonly XNamespace Text = "urn:oasis:names:tc:opendocument:xmlns:text:1.0";
    private static readonly XNamespace Style = "urn:oasis:names:tc:opendocument:xmlns:style:1.0";

    private const int MostRepeats = 200;

    public static Checked<Source> Read(ZipArchive zip, string fileName)
    {
        if (zip.GetEntry("content.xml") is not { } entry)
            return new Problem(fileName, "an OpenDocument file without content", "a workbook or text with a list in it");
        using var stream = entry.Open();
        using var reader = XmlReader.Create(stream, new XmlReaderSettings { DtdProcessing = DtdProcessing.Prohibit, XmlResolver = null });
        var content = XDocument.Load(reader);
        var struck = StruckStyles(content);
        var hidden = HiddenTables(content);
        var body = content.Root?.Element(Office + "body");
        if (body?.Element(Office + "spreadsheet") is { } workbook)
        {
            var sheets = workbook.Elements(Table + "table")
                .Select(table => new Sheet((string?)table.Attribute(Table + "name"), hidden.Contains((string?)table.Attribute(Table + "style-name") ?? ""), Rows(table, struck)))
                .ToList();
            return sheets.Exists(sheet => sheet.Rows.Any(row => row.Content.Any()))
                ? new Source("ODS", sheets)
                : new Problem(fileName, "a workbook with nothing in its cells", "a workbook with a list in it");
        }
        if (body?.Element(Office + "text") is { } text)
        {
            var rows = new DocumentRows();
            foreach (var element in text.Descendants().Where(element => element.Name == Text + "p" || element.Name == Text + "h" || element.Name == Table + "table"))
            {
                if (element.Name == Table + "table")
                    rows.Table(Rows(element, struck).Select(row => row.Cells));
                else if (!element.Ancestors(Table + "table").Any())
                    rows.Line(Words(element));
            }
            if (rows.Rows.Count > 0)
                return new Source("ODT", [new Sheet(null, false, rows.Rows)]);
        }
        return new Problem(fileName, "an OpenDocument file without a table or text", "a workbook or text with a list in it");
    }

    private static HashSet<string> StruckStyles(XDocument content) =>
        [.. content.Descendants(Style + "style")
            .Where(style => style.Elements(Style + "text-properties").Any(text => ((string?)text.Attribute(Style + "text-line-through-style") ?? "none") != "none"))
            .Select(style => (string?)style.Attribute(Style + "name") ?? "")];

    private static HashSet<string> HiddenTables(XDocument content) =>
        [.. content.Descendants(Style + "style")
            .Where(style => style.Elements(Style + "table-properties").Any(table => (string?)table.Attribute(Table + "display") == "false"))
            .Select(style => (string?)style.Attribute(Style + "name") ?? "")];

    private static List<Row> Rows(XElement table, HashSet<string> struck)
    {
        var hiddenColumns = new HashSet<int>();
        var column = 0;
        foreach (var definition in table.Descendants(Table + "table-column"))
        {
            var repeat = Repeat(definition, "number-columns-repeated");
            if ((string?)definition.Attribute(Table + "visibility") is "collapse" or "filter")
                hiddenColumns.UnionWith(Enumerable.Range(column, Math.Min(repeat, MostRepeats)));
            column += repeat;
        }
        var rows = new List<Row>();
        var number = 0;
        var down = new Dictionary<int, (Cell Cell, int Left)>();
        foreach (var element in table.Descendants(Table + "table-row"))
        {
            var repeat = Repeat(element, "number-rows-repeated");
            var cells = Cells(element, struck, hiddenColumns, down);
            var isHidden = (string?)element.Attribute(Table + "visibility") is "collapse" or "filter";
            for (var i = 0; i < Math.Min(repeat, cells.Count == 0 ? MostRepeats : FormatRecogniser.MostLines); i++)
            {
                if (rows.Count >= FormatRecogniser.MostLines)
                    throw new InvalidDataException("too many rows");
                var row = new Row(number + 1 + i, "", cells) { Hidden = isHidden };
                rows.Add(row with { Text = string.Join(" | ", row.Content.Select(cell => cell.Text)) });
            }
            number += repeat;
        }
        while (rows.Count > 0 && rows[^1].Cells.Count == 0)
            rows.RemoveAt(rows.Count - 1);
        return rows;
    }

    private static int Repeat(XElement element, string attribute) =>
        int.TryParse((string?)element.Attribute(Table + attribute), NumberStyles.None, CultureInfo.InvariantCulture, out var repeat) ? Math.Clamp(repeat, 1, 1_100_000) : 1;

    private static List<Cell> Cells(XElement row, HashSet<string> struck, HashSet<int> hiddenColumns, Dictionary<int, (Cell Cell, int Left)> down)
    {
        var cells = new List<Cell>();
        var column = 0;
        foreach (var element in row.Elements().Where(element => element.Name == Table + "table-cell" || element.Name == Table + "covered-table-cell"))
        {
            var repeat = Repeat(element, "number-columns-repeated");
            if (element.Name == Table + "covered-table-cell")
            {
                if (down.TryGetValue(column, out var above) && above.Left > 0)
                {
                    cells.Add(above.Cell);
                    down[column] = (above.Cell, above.Left - 1);
                }
                column += repeat;
                continue;
            }
            if (Read(element, column, struck) is { } cell)
            {
                var across = Repeat(element, "number-columns-spanned");
                var rowsDown = Repeat(element, "number-rows-spanned");
                for (var i = 0; i < Math.Min(repeat, MostRepeats) && column + i < 512; i++)
                    cells.Add(cell with { Column = column + i, Hidden = hiddenColumns.Contains(column + i) });
                if (rowsDown > 1)
                    down[column] = (cell, Math.Min(rowsDown, 2000) - 1);
                for (var i = 1; i < Math.Min(across, MostRepeats); i++)
                    cells.Add(cell with { Column = column + i, CoveredAcross = true });
            }
            column += repeat;
            if (column >= 512)
                break;
        }
        return [.. cells.DistinctBy(cell => cell.Column).OrderBy(cell => cell.Column)];
    }

    private static Cell? Read(XElement element, int column, HashSet<string> struck)
    {
        var text = DocumentRows.Clean(string.Join(" ", element.Elements(Text + "p").Select(Words)));
        var isStruck = struck.Contains((string?)element.Attribute(Table + "style-name") ?? "");
        var type = (string?)element.Attribute(Office + "value-type");
        if (type == "date" && DateOnly.TryParse(((string?)element.Attribute(Office + "date-value") ?? "").Split('T')[0], CultureInfo.InvariantCulture, out var day))
            return new Cell(column, day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)) { Date = day, Struck = isStruck };
        if (type is "float" or "currency" && double.TryParse((string?)element.Attribute(Office + "value"), NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && Math.Abs(number) < 1e12)
        {
            // What is shown has the currency's sign in it; the value is exact.
            var currency = (string?)element.Attribute(Office + "currency") ?? text.Where(Lepidary.Lists.Words.Currencies.IsSign).Select(sign => Lepidary.Lists.Words.Currencies.Find(sign.ToString())).FirstOrDefault();
            return new Cell(column, text.Length > 0 ? text : number.ToString(CultureInfo.InvariantCulture)) { Number = (decimal)number, Currency = currency, Struck = isStruck };
        }
        return text.Length == 0 ? null : new Cell(column, text) { Struck = isStruck };
    }

    private static string Words(XElement paragraph)
    {
        var text = new StringBuilder();
        foreach (var node in paragraph.DescendantNodes())
        {
            if (node is XText words)
                text.Append(words.Value);
            else if (node is XElement element && (element.Name == Text + "s" || element.Name == Text + "tab" || element.Name == Text + "line-break"))
                text.Append(element.Name == Text + "tab" ? " | " : " ");
        }
        return text.ToString();
    }
}
