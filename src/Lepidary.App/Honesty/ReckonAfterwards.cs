using System.Collections.Concurrent;
using Lepidary.App.Host;
using Lepidary.App.Odds;
using Lepidary.Book;

namespace Lepidary.App.Honesty;

/// <summary>
/// Reckons afterwards what would have been foretold on days on which nothing was kept, each from what was known then: a new house is judged by its book at once. It takes a while, so
/// pages never wait for it.
/// </summary>
internal sealed class ReckonAfterwards(HouseDay day, OddsBook odds, ForecastsOfDay forecasts, ReadOutcomes outcomes, Hindsight hindsight)
{
    /// <summary>So many days back.</summary>
    public const int DaysBack = 75;

    /// <summary>Every so many days: neighbours say nearly the same.</summary>
    private const int Step = 5;

    /// <summary>Reckons, unless it was done today.</summary>
    public async Task Do(CancellationToken cancellation)
    {
        if (day.HouseName is null || hindsight.Of(day.HouseId, day.Today) is not null)
        {
            return;
        }

        var house = await day.House(cancellation);
        var walked = await outcomes.WalkedSince(house, day.Today.AddDays(-DaysBack), cancellation);
        var made = new Dictionary<Guid, KeptForecast>();
        Learned? near = null;
        for (var ago = DaysBack; ago > 0; ago -= Step)
        {
            var on = day.Today.AddDays(-ago);
            near = await odds.LearnedBy(house.Id, on, cancellation, near);
            foreach (var forecast in await forecasts.Of(house, on, near, new HashSet<Guid>(), walked.Contains, cancellation))
            {
                made.TryAdd(forecast.Id, forecast);
            }
        }

        hindsight.Keep(house.Id, day.Today, [.. made.Values]);
    }
}

/// <summary>Forecasts reckoned afterwards, for a house and day: the same until the day turns.</summary>
internal sealed class Hindsight
{
    private readonly ConcurrentDictionary<Guid, (DateOnly Day, IReadOnlyList<KeptForecast> Made)> known = [];

    /// <summary>Null where they are not reckoned yet.</summary>
    public IReadOnlyList<KeptForecast>? Of(Guid house, DateOnly day) => known.TryGetValue(house, out var made) && made.Day == day ? made.Made : null;

    public void Keep(Guid house, DateOnly day, IReadOnlyList<KeptForecast> made) => known[house] = (day, made);
}
