namespace Lepidary.Book;

/// <summary>A set of days of the week.</summary>
[Flags]
public enum Weekdays
{
    /// <summary>None.</summary>
    None = 0,

    /// <summary>Monday.</summary>
    Mon = 1,

    /// <summary>Tuesday.</summary>
    Tue = 2,

    /// <summary>Wednesday.</summary>
    Wed = 4,

    /// <summary>Thursday.</summary>
    Thu = 8,

    /// <summary>Friday.</summary>
    Fri = 16,

    /// <summary>Saturday.</summary>
    Sat = 32,

    /// <summary>Sunday.</summary>
    Sun = 64,

    /// <summary>All seven.</summary>
    All = Mon | Tue | Wed | Thu | Fri | Sat | Sun,
}

/// <summary>Days of the week in and out of a set.</summary>
public static class WeekdaySets
{
    /// <summary>True when the set holds the day.</summary>
    public static bool Has(this Weekdays days, DayOfWeek day) => (days & Of(day)) != 0;

    /// <summary>The set of one day.</summary>
    public static Weekdays Of(DayOfWeek day) => (Weekdays)(1 << (((int)day + 6) % 7));

    /// <summary>The set of some days.</summary>
    public static Weekdays Of(IEnumerable<DayOfWeek> days) => days.Aggregate(Weekdays.None, (set, day) => set | Of(day));

    /// <summary>The days of a set, Monday first.</summary>
    public static IEnumerable<DayOfWeek> Days(this Weekdays days) =>
        Enumerable.Range(1, 7).Select(day => (DayOfWeek)(day % 7)).Where(day => days.Has(day));
}
