using System.Globalization;
using System.Text;
using ExcelDataReader;
using ExcelDataReader.Exceptions;

namespace Lepidary.Lists.Formats;

/// <summary>An old workbook (.xls) as sheets of cells.</summary>
internal static class OldWorkbook
{
    public static Checked<Source> Read(ReadOnlyMemory<byte> content, string fileName)
    {
        Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);
        try
        {
            using var stream = new MemoryStream(content.ToArray(), writable: false);
            using var reader = ExcelReaderFactory.CreateBinaryReader(stream, new ExcelReaderConfiguration { FallbackEncoding = Encoding.GetEncoding(1252) });
            var sheets = new List<Sheet>();
            do
            {
                var rows = new List<Row>();
                while (reader.Read())
                {
                    if (rows.Count >= FormatRecogniser.MostLines)
                        return new Problem(fileName, $"a sheet of more than {FormatRecogniser.MostLines} rows", "a list: send only the sheet with the offers");
                    var cells = Enumerable.Range(0, Math.Min(reader.FieldCount, 512)).Select(column => Read(reader, column)).OfType<Cell>().ToList();
                    var row = new Row(rows.Count + 1, "", cells) { Hidden = reader.RowHeight == 0 && cells.Count > 0 };
                    rows.Add(row with { Text = string.Join(" | ", row.Content.Select(cell => cell.Text)) });
                }
                sheets.Add(new Sheet(reader.Name, reader.VisibleState is "hidden" or "veryhidden", rows));
            }
            while (reader.NextResult());
            return sheets.Exists(sheet => sheet.Rows.Any(row => row.Content.Any()))
                ? new Source("XLS", sheets)
                : new Problem(fileName, "a workbook with nothing in its cells", "a workbook with a list in it");
        }
        catch (Exception exception) when (exception is ExcelReaderException or IOException or ArgumentException or InvalidOperationException or NotSupportedException or FormatException
            or IndexOutOfRangeException or NullReferenceException or OverflowException or InvalidCastException or KeyNotFoundException or OutOfMemoryException)
        {
            // The library meets damaged files with whatever exception the damage leads to; to the keeper they are all one thing.
            return new Problem(fileName, "a damaged or cut-off workbook", "a whole workbook: fetch the file again, or open it and save it anew");
        }
    }

    private static Cell? Read(IExcelDataReader reader, int column)
    {
        switch (reader.GetValue(column))
        {
            case null:
                return null;
            case DateTime moment:
                var day = DateOnly.FromDateTime(moment);
                return new Cell(column, day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)) { Date = day };
            case double number when Math.Abs(number) < 1e12:
                var currency = Currency(reader.GetNumberFormatString(column) ?? "");
                return new Cell(column, Math.Round((decimal)number, 6).ToString("0.######", CultureInfo.InvariantCulture) + (currency is null ? "" : " " + currency)) { Number = (decimal)number, Currency = currency };
            case bool yes:
                return new Cell(column, yes ? "yes" : "no");
            case { } other:
                var text = DocumentRows.Clean(Convert.ToString(other, CultureInfo.InvariantCulture) ?? "");
                return text.Length == 0 ? null : new Cell(column, text);
        }
    }

    private static string? Currency(string format) => CellStyles.CurrencyOf(format.Split(';')[0]);
}
