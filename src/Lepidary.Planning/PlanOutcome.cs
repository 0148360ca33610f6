namespace Lepidary.Planning;

/// <summary>How a search ended.</summary>
public enum PlanStatus
{
    /// <summary>A plan, proven over every possible order to be within the wanted gap of the best.</summary>
    Proven,

    /// <summary>A plan, stopped by the keeper or by the limit of steps before the gap was proven.</summary>
    Feasible,

    /// <summary>A plan, stopped by the clock before the gap was proven.</summary>
    TimeRanOut,

    /// <summary>No order can keep every limit and rule; <see cref="PlanOutcome.Problems"/> say which wishes clash.</summary>
    Infeasible,

    /// <summary>The problem itself is wrong; <see cref="PlanOutcome.Problems"/> say how.</summary>
    BadInput,
}

/// <summary>What came of a search for an order.</summary>
public sealed record PlanOutcome
{
    /// <summary>How it ended.</summary>
    public required PlanStatus Status { get; init; }

    /// <summary>The best plan found, or null.</summary>
    public Plan? Plan { get; init; }

    /// <summary>Plain sentences: which wishes clash, or what is wrong with the problem.</summary>
    public IReadOnlyList<string> Problems { get; init; } = [];

    /// <summary>Plain sentences on what the plan keeps only as far as what is settled lets it.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];

    /// <summary>Landed cost plus what the butterflies short are worth; house currency. NaN without a plan.</summary>
    public double Objective { get; init; } = double.NaN;

    /// <summary>No order whatever has a smaller objective than this.</summary>
    public double Bound { get; init; } = double.NegativeInfinity;

    /// <summary>Objective of ordering nothing; NaN where the rules do not let one.</summary>
    public double NothingOrdered { get; init; } = double.NaN;

    /// <summary>(Objective - Bound) as a share of Objective; 0 when both are 0.</summary>
    public double Gap => Share(Objective);

    /// <summary>(Objective - Bound) as a share of what the order gains over ordering nothing: the gap without the constant.</summary>
    public double GapOnGain => Share(NothingOrdered - Objective);

    /// <summary>Seed of the search.</summary>
    public int Seed { get; init; }

    /// <summary>Seconds of the wall clock.</summary>
    public double Seconds { get; init; }

    /// <summary>Nodes of the search tree that were looked at.</summary>
    public int Nodes { get; init; }

    /// <summary>Where the time went, in seconds, by step in the order of the search.</summary>
    public IReadOnlyList<TimeSpent> TimeSpent { get; init; } = [];

    private double Share(double whole) =>
        Objective - Bound <= 1e-9 ? 0 : Math.Max(0, Objective - Bound) / Math.Max(1e-9, Math.Abs(whole));
}

/// <summary>Seconds that a step of the search took.</summary>
/// <param name="Step">What was done.</param>
/// <param name="Seconds">Wall clock.</param>
public sealed record TimeSpent(string Step, double Seconds);

/// <summary>A better order, or a better bound for the same order, told while the search goes on.</summary>
/// <param name="Plan">The best order so far, without reasons.</param>
/// <param name="Objective">As in <see cref="PlanOutcome.Objective"/>.</param>
/// <param name="Bound">As in <see cref="PlanOutcome.Bound"/>, as far as known.</param>
/// <param name="Seconds">Since the start.</param>
public sealed record PlanProgress(Plan Plan, double Objective, double Bound, double Seconds)
{
    /// <summary>As in <see cref="PlanOutcome.Gap"/>: at most this much better could an order still be; 1 as long as nothing is known.</summary>
    public double Gap => Objective - Bound <= 1e-9 ? 0 : Math.Min(1, (Objective - Bound) / Math.Max(1e-9, Math.Abs(Objective)));
}

/// <summary>What to order, what it costs, and what it will do.</summary>
public sealed record Plan
{
    /// <summary>The lines to order, by supplier and then as on its list.</summary>
    public required IReadOnlyList<PlanLine> Lines { get; init; }

    /// <summary>One order for each supplier and arrival day used.</summary>
    public required IReadOnlyList<SupplierOrder> Orders { get; init; }

    /// <summary>Landed cost of all orders, house currency.</summary>
    public required decimal Total { get; init; }

    /// <summary>Each aim's odds by day, with and without the order.</summary>
    public IReadOnlyList<AimOdds> Aims { get; init; } = [];

    /// <summary>What is wanted and not ordered, and why.</summary>
    public IReadOnlyList<LeftOut> LeftOut { get; init; } = [];

    /// <summary>What will fly of each taxon that flies, hangs or is ordered.</summary>
    public IReadOnlyList<TaxonForecast> Forecast { get; init; } = [];
}

/// <summary>One line to order.</summary>
public sealed record PlanLine
{
    /// <summary>Id of the offer.</summary>
    public required string Offer { get; init; }

    /// <summary>Supplier.</summary>
    public required string Supplier { get; init; }

    /// <summary>Accepted binomial; null for a mix.</summary>
    public string? Taxon { get; init; }

    /// <summary>The day it arrives.</summary>
    public required DateOnly Arrives { get; init; }

    /// <summary>Pupae.</summary>
    public required int Pupae { get; init; }

    /// <summary>Packs.</summary>
    public required int Packs { get; init; }

    /// <summary>
    /// Price of one pupa at this number, supplier's currency, as printed; the mean of all, to four places, where a price holds from a number
    /// on.
    /// </summary>
    public required decimal UnitPrice { get; init; }

