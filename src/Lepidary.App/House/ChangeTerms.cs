using System.Globalization;
using Lepidary.App.Host;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.House;

/// <summary>A supplier's terms as a keeper types them. Money is in the supplier's currency.</summary>
internal sealed record TermsSaid
{
    /// <summary>The supplier; null for a new one.</summary>
    public Guid? SupplierId { get; init; }

    /// <summary>Name of a new supplier.</summary>
    public string? Name { get; init; }

    public string? Email { get; init; }

    /// <summary>ISO 4217 code; null for the house's.</summary>
    public string? Currency { get; init; }

    /// <summary>House money for one of theirs.</summary>
    public decimal? Rate { get; init; }

    public bool PricesExcludeTax { get; init; } = true;

    /// <summary>Percent; null for the house's.</summary>
    public decimal? TaxPercent { get; init; }

    public bool CarriageTaxed { get; init; }

    public CarriageCount CarriageBy { get; init; }

    /// <summary>Steps of carriage: from how many on, and what it costs; rows with neither are left out.</summary>
    public IReadOnlyList<(int? From, decimal? Cost)> Carriage { get; init; } = [];

    /// <summary>Charges that are no animals; rows with neither name nor amount are left out.</summary>
    public IReadOnlyList<(string? Name, decimal? Amount, CountedBy Per)> Charges { get; init; } = [];

    public int? BoxPupae { get; init; }

    public int? MinimumPupae { get; init; }

    public decimal? MinimumGoods { get; init; }

    public DayOfWeek? ArrivesOn { get; init; }

    public DayOfWeek? AlsoArrivesOn { get; init; }

    public int? OrderAheadDays { get; init; }

    public int? ClaimWindowHours { get; init; }

    public bool Avoided { get; init; }
}

/// <summary>Changes what one supplier's pupae cost the house and when its boxes come, or adds a supplier. What the form does not show stays as it is.</summary>
internal sealed class ChangeTerms(BookContext book, HouseDay day)
{
    /// <returns>The supplier, or everything that is wrong.</returns>
    public async Task<Checked<Guid>> Put(TermsSaid said, CancellationToken cancellation)
    {
        var problems = new List<Problem>();
        var currency = said.Currency?.ToUpperInvariant() ?? day.Currency;
        if (!HouseRules.IsCurrency(currency))
        {
            problems.Add(new("currency", currency, HouseRules.CurrencyWanted));
        }
        else if (currency != day.Currency && said.Rate is null)
        {
            problems.Add(new("rate", "nothing", $"how much {day.Currency} one {currency} costs"));
        }

        if (said.Rate <= 0)
        {
            problems.Add(new("rate", Text(said.Rate), "above 0"));
        }

        if (said.TaxPercent is < 0 or > 100)
        {
            problems.Add(new("tax", Text(said.TaxPercent), "0 to 100, in percent"));
        }

        var carriage = Carriage(said, problems);
        var charges = Charges(said, problems);
        if (said.AlsoArrivesOn is not null && said.AlsoArrivesOn == said.ArrivesOn)
        {
            problems.Add(new("second day", said.AlsoArrivesOn.ToString()!, "another day than the first, or none"));
        }

        var terms = await Terms(said, currency, problems, cancellation);
        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        terms!.Supplier!.Email = said.Email;
        (terms.Currency, terms.Rate, terms.PricesExcludeTax, terms.TaxRate, terms.CarriageTaxed) =
            (currency, currency == day.Currency ? 1 : said.Rate!.Value, said.PricesExcludeTax, said.TaxPercent / 100, said.CarriageTaxed);
        (terms.CarriageBy, terms.Carriage, terms.Charges, terms.BoxPupae) = (said.CarriageBy, carriage, charges, said.BoxPupae is 0 ? null : said.BoxPupae);
        (terms.MinimumPupae, terms.MinimumGoods, terms.ArrivesOn, terms.AlsoArrivesOn) =
            (said.MinimumPupae is 0 ? null : said.MinimumPupae, said.MinimumGoods is 0 ? null : said.MinimumGoods, said.ArrivesOn, said.ArrivesOn is null ? null : said.AlsoArrivesOn);
        (terms.OrderAheadDays, terms.ClaimWindowHours, terms.Avoided) = (said.OrderAheadDays, said.ClaimWindowHours is 0 ? null : said.ClaimWindowHours, said.Avoided);
        await book.SaveChangesAsync(cancellation);
        return terms.SupplierId;
    }

    private static List<CarriageTier> Carriage(TermsSaid said, List<Problem> problems)
    {
        var steps = said.Carriage.Where(step => step.From is not null || step.Cost is not null).ToList();
        foreach (var step in steps.Where(step => step.Cost is null or < 0))
        {
            problems.Add(new("carriage", $"from {step.From}: {Text(step.Cost)}", "what it costs, at least 0"));
        }

        if (steps.Select(step => step.From ?? 1).Distinct().Count() < steps.Count)
        {
            problems.Add(new("carriage", "two sums from the same number on", "each number once"));
        }

        return [.. steps.Select(step => new CarriageTier { From = Math.Max(step.From ?? 1, 1), Cost = step.Cost ?? 0 }).OrderBy(tier => tier.From)];
    }

    private static List<SupplierCharge> Charges(TermsSaid said, List<Problem> problems)
    {
        var charges = said.Charges.Where(charge => charge.Name is not null || charge.Amount is not null).ToList();
        foreach (var charge in charges.Where(charge => charge.Amount is null or < 0))
        {
            problems.Add(new("charge", $"{charge.Name}: {Text(charge.Amount)}", "what it costs, at least 0"));
        }

        if (charges.Exists(charge => charge.Per == CountedBy.Box) && said.BoxPupae is null or 0)
        {
            problems.Add(new("box", "nothing", "how many pupae go in one, since a charge counts by the box"));
        }

        return [.. charges.Select(charge => new SupplierCharge { Name = charge.Name ?? "Charge", Amount = charge.Amount ?? 0, Per = charge.Per })];
    }

    private async Task<SupplierTerms?> Terms(TermsSaid said, string currency, List<Problem> problems, CancellationToken cancellation)
    {
        if (said.SupplierId is { } id)
        {
            var there = await book.Terms.Include(terms => terms.Supplier).FirstOrDefaultAsync(terms => terms.HouseId == day.HouseId && terms.SupplierId == id, cancellation);
            if (there is null)
            {
                problems.Add(new("supplier", "one that is not there", "a supplier of the page House"));
            }

            return there;
        }

        if (said.Name is not { } name)
        {
            problems.Add(new("name", "nothing", "the supplier's name"));
            return null;
        }

        var known = await book.Terms.Where(terms => terms.HouseId == day.HouseId).Select(terms => terms.Supplier!.Name).ToListAsync(cancellation);
        if (known.Contains(name, StringComparer.OrdinalIgnoreCase))
        {
            problems.Add(new("name", name, "a supplier that the house does not have yet"));
            return null;
        }

        if (problems.Count > 0)
        {
            return null;
        }

        var supplier = await book.Suppliers.FirstOrDefaultAsync(one => one.Name == name, cancellation);
        if (supplier is null)
        {
            book.Add(supplier = new Supplier { Name = name });
        }

        var fresh = new SupplierTerms { HouseId = day.HouseId, SupplierId = supplier.Id, Supplier = supplier, Currency = currency };
        book.Add(fresh);
        return fresh;
    }

    private static string Text(decimal? number) => number?.ToString("0.####", CultureInfo.InvariantCulture) ?? "nothing";
}
