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

    /// <summary>
    /// How well the make-up of a mix is known, in pupae of it that were seen: the shares are drawn anew for each delivery from the Dirichlet
    /// distribution with this concentration. Infinite when the supplier keeps to the shares.
    /// </summary>
    public double MixCertainty { get; init; } = double.PositiveInfinity;

    /// <summary>Other prices from a number upwards, ascending.</summary>
    public IReadOnlyList<PriceFrom> Breaks { get; init; } = [];

    /// <summary>For which pupae a price of <see cref="Breaks"/> holds.</summary>
    public BreakHolds BreaksHold { get; init; }

    /// <summary>Days on which this line can arrive, of its supplier's; empty for all of them.</summary>
    public IReadOnlyList<DateOnly> Arrives { get; init; } = [];

    /// <summary>Last day on which this line can be ordered, or null for the supplier's.</summary>
    public DateOnly? LastOrderDay { get; init; }

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

/// <summary>For which pupae a price from a number upwards holds.</summary>
public enum BreakHolds
{
    /// <summary>For all pupae of the line.</summary>
    ForAll,

    /// <summary>For this pupa and those after it; those before keep the price before.</summary>
    FromThere,
}

/// <summary>A price for one pupa from a number upwards.</summary>
/// <param name="From">Pupae of the line, at least 2.</param>
/// <param name="Price">For one pupa, supplier's currency.</param>
public sealed record PriceFrom(int From, decimal Price);

/// <summary>A taxon's expected share of a mix.</summary>
/// <param name="Taxon">Accepted binomial.</param>
/// <param name="Share">0 … 1.</param>
public sealed record MixShare(string Taxon, double Share)
{
    /// <summary>What boxes of a mix that were counted out add to what was expected of it (Dirichlet prior, multinomial counts).</summary>
    /// <param name="expected">Shares before; what they leave of 1 is unknown.</param>
    /// <param name="certainty">How well they were known, in pupae; above 0, finite.</param>
    /// <param name="seen">Pupae seen by taxon; those that nobody could name under the empty name.</param>
    /// <returns>Shares for <see cref="PlanOffer.Mix"/> by name, and their <see cref="PlanOffer.MixCertainty"/>.</returns>
    public static (IReadOnlyList<MixShare> Shares, double Certainty) Learn(
        IReadOnlyList<MixShare> expected, double certainty, IReadOnlyDictionary<string, int> seen)
    {
        ArgumentNullException.ThrowIfNull(expected);
        ArgumentNullException.ThrowIfNull(seen);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(certainty);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(certainty, double.MaxValue);
        var total = certainty + seen.Values.Sum();
        var names = expected.Select(e => e.Taxon).Concat(seen.Keys).Where(n => n.Length > 0).Distinct().Order(StringComparer.Ordinal);
        return (
            [.. names.Select(name => new MixShare(name, ((expected.FirstOrDefault(e => e.Taxon == name)?.Share * certainty ?? 0) + seen.GetValueOrDefault(name)) / total))],
            total);
    }
}
