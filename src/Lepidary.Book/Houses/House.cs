namespace Lepidary.Book;

/// <summary>One flight house: its places, calendar, money and rules. Settings, so they may change; what happened in it are facts.</summary>
public sealed class House
{
    /// <summary>Key.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>Name, one in the book.</summary>
    public required string Name { get; set; }

    /// <summary>ISO 4217 code of the money that the house reckons in.</summary>
    public required string Currency { get; set; }

    /// <summary>IANA time zone, <c>Europe/London</c>: a house's day is its local day.</summary>
    public required string TimeZone { get; set; }

    /// <summary>Tax on goods bought, 0…1.</summary>
    public decimal TaxRate { get; set; }

    /// <summary>True where the tax is reclaimed, so that landed cost leaves it out.</summary>
    public bool TaxReclaimed { get; set; }

    /// <summary>Days of the week on which visitors come.</summary>
    public Weekdays OpenOn { get; set; } = Weekdays.All;

    /// <summary>Single days on which the house is closed.</summary>
    public List<DateOnly> ClosedDays { get; set; } = [];

    /// <summary>Languages in which it speaks to its visitors, its own first (ISO 639-1); null for English alone.</summary>
    public List<string>? Languages { get; set; }

    /// <summary>Days on which nobody is there to take a box in; null for none.</summary>
    public List<DateOnly>? NoBoxesOn { get; set; }

    /// <summary>Most landed money for one order week, in <see cref="Currency"/>; null for none.</summary>
    public decimal? Budget { get; set; }

    /// <summary>Most landed money for all orders of a season, in <see cref="Currency"/>; null for none.</summary>
    public decimal? SeasonBudget { get; set; }

    /// <summary>First order day of the season; null with <see cref="SeasonBudget"/>.</summary>
    public DateOnly? SeasonFrom { get; set; }

    /// <summary>Last order day of the season; null with <see cref="SeasonBudget"/>.</summary>
    public DateOnly? SeasonTo { get; set; }

    /// <summary>
    /// Where the house's clock stands still: a demo's day, which its reader turns by hand. Null for a house that lives by the machine's clock.
    /// </summary>
    public DateTimeOffset? ClockStandsAt { get; set; }

    /// <summary>Where adults fly.</summary>
    public List<FlightArea> Areas { get; init; } = [];

    /// <summary>Where pupae hang or pairs are kept.</summary>
    public List<Cage> Cages { get; init; } = [];

    /// <summary>What it may not or does not want to keep.</summary>
    public List<KeepNot> KeepNots { get; init; } = [];

    /// <summary>What the keeper wants.</summary>
    public List<Aim> Aims { get; init; } = [];

    /// <summary>Suppliers' terms to this house.</summary>
    public List<SupplierTerms> Terms { get; init; } = [];

    /// <summary>True when the season's budget holds for an order of that day.</summary>
    public bool IsInSeason(DateOnly day) => SeasonBudget is not null && day >= SeasonFrom && day <= SeasonTo;

    /// <summary>True when visitors come on that day.</summary>
    public bool IsOpen(DateOnly day) => OpenOn.Has(day.DayOfWeek) && !ClosedDays.Contains(day);

    /// <summary>The house's local day at an instant; in a house whose clock stands still, the day at which it stands.</summary>
    /// <exception cref="TimeZoneNotFoundException"><see cref="TimeZone"/> is no zone of this machine.</exception>
    public DateOnly DayAt(DateTimeOffset instant) =>
        DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(ClockStandsAt ?? instant, TimeZoneInfo.FindSystemTimeZoneById(TimeZone)).DateTime);
}

/// <summary>Where adults fly.</summary>
public sealed class FlightArea
{
    /// <summary>Key.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>House.</summary>
    public Guid HouseId { get; init; }

    /// <summary>Name, one in the house.</summary>
    public required string Name { get; set; }

    /// <summary>Floor, m2.</summary>
    public double FloorM2 { get; set; }

    /// <summary>Height, m.</summary>
    public double HeightM { get; set; }

    /// <summary>Most adults that should fly in it; null where the house sets none.</summary>
    public int? Ceiling { get; set; }
}

/// <summary>What a cage is for.</summary>
public enum CageUse
{
    /// <summary>Pupae hang and adults emerge in it.</summary>
    Emergence,

    /// <summary>Pairs are kept in it to mate and lay.</summary>
    Pairing,
}

/// <summary>An emergence cage with its hanging places, or a cage for pairs.</summary>
public sealed class Cage
{
    /// <summary>Key.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>House.</summary>
    public Guid HouseId { get; init; }

    /// <summary>Name, one in the house.</summary>
    public required string Name { get; set; }

    /// <summary>Pupae that can hang in it.</summary>
    public int Places { get; set; }

    /// <summary>What it is for.</summary>
    public CageUse Use { get; set; }

    /// <summary>Rows in which pupae hang, 1 the nearest at hand; null where the house has not said.</summary>
    public int? Rows { get; set; }

    /// <summary>Length of a row to hang pupae in, cm; null where the house has not said.</summary>
    public int? RowCm { get; set; }

    /// <summary>Rows from the first on that a keeper reaches without steps; null for all.</summary>
    public int? ReachRows { get; set; }

    /// <summary>First day on which nothing can hang in it; null where it is always in use.</summary>
    public DateOnly? ShutFrom { get; set; }

    /// <summary>Last such day; null with <see cref="ShutFrom"/>.</summary>
    public DateOnly? ShutTo { get; set; }

    /// <summary>True when pupae can hang in it on that day.</summary>
    public bool IsInUse(DateOnly day) => !(day >= ShutFrom && day <= ShutTo);
}

/// <summary>A taxon or a tag that the house does not keep, or not more of than a number.</summary>
public sealed class KeepNot
{
    /// <summary>Key.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>House.</summary>
    public Guid HouseId { get; init; }

    /// <summary>An accepted binomial, or <c>tag:</c> and a tag.</summary>
    public required string Selector { get; set; }

    /// <summary>Most of each such taxon that may be in the house at a time, pupae and adults; null where it is not kept at all.</summary>
    public int? AtMost { get; set; }

    /// <summary>Why, in the keeper's words; may be empty.</summary>
    public string Reason { get; set; } = "";
}
