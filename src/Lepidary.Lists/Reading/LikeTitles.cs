using System.Collections.Frozen;
using Lepidary.Lists.Words;

namespace Lepidary.Lists.Reading;

/// <summary>Words of titles that a supplier cut short or misspelled, and the known word that each is nearest to.</summary>
internal static class LikeTitles
{
    private static readonly FrozenSet<Meaning> OfTitles = new[]
    {
        Meaning.Species, Meaning.Common, Meaning.Genus, Meaning.Price, Meaning.Each, Meaning.Available, Meaning.Minimum, Meaning.PackOf, Meaning.Order,
        Meaning.Quantity, Meaning.Total, Meaning.Note, Meaning.Origin, Meaning.Family, Meaning.Status, Meaning.Aside, Meaning.Code,
    }.ToFrozenSet();

    private const int ShortestMisspelled = 5, ShortestCut = 3, ShortestDotted = 2;

    /// <summary>Days and months cut short are no other titles.</summary>
    private static readonly FrozenSet<string> Days = "mon tue tues wed thu thur thurs fri sat sun die mit don fre sam son lun mar mer mie jeu jue ven vie dim dom maa din woe vri zat zon gio sab jan feb apr may jun jul aug sep sept oct nov dec".Split(' ').ToFrozenSet();

    private static readonly Lazy<List<(string Word, string Skeleton, Meaning Meaning)>> Known = new(() =>
    [
        .. Vocabulary.Entries().Where(entry => OfTitles.Contains(entry.Meaning))
            .Select(entry => (Word: Folded.Of(entry.Phrase), entry.Meaning))
            .Where(entry => entry.Word.Length >= 4 && entry.Word.All(char.IsLetter))
            .Distinct()
            .Select(entry => (entry.Word, Skeleton(entry.Word), entry.Meaning)),
    ]);

    /// <summary>A known word of titles that the given one is short for or a misspelling of, if all that it can be mean the same; or null.</summary>
    public static string? Find(string text)
    {
        var word = Folded.Of(text).TrimEnd('.');
        if (word.Length < (text.EndsWith('.') ? ShortestDotted : ShortestCut) || !word.All(char.IsLetter) || Days.Contains(word))
            return null;
        return One(Known.Value.Where(known => known.Word.Length > word.Length && known.Word.StartsWith(word, StringComparison.Ordinal)))
            ?? (Skeleton(word) == word || word.Length <= 4 ? One(Known.Value.Where(known => known.Word.Length > word.Length && known.Skeleton.StartsWith(Skeleton(word), StringComparison.Ordinal) && Skeleton(word).Length >= ShortestCut)) : null)
            ?? (word.Length >= ShortestMisspelled ? One(Known.Value.Where(known => Near(word, known.Word))) : null);
    }

    private static string? One(IEnumerable<(string Word, string Skeleton, Meaning Meaning)> found)
    {
        var all = found.ToList();
        return all.Count > 0 && all.Select(one => one.Meaning).Distinct().Count() == 1 ? all[0].Word : null;
    }

    /// <summary>The first letter and the consonants behind it, none twice in a row: "voorraad" is "vrd".</summary>
    private static string Skeleton(string word)
    {
        var left = new System.Text.StringBuilder();
        foreach (var c in word)
        {
            if (left.Length == 0 || (!"aeiouy".Contains(c, StringComparison.Ordinal) && left[^1] != c))
                left.Append(c);
        }
        return left.ToString();
    }

    /// <summary>One letter too many, too few, another or two changed about; two such in long words.</summary>
    private static bool Near(string a, string b)
    {
        var most = Math.Min(a.Length, b.Length) >= 8 ? 2 : 1;
        if (Math.Abs(a.Length - b.Length) > most || a[0] != b[0])
            return false;
        var rows = new int[a.Length + 1, b.Length + 1];
        for (var i = 0; i <= a.Length; i++)
        {
            for (var j = 0; j <= b.Length; j++)
            {
                if (i == 0 || j == 0)
                {
                    rows[i, j] = i + j;
                    continue;
                }
                rows[i, j] = Math.Min(Math.Min(rows[i - 1, j], rows[i, j - 1]) + 1, rows[i - 1, j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1));
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                    rows[i, j] = Math.Min(rows[i, j], rows[i - 2, j - 2] + 1);
            }
        }
        return rows[a.Length, b.Length] <= most;
    }
}
