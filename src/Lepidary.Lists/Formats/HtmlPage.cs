using System.Text;
using System.Text.RegularExpressions;
using AngleSharp.Html.Parser;
using Lepidary.Lists.Formats.Html;

namespace Lepidary.Lists.Formats;

/// <summary>
/// A web page, saved or pasted: its text in reading order and its tables, also those laid out with other elements than tables. Nothing is
/// fetched and no script runs.
/// </summary>
internal static partial class HtmlPage
{
    public static Checked<Source> Read(string html, string format, string fileName)
    {
        if (PageShape.WhyNot(html) is { } found)
            return new Problem(fileName, found, "a page as a browser saves it: open it in a browser, and save it anew or copy its text");
        var document = new HtmlParser(new HtmlParserOptions { IsScripting = false }).ParseDocument(html);
        var rows = new DocumentRows();
        if (document.Title is { Length: > 0 } title)
            rows.Line(title);
        if (document.Body is { } body)
            new PageWalk(rows, new PageLook(document)).Read(body);
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
}
