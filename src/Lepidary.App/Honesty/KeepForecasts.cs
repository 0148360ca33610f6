using System.Collections.Concurrent;
using Lepidary.App.Host;
using Lepidary.App.Odds;
using Lepidary.Book;

namespace Lepidary.App.Honesty;

/// <summary>Keeps what the pages and commands of today foretell, from the first of the day on: the first that was shown stands.</summary>
internal sealed class KeepForecasts(HouseDay day, OddsBook odds, ForecastsOfDay forecasts, ForecastShelf shelf, KeptDays kept)
{
    /// <summary>Keeps today's forecasts that are not kept yet. A box or a list that came in since the last time adds its own.</summary>
    /// <returns>How many were new.</returns>
    public async Task<int> Today(CancellationToken cancellation)
    {
        if (day.HouseName is null)
        {
            return 0;
        }

        var house = await day.House(cancellation);
        var there = await shelf.KeptAsync(house.Id, day.Today, cancellation);
        return await shelf.KeepAsync(await forecasts.Of(house, day.Today, await odds.Learned(house.Id, day.Today, cancellation), there, flyingOn: null, cancellation), cancellation);
    }

    /// <summary>Keeps the chances of the wishes with an order that was written.</summary>
    /// <param name="house">With its aims.</param>
    /// <param name="aims">Each with the chances by day, as the proposal says them.</param>
    /// <param name="cancellation">Leaves them unkept.</param>
    public Task<int> Wishes(Book.House house, IEnumerable<(Aim Aim, IEnumerable<(DateOnly Day, double Chance)> Days)> aims, CancellationToken cancellation) =>
        shelf.KeepAsync(
            [
                .. aims.SelectMany(aim => aim.Days.Select(on => new KeptForecast
                {
                    Id = ForecastsOfDay.Key(house, ForecastKind.Aim, aim.Aim.Id, day.Today, on.Day),
                    HouseId = house.Id,
                    Kind = ForecastKind.Aim,
                    MadeOn = day.Today,
                    ForDay = on.Day,
                    AboutId = aim.Aim.Id,
                    Subject = aim.Aim.Selector,
                    Wish = aim.Aim.Kind,
                    AtLeast = aim.Aim.AtLeast,
                    Said = ForecastsOfDay.Masses(ForecastsOfDay.Chance(on.Chance)),
                    Rival = [],
                })),
            ],
            cancellation);

    /// <summary>True where pages may have something new to keep: once in a while, and when the day has turned.</summary>
    public bool IsDue() => day.HouseName is not null && kept.IsDue(day.HouseId, day.Today);
}

/// <summary>When the forecasts of a house were kept last by this process; another process keeps them again, which changes nothing.</summary>
internal sealed class KeptDays(TimeProvider clock)
{
    private static readonly TimeSpan Pause = TimeSpan.FromMinutes(10);

    private readonly ConcurrentDictionary<Guid, (DateOnly Day, DateTimeOffset At)> last = [];

    /// <summary>True once for a house and day in each while.</summary>
    public bool IsDue(Guid house, DateOnly day)
    {
        var now = clock.GetUtcNow();
        var due = false;
        last.AddOrUpdate(
            house,
            _ =>
            {
                due = true;
                return (day, now);
            },
            (_, before) =>
            {
                due = before.Day != day || now - before.At >= Pause;
                return due ? (day, now) : before;
            });
        return due;
    }
}
