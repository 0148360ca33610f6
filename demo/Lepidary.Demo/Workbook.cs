using System.Globalization;
using System.IO.Compression;
using System.Security;
using System.Text;

namespace Lepidary.Demo;

/// <summary>
/// Just enough of a spreadsheet file (ISO/IEC 29500) for a supplier's list. The parts are stored, not compressed, and carry a
/// fixed time: compressors differ between machines, and the file must come out the same byte for byte.
/// </summary>
internal sealed class Workbook
{
    private const string Main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    private const string Relations = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    private const string Types = "application/vnd.openxmlformats-officedocument.spreadsheetml";
    private const int DateStyle = 2;
    private const int BoldStyle = 1;
    private const int MoneyStyle = 3;

    private readonly List<Sheet> _sheets = [];
    private readonly List<string> _strings = [];
    private readonly Dictionary<string, int> _stringAt = [];

    /// <summary>A formula and the value that the sender's program last saw.</summary>
    internal sealed record Formula(string Text, decimal Value);

    public Sheet Add(string name)
    {
        Sheet sheet = new(this, name);
        _sheets.Add(sheet);
        return sheet;
    }

    public byte[] ToBytes(DateOnly written)
    {
        // The sheets first: writing them collects the shared strings.
        string[] sheets = [.. _sheets.Select(sheet => sheet.ToXml())];
        using MemoryStream bytes = new();
        using (ZipArchive zip = new(bytes, ZipArchiveMode.Create, leaveOpen: true))
        {
            DateTimeOffset time = new(written.ToDateTime(new TimeOnly(11, 30)), TimeSpan.Zero);
            Part("[Content_Types].xml", $"""
                <Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="{Types}.sheet.main+xml"/>{Each(i => $"<Override PartName=\"/xl/worksheets/sheet{i}.xml\" ContentType=\"{Types}.worksheet+xml\"/>")}<Override PartName="/xl/styles.xml" ContentType="{Types}.styles+xml"/><Override PartName="/xl/sharedStrings.xml" ContentType="{Types}.sharedStrings+xml"/></Types>
                """);
            Part("_rels/.rels", $"""
                <Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="{Relations}/officeDocument" Target="xl/workbook.xml"/></Relationships>
                """);
            Part("xl/workbook.xml", $"""
                <workbook xmlns="{Main}" xmlns:r="{Relations}"><sheets>{Each(i => $"<sheet name=\"{SecurityElement.Escape(_sheets[i - 1].Name)}\" sheetId=\"{i}\" r:id=\"rId{i}\"/>")}</sheets></workbook>
                """);
            Part("xl/_rels/workbook.xml.rels", $"""
                <Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">{Each(i => $"<Relationship Id=\"rId{i}\" Type=\"{Relations}/worksheet\" Target=\"worksheets/sheet{i}.xml\"/>")}<Relationship Id="rId{_sheets.Count + 1}" Type="{Relations}/styles" Target="styles.xml"/><Relationship Id="rId{_sheets.Count + 2}" Type="{Relations}/sharedStrings" Target="sharedStrings.xml"/></Relationships>
                """);
            Part("xl/styles.xml", $"""
                <styleSheet xmlns="{Main}"><fonts count="2"><font><sz val="11"/><name val="Calibri"/></font><font><b/><sz val="11"/><name val="Calibri"/></font></fonts><fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills><borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders><cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs><cellXfs count="4"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/><xf numFmtId="0" fontId="1" fillId="0" borderId="0" xfId="0" applyFont="1"/><xf numFmtId="14" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/><xf numFmtId="2" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/></cellXfs></styleSheet>
                """);
            for (int i = 0; i < sheets.Length; i++)
            {
                Part($"xl/worksheets/sheet{i + 1}.xml", sheets[i]);
            }

            Part("xl/sharedStrings.xml", $"""
                <sst xmlns="{Main}" uniqueCount="{_strings.Count}">{string.Concat(_strings.Select(s => $"<si><t xml:space=\"preserve\">{SecurityElement.Escape(s)}</t></si>"))}</sst>
                """);

            void Part(string name, string xml)
            {
                ZipArchiveEntry entry = zip.CreateEntry(name, CompressionLevel.NoCompression);
                entry.LastWriteTime = time;
                using Stream stream = entry.Open();
                stream.Write(Encoding.UTF8.GetBytes("""<?xml version="1.0" encoding="UTF-8" standalone="yes"?>""" + "\n" + xml));
            }
        }

        return bytes.ToArray();

        string Each(Func<int, string> part) => string.Concat(Enumerable.Range(1, _sheets.Count).Select(part));
    }

