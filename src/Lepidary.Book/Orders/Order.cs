namespace Lepidary.Book;

/// <summary>
/// What one supplier is asked for on one order day, with the money and the odds as they were shown. Never changed; what became
/// of it are <see cref="OrderStep"/> facts, and a changed mind is another order.
/// </summary>
public sealed class Order
{
    /// <summary>Key.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>House.</summary>
    public Guid HouseId { get; init; }

    /// <summary>Supplier.</summary>
    public Guid SupplierId { get; init; }

    /// <summary>The supplier.</summary>
    public Supplier? Supplier { get; init; }

    /// <summary>The list it was made from, or null.</summary>
    public Guid? ListId { get; init; }

    /// <summary>Order day.</summary>
    public DateOnly OnDay { get; init; }

    /// <summary>When it was made.</summary>
    public DateTimeOffset MadeAt { get; init; }

    /// <summary>Who made it.</summary>
    public string Who { get; init; } = "";

    /// <summary>The day the box is expected, or null.</summary>
    public DateOnly? ArrivesOn { get; init; }

    /// <summary>Supplier's currency, ISO 4217.</summary>
    public required string Currency { get; init; }

    /// <summary>House money for one of theirs, as reckoned.</summary>
    public decimal Rate { get; init; } = 1;

    /// <summary>Goods in the supplier's currency.</summary>
    public decimal Goods { get; init; }

    /// <summary>Carriage in the supplier's currency.</summary>
    public decimal Carriage { get; init; }

    /// <summary>Charges in the supplier's currency.</summary>
    public decimal Charges { get; init; }

    /// <summary>Tax in the supplier's currency.</summary>
    public decimal Tax { get; init; }

    /// <summary>Landed cost of the whole in the house's currency.</summary>
    public decimal Landed { get; init; }

    /// <summary>Lines.</summary>
    public List<OrderLine> Lines { get; init; } = [];
}

/// <summary>One line of an order, with what it was expected to do.</summary>
public sealed class OrderLine
{
    /// <summary>Key.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>Order.</summary>
    public Guid OrderId { get; init; }

    /// <summary>Place in the order, from 1.</summary>
    public int Number { get; init; }

    /// <summary>The offer, or null.</summary>
    public Guid? OfferId { get; init; }

    /// <summary>As the supplier prints it.</summary>
    public required string Text { get; init; }

    /// <summary>Accepted binomial; null for a mix.</summary>
    public string? Taxon { get; init; }

    /// <summary>Subspecies or form, or null.</summary>
    public string? Form { get; init; }

    /// <summary>Pupae, at least 1.</summary>
    public int Pupae { get; init; }

    /// <summary>Price for one pupa in the supplier's currency.</summary>
    public decimal UnitPrice { get; init; }

    /// <summary>Landed cost of one pupa in the house's currency, with its share of carriage, charges and tax.</summary>
    public decimal UnitLanded { get; init; }

    /// <summary>The emergence rate it was reckoned with, 0…1, or null.</summary>
    public double? EmergenceRate { get; init; }

    /// <summary>The chance shown beside it, 0…1, or null.</summary>
    public double? Chance { get; init; }

    /// <summary>Why, in the sentence shown.</summary>
    public string Reason { get; init; } = "";
}
