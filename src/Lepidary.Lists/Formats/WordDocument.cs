using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using W = DocumentFormat.OpenXml.Wordprocessing;

namespace Lepidary.Lists.Formats;

/// <summary>A document (.docx): its paragraphs and tables in reading order.</summary>
internal static class WordDocument
{
    public static Checked<Source> Read(Stream stream, string fileName)
    {
        using var document = WordprocessingDocument.Open(stream, isEditable: false);
        if (document.MainDocumentPart?.Document?.Body is not { } body)
            return new Problem(fileName, "a document without text", "a document with a list in it");
        var rows = new DocumentRows();
        foreach (var element in Blocks(body))
        {
            if (element is W.Paragraph paragraph)
            {
                foreach (var (text, struck) in Parts(paragraph))
                    rows.Line(text, struck);
            }
            else if (element is W.Table table)
            {
                rows.Table(Grid(table));
            }
        }
        return rows.Rows.Count > 0
            ? new Source("DOCX", [new Sheet(null, false, rows.Rows)])
            : new Problem(fileName, "a document without text", "a document with a list in it");
    }

    /// <summary>Paragraphs and tables, also those within a field that the author made to be filled in.</summary>
    private static IEnumerable<OpenXmlElement> Blocks(OpenXmlElement parent) =>
        parent.Elements().SelectMany(element => element is W.SdtBlock { SdtContentBlock: { } content } ? Blocks(content) : [element]);

    private static IEnumerable<IReadOnlyList<Cell>> Grid(W.Table table)
    {
        var grid = new SpanningTable();
        var above = new Dictionary<int, (string Text, bool Struck)>();
        foreach (var row in table.Elements<W.TableRow>())
        {
            grid.BeginRow();
            var column = 0;
            foreach (var cell in row.Elements<W.TableCell>())
            {
                var properties = cell.TableCellProperties;
                var across = properties?.GridSpan?.Val?.Value ?? 1;
                var parts = cell.Descendants<W.Paragraph>().SelectMany(Parts).Where(part => part.Text.Length > 0).ToList();
                var kept = parts.Where(part => !part.Struck).ToList();
                var (text, struck) = kept.Count > 0 || parts.Count == 0
                    ? (DocumentRows.Joined(kept.Select(part => part.Text)), false)
                    : (DocumentRows.Joined(parts.Select(part => part.Text)), true);
                // A cell merged downwards repeats what stands above it.
                if (properties?.VerticalMerge is { } merge && merge.Val?.Value != W.MergedCellValues.Restart && above.TryGetValue(column, out var upper))
                    (text, struck) = upper;
                above[column] = (text, struck);
                grid.Add(DocumentRows.Clean(text), struck, across);
                column += Math.Clamp(across, 1, 200);
            }
        }
        return grid.Rows;
    }

    /// <summary>The lines of a paragraph; struck runs are left out when something else stands beside them.</summary>
    private static List<(string Text, bool Struck)> Parts(W.Paragraph paragraph)
    {
        var lines = new List<(string Kept, string All)> { ("", "") };
        foreach (var run in paragraph.Descendants<W.Run>())
        {
            if (run.RunProperties?.Vanish is not null)
                continue;
            var struck = run.RunProperties?.Strike is { } strike && (strike.Val?.Value ?? true);
            foreach (var piece in run.ChildElements)
            {
                if (piece is W.Break)
                {
                    lines.Add(("", ""));
                    continue;
                }
                var text = piece switch
                {
                    W.Text words => words.Text,
                    W.TabChar => "  |  ",
                    W.NoBreakHyphen => "-",
                    _ => "",
                };
                lines[^1] = (lines[^1].Kept + (struck ? "" : text), lines[^1].All + text);
            }
        }
        return lines.ConvertAll(line => line.Kept.Trim().Length > 0 || line.All.Trim().Length == 0 ? (line.Kept.Trim(), false) : (line.All.Trim(), true));
    }
}
