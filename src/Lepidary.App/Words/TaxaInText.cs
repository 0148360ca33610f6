using System.Text.RegularExpressions;

namespace Lepidary.App.Words;

/// <summary>A sentence cut where it names taxa, so that a page can set the names in italics.</summary>
internal static class TaxaInText
{
    /// <param name="sentence">The sentence.</param>
    /// <param name="taxa">Names that may stand in it.</param>
    /// <returns>Its parts in order; together they are the sentence.</returns>
    public static IReadOnlyList<(string Text, bool IsTaxon)> Of(string sentence, IEnumerable<string> taxa)
    {
        // Of two names of which one begins the other, the longer is meant.
        List<string> names = [.. taxa.Where(name => name.Length > 0).Distinct(StringComparer.Ordinal).OrderByDescending(name => name.Length)];
        return names.Count == 0
            ? [(sentence, false)]
            : [.. Regex.Split(sentence, $"({string.Join('|', names.Select(Regex.Escape))})").Select((part, at) => (part, at % 2 == 1)).Where(part => part.part.Length > 0)];
    }
}
