using System.Globalization;

namespace Lepidary.App.Rounds;

/// <summary>Which day somebody may write about.</summary>
internal static class FactDays
{
    /// <summary>A problem where the day has not come yet.</summary>
    public static IEnumerable<Problem> Check(DateOnly? onDay, DateOnly today)
    {
        if (onDay > today)
        {
            yield return new("day", Text(onDay.Value), $"today ({Text(today)}) or a day before it: nobody has seen tomorrow");
        }
    }

    private static string Text(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
