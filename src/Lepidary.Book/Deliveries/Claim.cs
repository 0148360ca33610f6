namespace Lepidary.Book;

/// <summary>Where the price of a claim stands.</summary>
public enum PriceSource
{
    /// <summary>On the supplier's note, which is what is paid.</summary>
    Note,

    /// <summary>In the order.</summary>
    Order,

    /// <summary>On the supplier's last list before the box.</summary>
    List,
}

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

    /// <summary>Price for one pupa in the supplier's currency, or null where none is known.</summary>
    public decimal? UnitPrice { get; init; }

    /// <summary>Where the price stands; null where there is none.</summary>
    public PriceSource? PriceSource { get; init; }

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
    /// <param name="listed">Prices of the supplier's list by the key of the delivery's line, for what neither note nor order prices; or null.</param>
    /// <remarks>
    /// What was not sent is counted against the note, since the note is what is paid for; against the order only where there is no
    /// note. Each taxon of the order is matched by the order's line, or else by its name.
    /// </remarks>
    public static Claim Of(Delivery delivery, Order? order = null, int? windowHours = null, IReadOnlyDictionary<Guid, decimal>? listed = null)
    {
        ArgumentNullException.ThrowIfNull(delivery);
        return new()
        {
            DeliveryId = delivery.Id,
            Until = windowHours is { } hours ? delivery.DeviceTime.AddHours(hours) : null,
            Lines =
            [
                .. delivery.Lines.Select(line => (Line: line, Price: PriceOf(line, order, listed))).Select(item => new ClaimLine
                {
                    Taxon = item.Line.Taxon,
                    Form = item.Line.Form,
                    Missing = Math.Max(0, (item.Line.Noted ?? item.Line.Ordered ?? item.Line.Counted) - item.Line.Counted),
                    Dead = item.Line.Dead,
                    Damaged = item.Line.Damaged,
                    Emerged = item.Line.Emerged,
                    WrongSpecies = item.Line.WrongSpecies,
                    UnitPrice = item.Price?.Money,
                    PriceSource = item.Price?.From,
                }).Where(line => line.Pupae > 0),
            ],
        };
    }

    private static (decimal Money, PriceSource From)? PriceOf(DeliveryLine line, Order? order, IReadOnlyDictionary<Guid, decimal>? listed)
    {
        if (line.NotedPrice is { } noted)
        {
            return (noted, PriceSource.Note);
        }

        var ordered = order?.Lines.Find(other => other.Id == line.OrderLineId)
            ?? order?.Lines.Find(other => other.Taxon == line.Taxon && other.Form == line.Form)
            ?? order?.Lines.Find(other => other.Taxon == line.Taxon);
        return ordered is not null ? (ordered.UnitPrice, PriceSource.Order) : listed?.TryGetValue(line.Id, out var price) == true ? (price, PriceSource.List) : null;
    }
}
