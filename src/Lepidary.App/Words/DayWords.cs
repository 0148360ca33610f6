using System.Globalization;

namespace Lepidary.App.Words;

/// <summary>Days as a keeper says them; never a bare 03/12.</summary>
internal static class DayWords
{
    private static readonly CultureInfo English = CultureInfo.GetCultureInfo("en-GB");

    /// <summary><c>Fri 27 Nov</c>.</summary>
    public static string Short(DateOnly day) => day.ToString("ddd d MMM", English);

    /// <summary><c>Friday 27 November 2026, week 48</c>.</summary>
    public static string Long(DateOnly day) =>
        string.Create(English, $"{day:dddd d MMMM yyyy}, week {ISOWeek.GetWeekOfYear(day.ToDateTime(TimeOnly.MinValue))}");

    /// <summary><c>today</c>, <c>tomorrow</c>, <c>yesterday</c>, else <see cref="Short"/>.</summary>
    public static string Near(DateOnly day, DateOnly today) => (day.DayNumber - today.DayNumber) switch
    {
        0 => "today",
        1 => "tomorrow",
        -1 => "yesterday",
        _ => Short(day),
    };
}