    /// <summary>Pupae times price, supplier's currency, as printed.</summary>
    public required decimal Goods { get; init; }

    /// <summary>Landed cost: goods with tax and its share of carriage and charges by goods; house currency. Sums to the order's total.</summary>
    public required decimal Landed { get; init; }

    /// <summary>True when the supplier has answered, so that nothing about it is planned any more.</summary>
    public bool Settled { get; init; }

    /// <summary>
    /// What the week is better for this line, its cost taken off: worth of what would be short without it, less what it costs; house
    /// currency. Null where it is settled or cannot be left out.
    /// </summary>
    public decimal? Gain { get; init; }

    /// <summary>Why, in a sentence.</summary>
    public string Reason { get; init; } = "";

    /// <summary>The number in the reason, or null.</summary>
    public double? ReasonNumber { get; init; }
}

/// <summary>One delivery's cost and how it is made up. Supplier's currency unless said otherwise.</summary>
public sealed record SupplierOrder
{
    /// <summary>Supplier.</summary>
    public required string Supplier { get; init; }

    /// <summary>The day it arrives.</summary>
    public required DateOnly Arrives { get; init; }

    /// <summary>ISO 4217 code of the supplier.</summary>
    public required string Currency { get; init; }

    /// <summary>House currency for one of the supplier's.</summary>
    public required decimal Rate { get; init; }

    /// <summary>Pupae.</summary>
    public required int Pupae { get; init; }

    /// <summary>Goods, without tax.</summary>
    public required decimal Goods { get; init; }

    /// <summary>Carriage, without tax.</summary>
    public required decimal Carriage { get; init; }

    /// <summary>Charges, without tax.</summary>
    public required decimal Charges { get; init; }

    /// <summary>Tax that stays a cost; 0 where reclaimed.</summary>
    public required decimal Tax { get; init; }

    /// <summary>Tax that is paid and got back.</summary>
    public required decimal TaxReclaimed { get; init; }

    /// <summary>Goods, carriage, charges and tax that stays: the landed cost.</summary>
    public required decimal Total { get; init; }

    /// <summary>The landed cost in the house's currency, rounded to the penny.</summary>
    public required decimal TotalInHouse { get; init; }
}

/// <summary>An aim's odds on its days.</summary>
/// <param name="Aim">Id of the aim.</param>
/// <param name="Words">The aim in the keeper's words.</param>
/// <param name="Wanted">The number wanted.</param>
/// <param name="Sure">How sure it was wanted, or null.</param>
/// <param name="Days">Its days; for a breeding aim one entry for the whole plan.</param>
public sealed record AimOdds(string Aim, string Words, int Wanted, double? Sure, IReadOnlyList<AimDay> Days)
{
    /// <summary>Days on which the wish is met with the order.</summary>
    public int DaysMet => Days.Count(d => d.Met);
}

/// <summary>One day of an aim.</summary>
/// <param name="Day">The day; the last day of the plan for a breeding aim.</param>
/// <param name="With">Chance that the number is there, with the order.</param>
/// <param name="Without">The same without the order.</param>
/// <param name="MeanWith">Mean number, with the order.</param>
/// <param name="MeanWithout">Mean number, without the order.</param>
/// <param name="Met">True when the chance is the wanted one or more; without a wanted sureness, when the mean is the number or more.</param>
public sealed record AimDay(DateOnly Day, double With, double Without, double MeanWith, double MeanWithout, bool Met);

/// <summary>Why a wanted thing is not ordered.</summary>
public enum LeftOutKind
{
    /// <summary>On no list.</summary>
    OnNoList,

    /// <summary>On a list, and sold out.</summary>
    SoldOut,

    /// <summary>The budget goes to what is worth more.</summary>
    OverBudget,

    /// <summary>What flies and hangs serves.</summary>
    OwnStockServes,

    /// <summary>The house may not keep it.</summary>
    NotToBeKept,

    /// <summary>No hanging places, or too many would fly.</summary>
    NoRoom,

    /// <summary>It costs more than what it would bring is worth to the keeper.</summary>
    NotWorthIt,

    /// <summary>It would come too late, or not emerge in time.</summary>
    TooLate,

    /// <summary>The keeper forbade its lines.</summary>
    Forbidden,

    /// <summary>The supplier does not send it.</summary>
    Refused,

    /// <summary>Orders for it are closed.</summary>
    OrdersClosed,
}

/// <summary>A wanted thing that is not ordered.</summary>
/// <param name="Wanted">The aim's words, or the taxon.</param>
/// <param name="Aim">Id of the aim.</param>
/// <param name="Kind">Why.</param>
/// <param name="Sentence">Why, in a sentence.</param>
public sealed record LeftOut(string Wanted, string Aim, LeftOutKind Kind, string Sentence);

/// <summary>What will fly of one taxon.</summary>
/// <param name="Taxon">Accepted binomial.</param>
/// <param name="Days">One entry a day of the plan.</param>
public sealed record TaxonForecast(string Taxon, IReadOnlyList<ForecastDay> Days);

/// <summary>How many fly on a day.</summary>
/// <param name="Day">The day.</param>
/// <param name="Without">Mean without the order.</param>
/// <param name="With">Mean with the order.</param>
/// <param name="Low">With the order: 9 of 10 days like this have this many or more.</param>
/// <param name="High">With the order: 9 of 10 days like this have this many or fewer.</param>
public sealed record ForecastDay(DateOnly Day, double Without, double With, int Low, int High);
