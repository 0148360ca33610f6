using System.Globalization;
using Lepidary.Taxa;

namespace Lepidary.App.Rounds;

/// <summary>How long wings dry before an adult may be let go.</summary>
internal static class Drying
{
    /// <summary>Hours from emergence to the earliest release: 3 for small species, 5 for large ones. A rule of this project, from memory.</summary>
    public static int Hours(string taxon) => TaxonTable.Shipped.Of(taxon) is { } known && (known.Tags.Contains("large") || known.Family == "Saturniidae") ? 5 : 3;

    /// <summary>The hint beside the release.</summary>
    /// <param name="now">The house's local time.</param>
    public static string Hint(string taxon, DateTime now)
    {
        var hours = Hours(taxon);
        var earliest = now.AddHours(hours);
        var when = earliest.Date == now.Date && earliest.Hour < 15
            ? string.Create(CultureInfo.InvariantCulture, $"one that has just come out: not before {earliest:HH:mm}")
            : "one that has just come out: tomorrow morning";
        return $"Let wings dry about {hours} hours ({when}). From memory; look at the wings, not at the clock.";
    }
}
