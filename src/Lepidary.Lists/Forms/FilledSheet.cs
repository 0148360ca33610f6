using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using System.Xml;

namespace Lepidary.Lists.Forms;

/// <summary>Replaces cells in the XML of one sheet; everything between them stays character for character.</summary>
internal static partial class FilledSheet
{
    private static readonly UTF8Encoding Strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    public static Checked<byte[]> Fill(byte[] sheet, string fileName, IReadOnlyList<FormEntry> entries)
    {
        var mark = sheet.AsSpan().StartsWith((byte[])[0xEF, 0xBB, 0xBF]) ? 3 : 0;
        var text = Strict.GetString(sheet, mark, sheet.Length - mark);
        var wanted = entries.ToLookup(entry => entry.Line);
        var scan = new Scan(text);
        scan.Run(wanted.Contains);

        var changes = new SortedList<(int At, int Column), (int To, string With)>();
        foreach (var entry in entries)
        {
            if (!scan.Rows.TryGetValue(entry.Line, out var row))
                return new Problem(OrderForm.Where(fileName, entry), "no such row", "a row of the sheet");
            var reference = Letters(entry.Column) + entry.Line.ToString(CultureInfo.InvariantCulture);
            var value = $"<{row.Prefix}v>{entry.Number.ToString(CultureInfo.InvariantCulture)}</{row.Prefix}v>";
            if (row.Cells.Find(cell => cell.Column == entry.Column) is { } cell)
            {
                if (cell.HasFormula)
                    return new Problem(OrderForm.Where(fileName, entry), $"a formula in cell {reference}", "a cell to be filled in");
                // A number needs no type of its own; style and all else that the cell says of itself stays.
                var start = TypeAttribute().Replace(text[cell.From..cell.EndOfStart], "").TrimEnd('>').TrimEnd('/').TrimEnd();
                changes.Add((cell.From, entry.Column), (cell.To, $"{start}>{value}</{row.Prefix}c>"));
            }
            else
            {
                var style = row.Style ?? scan.ColumnStyle(entry.Column);
                var made = $"<{row.Prefix}c r=\"{reference}\"{(style is null ? "" : $" s=\"{style}\"")}>{value}</{row.Prefix}c>";
                if (row.Cells.Find(cell => cell.Column > entry.Column) is { } next)
                    changes.Add((next.From, entry.Column), (next.From, made));
                else if (row.EmptyElement)
                    return new Problem(OrderForm.Where(fileName, entry), "an empty row", "a row with an offer");
                else
                    changes.Add((row.End, entry.Column), (row.End, made));
            }
        }

        if (scan is { HasFormulas: true, EndOfData: { } end, Reckons: false })
            changes.Add((end, 0), (end, $"<{scan.Prefix}sheetCalcPr fullCalcOnLoad=\"1\"/>"));
        var filled = new StringBuilder(text.Length + (entries.Count * 60));
        var at = 0;
        foreach (var (place, (to, with)) in changes)
        {
            filled.Append(text, at, place.At - at).Append(with);
            at = to;
        }
        filled.Append(text, at, text.Length - at);
        return (byte[])[.. sheet[..mark], .. Strict.GetBytes(filled.ToString())];
    }

    internal static string Letters(int column)
    {
        var letters = "";
        for (; column > 0; column = (column - 1) / 26)
            letters = (char)('A' + ((column - 1) % 26)) + letters;
        return letters;
    }

    [GeneratedRegex("""\s+t\s*=\s*("[^"]*"|'[^']*')""")]
    private static partial Regex TypeAttribute();

    private sealed record CellPlace(int Column, int From, int EndOfStart, int To, bool HasFormula);

    private sealed class RowPlace
    {
        public required string Prefix { get; init; }

        public required bool EmptyElement { get; init; }

        public string? Style { get; init; }

        /// <summary>Where its end tag begins.</summary>
        public int End { get; set; }

        public List<CellPlace> Cells { get; } = [];
    }

    /// <summary>One pass over the sheet that notes where the rows wanted and their cells stand.</summary>
    private sealed class Scan(string text)
    {
        private readonly List<int> lineStarts = [0];
        private readonly List<(int From, int To, string Style)> columnStyles = [];

        public Dictionary<int, RowPlace> Rows { get; } = [];

        public bool HasFormulas { get; private set; }

        public int? EndOfData { get; private set; }

        public string Prefix { get; private set; } = "";

        /// <summary>True where the sheet already says how it reckons.</summary>
        public bool Reckons { get; private set; }

        public string? ColumnStyle(int column) => columnStyles.Find(style => column >= style.From && column <= style.To).Style;

        public void Run(Func<int, bool> wanted)
        {
            for (var i = 0; i < text.Length; i++)
            {
                if (text[i] == '\n' || (text[i] == '\r' && (i + 1 == text.Length || text[i + 1] != '\n')))
                    lineStarts.Add(i + 1);
            }
            using var xml = XmlReader.Create(new StringReader(text), new XmlReaderSettings { DtdProcessing = DtdProcessing.Prohibit, XmlResolver = null });
            var places = (IXmlLineInfo)xml;
            int Start(int before) => lineStarts[places.LineNumber - 1] + places.LinePosition - 1 - before;

            var (lastRow, lastColumn) = (0, 0);
            RowPlace? row = null;
            (int Column, int From, int EndOfStart, bool Formula)? open = null;
            while (xml.Read())
            {
                var name = xml.LocalName;
                if (xml.NodeType == XmlNodeType.Element)
                {
                    var from = Start(1);
                    switch (name)
                    {
                        case "col" when xml.GetAttribute("style") is { } style:
                            columnStyles.Add((Number(xml.GetAttribute("min")) ?? 0, Number(xml.GetAttribute("max")) ?? 0, style));
                            break;
                        case "row":
                            lastRow = Number(xml.GetAttribute("r")) ?? lastRow + 1;
                            lastColumn = 0;
                            row = wanted(lastRow)
                                ? new RowPlace { Prefix = PrefixOf(xml), EmptyElement = xml.IsEmptyElement, Style = xml.GetAttribute("customFormat") is "1" or "true" ? xml.GetAttribute("s") : null }
                                : null;
                            if (row is not null)
                                Rows.TryAdd(lastRow, row);
                            if (xml.IsEmptyElement)
                                row = null;
                            break;
                        case "c":
                            lastColumn = ColumnOf(xml.GetAttribute("r")) ?? lastColumn + 1;
                            var end = EndOfTag(from);
                            if (xml.IsEmptyElement)
                                row?.Cells.Add(new CellPlace(lastColumn, from, end, end, false));
                            else
                                open = (lastColumn, from, end, false);
                            break;
                        case "f":
                            HasFormulas = true;
                            if (open is { } cell)
                                open = cell with { Formula = true };
                            break;
                        case "sheetData" when xml.IsEmptyElement:
                            EndOfData = EndOfTag(from);
                            break;
                        case "sheetCalcPr":
                            Reckons = true;
                            break;
                        default:
                            break;
                    }
                }
                else if (xml.NodeType == XmlNodeType.EndElement)
                {
                    var from = Start(2);
                    switch (name)
                    {
                        case "c" when open is { } cell:
                            row?.Cells.Add(new CellPlace(cell.Column, cell.From, cell.EndOfStart, EndOfTag(from), cell.Formula));
                            open = null;
                            break;
                        case "row":
                            row?.End = from;
                            row = null;
                            break;
                        case "sheetData":
                            EndOfData = EndOfTag(from);
                            Prefix = PrefixOf(xml);
                            break;
                        default:
                            break;
                    }
                }
            }
        }

        /// <summary>Behind the tag that begins at a place; a bracket within quotes does not end it.</summary>
        private int EndOfTag(int from)
        {
            char? quote = null;
            for (var i = from; i < text.Length; i++)
            {
                if (quote is null && text[i] == '>')
                    return i + 1;
                if (quote is null && text[i] is '"' or '\'')
                    quote = text[i];
                else if (text[i] == quote)
                    quote = null;
            }
            return text.Length;
        }

        private static string PrefixOf(XmlReader xml) => xml.Prefix.Length == 0 ? "" : xml.Prefix + ":";

        private static int? Number(string? said) => int.TryParse(said, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;

        private static int? ColumnOf(string? reference)
        {
            var column = 0;
            foreach (var c in reference ?? "")
            {
                if (!char.IsAsciiLetter(c) || column > 100_000)
                    break;
                column = (column * 26) + (char.ToUpperInvariant(c) - 'A' + 1);
            }
            return column == 0 ? null : column;
        }
    }
}
