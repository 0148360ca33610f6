using Lepidary.Taxa.Names;

namespace Lepidary.Taxa;

/// <summary>A taxon that a search box offers.</summary>
/// <param name="Taxon">The taxon.</param>
/// <param name="Name">The name of it that fits what was typed: its own, another scientific one, or a common one.</param>
public sealed record NameSuggestion(Taxon Taxon, string Name);

/// <summary>
/// Finds the taxon that a printed name means. It would rather ask than guess: a name that leads to two taxa, or that is nearly as close to a second
/// one as to the first, comes back as a doubt with candidates. How it decides: docs/taxa.md.
/// </summary>
public sealed class NameFinder
{
    private readonly TaxonTable table;
    private readonly NameIndex index;
    private readonly IReadOnlyDictionary<string, string> settled;

    /// <summary>A finder over a table.</summary>
    /// <param name="table">The taxa.</param>
    /// <param name="settled">What keepers settled before: from <see cref="Normalise"/> of the printed text to the binomial meant.</param>
    public NameFinder(TaxonTable table, IReadOnlyDictionary<string, string>? settled = null)
    {
        ArgumentNullException.ThrowIfNull(table);
        this.table = table;
        index = table.Index;
        this.settled = settled ?? new Dictionary<string, string>();
    }

    /// <summary>
    /// The key under which a settled doubt is remembered: the same for every supplier and way of printing (case, accents, author and year, signs,
    /// "pupae", "new").
    /// </summary>
    public static string Normalise(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var words = new List<string>();
        var tokens = PrintedName.Read(text);
        for (var i = 0; i < tokens.Count; i++)
        {
            if (tokens[i].Kind == TokenKind.Hybrid)
                words.Add("x");
            else if (tokens[i].Kind == TokenKind.Word && !TradeWords.Noise.Contains(tokens[i].Folded) && !IsAuthor(tokens, i))
                words.Add(tokens[i].Folded);
        }

        return string.Join(' ', words);
    }

    /// <summary>What a printed name means.</summary>
    /// <param name="text">The name as printed; author, year, form and a common name may stand with it.</param>
    /// <param name="context">What the lines around say.</param>
    public NameMatch Find(string text, NameContext context)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(context);
        if (text.Length > PrintedName.LongestName)
            return new NameMatch();
        var tokens = PrintedName.Read(text);
        if (!tokens.Any(t => t.Kind == TokenKind.Word && t.Folded.Length > 1))
            return new NameMatch();
        return new NameSearch(table, index, context, settled.GetValueOrDefault(Normalise(text))).Find(tokens);
    }

    /// <summary>Taxa for a search box, the likeliest first, each once: by the beginning of words, then by spelling.</summary>
    /// <param name="typed">What was typed so far: part of a scientific or common name, in any case, with or without accents.</param>
    /// <param name="most">At most so many, at least 1.</param>
    public IReadOnlyList<NameSuggestion> Suggest(string typed, int most = 10)
    {
        ArgumentNullException.ThrowIfNull(typed);
        ArgumentOutOfRangeException.ThrowIfLessThan(most, 1);
        return index.Suggestions.For(typed, most);
    }

    /// <summary>
    /// True where a text is a genus, tribe, subfamily or family of the table (old ones too), or a group in the plural (<c>Swallowtails</c>), as a
    /// heading of a list may be.
    /// </summary>
    public bool IsHeading(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var words = PrintedName.Words(text).Where(w => w is not ("family" or "familie" or "famille" or "familia" or "famiglia" or "genus")).ToList();
        return words.Count == 1 && (index.Common.IsGroup(words) || index.Genus(words[0]) is { IsAccepted: true } || table.IsRank(words[0]));
    }

    // A bracket that holds a year holds an author; so does a capitalised word right before a year.
    private static bool IsAuthor(List<Token> tokens, int i)
    {
        if (i < 2)
            return false;
        for (var j = i + 1; j < tokens.Count && j <= i + 4 && tokens[j].Bracketed == tokens[i].Bracketed; j++)
        {
            if (tokens[j].Kind == TokenKind.Year)
                return tokens[i].Bracketed || tokens[i].Capital;
        }

        return false;
    }
}
