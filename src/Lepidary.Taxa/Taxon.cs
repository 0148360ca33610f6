namespace Lepidary.Taxa;

/// <summary>What a figure rests on, from best to weakest.</summary>
public enum Confidence
{
    /// <summary>A page or paper that was read says so.</summary>
    Published,

    /// <summary>Usual among keepers and breeders.</summary>
    CommonPractice,

    /// <summary>From memory; not checked.</summary>
    Memory,

    /// <summary>Taken from a relative: the genus, tribe or family named in the source.</summary>
    Borrowed,
}

/// <summary>A figure with what it rests on.</summary>
/// <param name="Value">The figure.</param>
/// <param name="Source">Where it comes from, in words for a reader.</param>
/// <param name="Confidence">How far to trust it.</param>
/// <typeparam name="T">The type of the figure.</typeparam>
public sealed record Sourced<T>(T Value, string Source, Confidence Confidence);

/// <summary>A range of whole days or millimetres, both ends included.</summary>
/// <param name="From">Lower end.</param>
/// <param name="To">Upper end; not below <paramref name="From"/>.</param>
public readonly record struct WholeRange(int From, int To);

/// <summary>What kind of thing a supplier posts of a taxon.</summary>
public enum PostedKind
{
    /// <summary>A bare pupa.</summary>
    Pupa,

    /// <summary>A cocoon with the pupa inside: silkmoths.</summary>
    Cocoon,
}

/// <summary>How a pupa holds on, and so how it is hung.</summary>
public enum PupaAttachment
{
    /// <summary>By the tail, head down.</summary>
    Cremaster,

    /// <summary>By the tail and a thread around the middle.</summary>
    Girdle,

    /// <summary>Inside a cocoon, which is hung or laid whole.</summary>
    Cocoon,

    /// <summary>Not at all: it lies in soil or litter, and is laid flat.</summary>
    Loose,
}

/// <summary>How well the sexes can be told apart by eye once emerged.</summary>
public enum SexDifference
{
    /// <summary>Not from the wings.</summary>
    None,

    /// <summary>With practice.</summary>
    Slight,

    /// <summary>At a glance.</summary>
    Plain,
}

/// <summary>The figures of a taxon's life that planning and forecasts need, each with its source.</summary>
public sealed record LifeHistory
{
    /// <summary>Days from arrival to emergence, usual window.</summary>
    public required Sourced<WholeRange> DaysToEmergence { get; init; }

    /// <summary>Days an adult usually lives in a flight house, mean.</summary>
    public required Sourced<double> AdultLifeDays { get; init; }

    /// <summary>Days the longest-lived adults reach.</summary>
    public required Sourced<double> AdultLifeDaysMax { get; init; }

    /// <summary>Share of pupae that emerge whole, 0…1, before the book knows better.</summary>
    public required Sourced<double> EmergenceRate { get; init; }

    /// <summary>Share of females among the emerged, 0…1.</summary>
    public required Sourced<double> FemaleShare { get; init; }

    /// <summary>Wingspan in millimetres, or null where unknown.</summary>
    public Sourced<WholeRange>? WingspanMm { get; init; }

    /// <summary>Days as a pupa in all, or null where unknown.</summary>
    public Sourced<double>? PupalDays { get; init; }

    /// <summary>Days from egg to adult, or null where unknown.</summary>
    public Sourced<double>? EggToAdultDays { get; init; }

    /// <summary>Temperature in degrees Celsius that the days as a pupa and from egg to adult hold for, or null where no source gives one.</summary>
    public Sourced<WholeRange>? DevelopmentTemperatureC { get; init; }

    /// <summary>How the pupa holds on, or null where unknown.</summary>
    public Sourced<PupaAttachment>? Attachment { get; init; }

    /// <summary>How well the sexes can be told apart, or null where unknown.</summary>
    public Sourced<SexDifference>? SexesDiffer { get; init; }

