using System.Text.RegularExpressions;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace Lepidary.Architecture.Words;

/// <summary>
/// The law is the keeper's: a text shows a caution and names whom to ask. It never says that something is allowed, since no
/// program can know that.
/// </summary>
internal static partial class WordRules
{
    /// <summary>Texts shown to people that give or refuse leave.</summary>
    /// <param name="files">C# files (their string literals are looked at) and Razor files (all but their comments is).</param>
    public static IEnumerable<Finding> GivingLeave(IEnumerable<SourceFile> files) =>
        from file in files
        from text in Texts(file)
        where Leave().IsMatch(text.Text)
        select new Finding($"{file.Path}:{text.Line}", $"says “{Leave().Match(text.Text).Value}”; name the caution and whom to ask");

    private static IEnumerable<(int Line, string Text)> Texts(SourceFile file) =>
        System.IO.Path.GetExtension(file.Path) switch
        {
            ".cs" => Literals(file.Text),
            ".razor" => RazorComment().Replace(file.Text, Blank).Split('\n').Select((line, index) => (index + 1, line)),
            _ => [],
        };

    private static IEnumerable<(int Line, string Text)> Literals(string code)
    {
        var tree = CSharpSyntaxTree.ParseText(code);
        return from token in tree.GetRoot().DescendantTokens()
               where token.Parent is LiteralExpressionSyntax or InterpolatedStringTextSyntax && token.Value is string
               select (tree.GetLineSpan(token.Span).StartLinePosition.Line + 1, token.ValueText);
    }

    private static string Blank(Match comment) => new('\n', comment.Value.Count(letter => letter == '\n'));

    [GeneratedRegex(@"\b(is|are)\s+(now\s+|not\s+)?(allowed|legal|permitted)\b", RegexOptions.IgnoreCase)]
    private static partial Regex Leave();

    [GeneratedRegex(@"@\*.*?\*@|<!--.*?-->", RegexOptions.Singleline)]
    private static partial Regex RazorComment();
}
