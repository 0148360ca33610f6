using System.Text.RegularExpressions;
using Lepidary.Taxa;

namespace Lepidary.Lists.Reading;

/// <summary>The taxon that the texts of a row mean, and which text said so.</summary>
/// <param name="Match">As the finder gave it.</param>
/// <param name="Text">The text that named it, or null.</param>
internal sealed record NamedTaxon(NameMatch Match, string? Text)
{
    public static NamedTaxon None { get; } = new(new NameMatch(), null);

    /// <summary>Found by a scientific name, or settled before.</summary>
    public bool Scientific => Match.Taxon is not null && Match.By is not (MatchedBy.Nothing or MatchedBy.CommonName or MatchedBy.NewBinomial);

    /// <summary>Found, or nearly.</summary>
    public bool Any => Match.Taxon is not null || Match.Candidates.Count > 0;

    public bool Sure => Match.Taxon is not null && Match.Doubts.Count == 0;
}

/// <summary>What the epithets printed alone on a list say of one another.</summary>
/// <param name="Genera">Of those that one species only goes by.</param>
/// <param name="Full">Names that the list prints with their genus.</param>
internal sealed record BareNames(IReadOnlySet<string> Genera, IReadOnlySet<string> Full)
{
    public static BareNames None { get; } = new(new HashSet<string>(), new HashSet<string>());
}

/// <summary>Asks the finder about the texts of a row and keeps its answers: lists say the same name often.</summary>
internal sealed partial class NameReader(NameFinder finder)
{
    private readonly Dictionary<string, bool> scientific = new(StringComparer.Ordinal);

    /// <summary>True for a text with a scientific name in it, whole or with its genus cut short.</summary>
    public bool IsScientific(string text)
    {
        if (text.Length > 120 || !text.Any(char.IsLetter))
            return false;
        if (!scientific.TryGetValue(text, out var answer))
        {
            var match = finder.Find(text, NameContext.None);
            answer = (match.By is not (MatchedBy.Nothing or MatchedBy.CommonName) && match.Taxon is not null && (match.By != MatchedBy.NewBinomial || match.Doubts.Count == 0)) || Abbreviated().IsMatch(text);
            scientific[text] = answer;
        }
        return answer;
    }

    /// <summary>True for a name of a species that the table has; in a sentence nothing else is taken for one.</summary>
    public bool IsInTable(string text) => finder.Find(text, NameContext.None) is { Taxon.InTable: true, By: not (MatchedBy.CommonName or MatchedBy.NewBinomial) } || (Abbreviated().IsMatch(text) && Epithets.Find(text.Split(' ', '.')[^1]).Count > 0);

    /// <summary>True where two names mean one species of the table.</summary>
    public bool SameTaxon(string one, string other) => finder.Find(one, NameContext.None).Taxon is { } taxon && taxon == finder.Find(other, NameContext.None).Taxon;

    /// <summary>True for a name with a subspecies or form behind the species.</summary>
    public bool HasForm(string text) => finder.Find(text, NameContext.None).Form is not null;

    /// <summary>True for a text that is a common name.</summary>
    public bool IsCommon(string text) => text.Length < 60 && finder.Find(text, NameContext.None) is { By: MatchedBy.CommonName };

    /// <summary>True for a family, a genus or another group that stands over names.</summary>
    public bool IsHeading(string text) => finder.IsHeading(text);

    /// <summary>The best answer for the texts of a row, the likeliest text first.</summary>
    /// <param name="texts">Of one row.</param>
    /// <param name="context">What stands around.</param>
    /// <param name="bareNames">What the epithets printed alone say of one another.</param>
    public NamedTaxon Find(IReadOnlyList<string> texts, NameContext context, BareNames? bareNames = null)
    {
        var best = NamedTaxon.None;
        var bestScore = 0;
        for (var i = 0; i < Math.Min(texts.Count, 6); i++)
        {
            if (texts[i].Length > 200 || texts[i].Count(char.IsLetter) < 3 || (texts[i].AsSpan().IndexOfAny(' ', '/') > 0 && OnlyListWords(texts[i])))
                continue;
            var beside = context.CommonNameBeside ?? (texts.Count > 1 ? texts[i == 0 ? 1 : 0] : null);
            var match = finder.Find(Elision().Replace(texts[i], " "), context with { CommonNameBeside = beside });
            var score = Score(match);
            if (score > bestScore)
                (best, bestScore) = (new NamedTaxon(match, texts[i]), score);
        }
        // "helenor peleides": an epithet of one species alone, and its subspecies.
        if (bestScore <= 2 && texts.Count > 0 && EpithetAndForm().IsMatch(texts[0]) && Epithets.Find(texts[0].Split(' ')[0]) is [{ } only]
            && finder.Find($"{only.Genus} {texts[0]}", context) is { Taxon: { } same, Doubts.Count: 0, Form: not null } whole && same == only)
            return new NamedTaxon(whole, texts[0]);
        if ((bestScore <= 2 || best.Match.By == MatchedBy.Abbreviation) && texts.Count > 0 && texts[0].All(c => char.IsLetter(c) || c == '-') && BareEpithet(texts[0], context, bareNames ?? BareNames.None) is { } bare)
            return bare;
        return Contradicted(best, context.CommonNameBeside);
    }

