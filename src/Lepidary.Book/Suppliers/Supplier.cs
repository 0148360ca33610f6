namespace Lepidary.Book;

/// <summary>Who posts pupae. One in the book; what it costs one house are its <see cref="SupplierTerms"/>.</summary>
public sealed class Supplier
{
    /// <summary>Key.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>Name, one in the book.</summary>
    public required string Name { get; set; }

    /// <summary>Address for orders and claims, or null.</summary>
    public string? Email { get; set; }

    /// <summary>Terms, one a house.</summary>
    public List<SupplierTerms> Terms { get; init; } = [];
}

/// <summary>A supplier's terms to one house: money, tax, carriage, fewest, days. Settings; an order keeps what it was reckoned with.</summary>
public sealed class SupplierTerms
{
    /// <summary>Key.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>Supplier.</summary>
    public Guid SupplierId { get; init; }

    /// <summary>The supplier.</summary>
    public Supplier? Supplier { get; init; }

    /// <summary>House.</summary>
    public Guid HouseId { get; init; }

    /// <summary>ISO 4217 code of its prices.</summary>
    public required string Currency { get; set; }

    /// <summary>House money for one of theirs, above 0; 1 in the same currency.</summary>
    public decimal Rate { get; set; } = 1;

    /// <summary>True when its prices are without tax.</summary>
    public bool PricesExcludeTax { get; set; }

    /// <summary>Tax on its goods, 0…1; null for the house's rate.</summary>
    public decimal? TaxRate { get; set; }

    /// <summary>Carriage of a box by steps, ascending.</summary>
    public List<CarriageTier> Carriage { get; set; } = [];

    /// <summary>What the steps of <see cref="Carriage"/> count.</summary>
    public CarriageCount CarriageBy { get; set; }

    /// <summary>Grams that a packed pupa adds to a box, above 0; null for the usual. For carriage by weight.</summary>
    public decimal? PupaGrams { get; set; }

    /// <summary>True when a price from a number on holds for the pupae from there on, false when for all of the line.</summary>
    public bool BreaksFromThere { get; set; }

    /// <summary>True when carriage bears tax too.</summary>
    public bool CarriageTaxed { get; set; }

    /// <summary>Permits, boxes and the like.</summary>
    public List<SupplierCharge> Charges { get; set; } = [];

    /// <summary>Pupae that go in one box, or null.</summary>
    public int? BoxPupae { get; set; }

    /// <summary>Fewest pupae of an order, or null.</summary>
    public int? MinimumPupae { get; set; }

    /// <summary>Least goods of an order in its currency, or null.</summary>
    public decimal? MinimumGoods { get; set; }

    /// <summary>Day of the week on which its boxes come, or null.</summary>
    public DayOfWeek? ArrivesOn { get; set; }

    /// <summary>Second such day, or null.</summary>
    public DayOfWeek? AlsoArrivesOn { get; set; }

    /// <summary>Days before a box on which the last order for it is taken; null where it has not said.</summary>
    public int? OrderAheadDays { get; set; }

    /// <summary>Days on which none of its boxes can come; null for none.</summary>
    public List<DateOnly>? ClosedDays { get; set; }

    /// <summary>True when nothing is to be ordered there.</summary>
    public bool Avoided { get; set; }

    /// <summary>Share by which the house would pay more there for the same, above -1; below 0 it wants it cheaper.</summary>
    public decimal FavouredBy { get; set; }

    /// <summary>Hours after delivery in which it takes claims, or null where it has not said.</summary>
    public int? ClaimWindowHours { get; set; }
}

/// <summary>What steps of carriage count.</summary>
public enum CarriageCount
{
    /// <summary>Pupae of a box.</summary>
    Pupae,

    /// <summary>Its goods, in the supplier's currency.</summary>
    Goods,

    /// <summary>Its weight, g.</summary>
    Grams,
}

/// <summary>Carriage from an amount upwards.</summary>
public sealed class CarriageTier
{
    /// <summary>Pupae, goods or grams as <see cref="SupplierTerms.CarriageBy"/> says, at least 1.</summary>
    public int From { get; set; }

    /// <summary>For the whole order, in the supplier's currency.</summary>
    public decimal Cost { get; set; }
}

/// <summary>What a standing charge is counted by.</summary>
public enum CountedBy
{
    /// <summary>Once an order.</summary>
    Order,

    /// <summary>For each box.</summary>
    Box,
}

/// <summary>A standing charge that is no animal.</summary>
public sealed class SupplierCharge
{
    /// <summary>What for.</summary>
    public string Name { get; set; } = "";

    /// <summary>In the supplier's currency.</summary>
    public decimal Amount { get; set; }

    /// <summary>What it is counted by.</summary>
    public CountedBy Per { get; set; }
}
