using System.Text.Json;
using System.Text.Json.Serialization;

namespace Lepidary.Lists.Tests.Corpus;

/// <summary>What a careful person reads off one line of a list of the corpus.</summary>
public sealed record TruthOffer
{
    public required int Line { get; init; }

    public string? Sheet { get; init; }

    public string Text { get; init; } = "";

    /// <summary>Accepted binomial; null where the supplier picks the species.</summary>
    public string? Taxon { get; init; }

    public string? Form { get; init; }

    public OfferKind Kind { get; init; }

    /// <summary>The same said in another way by some truth files: the supplier picks the species.</summary>
    public bool Mix { get; init; }

    public decimal? Price { get; init; }

    public IReadOnlyList<PriceBreak> Breaks { get; init; } = [];

    public int Pack { get; init; } = 1;

    public int? Minimum { get; init; }

    public int? Available { get; init; }

    public bool SoldOut { get; init; }

    /// <summary>True where reading it and passing over it are both fair: a hidden row, "no demoleus this week".</summary>
    public bool Optional { get; init; }
}

/// <summary>A charge as a careful person reads it.</summary>
public sealed record TruthCharge(int Line, string Text, decimal? Amount, ChargePer Per)
{
    public string? Sheet { get; init; }
}

/// <summary>
/// A line where a careful person would ask, or would not mind being asked; demanded where reading on without asking is a fault.
/// </summary>
public sealed record TruthDoubt(int Line, string Why, bool Demanded = false)
{
    public string? Sheet { get; init; }
}

/// <summary>The lines of one sheet that hold something: none of them may disappear.</summary>
public sealed record TruthLines(IReadOnlyList<int> Lines)
{
    public string? Sheet { get; init; }
}

/// <summary>The truth of one list of the corpus, as its <c>truth.json</c> holds it.</summary>
public sealed record TruthList
{
    private static readonly JsonSerializerOptions Format = new(JsonSerializerDefaults.Web)
    {
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase) },
    };

    public string? Supplier { get; init; }

    public string? Currency { get; init; }

    public DateOnly? Date { get; init; }

    public bool? PricesExcludeTax { get; init; }

    public IReadOnlyList<TruthOffer> Offers { get; init; } = [];

    public IReadOnlyList<TruthCharge> Charges { get; init; } = [];

    public IReadOnlyList<TruthDoubt> Doubtful { get; init; } = [];

    /// <summary>Facts of the list as a whole that people would read differently.</summary>
    public IReadOnlyList<string> Unscored { get; init; } = [];

    /// <summary>
    /// True where the format has no lines of its own (prose, pages): offers are then paired by what they share, not by line.
    /// </summary>
    public bool Lineless { get; init; }

    /// <summary>Which lines hold something; empty where the format has no lines of its own.</summary>
    public IReadOnlyList<TruthLines> SourceLines { get; init; } = [];

    /// <summary>Reads a truth file.</summary>
    public static TruthList Parse(string json)
    {
        var truth = JsonSerializer.Deserialize<TruthList>(json, Format) ?? throw new InvalidDataException("The truth file is empty.");
        return truth with { Offers = [.. truth.Offers.Select(offer => offer.Mix ? offer with { Kind = OfferKind.Mix } : offer)] };
    }
}
