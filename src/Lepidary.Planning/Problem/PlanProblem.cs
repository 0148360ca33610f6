namespace Lepidary.Planning;

/// <summary>
/// All that a proposal for one order day is made from: offers, terms, odds, stock, aims and limits. Plain data: no book, no file.
/// Day 0 is <see cref="OrderDay"/>; the plan looks at days 0 … <see cref="HorizonDays"/>.
/// </summary>
public sealed record PlanProblem
{
    /// <summary>The day the orders go out, house-local.</summary>
    public required DateOnly OrderDay { get; init; }

    /// <summary>Days after the order day that the plan looks at; 1 … 120.</summary>
    public int HorizonDays { get; init; } = 28;

    /// <summary>ISO 4217 code of the house; every figure not marked otherwise is in it.</summary>
    public required string Currency { get; init; }

    /// <summary>The suppliers whose offers are in <see cref="Offers"/>; names are unique.</summary>
    public required IReadOnlyList<PlanSupplier> Suppliers { get; init; }

    /// <summary>Every line that can be ordered; ids are unique.</summary>
    public required IReadOnlyList<PlanOffer> Offers { get; init; }

    /// <summary>Every taxon that an offer, an aim or the stock names; names are unique.</summary>
    public required IReadOnlyList<PlanTaxon> Taxa { get; init; }

    /// <summary>What the keeper wants.</summary>
    public IReadOnlyList<Aim> Aims { get; init; } = [];

    /// <summary>Days the house is open; null means every day. An aim without days of its own counts on open days.</summary>
    public IReadOnlyCollection<DateOnly>? OpenDays { get; init; }

    /// <summary>Days on which nobody is there to take a box in.</summary>
    public IReadOnlyCollection<DateOnly> NoBoxesOn { get; init; } = [];

    /// <summary>Most that the orders may cost, landed, or null for no limit.</summary>
    public decimal? Budget { get; init; }

    /// <summary>What is left for the season, these orders included, landed, or null for no limit. The tighter of the two budgets holds.</summary>
    public decimal? SeasonBudget { get; init; }

    /// <summary>The tighter of week's and season's budget, or null.</summary>
    internal decimal? Spendable => Budget is { } week && SeasonBudget is { } season ? Math.Min(week, season) : Budget ?? SeasonBudget;

    /// <summary>Hanging places in all cages together, or null for no limit.</summary>
    public int? CagePlaces { get; init; }

    /// <summary>Days on which there are more or fewer hanging places than <see cref="CagePlaces"/>.</summary>
    public IReadOnlyDictionary<DateOnly, int> CagePlacesOn { get; init; } = new Dictionary<DateOnly, int>();

    /// <summary>Hanging places of a day, or null for no limit.</summary>
    internal int? PlacesOn(DateOnly day) => CagePlacesOn.TryGetValue(day, out var places) ? places : CagePlaces;

    /// <summary>Most that should be flying at a time, in the mean, or null for no limit.</summary>
    public int? FlyingCeiling { get; init; }

    /// <summary>
    /// Days on which later orders, not yet made, are expected to arrive. With <see cref="PlanTaxon.Later"/> they weigh what can still be mended
    /// later less than what cannot. Empty: plan as if this were the last order.
    /// </summary>
    public IReadOnlyList<DateOnly> LaterArrivals { get; init; } = [];

    /// <summary>Lines that the keeper has fixed, forbidden or bounded.</summary>
    public IReadOnlyList<LineRule> Rules { get; init; } = [];

    /// <summary>What suppliers have already answered; the rest is planned around it.</summary>
    public IReadOnlyList<SettledLine> Settled { get; init; } = [];

    /// <summary>How long to search, how near to the optimum, and what a missing butterfly is worth.</summary>
    public PlanSettings Settings { get; init; } = new();
}

/// <summary>How long to search, how near to the optimum, and what a missing butterfly is worth.</summary>
public sealed record PlanSettings
{
    /// <summary>Longest search in seconds of the wall clock; at least 0.</summary>
    public double Seconds { get; init; } = 20;

    /// <summary>
    /// Longest search in steps (nodes of the search tree), or null for no such limit; 0 keeps to the order that the search begins from. Unlike
    /// <see cref="Seconds"/> it stops at the same place on every machine.
    /// </summary>
    public int? Nodes { get; init; }

    /// <summary>Stop when the order is proven to be within this share of the best possible objective; 0 … 1.</summary>
    public double Gap { get; init; } = 0.001;

    /// <summary>Seed of the search's own choices. One seed, one order, on every machine, unless the clock or the keeper ends the search.</summary>
    public int Seed { get; init; } = 1;

    /// <summary>
    /// What one butterfly short on one day is worth at importance 1, house currency; each step of importance is worth three
    /// times the one below. Null: five times the middle price of a pupa on this week's lists.
    /// </summary>
    public decimal? WorthOfOneShort { get; init; }

    /// <summary>Most pupae that are planned of a line whose list does not say how many there are; at least 1.</summary>
    public int MostOfALine { get; init; } = 200;
}

/// <summary>What the keeper has settled about one line.</summary>
public enum LineRuleKind
{
    /// <summary>Exactly this many pupae.</summary>
    Fixed,

    /// <summary>Not this line.</summary>
    Forbidden,

    /// <summary>At least this many pupae.</summary>
    AtLeast,

    /// <summary>At most this many pupae.</summary>
    AtMost,
}

/// <summary>What the keeper has settled about one line.</summary>
/// <param name="Offer">Id of the offer.</param>
/// <param name="Kind">What is settled.</param>
/// <param name="Pupae">How many; of no meaning where forbidden.</param>
public sealed record LineRule(string Offer, LineRuleKind Kind, int Pupae = 0);
