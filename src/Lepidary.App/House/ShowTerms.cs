using System.Globalization;
using Lepidary.App.Host;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.House;

/// <summary>A supplier's terms in the fields of their form, by the names of the fields.</summary>
/// <param name="SupplierId">Null for a new supplier.</param>
/// <param name="Name">The supplier's name.</param>
/// <param name="HouseCurrency">ISO 4217 code.</param>
/// <param name="Fields">What stands in each field.</param>
/// <param name="Steps">Rows for carriage, one more than there are.</param>
/// <param name="Charges">Rows for charges, one more than there are.</param>
internal sealed record TermsView(Guid? SupplierId, string Name, string HouseCurrency, IReadOnlyDictionary<string, string> Fields, int Steps, int Charges);

/// <summary>What do this supplier's pupae cost the house, and when do its boxes come?</summary>
internal sealed class ShowTerms(BookContext book, HouseDay day)
{
    /// <returns>Null where the house has no such supplier.</returns>
    public async Task<TermsView?> Show(Guid? supplier, CancellationToken cancellation)
    {
        if (day.HouseName is null)
        {
            return null;
        }

        var terms = supplier is null
            ? new SupplierTerms { Currency = day.Currency, PricesExcludeTax = true, CarriageTaxed = true, ArrivesOn = DayOfWeek.Tuesday }
            : await book.Terms.AsNoTracking().Include(terms => terms.Supplier).FirstOrDefaultAsync(terms => terms.HouseId == day.HouseId && terms.SupplierId == supplier, cancellation);
        if (terms is null)
        {
            return null;
        }

        var fields = new Dictionary<string, string>(StringComparer.Ordinal)
        {
            ["email"] = terms.Supplier?.Email ?? "",
            ["currency"] = terms.Currency,
            ["rate"] = terms.Currency == day.Currency ? "" : Text(terms.Rate),
            ["prices"] = terms.PricesExcludeTax ? "without" : "with",
            ["tax"] = terms.TaxRate is { } tax ? Text(tax * 100) : "",
            ["carriage-by"] = terms.CarriageBy.ToString(),
            ["box"] = Text(terms.BoxPupae),
            ["minimum-pupae"] = Text(terms.MinimumPupae),
            ["minimum-goods"] = Text(terms.MinimumGoods),
            ["arrives"] = terms.ArrivesOn?.ToString() ?? "",
            ["also"] = terms.AlsoArrivesOn?.ToString() ?? "",
            ["ahead"] = Text(terms.OrderAheadDays),
            ["claim"] = Text(terms.ClaimWindowHours),
            ["carriage-taxed"] = terms.CarriageTaxed ? "yes" : "",
            ["avoid"] = terms.Avoided ? "yes" : "",
        };
        foreach (var (at, step) in terms.Carriage.OrderBy(step => step.From).Index())
        {
            (fields[$"from-{at}"], fields[$"cost-{at}"]) = (Text(step.From), Text(step.Cost));
        }

        foreach (var (at, charge) in terms.Charges.Index())
        {
            (fields[$"charge-{at}"], fields[$"amount-{at}"], fields[$"per-{at}"]) = (charge.Name, Text(charge.Amount), charge.Per.ToString());
        }

        return new TermsView(supplier, terms.Supplier?.Name ?? "", day.Currency, fields, Math.Max(terms.Carriage.Count + 1, 3), Math.Max(terms.Charges.Count + 1, 2));
    }

    private static string Text(IFormattable? number) => number?.ToString("0.######", CultureInfo.InvariantCulture) ?? "";
}
