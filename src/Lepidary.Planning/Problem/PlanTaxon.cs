using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;
using Lepidary.Taxa;

namespace Lepidary.Planning;

/// <summary>A taxon as the plan needs it: its life, what the house has of it, and whether it may be kept.</summary>
public sealed record PlanTaxon
{
    /// <summary>Name, higher ranks and tags.</summary>
    public required Taxon Taxon { get; init; }

    /// <summary>Accepted binomial; the key.</summary>
    public string Name => Taxon.Name;

    /// <summary>Days from arrival to emergence of a new lot.</summary>
    public required EmergenceTiming Timing { get; init; }

    /// <summary>Emergence rate of a new lot by supplier's name.</summary>
    public IReadOnlyDictionary<string, EmergenceRate> Rates { get; init; } = new Dictionary<string, EmergenceRate>();

    /// <summary>Emergence rate of a new lot from a supplier that <see cref="Rates"/> does not name.</summary>
    public EmergenceRate UsualRate { get; init; } = EmergenceRate.Usual;

    /// <summary>Share of females among the emerged, 0 … 1.</summary>
    public double FemaleShare { get; init; } = 0.5;

    /// <summary>Life on the wing, and what hangs, comes and flies as it stands on the order day (day 0).</summary>
    public required SpeciesStock Stock { get; init; }

    /// <summary>Why the house may not keep it, as a clause after "because" (<c>it is on the house's list of taxa not to keep</c>); null when it may.</summary>
    public string? KeepNot { get; init; }

    /// <summary>Most pupae of it that one order week may bring, all suppliers together (a licence's number), or null.</summary>
    public int? MostPupae { get; init; }

    /// <summary>What later weeks' lists are likely to offer of it, or null when nothing is known: then it counts as now or never.</summary>
    public LaterOffers? Later { get; init; }

    /// <summary>The rate of a new lot from this supplier.</summary>
    public EmergenceRate RateFrom(string supplier) => Rates.TryGetValue(supplier, out var rate) ? rate : UsualRate;
}

/// <summary>What later lists are likely to offer of a taxon.</summary>
/// <param name="WeeklyChance">Chance that somebody lists it in a week, 0 … 1.</param>
/// <param name="LandedPrice">What a pupa then costs, house currency, above 0.</param>
public sealed record LaterOffers(double WeeklyChance, decimal LandedPrice);