    private int Shared(string text)
    {
        if (!_stringAt.TryGetValue(text, out int at))
        {
            _stringAt[text] = at = _strings.Count;
            _strings.Add(text);
        }

        return at;
    }

    /// <summary>A sheet, filled from the top.</summary>
    internal sealed class Sheet(Workbook book, string name)
    {
        private readonly List<object?[]> _rows = [];
        private readonly HashSet<int> _bold = [];
        private readonly List<string> _merged = [];
        private readonly HashSet<int> _hidden = [];
        private int[] _widths = [];

        public string Name => name;

        /// <summary>Number of the row that <see cref="Row"/> writes next, from 1.</summary>
        public int Next => _rows.Count + 1;

        /// <summary>Writes a row of texts, numbers, dates and formulas; returns its number.</summary>
        public int Row(params object?[] cells)
        {
            _rows.Add(cells);
            return _rows.Count;
        }

        public void Bold(int row) => _bold.Add(row);

        public void Merge(string range) => _merged.Add(range);

        public void Hide(int column) => _hidden.Add(column);

        public void Widths(params int[] widths) => _widths = widths;

        public string ToXml()
        {
            StringBuilder xml = new();
            xml.Append(CultureInfo.InvariantCulture, $"<worksheet xmlns=\"{Main}\"><cols>");
            for (int i = 0; i < _widths.Length; i++)
            {
                string hidden = _hidden.Contains(i + 1) ? " hidden=\"1\"" : "";
                xml.Append(CultureInfo.InvariantCulture, $"<col min=\"{i + 1}\" max=\"{i + 1}\" width=\"{_widths[i]}\" customWidth=\"1\"{hidden}/>");
            }

            xml.Append("</cols><sheetData>");
            for (int row = 1; row <= _rows.Count; row++)
            {
                xml.Append(CultureInfo.InvariantCulture, $"<row r=\"{row}\">");
                for (int column = 0; column < _rows[row - 1].Length; column++)
                {
                    string at = string.Create(CultureInfo.InvariantCulture, $"{(char)('A' + column)}{row}");
                    xml.Append(Cell(at, _rows[row - 1][column], _bold.Contains(row)));
                }

                xml.Append("</row>");
            }

            xml.Append("</sheetData>");
            if (_merged.Count > 0)
            {
                xml.Append(CultureInfo.InvariantCulture, $"<mergeCells count=\"{_merged.Count}\">");
                xml.AppendJoin("", _merged.Select(range => $"<mergeCell ref=\"{range}\"/>")).Append("</mergeCells>");
            }

            return xml.Append("</worksheet>").ToString();
        }

        private string Cell(string at, object? value, bool bold)
        {
            string style = bold ? $" s=\"{BoldStyle}\"" : "";
            return value switch
            {
                null or "" => "",
                string text => $"<c r=\"{at}\" t=\"s\"{style}><v>{book.Shared(text)}</v></c>",
                int number => string.Create(CultureInfo.InvariantCulture, $"<c r=\"{at}\"{style}><v>{number}</v></c>"),
                decimal money => string.Create(CultureInfo.InvariantCulture, $"<c r=\"{at}\" s=\"{MoneyStyle}\"><v>{money}</v></c>"),
                DateOnly date => string.Create(
                    CultureInfo.InvariantCulture, $"<c r=\"{at}\" s=\"{DateStyle}\"><v>{date.DayNumber - new DateOnly(1899, 12, 30).DayNumber}</v></c>"),
                Formula formula => string.Create(
                    CultureInfo.InvariantCulture,
                    $"<c r=\"{at}\" s=\"{MoneyStyle}\"><f>{SecurityElement.Escape(formula.Text)}</f><v>{formula.Value}</v></c>"),
                _ => throw new ArgumentException($"A cell cannot hold a {value.GetType()}.", nameof(value)),
            };
        }
    }
}
