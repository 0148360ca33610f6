namespace Lepidary.Planning;

/// <summary>
/// What the keeper wants. With <see cref="Sure"/>, a day counts the butterflies missing from the number that can be relied on
/// this surely; without it, the butterflies missing on average.
/// </summary>
public abstract record Aim
{
    /// <summary>Key, unique in the problem.</summary>
    public required string Id { get; init; }

    /// <summary>The aim in the keeper's words, for sentences: <c>12 blue</c>.</summary>
    public required string Words { get; init; }

    /// <summary>How sure, 0.5 … 0.999, or null for "on average".</summary>
    public double? Sure { get; init; }

    /// <summary>1 … 5; each step is worth three times the one below.</summary>
    public int Importance { get; init; } = 1;
}

/// <summary>An aim for certain days.</summary>
public abstract record DayAim : Aim
{
    /// <summary>Which taxa count.</summary>
    public required AimOf Of { get; init; }

    /// <summary>The number wanted; at least 1.</summary>
    public required int AtLeast { get; init; }

    /// <summary>First day, or null for the first day of the plan.</summary>
    public DateOnly? From { get; init; }

    /// <summary>Last day, or null for the last day of the plan.</summary>
    public DateOnly? To { get; init; }

    /// <summary>Days of the week that count; empty for every open day.</summary>
    public IReadOnlyCollection<DayOfWeek> Days { get; init; } = [];
}

/// <summary>At least so many flying.</summary>
public sealed record DisplayAim : DayAim;

/// <summary>At least so many species flying, each with one or more.</summary>
public sealed record VarietyAim : DayAim;

/// <summary>
/// At least so many males and so many females that are alive and on the wing together for some days.
/// </summary>
public sealed record BreedingAim : Aim
{
    /// <summary>Accepted binomial.</summary>
    public required string Taxon { get; init; }

    /// <summary>Pairs wanted; at least 1.</summary>
    public required int Pairs { get; init; }

    /// <summary>
    /// True when only pupae of this order count: founders from outside for a line that the house has bred from itself for long.
    /// </summary>
    public bool NewBlood { get; init; }
}

/// <summary>What the selector of an aim names.</summary>
public enum AimOfKind
{
    /// <summary>Every taxon.</summary>
    All,

    /// <summary>A taxon at any rank: species, genus, tribe, subfamily or family.</summary>
    Taxon,

    /// <summary>A tag.</summary>
    Tag,

    /// <summary>Whatever a selector of the taxa's table picks, old names of genera and families too.</summary>
    Selector,
}

/// <summary>Which taxa an aim counts.</summary>
/// <param name="Kind">What <paramref name="Name"/> is.</param>
/// <param name="Name">Name of the taxon or tag; empty for all.</param>
public sealed record AimOf(AimOfKind Kind, string Name)
{
    /// <summary>Every taxon.</summary>
    public static AimOf All { get; } = new(AimOfKind.All, "");

    /// <summary>A taxon at any rank.</summary>
    public static AimOf Taxon(string name) => new(AimOfKind.Taxon, name);

    /// <summary>A tag.</summary>
    public static AimOf Tag(string name) => new(AimOfKind.Tag, name);

    /// <summary>The selector, where <see cref="Kind"/> says so.</summary>
    public Taxa.TaxonSelector? Selector { get; private init; }

    /// <summary>What a selector picks, at any rank or by tag.</summary>
    public static AimOf By(Taxa.TaxonSelector selector)
    {
        ArgumentNullException.ThrowIfNull(selector);
        return new(AimOfKind.Selector, selector.Text) { Selector = selector };
    }

    /// <summary>True when the taxon counts.</summary>
    public bool Counts(Taxa.Taxon taxon)
    {
        ArgumentNullException.ThrowIfNull(taxon);
        return Kind switch
        {
            AimOfKind.All => true,
            AimOfKind.Selector => Selector!.Includes(taxon),
            AimOfKind.Tag => taxon.Tags.Contains(Name.ToLowerInvariant()),
            AimOfKind.Taxon => Is(taxon.Name) || Is(taxon.Genus) || Is(taxon.Tribe) || Is(taxon.Subfamily) || Is(taxon.Family) || Is(taxon.TradeFamily),
            _ => throw new InvalidOperationException($"Unknown selector {Kind}."),
        };
    }

    private bool Is(string rank) => rank.Length > 0 && string.Equals(rank, Name, StringComparison.OrdinalIgnoreCase);
}
