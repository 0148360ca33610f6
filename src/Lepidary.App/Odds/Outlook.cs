using Lepidary.App.Pictures;
using Lepidary.Science.Counts;
using Lepidary.Science.Flying;

namespace Lepidary.App.Odds;

/// <summary>How many fly on the days ahead, as exact distributions by species.</summary>
/// <param name="From">Day 0.</param>
/// <param name="Species">By accepted name: one distribution a day.</param>
internal sealed record Outlook(DateOnly From, IReadOnlyDictionary<string, IReadOnlyList<CountDistribution>> Species)
{
    /// <summary>8 of 10 days lie within.</summary>
    private const double Band = 0.8;

    public static Outlook Of(IReadOnlyDictionary<string, SpeciesStock> stocks, DateOnly from, int days) =>
        new(from, stocks.ToDictionary(stock => stock.Key, stock => FlyingForecast.Of(stock.Value, days), StringComparer.Ordinal));

    /// <summary>The sum over the species that are picked, by day.</summary>
    public IReadOnlyList<CountDistribution> Total(Func<string, bool> picked)
    {
        var chosen = Species.Where(species => picked(species.Key)).Select(species => species.Value).ToList();
        var days = Species.Values.Select(species => species.Count).DefaultIfEmpty(0).Max();
        return [.. Enumerable.Range(0, days).Select(day => FlyingForecast.Total(chosen.Select(species => species[day])))];
    }

    /// <summary>A forecast ready to be drawn.</summary>
    /// <param name="days">One distribution a day.</param>
    /// <param name="from">Day 0.</param>
    /// <param name="isOpen">Do visitors come?</param>
    /// <param name="without">The same without the order, or null.</param>
    public static IReadOnlyList<ForecastPoint> Points(IReadOnlyList<CountDistribution> days, DateOnly from, Func<DateOnly, bool> isOpen, IReadOnlyList<CountDistribution>? without = null) =>
    [
        .. days.Select((day, index) =>
        {
            var band = day.Interval(Band);
            return new ForecastPoint(from.AddDays(index), isOpen(from.AddDays(index)), band.From, day.Quantile(0.5), band.To, without?[index].Quantile(0.5));
        }),
    ];
}
