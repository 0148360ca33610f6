using Lepidary.Taxa.Table;

namespace Lepidary.Taxa.Names;

/// <summary>Ranks the names of the table for a search box.</summary>
internal sealed class Suggestions
{
    // Below this many letters a misspelling would fit too much.
    private const int ShortestMisspelt = 5;

    private readonly List<Entry> entries;

    public Suggestions(IReadOnlyList<NameRow> rows)
    {
        entries = new List<Entry>(rows.Count * 5);
        foreach (var row in rows)
        {
            var taxon = row.Taxon;
            Add(taxon, taxon.Name, 0);
            foreach (var name in taxon.Synonyms)
                Add(taxon, name, 2);
            foreach (var name in taxon.CommonNames)
                Add(taxon, name, 1);
            foreach (var name in taxon.OtherCommonNames)
                Add(taxon, name[(name.IndexOf(':', StringComparison.Ordinal) + 1)..], 1);
        }
    }

    /// <summary>The best names for what was typed, each taxon once.</summary>
    public IReadOnlyList<NameSuggestion> For(string typed, int most)
    {
        var words = PrintedName.Words(typed);
        if (words.Count == 0)
            return [];
        var found = Ranked(words, Begins);
        if (found.Count == 0)
        {
            var letters = words.ConvertAll(Word.Of);
            found = Ranked(letters, Resembles);
        }

        return [.. found.Take(most)];
    }

    private List<NameSuggestion> Ranked<T>(List<T> words, Func<Entry, List<T>, int?> fit) =>
    [
        .. entries
            .Select(e => (Entry: e, Fit: fit(e, words)))
            .Where(e => e.Fit is not null)
            .OrderBy(e => e.Fit + e.Entry.Standing)
            .ThenByDescending(e => e.Entry.Taxon.TradedOften)
            .ThenByDescending(e => e.Entry.Taxon.Life.AdultLifeDays.Confidence != Confidence.Borrowed)
            .ThenBy(e => e.Entry.Name, StringComparer.Ordinal)
            .DistinctBy(e => e.Entry.Taxon.Name)
            .Select(e => new NameSuggestion(e.Entry.Taxon, e.Entry.Name)),
    ];

    // Every word typed begins a word of the name, in this order. Whole names come first, then beginnings, then words further in.
    private static int? Begins(Entry entry, List<string> typed)
    {
        var (at, whole, first) = (0, 0, -1);
        foreach (var word in typed)
        {
            while (at < entry.Words.Count && !entry.Words[at].Text.StartsWith(word, StringComparison.Ordinal))
                at++;
            if (at == entry.Words.Count)
                return null;
            first = first < 0 ? at : first;
            whole += entry.Words[at].Text.Length == word.Length ? 1 : 0;
            at++;
        }

        return whole == entry.Words.Count ? 0 : first == 0 ? 4 : whole == typed.Count ? 5 : 8;
    }

    // Every word typed is a slip or two from a word of the name.
    private static int? Resembles(Entry entry, List<Word> typed)
    {
        var sum = 0.0;
        foreach (var word in typed)
        {
            if (word.Text.Length < ShortestMisspelt)
            {
                if (!entry.Words.Exists(w => w.Text.StartsWith(word.Text, StringComparison.Ordinal)))
                    return null;
                continue;
            }

            var most = word.Text.Length >= 8 ? 2 : 1;
            var nearest = entry.Words.Min(w => Spelling.Distance(word, w, most));
            if (nearest > most)
                return null;
            sum += nearest;
        }

        return (int)(sum * 10);
    }

    private void Add(Taxon taxon, string name, int standing)
    {
        var words = PrintedName.Words(name).ConvertAll(w => new Word(w, "", Folding.Letters(w)));
        if (words.Count > 0)
            entries.Add(new Entry(taxon, name, words, standing));
    }

    private sealed record Entry(Taxon Taxon, string Name, List<Word> Words, int Standing);
}
