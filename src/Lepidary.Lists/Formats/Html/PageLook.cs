using System.Text.RegularExpressions;
using AngleSharp.Dom;

namespace Lepidary.Lists.Formats.Html;

/// <summary>What of a page is seen, and what is struck through: by tag, by style, and by the simple rules of the page's own style sheet.</summary>
internal sealed partial class PageLook
{
    private const int MostRules = 500;

    private readonly List<Selector> hidden = [];
    private readonly List<Selector> struck = [];

    public PageLook(IDocument document)
    {
        foreach (var sheet in document.QuerySelectorAll("style").Take(50))
            Learn(WithoutMedia(sheet.TextContent));
    }

    /// <summary>The last part of a rule's selector: <c>td.gone</c>. What stands before it is not looked at.</summary>
    private sealed record Selector(string Tag, string[] Classes, string Id)
    {
        public bool Fits(IElement element) =>
            (Tag.Length == 0 || element.LocalName.Equals(Tag, StringComparison.OrdinalIgnoreCase))
            && (Id.Length == 0 || element.Id == Id)
            && Array.TrueForAll(Classes, one => element.ClassList.Contains(one));
    }

    public bool IsUnseen(IElement element) =>
        element.LocalName is "script" or "style" or "noscript" or "template" or "head" or "title" or "svg" or "iframe" or "object" or "select" or "textarea" or "math" or "canvas" or "video" or "audio"
        || element.HasAttribute("hidden") || Hides().IsMatch(element.GetAttribute("style") ?? "") || hidden.Exists(one => one.Fits(element));

    public bool IsStruck(IElement element) =>
        element.LocalName is "s" or "del" or "strike" || (element.GetAttribute("style") ?? "").Contains("line-through", StringComparison.OrdinalIgnoreCase) || struck.Exists(one => one.Fits(element));

    public static bool IsBlock(string name) => name is "p" or "div" or "h1" or "h2" or "h3" or "h4" or "h5" or "h6" or "li" or "ul" or "ol" or "tr" or "td" or "th" or "table" or "tbody" or "thead" or "tfoot" or "section" or "article"
        or "header" or "footer" or "main" or "nav" or "aside" or "dl" or "dt" or "dd" or "blockquote" or "pre" or "form" or "fieldset" or "figure" or "figcaption" or "hr" or "address" or "caption" or "center" or "details" or "summary"
        or "legend" or "button" or "hgroup" or "menu" or "dir" or "listing" or "xmp";

    private void Learn(string rules)
    {
        foreach (var rule in Rule().Matches(rules).Take(MostRules))
        {
            var body = rule.Groups["body"].Value;
            var list = Hides().IsMatch(body) ? hidden : body.Contains("line-through", StringComparison.OrdinalIgnoreCase) ? struck : null;
            if (list is null)
                continue;
            foreach (var selector in rule.Groups["for"].Value.Split(',').Select(text => Simple().Match(text.Trim())).Where(match => match.Success))
            {
                var classes = selector.Groups["class"].Captures.Select(one => one.Value).ToArray();
                var (tag, id) = (selector.Groups["tag"].Value, selector.Groups["id"].Value);
                // A rule for all elements of a kind, such as "a" or "p", hides nothing that was meant to be read.
                if (classes.Length > 0 || id.Length > 0 || list == struck)
                    list.Add(new Selector(tag, classes, id));
            }
        }
    }

    /// <summary>What a page looks like on paper or on a narrow screen is not what is read.</summary>
    private static string WithoutMedia(string css)
    {
        for (var at = css.IndexOf('@', StringComparison.Ordinal); at >= 0; at = css.IndexOf('@', at))
        {
            var (depth, end) = (0, at);
            for (; end < css.Length; end++)
            {
                if (css[end] == '{')
                    depth++;
                else if (css[end] == '}' && --depth <= 0)
                    break;
                else if (css[end] == ';' && depth == 0)
                    break;
            }
            css = css.Remove(at, Math.Min(css.Length, end + 1) - at);
        }
        return css;
    }

    [GeneratedRegex(@"display\s*:\s*none|visibility\s*:\s*(?:hidden|collapse)|font-size\s*:\s*0(?:px|pt|em)?\s*(?:;|$)", RegexOptions.IgnoreCase)]
    private static partial Regex Hides();

    [GeneratedRegex(@"(?<for>[^{}]{1,300})\{(?<body>[^{}]{0,1000})\}")]
    private static partial Regex Rule();

    [GeneratedRegex(@"(?:^|[\s>])(?<tag>[A-Za-z][A-Za-z0-9]*)?(?:\.(?<class>[\w-]+)|\#(?<id>[\w-]+))*$")]
    private static partial Regex Simple();
}
