using Lepidary.Taxa.Table;

namespace Lepidary.Taxa.Names;

/// <summary>Common names of all languages of the table, found whatever their case, accents, hyphens, plural and order of words.</summary>
internal sealed class CommonNames
{
    private const int ShortestMisspelt = 7;
    private const int ShortestSure = 11;
    private const int FewestInGroup = 5;

    private readonly Dictionary<string, List<Taxon>> inOrder = new(4096, StringComparer.Ordinal);
    private readonly Dictionary<string, List<Taxon>> anyOrder = new(4096, StringComparer.Ordinal);
    private readonly Dictionary<string, List<Taxon>> byWord = new(4096, StringComparer.Ordinal);
    private readonly Dictionary<string, List<Taxon>> byLastWord = new(1024, StringComparer.Ordinal);
    private readonly List<(Word Name, List<Taxon> Taxa)> spelled;

    public CommonNames(IReadOnlyList<NameRow> rows)
    {
        foreach (var row in rows)
        {
            foreach (var name in row.Taxon.AllCommonNames)
                Add(name, row.Taxon);
        }

        spelled = [.. inOrder.Where(n => n.Key.Length >= ShortestMisspelt - 1).Select(n => (new Word(n.Key, "", Folding.Letters(n.Key)), n.Value))];
    }

    /// <summary>The taxa with this common name, the oldest row of the table first; empty where none.</summary>
    /// <param name="words">Folded words in the order printed.</param>
    public IReadOnlyList<Taxon> Find(IReadOnlyList<string> words)
    {
        if (words.Count is 0 or > 8)
            return [];
        var singular = Singular(words);

        // "Blue Morpho Butterfly" is the Blue Morpho, but where one species is the Indian Leaf and another the Indian Leaf Butterfly it is either.
        var found = new List<Taxon>(inOrder.GetValueOrDefault(string.Concat(singular)) ?? []);
        if (singular.Count > 1 && Generic(singular[^1]))
        {
            singular.RemoveAt(singular.Count - 1);
            found.AddRange((inOrder.GetValueOrDefault(string.Concat(singular)) ?? []).Where(t => !found.Contains(t)));
        }

        if (found.Count > 0)
            return found;
        return singular.Count > 1 && anyOrder.TryGetValue(AnyOrder(singular), out var taxa) ? taxa : [];
    }

    /// <summary>True for a word of a common name of the table.</summary>
    public bool IsWord(string folded) => byWord.ContainsKey(Key(folded));

    /// <summary>True for a group rather than a species, in the plural: <c>Swallowtails</c>, <c>Longwings</c>.</summary>
    public bool IsGroup(IReadOnlyList<string> words) =>
        words.Count == 1 && words[0].EndsWith('s') && byLastWord.TryGetValue(Key(words[0]), out var taxa) && taxa.Count >= FewestInGroup;

    /// <summary>Taxa that have every one of these words in their common names; empty where more than <paramref name="most"/> have.</summary>
    public IReadOnlyList<Taxon> WithWords(IReadOnlyList<string> words, int most)
    {
        List<Taxon>? found = null;
        foreach (var word in words)
        {
            if (!byWord.TryGetValue(Key(word), out var taxa))
                return [];
            found = found is null ? taxa : [.. found.Where(taxa.Contains)];
        }

        return found is null || found.Count > most ? [] : found;
    }

    /// <summary>Taxa whose common name differs by one letter; <c>Sure</c> where the name is long and no other is near. Empty where none.</summary>
    public IReadOnlyList<(Taxon Taxon, bool Sure)> Nearest(IReadOnlyList<string> words)
    {
        var printed = string.Concat(Singular(words));
        if (printed.Length < ShortestMisspelt)
            return [];
        var word = new Word(printed, "", Folding.Letters(printed));
        var (best, second) = (Spelling.Far, Spelling.Far);
        List<Taxon> nearest = [];
        foreach (var (name, taxa) in spelled)
        {
            var distance = Spelling.Distance(word, name, 2);
            if (distance < best)
                (best, second, nearest) = (distance, best, taxa);
            else if (distance < second)
                second = distance;
        }

        if (best > 1)
            return [];
        var sure = nearest.Count == 1 && second - best >= 2 && printed.Length >= ShortestSure;
        return [.. nearest.Select(t => (t, sure))];
    }

    private static bool Generic(string word) => word is "buterfli" or "buterflie" or "moth" or "papilon" or "mariposa" or "vlinder" or "falter" or "schmeterling" or "farfala";

    private static List<string> Singular(IReadOnlyList<string> words)
    {
        var singular = new List<string>(words.Count);
        foreach (var word in words)
            singular.Add(Key(word));
        return singular;
    }

    /// <summary>A word without what lists vary: plural, umlauts written out, doubled letters.</summary>
    private static string Key(string folded)
    {
        var stem = folded.AsSpan();
        if (stem.Length > 4 && stem.EndsWith("ies", StringComparison.Ordinal))
            stem = stem[..^2];
        else if (stem.Length > 3 && stem.EndsWith("s", StringComparison.Ordinal))
            stem = stem[..^1];
        Span<char> key = stackalloc char[stem.Length];
        var count = 0;
        for (var i = 0; i < stem.Length; i++)
        {
            var c = stem[i] == 'y' ? 'i' : stem[i];
            if (count > 0 && (key[count - 1] == c || (c == 'e' && key[count - 1] is ('a' or 'o' or 'u'))))
                continue;
            key[count++] = c;
        }

        return new string(key[..count]);
    }

    private static string AnyOrder(List<string> singular)
    {
        singular.Sort(StringComparer.Ordinal);
        return string.Join(' ', singular);
    }

    private void Add(string name, Taxon taxon)
    {
        var words = PrintedName.Words(name);
        if (words.Count == 0)
            return; // A name in figures, "88", cannot be told from a number of pupae.
        var singular = Singular(words);
        foreach (var word in singular)
            Add(byWord, word, taxon);
        Add(byLastWord, singular[^1], taxon);
        Add(inOrder, string.Concat(singular), taxon);
        if (singular.Count > 1 && Generic(singular[^1]))
            Add(inOrder, string.Concat(singular[..^1]), taxon);
        if (singular.Count > 1)
            Add(anyOrder, AnyOrder(singular), taxon);
    }

    // Rows come one after another, so a taxon already there is the last one there.
    private static void Add(Dictionary<string, List<Taxon>> names, string key, Taxon taxon)
    {
        if (!names.TryGetValue(key, out var taxa))
            names.Add(key, taxa = []);
        if (taxa.Count == 0 || !ReferenceEquals(taxa[^1], taxon))
            taxa.Add(taxon);
    }
}
