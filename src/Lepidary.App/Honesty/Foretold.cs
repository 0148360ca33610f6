using Lepidary.Science.Counts;

namespace Lepidary.App.Honesty;

/// <summary>What a forecast is about.</summary>
public enum ForecastKind
{
    /// <summary>How many of a lot emerge on a day.</summary>
    Emerging,

    /// <summary>How many of a new lot emerge in all.</summary>
    Lot,

    /// <summary>How many days after hanging the first of a new lot emerges.</summary>
    Due,

    /// <summary>How many of a species, or of all, fly on a day.</summary>
    Flying,

    /// <summary>How many of a species are found dead on a day: how long they live on the wing.</summary>
    FoundDead,

    /// <summary>Whether a taxon is on a supplier's next list: a count of 0 or 1.</summary>
    Listing,
}

/// <summary>A forecast as a page of its day would have it, to be scored when its day is past.</summary>
internal sealed record Foretold
{
    /// <summary>Key, made from what the forecast is about: the same forecast of two days is scored once.</summary>
    public required Guid Id { get; init; }

    /// <summary>What it is about.</summary>
    public required ForecastKind Kind { get; init; }

    /// <summary>The house-local day on which it is said.</summary>
    public required DateOnly MadeOn { get; init; }

    /// <summary>The day that it speaks of; the same as <see cref="MadeOn"/> where it speaks of no single one.</summary>
    public required DateOnly ForDay { get; init; }

    /// <summary>The lot, the newest list that was known; the house where it is about a species.</summary>
    public required Guid AboutId { get; init; }

    /// <summary>Accepted binomial, or <c>all</c> that flies.</summary>
    public required string Subject { get; init; }

    /// <summary>Share of what flies that a walk counts, as it was thought then; null where nothing had told it, or where it is not about what flies.</summary>
    public double? Seen { get; init; }

    /// <summary>What is said.</summary>
    public required CountDistribution Said { get; init; }

    /// <summary>The same of a simple rival: the table alone, or for a listing the plain share of the lists so far.</summary>
    public required CountDistribution Rival { get; init; }
}
