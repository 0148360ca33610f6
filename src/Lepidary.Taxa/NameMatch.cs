namespace Lepidary.Taxa;

/// <summary>How a printed name led to a taxon.</summary>
public enum MatchedBy
{
    /// <summary>Nothing was found.</summary>
    Nothing,

    /// <summary>The keeper settled this text before.</summary>
    Settled,

    /// <summary>The accepted binomial.</summary>
    Accepted,

    /// <summary>Another scientific name of it: an old combination, a subgenus form, a junior synonym.</summary>
    Synonym,

    /// <summary>A genus abbreviation read in the context of the lines around.</summary>
    Abbreviation,

    /// <summary>A common name.</summary>
    CommonName,

    /// <summary>A subspecies or form name standing for its species.</summary>
    FormName,

    /// <summary>A misspelling.</summary>
    Spelling,

    /// <summary>A well-formed binomial that is in no table: kept as a taxon of its own.</summary>
    NewBinomial,
}

/// <summary>What a printed name means.</summary>
public sealed record NameMatch
{
    /// <summary>The taxon, or null when nothing was found or several are as likely.</summary>
    public Taxon? Taxon { get; init; }

    /// <summary>Subspecies or form as printed (<c>marinita</c>, <c>f. alcanor</c>), or null.</summary>
    public string? Form { get; init; }

    /// <summary>How it was found.</summary>
    public MatchedBy By { get; init; }

    /// <summary>Reasons to ask the keeper, in sentences; empty when sure.</summary>
    public IReadOnlyList<string> Doubts { get; init; } = [];

    /// <summary>Other taxa it could be, best first.</summary>
    public IReadOnlyList<Taxon> Candidates { get; init; } = [];
}

/// <summary>What the lines around a name say.</summary>
public sealed record NameContext
{
    /// <summary>Nothing around.</summary>
    public static NameContext None { get; } = new();

    /// <summary>Genera written out on the lines before, the nearest first.</summary>
    public IReadOnlyList<string> GeneraBefore { get; init; } = [];

    /// <summary>Genera written out on the lines after, the nearest first.</summary>
    public IReadOnlyList<string> GeneraAfter { get; init; } = [];

    /// <summary>The heading above: a family under any name, old or new, a genus or a region; or null.</summary>
    public string? Heading { get; init; }

    /// <summary>Common name printed beside the scientific one, or null.</summary>
    public string? CommonNameBeside { get; init; }
}
