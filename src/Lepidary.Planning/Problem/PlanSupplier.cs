namespace Lepidary.Planning;

/// <summary>A supplier's terms for this order.</summary>
public sealed record PlanSupplier
{
    /// <summary>Name; the key.</summary>
    public required string Name { get; init; }

    /// <summary>ISO 4217 code of its prices, carriage and charges.</summary>
    public required string Currency { get; init; }

    /// <summary>House currency for one of the supplier's; above 0.</summary>
    public decimal Rate { get; init; } = 1;

    /// <summary>True when printed prices, carriage and charges are without tax.</summary>
    public bool PricesExcludeTax { get; init; } = true;

    /// <summary>Tax on goods, 0 … 1 (0.20 is 20 %).</summary>
    public decimal TaxRate { get; init; }

    /// <summary>True when the same tax is due on carriage and charges.</summary>
    public bool CarriageTaxed { get; init; }

    /// <summary>True when the house gets the tax back, so that landed cost leaves it out.</summary>
    public bool TaxReclaimed { get; init; }

    /// <summary>Days on which a box of this order can arrive, one or more. Each used day is a delivery of its own.</summary>
    public required IReadOnlyList<DateOnly> Arrives { get; init; }

    /// <summary>Last day on which orders are taken for this delivery, or null.</summary>
    public DateOnly? LastOrderDay { get; init; }

    /// <summary>Days on which no box of this supplier can arrive: holidays, no courier.</summary>
    public IReadOnlyCollection<DateOnly> ClosedDays { get; init; } = [];

    /// <summary>Carriage of one delivery by steps, ascending; the last step whose start is reached applies. Empty: none.</summary>
    public IReadOnlyList<CarriageStep> Carriage { get; init; } = [];

    /// <summary>What the starts of <see cref="Carriage"/> count.</summary>
    public CarriageBy CarriageBy { get; init; }

    /// <summary>Charges beside carriage: permits, boxes.</summary>
    public IReadOnlyList<PlanCharge> Charges { get; init; } = [];

    /// <summary>Fewest pupae of one delivery, or 0. A delivery below it is not ordered at all.</summary>
    public int MinimumPupae { get; init; }

    /// <summary>Least goods of one delivery in the supplier's currency, as printed, or 0.</summary>
    public decimal MinimumGoods { get; init; }

    /// <summary>Grams that one packed pupa adds to a delivery; used by carriage by weight.</summary>
    public double GramsPerPupa { get; init; } = 5;

    /// <summary>True when nothing may be ordered here.</summary>
    public bool Avoided { get; init; }

    /// <summary>True when nothing more may be added to what is settled with this supplier.</summary>
    public bool TakesNoMore { get; init; }

    /// <summary>
    /// Share by which the keeper would pay more here for the same (0.05: five in a hundred) or, below 0, wants it cheaper; it steers
    /// the choice and never changes a printed cost.
    /// </summary>
    public double FavouredBy { get; init; }
}

/// <summary>What carriage is counted by.</summary>
public enum CarriageBy
{
    /// <summary>Pupae of the delivery.</summary>
    Pupae,

    /// <summary>Goods of the delivery in the supplier's currency, as printed.</summary>
    Goods,

    /// <summary>Weight of the delivery in grams.</summary>
    Grams,
}

/// <summary>One step of carriage.</summary>
/// <param name="From">From this many pupae (or this much goods, or grams) upwards.</param>
/// <param name="Cost">Of the whole delivery, in the supplier's currency.</param>
public sealed record CarriageStep(decimal From, decimal Cost);

/// <summary>What a charge is counted by.</summary>
public enum PlanChargePer
{
    /// <summary>Once a delivery.</summary>
    Order,

    /// <summary>Once a box; a box begun is a box.</summary>
    Box,
}

/// <summary>A charge beside carriage.</summary>
/// <param name="Name">As the supplier calls it.</param>
/// <param name="Amount">In the supplier's currency.</param>
/// <param name="Per">What it is counted by.</param>
/// <param name="BoxPupae">Pupae that a box holds; at least 1.</param>
public sealed record PlanCharge(string Name, decimal Amount, PlanChargePer Per = PlanChargePer.Order, int BoxPupae = 200);
