namespace Lepidary.Lists.Formats.Html;

/// <summary>Looks at the tags of a page before it is parsed: pages made to cost time are refused by their shape.</summary>
internal static class PageShape
{
    /// <summary>Deeper nesting is no page that a person made, and a parser's time grows with the depth at every tag.</summary>
    private const int Deepest = 400;

    /// <summary>More tags are no supplier's list.</summary>
    private const int MostTags = 400_000;

    /// <summary>What is wrong with the page, or null.</summary>
    public static string? WhyNot(string html)
    {
        int tags = 0, deep = 0, open = 0;
        for (var at = html.IndexOf('<', StringComparison.Ordinal); at >= 0 && at + 1 < html.Length; at = html.IndexOf('<', at + 1))
        {
            var closes = html[at + 1] == '/';
            var start = closes ? at + 2 : at + 1;
            if (start >= html.Length || !char.IsAsciiLetter(html[start]))
                continue;
            if (++tags > MostTags)
                return $"a page of more than {MostTags} tags";
            var end = start;
            while (end < html.Length && end - start < 12 && char.IsAsciiLetterOrDigit(html[end]))
                end++;
            if (NeedNoEnd(html.AsSpan(start, end - start)))
                continue;
            open = closes ? Math.Max(0, open - 1) : open + 1;
            deep = Math.Max(deep, open);
            if (deep > Deepest)
                return $"a page with tags nested more than {Deepest} deep";
        }
        return null;
    }

    /// <summary>Tags that hold nothing, or that people leave open.</summary>
    private static bool NeedNoEnd(ReadOnlySpan<char> name)
    {
        foreach (var one in (ReadOnlySpan<string>)["p", "li", "td", "tr", "th", "br", "hr", "img", "input", "meta", "link", "col", "option", "dt", "dd", "tbody", "thead", "tfoot", "colgroup", "area", "base", "wbr", "source", "param", "embed", "html", "body", "head", "path"])
        {
            if (name.Equals(one, StringComparison.OrdinalIgnoreCase))
                return true;
        }
        return false;
    }
}
