namespace Lepidary.Book;

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

    /// <summary>Whether a wish is met on a day by an order that was written: a count of 0 or 1.</summary>
    Aim,

    /// <summary>Whether a taxon is on a supplier's next list: a count of 0 or 1.</summary>
    Listing,
}

/// <summary>
/// A forecast as it was said, kept from the day on which it was first shown, to be scored when its day is past. Never changed; what came of it is
/// computed from the facts.
/// </summary>
public sealed class KeptForecast
{
    /// <summary>Key, made from what the forecast is about, so that showing it again keeps nothing new.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>House.</summary>
    public Guid HouseId { get; init; }

    /// <summary>What it is about.</summary>
    public ForecastKind Kind { get; init; }

    /// <summary>The house-local day on which it was shown.</summary>
    public DateOnly MadeOn { get; init; }

    /// <summary>The day that it speaks of; the same as <see cref="MadeOn"/> where it speaks of no single one.</summary>
    public DateOnly ForDay { get; init; }

    /// <summary>The lot, the aim, the newest list that was known; the house where it is about a species.</summary>
    public Guid AboutId { get; init; }

    /// <summary>Accepted binomial; for an aim and for all that flies what counts: <c>all</c>, <c>tag:</c> and a tag, or a taxon.</summary>
    public required string Subject { get; init; }

    /// <summary>Kind of an aim, or null.</summary>
    public AimKind? Wish { get; init; }

    /// <summary>The number that an aim wants, or null.</summary>
    public int? AtLeast { get; init; }

    /// <summary>Share of what flies that a walk counts, as it was thought then; null where nothing had told it, or where it is not about what flies.</summary>
    public double? Seen { get; init; }

    /// <summary>Chances of 0, 1, 2, … as they were said; they sum to 1 but for rounding.</summary>
    public required List<double> Said { get; init; }

    /// <summary>The same of a simple rival: the table alone, or for a listing the plain share of the lists so far; none for an aim, whose rival is last year's rate.</summary>
    public required List<double> Rival { get; init; }
}
