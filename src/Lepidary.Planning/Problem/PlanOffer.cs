namespace Lepidary.Planning;

/// <summary>One line of a list that can be ordered.</summary>
public sealed record PlanOffer
{
    /// <summary>Key, unique in the problem; also breaks ties, so that the order of input does not matter.</summary>
    public required string Id { get; init; }

    /// <summary>Name of the supplier.</summary>
    public required string Supplier { get; init; }

    /// <summary>Accepted binomial; null for a mix.</summary>
    public string? Taxon { get; init; }

    /// <summary>Expected make-up of a mix; shares sum to at most 1, the rest is unknown. Empty for a single taxon.</summary>
    public IReadOnlyList<MixShare> Mix { get; init; } = [];

    /// <summary>Price of one pupa as printed, in the supplier's currency.</summary>
    public required decimal Price { get; init; }

    /// <summary>Other prices from a number upwards, ascending; each holds for all pupae of the line.</summary>
    public IReadOnlyList<PriceFrom> Breaks { get; init; } = [];

    /// <summary>Pupae a pack; only whole packs are sold.</summary>
    public int Pack { get; init; } = 1;

    /// <summary>Fewest pupae, or 0.</summary>
    public int Minimum { get; init; }

    /// <summary>Pupae on hand, or null where not said.</summary>
    public int? Available { get; init; }

    /// <summary>True when marked as gone.</summary>
    public bool SoldOut { get; init; }

    /// <summary>The line as printed.</summary>
    public string Text { get; init; } = "";
}

/// <summary>A price for one pupa from a number upwards.</summary>
/// <param name="From">Pupae of the line, at least 2.</param>
/// <param name="Price">For one pupa, supplier's currency.</param>
public sealed record PriceFrom(int From, decimal Price);

/// <summary>A taxon's expected share of a mix.</summary>
/// <param name="Taxon">Accepted binomial.</param>
/// <param name="Share">0 … 1.</param>
public sealed record MixShare(string Taxon, double Share);
