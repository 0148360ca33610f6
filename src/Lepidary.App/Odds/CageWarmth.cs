using Lepidary.Science.Development;
using Lepidary.Science.Emergence;

namespace Lepidary.App.Odds;

/// <summary>How warm the cages were, day by day, and what that does to the days of a lot. Where nothing was read every day is usual.</summary>
internal sealed class CageWarmth
{
    /// <summary>Days of a cage, all cages together, from which a usual day is told.</summary>
    private const int LeastDays = 20;

    /// <summary>The days ahead go on as the last of these.</summary>
    private const int DaysLooked = 7;

    private readonly Dictionary<(Guid Cage, DateOnly Day), double> warmth;
    private readonly double? usual;

    /// <param name="days">Lowest and highest temperature read in a cage on a day, °C.</param>
    public CageWarmth(IEnumerable<(Guid Cage, DateOnly Day, double Min, double Max)> days)
    {
        warmth = days.ToDictionary(day => (day.Cage, day.Day), day => WarmPace.Of(day.Min, day.Max));
        if (warmth.Count >= LeastDays && warmth.Values.Order().ElementAt(warmth.Count / 2) is > 0 and var middle)
        {
            usual = middle;
        }
    }

    /// <summary>No reading at all.</summary>
    public static CageWarmth Unknown { get; } = new([]);

    /// <summary>The days of a lot by the warmth of its cage, up to and with a day.</summary>
    public LotClock Clock(Guid? cage, DateOnly hungOn, DateOnly until) => new(hungOn, Reached(cage, hungOn, until));

    /// <summary>A lot's timing in calendar days, as seen from a day.</summary>
    public EmergenceTiming Timing(EmergenceTiming development, Guid? cage, DateOnly hungOn, DateOnly today)
    {
        if (Reached(cage, hungOn, today.AddDays(-1)) is not { } reached)
        {
            return development;
        }

        var looked = Math.Min(DaysLooked, reached.Length - 1);
        return development.AtPace(reached, looked == 0 ? 1 : (reached[^1] - reached[^(looked + 1)]) / looked);
    }

    /// <summary>Days of development that were over when each day began, and at the end of the last; null where no day of the cage was read: then the calendar is the clock.</summary>
    private double[]? Reached(Guid? cage, DateOnly from, DateOnly until)
    {
        var days = Math.Max(0, until.DayNumber - from.DayNumber + 1);
        if (usual is not { } middle || cage is not { } place)
        {
            return null;
        }

        var read = new double?[days];
        for (var day = 0; day < days; day++)
        {
            read[day] = warmth.TryGetValue((place, from.AddDays(day)), out var degrees) ? degrees : null;
        }

        if (Array.TrueForAll(read, day => day is null))
        {
            return null;
        }

        var paces = WarmPace.Paces(read, middle);
        var reached = new double[days + 1];
        for (var day = 0; day < days; day++)
        {
            reached[day + 1] = reached[day] + paces[day];
        }

        return reached;
    }
}

/// <summary>The days of one lot: of development where its cage was read, else of the calendar.</summary>
/// <param name="hungOn">The day on which it was hung.</param>
/// <param name="reached">Days of development that were over when each day began; null for the calendar's.</param>
internal readonly struct LotClock(DateOnly hungOn, double[]? reached)
{
    /// <summary>On which day of its development the lot was in the middle of a day.</summary>
    public int AgeOn(DateOnly day) =>
        day.DayNumber - hungOn.DayNumber is > 0 and var days ? reached is null ? days : (int)((reached[days] + reached[days + 1]) / 2) : 0;

    /// <summary>The days of development that were over when a day began.</summary>
    public int AgeBefore(DateOnly day) => day.DayNumber - hungOn.DayNumber is var days && days > 0 && reached is not null ? (int)(reached[days] + 1e-9) : days;
}
