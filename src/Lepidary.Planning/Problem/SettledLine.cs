namespace Lepidary.Planning;

/// <summary>
/// What a supplier has answered to one line of an order: this many come, on this day. It is planned around, never away: its cost counts in
/// carriage and budget, its pupae in the odds and on the hanging places, and whatever else of the same line was planned does not come.
/// </summary>
/// <param name="Offer">Id of the offer that was ordered.</param>
/// <param name="Arrives">The day it arrives; another than the terms say where the supplier says so.</param>
/// <param name="Pupae">How many come; 0 when the line is refused.</param>
public sealed record SettledLine(string Offer, DateOnly Arrives, int Pupae)
{
    /// <summary>Accepted binomial that comes instead of the ordered one, or null.</summary>
    public string? Instead { get; init; }

    /// <summary>Price of one pupa as agreed, supplier's currency, or null for the list's price at this number.</summary>
    public decimal? UnitPrice { get; init; }

    /// <summary>How many were ordered, for the sentence; null where not known.</summary>
    public int? Asked { get; init; }
}
