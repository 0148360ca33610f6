using System.Text.RegularExpressions;
using Lepidary.Taxa;

namespace Lepidary.App.Words;

/// <summary>Finds scientific names in sentences, so that pages set them in italics: species and genera of the table; higher ranks stand upright.</summary>
internal static partial class LatinWords
{
    private static readonly HashSet<string> Genera = [.. TaxonTable.Shipped.All.Select(taxon => taxon.Genus)];

    /// <summary>The sentence in parts that make it up again, each a name or not.</summary>
    public static IReadOnlyList<(string Text, bool IsLatin)> Parts(string sentence)
    {
        var parts = new List<(string, bool)>();
        var from = 0;
        foreach (Match match in Name().Matches(sentence))
        {
            var length = TaxonTable.Shipped.Find(match.Value) is not null ? match.Length : Genera.Contains(match.Groups["genus"].Value) ? match.Groups["genus"].Length : 0;
            if (length == 0)
            {
                continue;
            }

            if (match.Index > from)
            {
                parts.Add((sentence[from..match.Index], false));
            }

            parts.Add((sentence.Substring(match.Index, length), true));
            from = match.Index + length;
        }

        if (from < sentence.Length)
        {
            parts.Add((sentence[from..], false));
        }

        return parts;
    }

    [GeneratedRegex(@"\b(?<genus>[A-Z][a-z]{2,})(?: [a-z]{2,}(?:-[a-z]+)*)?\b")]
    private static partial Regex Name();
}