    /// <summary>A lone epithet: sure when one species alone goes by it, or one alone in a genus named near.</summary>
    private static NamedTaxon? BareEpithet(string text, NameContext context, BareNames others)
    {
        var taxa = Epithets.Find(text);
        // Under a family; beside other epithets alone; and never what the list prints in full elsewhere.
        if (taxa.Count > 1 && context.Heading is { } heading && taxa.Where(taxon => IsOf(taxon, heading)).ToList() is { Count: > 0 } ofFamily)
            taxa = ofFamily;
        if (taxa.Count > 1 && taxa.Where(taxon => !others.Full.Contains(taxon.Name) && !taxon.Synonyms.Any(others.Full.Contains)).ToList() is { Count: > 0 } left)
            taxa = left;
        if (taxa.Count > 1 && taxa.Where(taxon => others.Genera.Contains(taxon.Genus)).ToList() is { Count: > 0 } near)
            taxa = near;
        else if (taxa.Count > 1)
            taxa = [.. Epithets.Find(text, [.. context.GeneraBefore.Take(1)]).Where(taxa.Contains)];
        return taxa.Count switch
        {
            0 => null,
            1 => new NamedTaxon(new NameMatch { Taxon = taxa[0], By = MatchedBy.Abbreviation }, text),
            _ => new NamedTaxon(new NameMatch { Candidates = taxa, Doubts = [$"\"{text}\" is the epithet of {string.Join(" and ", taxa.Select(taxon => taxon.Name))}: choose one."] }, text),
        };
    }

    private static bool IsOf(Taxon taxon, string heading) => heading.Split(' ', ',', '/', '(').Any(word =>
        word.Equals(taxon.Family, StringComparison.OrdinalIgnoreCase) || word.Equals(taxon.TradeFamily, StringComparison.OrdinalIgnoreCase) || word.Equals(taxon.Genus, StringComparison.OrdinalIgnoreCase));

    /// <summary>"available w/c": words of lists, and no name among them.</summary>
    public static bool OnlyListWords(string text) => Tokeniser.Cut(text, null).TrueForAll(token => token.Kind != TokenKind.Word || token.Meanings.Count > 0);

    /// <summary>A common name beside the scientific one that is another species' own is asked about.</summary>
    private NamedTaxon Contradicted(NamedTaxon named, string? common)
    {
        if (common is null || !named.Sure || named.Match.By is MatchedBy.CommonName or MatchedBy.Settled || common.Length > 60)
            return named;
        var taxon = named.Match.Taxon!;
        if (finder.Find(common, NameContext.None) is not { By: MatchedBy.CommonName, Doubts.Count: 0, Taxon: { } other } || other.Name == taxon.Name)
            return named;
        // Names in other languages are often those of a whole group: "Bananenfalter" is any Caligo.
        var folded = Words.Folded.Of(common);
        if (!other.CommonNames.Any(name => Words.Folded.Of(name) == folded) || taxon.AllCommonNames.Any(name => Words.Folded.Of(name) == folded))
            return named;
        return named with { Match = named.Match with { Doubts = [$"\"{common}\" is a name of {other.Name}, and the scientific name is {taxon.Name}: ask the supplier which is meant."], Candidates = [taxon, other] } };
    }

    private static int Score(NameMatch match)
    {
        if (match.Taxon is null)
            return match.Candidates.Count > 0 ? 2 : 0;
        var score = match.By switch
        {
            MatchedBy.Settled or MatchedBy.Accepted or MatchedBy.Synonym => 20,
            MatchedBy.Abbreviation or MatchedBy.FormName or MatchedBy.Spelling => 16,
            MatchedBy.CommonName => 12,
            MatchedBy.NewBinomial => 6,
            _ => 0,
        };
        return match.Doubts.Count > 0 ? score / 2 : score;
    }

    [GeneratedRegex(@"^\p{Ll}{4,} \p{Ll}{4,}$")]
    private static partial Regex EpithetAndForm();

    [GeneratedRegex(@"(?<!\p{L})[dDlL]['’](?=\p{Lu})")]
    private static partial Regex Elision();

    [GeneratedRegex(@"^\p{Lu}\p{Ll}{0,3}\.\s?\p{Ll}{3,}")]
    private static partial Regex Abbreviated();
}
