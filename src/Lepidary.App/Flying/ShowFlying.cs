using Lepidary.App.Host;
using Lepidary.App.Odds;
using Lepidary.App.Pictures;
using Lepidary.App.Words;
using Lepidary.Book;
using Lepidary.Taxa;

namespace Lepidary.App.Flying;

/// <summary>One species on the wing.</summary>
/// <param name="Name">Accepted binomial.</param>
/// <param name="CommonName">English, or empty.</param>
/// <param name="Now">The middle of today's distribution.</param>
/// <param name="NowRange">8 of 10 such days.</param>
/// <param name="Next">The middle on the day asked about.</param>
/// <param name="NextRange">8 of 10 such days.</param>
/// <param name="ChanceNext">Chance that at least one flies on that day.</param>
internal sealed record FlyingRow(string Name, string CommonName, int Now, string NowRange, int Next, string NextRange, double ChanceNext);

internal sealed record FlyingView(string Headline, string Lead, string NextDay, IReadOnlyList<ForecastPoint> Forecast, int? Aim, IReadOnlyList<FlyingRow> Species);

internal sealed record FlyingSpeciesView(string Name, string CommonName, string Headline, IReadOnlyList<ForecastPoint> Forecast, int? Aim);

/// <summary>What flies, and what will fly?</summary>
internal sealed class ShowFlying(HouseDay day, OddsBook odds)
{
    public const int UsualDays = 28;
    private const double Band = 0.8;

    public async Task<FlyingView> Show(int days, CancellationToken cancellation)
    {
        var house = await day.House(cancellation);
        var outlook = await Look(days, cancellation);
        var total = outlook.Total(_ => true);
        var next = NextShown(house, day.Today);
        var on = next.DayNumber - day.Today.DayNumber;
        var rows = outlook.Species.Select(species => Row(species.Key, species.Value, Math.Min(on, days - 1)))
            .Where(row => row.Now > 0 || row.Next > 0 || row.ChanceNext >= 0.05)
            .OrderByDescending(row => row.Now).ThenByDescending(row => row.Next).ThenBy(row => row.Name, StringComparer.Ordinal).ToList();
        var aim = house.Aims.Where(aim => aim.Kind == AimKind.Display && aim.Selector == "all").Select(aim => (int?)aim.AtLeast).Max();
        return new FlyingView(
            total.Count == 0 || total[0].Quantile(0.5) == 0 ? "Nothing flies" : $"About {total[0].Quantile(0.5)} butterflies of {rows.Count(row => row.Now > 0)} species fly",
            aim is { } wanted && total.Count > on
                ? $"On {DayWords.Short(next)} at least {wanted} fly on {ChanceWords.Picture(total[on].AtLeast(wanted))} such days, without any further order."
                : "From what was let go, what hangs and what is on its way; without any further order.",
            DayWords.Short(next),
            Outlook.Points(total, day.Today, house.IsOpen),
            aim,
            rows);
    }

    /// <summary>One species, or null where the house has nothing of it.</summary>
    public async Task<FlyingSpeciesView?> Species(string name, CancellationToken cancellation)
    {
        var outlook = await Look(UsualDays, cancellation);
        if (!outlook.Species.TryGetValue(name, out var days))
        {
            return null;
        }

        var house = await day.House(cancellation);
        var now = days[0].Interval(Band);
        return new FlyingSpeciesView(
            name,
            TaxonTable.Shipped.Of(name).CommonNames is [var common, ..] ? common : "",
            days[0].Quantile(0.5) == 0 && now.To == 0 ? "None flies today" : $"About {days[0].Quantile(0.5)} fly today",
            Outlook.Points(days, day.Today, house.IsOpen),
            house.Aims.Where(aim => aim.Kind == AimKind.Display && aim.Selector == name).Select(aim => (int?)aim.AtLeast).Max());
    }

    /// <summary>Own stock forecast for so many days.</summary>
    public async Task<Outlook> Look(int days, CancellationToken cancellation)
    {
        var stock = await odds.Stock(day.HouseId, day.Today, cancellation);
        var learned = await odds.Learned(day.HouseId, day.Today, cancellation);
        return Outlook.Of(
            stock.GroupBy(item => item.Taxon).ToDictionary(group => group.Key, group => StockOdds.Of(TaxonTable.Shipped.Of(group.Key), group, day.Today, learned)),
            day.Today,
            days);
    }

    /// <summary>The next Saturday if the house is open then, else the next open day.</summary>
    public static DateOnly NextShown(Book.House house, DateOnly today)
    {
        var ahead = Enumerable.Range(1, 14).Select(today.AddDays).Where(house.IsOpen).ToList();
        return ahead.Where(on => on.DayOfWeek == DayOfWeek.Saturday).Concat(ahead).DefaultIfEmpty(today.AddDays(1)).First();
    }

    private static FlyingRow Row(string name, IReadOnlyList<Science.Counts.CountDistribution> days, int on)
    {
        var (now, next) = (days[0].Interval(Band), days[on].Interval(Band));
        return new FlyingRow(
            name,
            TaxonTable.Shipped.Of(name).CommonNames is [var common, ..] ? common : "",
            days[0].Quantile(0.5),
            $"{now.From} to {now.To}",
            days[on].Quantile(0.5),
            $"{next.From} to {next.To}",
            days[on].AtLeast(1));
    }
}
