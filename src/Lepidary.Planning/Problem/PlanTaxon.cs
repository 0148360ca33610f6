using Lepidary.Taxa;

namespace Lepidary.Planning;

/// <summary>A taxon as the plan needs it: its life, what the house has of it, and whether it may be kept.</summary>
public sealed record PlanTaxon
{
    /// <summary>Name, higher ranks and tags.</summary>
    public required Taxon Taxon { get; init; }

    /// <summary>Accepted binomial; the key.</summary>
    public string Name => Taxon.Name;

    /// <summary>Share of females among the emerged, 0 … 1.</summary>
    public double FemaleShare { get; init; } = 0.5;

    /// <summary>Why the house may not keep it, as a clause after "because" (<c>it is on the house's list of taxa not to keep</c>); null when it may.</summary>
    public string? KeepNot { get; init; }

    /// <summary>Most pupae of it that one order week may bring, all suppliers together (a licence's number), or null.</summary>
    public int? MostPupae { get; init; }
}
