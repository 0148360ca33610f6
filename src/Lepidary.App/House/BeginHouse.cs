using System.Globalization;
using Lepidary.Book;

namespace Lepidary.App.House;

/// <summary>The little that a house begins with; the rest comes as it is needed.</summary>
internal sealed record HouseSaid
{
    public string? Name { get; init; }

    /// <summary>ISO 4217 code.</summary>
    public string? Currency { get; init; }

    /// <summary>IANA time zone.</summary>
    public string? Zone { get; init; }

    /// <summary>Pupae that can hang at a time.</summary>
    public int? Places { get; init; }

    /// <summary>Most that should fly; null for no ceiling.</summary>
    public int? Ceiling { get; init; }

    /// <summary>Landed, for one order week; null for none.</summary>
    public decimal? Budget { get; init; }

    /// <summary>Tax on goods, percent.</summary>
    public decimal? TaxPercent { get; init; }
}

/// <summary>Begins a book with a house of one cage and one flight area, from a few fields.</summary>
internal sealed class BeginHouse(LoadHouse load, TimeProvider clock)
{
    /// <returns>Key of the house, or everything that is wrong.</returns>
    public async Task<Checked<Guid>> Do(HouseSaid said, CancellationToken cancellation)
    {
        var problems = new List<Problem>();
        var currency = said.Currency?.ToUpperInvariant() ?? "";
        if (said.Name is null)
        {
            problems.Add(new("name", "nothing", "the name of the house"));
        }

        if (!HouseRules.IsCurrency(currency))
        {
            problems.Add(new("currency", currency.Length == 0 ? "nothing" : currency, HouseRules.CurrencyWanted));
        }

        if (said.Zone is null || !HouseRules.IsZone(said.Zone))
        {
            problems.Add(new("time zone", said.Zone ?? "nothing", HouseRules.ZoneWanted));
        }

        if (said.Places is not (>= 1 and <= 100_000))
        {
            problems.Add(new("hanging places", said.Places?.ToString(CultureInfo.InvariantCulture) ?? "nothing", "how many pupae can hang at a time"));
        }

        if (said.TaxPercent is < 0 or > 100)
        {
            problems.Add(new("tax", said.TaxPercent.Value.ToString(CultureInfo.InvariantCulture), "0 to 100, in percent"));
        }

        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var house = new Book.House
        {
            Name = said.Name!,
            Currency = currency,
            TimeZone = said.Zone!,
            TaxRate = (said.TaxPercent ?? 20) / 100,
            Budget = said.Budget is 0 ? null : said.Budget,
        };
        house.Cages.Add(new Cage { Name = "Cage A", Places = said.Places!.Value });
        house.Areas.Add(new FlightArea { Name = "Glasshouse", Ceiling = said.Ceiling is 0 ? null : said.Ceiling });
        var now = clock.GetUtcNow();
        return await load.Load(new HouseSheet(house, []), house.DayAt(now), now, "", null, cancellation);
    }
}
