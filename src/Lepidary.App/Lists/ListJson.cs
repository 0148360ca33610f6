using Lepidary.Lists;

namespace Lepidary.App.Lists;

/// <summary>The shape of <c>lepidary lists read --json</c>, which scripts rely on.</summary>
internal static class ListJson
{
    public static object Of(SupplierList list) => new
    {
        list.Supplier,
        list.Currency,
        list.Date,
        list.PricesExcludeTax,
        Offers = list.Offers.Select(offer => new
        {
            offer.Line,
            offer.Sheet,
            offer.Text,
            offer.PrintedName,
            offer.Taxon,
            offer.Form,
            offer.Kind,
            offer.Price,
            Breaks = offer.Breaks.Select(step => new { step.From, step.Price }),
            offer.Pack,
            offer.Minimum,
            offer.Available,
            offer.SoldOut,
            offer.CommonName,
            offer.Note,
            offer.Candidates,
            offer.Doubts,
        }),
        Charges = list.Charges.Select(charge => new { charge.Line, charge.Text, charge.Amount, charge.Per }),
        Doubts = list.Doubts.Select(doubt => new { doubt.Line, doubt.Text, doubt.Why }),
        list.Format,
        Lines = list.Lines.GroupBy(line => line.Kind).OrderBy(group => group.Key).ToDictionary(group => group.Key.ToString().ToLowerInvariant(), group => group.Count()),
    };
}
