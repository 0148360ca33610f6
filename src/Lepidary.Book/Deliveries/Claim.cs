namespace Lepidary.Book;

/// <summary>What one line of a delivery gives to claim.</summary>
public sealed record ClaimLine
{
    /// <summary>Accepted binomial.</summary>
    public required string Taxon { get; init; }

    /// <summary>Subspecies or form, or null.</summary>
    public string? Form { get; init; }

    /// <summary>On the supplier's note and not in the box.</summary>
    public int Missing { get; init; }

    /// <summary>Dead on arrival.</summary>
    public int Dead { get; init; }

    /// <summary>Damaged.</summary>
    public int Damaged { get; init; }

    /// <summary>Emerged in the box.</summary>
    public int Emerged { get; init; }

    /// <summary>Of another species.</summary>
    public int WrongSpecies { get; init; }

    /// <summary>Price for one pupa in the supplier's currency, or null where nobody ordered it.</summary>
    public decimal? UnitPrice { get; init; }

    /// <summary>Pupae in all.</summary>
    public int Pupae => Missing + Dead + Damaged + Emerged + WrongSpecies;

    /// <summary>Money in the supplier's currency, without tax and carriage; null where the price is not known.</summary>
    public decimal? Amount => UnitPrice * Pupae;
}

/// <summary>
/// What a delivery gives to claim: reckoned from the note against the count, never stored. Whether the supplier credits all of it is a
/// matter of its terms.
/// </summary>
public sealed record Claim
{
    /// <summary>The delivery.</summary>
    public required Guid DeliveryId { get; init; }

    /// <summary>Lines with something to claim, in the order of the delivery.</summary>
    public required IReadOnlyList<ClaimLine> Lines { get; init; }

    /// <summary>When the supplier's window closes, or null where it has not said.</summary>
    public DateTimeOffset? Until { get; init; }

    /// <summary>Pupae in all.</summary>
    public int Pupae => Lines.Sum(line => line.Pupae);

    /// <summary>Money in the supplier's currency for the lines whose price is known.</summary>
    public decimal Amount => Lines.Sum(line => line.Amount ?? 0);

    /// <summary>Reckons what a delivery gives to claim.</summary>
    /// <param name="delivery">The delivery with its lines.</param>
    /// <param name="order">The order with its lines, for the prices; or null.</param>
    /// <param name="windowHours">Hours after delivery in which the supplier takes claims, or null where it has not said.</param>
    /// <remarks>
    /// What was not sent is counted against the note, since the note is what is paid for; against the order only where there is no
    /// note. Each taxon of the order is matched by the order's line, or else by its name.
    /// </remarks>
    public static Claim Of(Delivery delivery, Order? order = null, int? windowHours = null)
    {
        ArgumentNullException.ThrowIfNull(delivery);
        return new()
        {
            DeliveryId = delivery.Id,
            Until = windowHours is { } hours ? delivery.DeviceTime.AddHours(hours) : null,
            Lines =
            [
                .. delivery.Lines.Select(line => new ClaimLine
                {
                    Taxon = line.Taxon,
                    Form = line.Form,
                    Missing = Math.Max(0, (line.Noted ?? line.Ordered ?? line.Counted) - line.Counted),
                    Dead = line.Dead,
                    Damaged = line.Damaged,
                    Emerged = line.Emerged,
                    WrongSpecies = line.WrongSpecies,
                    UnitPrice = PriceOf(line, order),
                }).Where(line => line.Pupae > 0),
            ],
        };
    }

    private static decimal? PriceOf(DeliveryLine line, Order? order) =>
        (order?.Lines.Find(ordered => ordered.Id == line.OrderLineId)
            ?? order?.Lines.Find(ordered => ordered.Taxon == line.Taxon && ordered.Form == line.Form)
            ?? order?.Lines.Find(ordered => ordered.Taxon == line.Taxon))?.UnitPrice;
}
