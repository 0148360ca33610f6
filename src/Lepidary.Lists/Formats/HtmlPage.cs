using System.Text;
using System.Text.RegularExpressions;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;

namespace Lepidary.Lists.Formats;

/// <summary>A web page, saved or pasted: its text in reading order and its tables. Nothing is fetched and no script runs.</summary>
internal static partial class HtmlPage
{
    /// <summary>Deeper nesting is no page that a person made.</summary>
    private const int Deepest = 400;

    public static Source Read(string html, string format)
    {
        var document = new HtmlParser(new HtmlParserOptions { IsScripting = false }).ParseDocument(html);
        var rows = new DocumentRows();
        var walk = new Walk(rows);
        if (document.Title is { Length: > 0 } title)
            rows.Line(title);
        if (document.Body is { } body)
            walk.Block(body, 0, struck: false);
        walk.Flush();
        return new Source(format, [QuotedMail.Mark(new Sheet(null, false, rows.Rows))]);
    }

    /// <summary>The encoding that a page states, or null.</summary>
    public static Encoding? StatedEncoding(ReadOnlySpan<byte> bytes)
    {
        var head = Encoding.Latin1.GetString(bytes[..Math.Min(bytes.Length, 2048)]);
        var stated = Charset().Match(head);
        if (!stated.Success)
            return null;
        try
        {
            return CodePagesEncodingProvider.Instance.GetEncoding(stated.Groups[1].Value) ?? Encoding.GetEncoding(stated.Groups[1].Value);
        }
        catch (ArgumentException)
        {
            return null;
        }
    }

    [GeneratedRegex(@"<meta[^>]+charset\s*=\s*[""']?([A-Za-z0-9_-]+)", RegexOptions.IgnoreCase)]
    private static partial Regex Charset();

    private sealed class Walk(DocumentRows rows)
    {
        private readonly StringBuilder line = new();
        private bool struckLine;

        public void Flush()
        {
            rows.Line(line.ToString(), struckLine);
            line.Clear();
            struckLine = false;
        }

        public void Block(INode node, int depth, bool struck)
        {
            foreach (var child in node.ChildNodes)
            {
                if (child is IText text)
                {
                    if (struck && text.Data.Trim().Length > 0 && line.ToString().Trim().Length == 0)
                        struckLine = true;
                    else if (!struck && text.Data.Trim().Length > 0 && struckLine)
                        (struckLine, _) = (false, line.Clear());
                    if (!struck || struckLine)
                        line.Append(text.Data);
                    continue;
                }
                if (child is not IElement element || IsUnseen(element) || depth > Deepest)
                    continue;
                if (element is IHtmlTableElement table && table.QuerySelector("table") is null)
                {
                    Flush();
                    rows.Table(Grid(table));
                    continue;
                }
                if (element is IHtmlBreakRowElement)
                {
                    Flush();
                    continue;
                }
                var block = IsBlock(element.LocalName);
                if (block)
                    Flush();
                Block(element, depth + 1, struck || IsStruck(element));
                if (block)
                    Flush();
            }
        }

        private static IEnumerable<IReadOnlyList<Cell>> Grid(IHtmlTableElement table)
        {
            var grid = new SpanningTable();
            foreach (var row in table.Rows.Where(row => !IsUnseen(row)))
            {
                grid.BeginRow();
                foreach (var cell in row.Cells)
                {
                    if (IsUnseen(cell))
                    {
                        grid.Add("");
                        continue;
                    }
                    var (kept, all) = (Text(cell, withStruck: false), Text(cell, withStruck: true));
                    grid.Add(kept.Length > 0 ? kept : all, struck: (kept.Length == 0 && all.Length > 0) || IsStruck(row) || IsStruck(cell), cell.ColumnSpan, cell.RowSpan);
                }
            }
            return grid.Rows;
        }

        private static string Text(IElement cell, bool withStruck)
        {
            var text = new StringBuilder();
            Collect(cell, 0);
            return DocumentRows.Clean(text.ToString());

            void Collect(INode node, int depth)
            {
                foreach (var child in node.ChildNodes)
                {
                    if (child is IText words)
                        text.Append(words.Data);
                    else if (child is IHtmlBreakRowElement)
                        text.Append(' ');
                    else if (child is IHtmlImageElement { AlternativeText: { Length: > 0 and < 40 } words2 })
                        text.Append(' ').Append(words2).Append(' ');
                    else if (child is IElement element && depth < Deepest && !IsUnseen(element) && (withStruck || !IsStruck(element)))
                    {
                        if (IsBlock(element.LocalName))
                            text.Append(' ');
                        Collect(element, depth + 1);
                        if (IsBlock(element.LocalName))
                            text.Append(' ');
                    }
                }
            }
        }

        private static bool IsUnseen(IElement element) =>
            element.LocalName is "script" or "style" or "noscript" or "template" or "head" or "title" or "svg" or "iframe" or "object" or "select" or "textarea"
            || element.HasAttribute("hidden") || Hidden().IsMatch(element.GetAttribute("style") ?? "");

        private static bool IsStruck(IElement element) =>
            element.LocalName is "s" or "del" or "strike" || (element.GetAttribute("style") ?? "").Contains("line-through", StringComparison.OrdinalIgnoreCase);

        private static bool IsBlock(string name) => name is "p" or "div" or "h1" or "h2" or "h3" or "h4" or "h5" or "h6" or "li" or "ul" or "ol" or "tr" or "td" or "th" or "table" or "tbody" or "section" or "article"
            or "header" or "footer" or "main" or "nav" or "aside" or "dl" or "dt" or "dd" or "blockquote" or "pre" or "form" or "fieldset" or "figure" or "hr" or "address" or "caption" or "center" or "details" or "summary";
    }

    [GeneratedRegex(@"display\s*:\s*none|visibility\s*:\s*hidden", RegexOptions.IgnoreCase)]
    private static partial Regex Hidden();
}
