namespace Lepidary.Taxa.Names;

/// <summary>The steps of a search that go by common names.</summary>
internal sealed class CommonNameSearch(NameIndex index, Surroundings around)
{
    private const int MostAsked = 20;

    /// <summary>The text is a common name, but for words that lists put around it.</summary>
    public NameMatch? Whole(List<Token> tokens)
    {
        var taxa = index.Common.Find(PrintedName.Words(tokens));
        if (taxa.Count == 0)
            taxa = index.Common.Find(WithoutNoise(tokens));
        return taxa.Count == 0 ? null : Decide(tokens, taxa);
    }

    /// <summary>"Blue Morpho / Blauer Morphofalter": one part is enough where no part says otherwise.</summary>
    public NameMatch? InParts(List<Token> tokens, List<Reading> readings)
    {
        IReadOnlyList<Taxon> taxa = [];
        foreach (var part in Surroundings.Parts(tokens))
        {
            var named = index.Common.Find(PrintedName.Words(part));
            if (named.Count == 0)
                continue;
            var both = taxa.Count == 0 ? named : [.. taxa.Intersect(named)];
            if (both.Count == 0)
                return Answer.Doubt("Two common names on one line belong to different species.", [.. taxa, .. named]);
            taxa = both;
        }

        if (taxa.Count == 0)
            return null;
        var other = readings.Find(r => !r.Abbreviated && r.Epithet is { } epithet && Latin.IsEpithet(epithet.Folded) && !index.Common.IsWord(epithet.Folded));
        return other is null
            ? Decide(tokens, taxa)
            : Answer.Doubt($"The common name is that of {Answer.List(taxa)}; \"{other.Genus.Text} {other.Epithet?.Text}\" is not in the table.", taxa);
    }

    /// <summary>A slip in a common name.</summary>
    public NameMatch? Misspelt(List<Token> tokens)
    {
        var words = WithoutNoise(tokens);
        if (words.Count is 0 or > 5 || words.TrueForAll(Latin.IsOrdinary))
            return null;
        var near = index.Common.Nearest(words);
        if (near.Count == 0)
            return null;
        var taxa = near.Select(n => n.Taxon).ToList();
        return near is [{ Sure: true }] && words.Count > 1
            ? new NameMatch { Taxon = taxa[0], By = MatchedBy.CommonName }
            : Answer.Doubt($"\"{Text(tokens)}\" is spelled nearly like a common name of {Answer.List(taxa)}.", taxa);
    }

    /// <summary>"Owl": part of common names is enough to ask with, never enough to decide.</summary>
    public NameMatch? Words(List<Token> tokens)
    {
        var words = WithoutNoise(tokens);
        if (words.Count is 0 or > 3 || words.Exists(w => w.Length < 3 || Latin.IsOrdinary(w)))
            return null;
        var taxa = Answer.Likeliest(index.Common.WithWords(words, MostAsked));
        return taxa.Count == 0 ? null : Answer.Doubt($"\"{Text(tokens)}\" is part of common names of {Answer.List(taxa)}.", taxa);
    }

    private NameMatch Decide(List<Token> tokens, IReadOnlyList<Taxon> taxa)
    {
        if (taxa.Count == 1)
            return new NameMatch { Taxon = taxa[0], By = MatchedBy.CommonName };
        var left = taxa.Intersect(around.Beside()).ToList();
        if (left.Count != 1)
            left = [.. taxa.Where(around.UnderHeading)];
        if (left.Count == 1)
            return new NameMatch { Taxon = left[0], By = MatchedBy.CommonName };
        var likeliest = Answer.Likeliest(taxa);
        return Answer.Doubt($"\"{Text(tokens)}\" is a common name of {Answer.List(likeliest)}.", likeliest);
    }

    private static List<string> WithoutNoise(List<Token> tokens) => PrintedName.Words(tokens.Where(t => !TradeWords.Noise.Contains(t.Folded)));

    private static string Text(List<Token> tokens) => string.Join(' ', tokens.Select(t => t.Text));
}