    /// <summary>Genera of larval food plants; empty where unknown.</summary>
    public required Sourced<IReadOnlyList<string>> FoodPlants { get; init; }

    /// <summary>True where pupae can rest for weeks or months and must not be called dead at the end of the window.</summary>
    public bool CanRest { get; init; }
}

/// <summary>A species as the house knows it.</summary>
public sealed record Taxon
{
    /// <summary>The accepted binomial: <c>Morpho helenor</c>. The key everywhere.</summary>
    public required string Name { get; init; }

    /// <summary>Author and year as printed behind the name, brackets included; empty where unknown.</summary>
    public string Authority { get; init; } = "";

    /// <summary>Genus: the first word of <see cref="Name"/>.</summary>
    public string Genus => Name.Split(' ')[0];

    /// <summary>Family, or empty for a taxon that is not in the table.</summary>
    public string Family { get; init; } = "";

    /// <summary>Family under which older lists print it where that differs: <c>Heliconiidae</c>, <c>Morphidae</c>; or empty.</summary>
    public string TradeFamily { get; init; } = "";

    /// <summary>Subfamily, or empty.</summary>
    public string Subfamily { get; init; } = "";

    /// <summary>Tribe, or empty.</summary>
    public string Tribe { get; init; } = "";

    /// <summary>Realm: Neotropical, Indomalayan, Afrotropical, Australasian, Nearctic, Palearctic; or empty.</summary>
    public string Region { get; init; } = "";

    /// <summary>English common names, the usual one first; may be empty.</summary>
    public IReadOnlyList<string> CommonNames { get; init; } = [];

    /// <summary>Common names in other languages, each behind its language (ISO 639-1): <c>de:Blauer Morphofalter</c>.</summary>
    public IReadOnlyList<string> OtherCommonNames { get; init; } = [];

    /// <summary>Common names in all languages, as printed, English ones first.</summary>
    public IEnumerable<string> AllCommonNames => CommonNames.Concat(OtherCommonNames.Select(name => name[(name.IndexOf(':', StringComparison.Ordinal) + 1)..].Trim()));

    /// <summary>Other scientific names that mean this taxon.</summary>
    public IReadOnlyList<string> Synonyms { get; init; } = [];

    /// <summary>Subspecies and forms that lists print: <c>marinita</c>, <c>f. alcanor</c>. Not all that exist.</summary>
    public IReadOnlyList<string> Forms { get; init; } = [];

    /// <summary>Where the name was looked up, or that it is from memory.</summary>
    public string NameSource { get; init; } = "";

    /// <summary>True where lists often offer it; a tie-break for search, from memory.</summary>
    public bool TradedOften { get; init; }

    /// <summary>CITES appendix as remembered on the table's date: <c>I</c>, <c>II</c>, <c>III</c>, or empty.</summary>
    public string CitesAppendix { get; init; } = "";

    /// <summary>Pupa or cocoon.</summary>
    public PostedKind Kind { get; init; }

    /// <summary>
    /// Words that aims may use, lower case: dominant colour (<c>blue</c>), food (<c>fruit</c>, <c>nectar</c>, <c>pollen</c>, <c>none</c>), size
    /// (<c>large</c> from 100 mm, <c>small</c> to 50 mm, middle of the wingspan), flight layer (<c>canopy</c>, <c>mid</c>, <c>low</c>,
    /// <c>ground</c>), hours (<c>day</c>, <c>dusk</c>, <c>night</c>), region in lower case, <c>cocoon</c>, protection (<c>cites-i</c>,
    /// <c>cites-ii</c>, <c>cites-iii</c>).
    /// </summary>
    public IReadOnlySet<string> Tags { get; init; } = new HashSet<string>();

    /// <summary>Remarks for the keeper.</summary>
    public string Notes { get; init; } = "";

    /// <summary>False for a well-formed binomial that is in no table: its life history is borrowed.</summary>
    public bool InTable { get; init; } = true;

    /// <summary>The figures of its life.</summary>
    public required LifeHistory Life { get; init; }
}
