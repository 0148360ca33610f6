using System.Globalization;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;

namespace Lepidary.Lists.Tests.Formats;

/// <summary>Writes small workbooks for tests, with what suppliers' workbooks have in them.</summary>
internal sealed class WorkbookBuilder
{
    private readonly List<(string Name, bool Hidden, SheetBuilder Sheet)> sheets = [];
    private readonly List<(string Code, bool Struck)> styles = [("General", false)];

    public SheetBuilder Sheet(string name, bool hidden = false)
    {
        var sheet = new SheetBuilder(this);
        sheets.Add((name, hidden, sheet));
        return sheet;
    }

    private uint Style(string code, bool struck)
    {
        if (!styles.Contains((code, struck)))
            styles.Add((code, struck));
        return (uint)styles.IndexOf((code, struck));
    }

    public byte[] Bytes()
    {
        using var stream = new MemoryStream();
        using (var document = SpreadsheetDocument.Create(stream, SpreadsheetDocumentType.Workbook))
        {
            var workbook = document.AddWorkbookPart();
            workbook.Workbook = new Workbook(new Sheets());
            workbook.AddNewPart<WorkbookStylesPart>().Stylesheet = new Stylesheet(
                new NumberingFormats([.. styles.Select((style, i) => new NumberingFormat { NumberFormatId = (uint)(200 + i), FormatCode = style.Code })]),
                new Fonts(new Font(), new Font(new Strike())),
                new Fills(new Fill()),
                new Borders(new Border()),
                new CellFormats([.. styles.Select((style, i) => new CellFormat { NumberFormatId = style.Code == "General" ? 0 : (uint)(200 + i), FontId = style.Struck ? 1u : 0u })]));
            uint id = 1;
            foreach (var (name, hidden, sheet) in sheets)
            {
                var part = workbook.AddNewPart<WorksheetPart>();
                part.Worksheet = sheet.Worksheet();
                workbook.Workbook.Sheets!.Append(new Sheet { Name = name, SheetId = id++, Id = workbook.GetIdOfPart(part), State = hidden ? SheetStateValues.Hidden : SheetStateValues.Visible });
            }
        }
        return stream.ToArray();
    }

    internal sealed class SheetBuilder(WorkbookBuilder workbook)
    {
        private readonly SortedDictionary<uint, Row> rows = [];
        private readonly List<uint> hiddenColumns = [];
        private readonly List<string> merges = [];

        /// <summary>Adds a row below the last: text, decimal, int, DateOnly, null, or a ready cell.</summary>
        public SheetBuilder Row(params object?[] values)
        {
            var index = rows.Count == 0 ? 1 : rows.Keys.Max() + 1;
            var row = new Row { RowIndex = index };
            for (var i = 0; i < values.Length; i++)
            {
                if (values[i] is null)
                    continue;
                var cell = values[i] as Cell ?? Of(values[i]!);
                cell.CellReference = $"{(char)('A' + i)}{index}";
                row.Append(cell);
            }
            rows[index] = row;
            return this;
        }

        public SheetBuilder Hide()
        {
            rows.Values.Last().Hidden = true;
            return this;
        }

        public SheetBuilder HideColumn(uint column)
        {
            hiddenColumns.Add(column);
            return this;
        }

        public SheetBuilder Merge(string range)
        {
            merges.Add(range);
            return this;
        }

        public Cell Money(decimal value, string code) => Styled(value, code, false);

        public Cell Struck(object value) => Styled(value, "General", true);

        public static Cell Formula(string formula, string shown) => new() { CellFormula = new CellFormula(formula), CellValue = new CellValue(shown) };

        public static Cell Rich(params (string Text, bool Struck)[] runs) => new()
        {
            DataType = CellValues.InlineString,
            InlineString = new InlineString([.. runs.Select(run => new Run(run.Struck ? new RunProperties(new Strike()) : new RunProperties(), new Text(run.Text) { Space = SpaceProcessingModeValues.Preserve }))]),
        };

        private Cell Styled(object value, string code, bool struck)
        {
            var cell = Of(value);
            cell.StyleIndex = workbook.Style(code, struck);
            return cell;
        }

        private Cell Of(object value) => value switch
        {
            string text => new Cell { DataType = CellValues.InlineString, InlineString = new InlineString(new Text(text)) },
            DateOnly day => new Cell { CellValue = new CellValue(day.DayNumber - new DateOnly(1899, 12, 30).DayNumber), StyleIndex = workbook.Style("dd/mm/yyyy", false) },
            _ => new Cell { CellValue = new CellValue(Convert.ToString(value, CultureInfo.InvariantCulture)!) },
        };

        public Worksheet Worksheet()
        {
            var worksheet = new Worksheet();
            if (hiddenColumns.Count > 0)
                worksheet.Append(new Columns([.. hiddenColumns.Select(column => new Column { Min = column, Max = column, Hidden = true, Width = 10 })]));
            worksheet.Append(new SheetData([.. rows.Values]));
            if (merges.Count > 0)
                worksheet.Append(new MergeCells([.. merges.Select(range => new MergeCell { Reference = range })]));
            return worksheet;
        }
    }
}
