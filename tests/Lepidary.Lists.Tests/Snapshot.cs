using System.Globalization;
using System.Text;

namespace Lepidary.Lists.Tests;

/// <summary>A read list as a few lines that a person can check against the file.</summary>
internal static class Snapshot
{
    public static string Of(SupplierList list)
    {
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"{list.Supplier ?? "?"} | {list.Currency ?? "?"} | {list.Date?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) ?? "?"} | {list.PricesExcludeTax switch { true => "without tax", false => "with tax", null => "tax not said" }}\n");
        foreach (var offer in list.Offers)
        {
            text.Append(CultureInfo.InvariantCulture, $"{offer.Line}: {(offer.Kind == OfferKind.Mix ? "mix" : offer.Taxon ?? "?")}");
            Add(offer.Form is { } form ? $"form {form}" : null);
            Add(offer.Kind == OfferKind.Cocoon ? "cocoon" : null);
            Add(offer.Price is { } price ? Shown(price) : "no price");
            foreach (var step in offer.Breaks)
                Add($"{step.From}+ {Shown(step.Price)}");
            Add(offer.Pack > 1 ? $"pack {offer.Pack}" : null);
            Add(offer.Minimum is { } minimum ? $"min {minimum}" : null);
            Add(offer.Available is { } available ? $"{available} there" : null);
            Add(offer.SoldOut ? "sold out" : null);
            Add(offer.Doubts.Count > 0 ? $"? {string.Join(" ", offer.Doubts)}" : null);
            text.Append('\n');
        }
        foreach (var charge in list.Charges)
            text.Append(CultureInfo.InvariantCulture, $"{charge.Line}: charge {(charge.Amount is { } amount ? Shown(amount) : "unsaid")} per {charge.Per}\n");
        foreach (var doubt in list.Doubts.Where(doubt => list.Offers.All(offer => offer.Line != doubt.Line || !offer.Doubts.Contains(doubt.Why))))
            text.Append(CultureInfo.InvariantCulture, $"{doubt.Line}: ? {doubt.Why}\n");
        return text.ToString();

        void Add(string? part)
        {
            if (part is not null)
                text.Append(", ").Append(part);
        }
    }

    private static string Shown(decimal price) => price.ToString("0.00##", CultureInfo.InvariantCulture);
}
