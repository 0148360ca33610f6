using Lepidary.Lists.Words;
using Lepidary.Taxa;

namespace Lepidary.Lists.Reading;

/// <summary>Common names that stand within sentences, also in the plural: "twenty paper kites", "den Distelfalter".</summary>
internal static class CommonNamesInText
{
    private const int MostWords = 4;

    private const int ShortestWord = 6;

    private static readonly Lazy<Dictionary<string, Taxon?>> Names = new(Load);

    /// <summary>The species whose common name begins at a token, and the last token of it; null for none, and for a name that several species bear.</summary>
    public static (int End, Taxon Taxon)? At(List<Token> tokens, int i)
    {
        var end = i;
        while (end + 1 < tokens.Count && end - i + 1 < MostWords && tokens[end + 1].Kind == TokenKind.Word && tokens[end + 1].Start - tokens[end].End == 1)
            end++;
        for (; end >= i; end--)
        {
            // A word of lists can be part of a name ("Common Morpho"), and is none alone.
            var words = tokens.GetRange(i, end - i + 1);
            if (words.TrueForAll(word => word.Meanings.Count > 0) || (words.Count == 1 && words[0].Text.Length < ShortestWord))
                continue;
            if (Find(string.Join(' ', words.Select(word => Folded.Of(word.Text)))) is { } taxon)
                return (end, taxon);
        }
        return null;
    }

    private static Taxon? Find(string name) => Names.Value.GetValueOrDefault(name)
        ?? Plurals(name).Select(one => Names.Value.GetValueOrDefault(one)).FirstOrDefault(taxon => taxon is not null);

    private static IEnumerable<string> Plurals(string name)
    {
        foreach (var ending in (string[])["s", "es", "n", "en", "e"])
        {
            if (name.EndsWith(ending, StringComparison.Ordinal) && name.Length - ending.Length >= ShortestWord)
                yield return name[..^ending.Length];
        }
        if (name.EndsWith("ies", StringComparison.Ordinal))
            yield return name[..^3] + "y";
    }

    private static Dictionary<string, Taxon?> Load()
    {
        var names = new Dictionary<string, Taxon?>(StringComparer.Ordinal);
        foreach (var taxon in TaxonTable.Shipped.All)
        {
            foreach (var name in taxon.AllCommonNames.Select(name => Folded.Of(name.Replace('-', ' '))).Concat(taxon.AllCommonNames.Select(Folded.Of)).Distinct())
                names[name] = names.TryGetValue(name, out var other) && other != taxon ? null : taxon;
        }
        return names;
    }
}
