using System.Collections.Concurrent;
using Lepidary.App.Host;
using Lepidary.App.Odds;

namespace Lepidary.App.Honesty;

/// <summary>
/// Reckons again what was foretold on days that are past, each from what was known then: nothing that came later is in it. It takes a while, so pages never wait for it.
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
        var made = new Dictionary<Guid, Foretold>();
        Learned? near = null;
        for (var ago = DaysBack; ago > 0; ago -= Step)
        {
            var on = day.Today.AddDays(-ago);
            near = await odds.LearnedBy(house.Id, on, cancellation, near);
            foreach (var forecast in await forecasts.Of(house, on, near, walked.Contains, cancellation))
            {
                made.TryAdd(forecast.Id, forecast);
            }
        }

        hindsight.Keep(house.Id, day.Today, [.. made.Values]);
    }
}

/// <summary>Forecasts reckoned again, for a house and day: the same until the day turns.</summary>
internal sealed class Hindsight
{
    private readonly ConcurrentDictionary<Guid, (DateOnly Day, IReadOnlyList<Foretold> Made)> known = [];

    /// <summary>Null where they are not reckoned yet.</summary>
    public IReadOnlyList<Foretold>? Of(Guid house, DateOnly day) => known.TryGetValue(house, out var made) && made.Day == day ? made.Made : null;

    public void Keep(Guid house, DateOnly day, IReadOnlyList<Foretold> made) => known[house] = (day, made);
}
