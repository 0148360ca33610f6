using System.Globalization;
using System.Text.RegularExpressions;
using Lepidary.Lists.Words;

namespace Lepidary.Lists.Reading;

/// <summary>A day or week as printed.</summary>
/// <param name="Start">Index of its first character.</param>
/// <param name="End">Index behind its last.</param>
/// <param name="Year">Null where not printed.</param>
/// <param name="Month">Null for a week.</param>
/// <param name="Day">Null for a week.</param>
/// <param name="Week">ISO week, or null for a day.</param>
/// <param name="Swappable">True when day and month could be the other way round.</param>
internal sealed record PrintedDate(int Start, int End, int? Year, int? Month, int? Day, int? Week, bool Swappable)
{
    /// <summary>The day meant (the Monday of a week); without a printed year the one nearest to a given day. Null when there is no such day.</summary>
    public DateOnly? On(DateOnly? today, bool monthFirst)
    {
        if (Month == 0)
            return null;
        if (Week is { } week)
            return Nearest(year => week <= ISOWeek.GetWeeksInYear(year) ? DateOnly.FromDateTime(ISOWeek.ToDateTime(year, week, DayOfWeek.Monday)) : null, today);
        var (day, month) = Swappable && monthFirst ? (Month!.Value, Day!.Value) : (Day!.Value, Month!.Value);
        return Nearest(year => day <= DateTime.DaysInMonth(year, month) ? new DateOnly(year, month, day) : null, today);
    }

    private DateOnly? Nearest(Func<int, DateOnly?> inYear, DateOnly? today)
    {
        if (Year is { } year)
            return inYear(year);
        if (today is not { } near)
            return null;
        return Enumerable.Range(near.Year - 1, 3)
            .Select(inYear)
            .Where(date => date is not null)
            .MinBy(date => Math.Abs(date!.Value.DayNumber - near.DayNumber));
    }
}

/// <summary>Finds days and weeks in text, in the ways of six languages.</summary>
internal static partial class DateReader
{
    private static readonly Dictionary<string, int> Months = MonthNames();

    public static List<PrintedDate> Find(string text)
    {
        var found = new List<PrintedDate>();
        if (text.Length > Tokeniser.LongestLine || !text.Any(char.IsAsciiDigit))
            return found;
        Collect(Iso(), match => Of(match, "y", "m", "d", swappable: false));
        Collect(IsoWeek(), match => Week(match));
        Collect(Numeric(), match => Of(match, "y", "m", "d", swappable: match.Groups["s"].Value == "/"));
        if (text.Any(char.IsLetter))
        {
            Collect(Clock(), match => new PrintedDate(match.Index, match.Index + match.Length, null, 0, 0, null, false));
            Collect(WithFullStop(), match => Of(match, "y", "m", "d", swappable: false));
            Collect(WithoutYear(), match => Of(match, "y", "m", "d", swappable: match.Groups["s"].Value == "/"));
            Collect(Named(), match => Of(match, "y", "m", "d", swappable: false));
            Collect(MonthFirst(), match => Of(match, "y", "m", "d", swappable: false));
            Collect(WeekWord(), match => Week(match));
        }
        return found;

        void Collect(Regex pattern, Func<Match, PrintedDate?> read)
        {
            foreach (Match match in pattern.Matches(text))
            {
                if (!found.Exists(date => date.Start < match.Index + match.Length && match.Index < date.End) && read(match) is { } date)
                    found.Add(date);
            }
        }
    }

    private static PrintedDate? Of(Match match, string year, string month, string day, bool swappable)
    {
        int? y = match.Groups[year].Success ? Whole(match.Groups[year].Value) : null;
        if (y is < 100)
            y += 2000;
        var m = char.IsAsciiDigit(match.Groups[month].Value[0]) ? Whole(match.Groups[month].Value) : Months.GetValueOrDefault(Folded.Of(match.Groups[month].Value).TrimEnd('.'));
        var d = Whole(match.Groups[day].Value);
        if (m > 12 && d <= 12 && swappable)
            (m, d) = (d, m);
        return m is < 1 or > 12 || d is < 1 or > 31 || y is < 1990 or > 2100
            ? null
            : new PrintedDate(match.Index, match.Index + match.Length, y, m, d, null, swappable && d <= 12 && d != m);
    }

    private static PrintedDate? Week(Match match)
    {
        int? year = match.Groups["y"].Success ? Whole(match.Groups["y"].Value) : null;
        if (year is < 100)
            year += 2000;
        var week = Whole(match.Groups["w"].Value);
        return week is < 1 or > 53 || year is < 1990 or > 2100 ? null : new PrintedDate(match.Index, match.Index + match.Length, year, null, null, week, false);
    }

    private static int Whole(string digits) => int.Parse(digits.AsSpan().TrimStart('\''), NumberStyles.None, CultureInfo.InvariantCulture);

    private static Dictionary<string, int> MonthNames()
    {
        var months = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var language in (string[])["en", "de", "fr", "es", "nl", "it"])
        {
            var culture = CultureInfo.GetCultureInfo(language).DateTimeFormat;
            for (var month = 0; month < 12; month++)
            {
                months.TryAdd(Folded.Of(culture.MonthNames[month]), month + 1);
                months.TryAdd(Folded.Of(culture.AbbreviatedMonthNames[month]).TrimEnd('.'), month + 1);
            }
        }
        foreach (var (name, month) in ((string, int)[])[("sept", 9), ("mrt", 3), ("janv", 1), ("fevr", 2), ("avr", 4), ("juil", 7), ("ene", 1), ("dic", 12), ("gen", 1), ("mag", 5), ("giu", 6), ("lug", 7), ("ago", 8), ("ott", 10), ("okt", 10), ("dez", 12), ("mrz", 3), ("maerz", 3), ("jaenner", 1), ("mei", 5), ("mai", 5)])
            months.TryAdd(name, month);
        // "set 5" is five of something.
        months.Remove("set");
        return months;
    }

    /// <summary>Beginnings of the months' names; the whole name is looked up afterwards.</summary>
    private const string Month = @"(?<m>(?:jan|jän|jaen|gen|ene|feb|fév|fev|mar|mär|maer|mrt|mrz|maa|apr|avr|abr|mai|may|mei|mag|jun|jui|giu|jul|lug|aug|aoû|aou|ago|sep|set|oct|okt|ott|nov|dec|déc|dez|dic)\p{L}*)";

    [GeneratedRegex(@"(?<!\d)(?<y>20\d\d)[-./](?<m>\d{1,2})[-./](?<d>\d{1,2})(?!\d)")]
    private static partial Regex Iso();

    [GeneratedRegex(@"(?<!\d)(?<y>20\d\d)[- ]?W(?<w>\d{1,2})(?!\d)", RegexOptions.IgnoreCase)]
    private static partial Regex IsoWeek();

    [GeneratedRegex(@"(?<![\d.,/])(?<d>\d{1,2})(?<s>[./-])\s?(?<m>\d{1,2})\k<s>\s?(?<y>20\d\d|\d\d)(?![\d/])")]
    private static partial Regex Numeric();

    [GeneratedRegex(@"(?<=(?<!\p{L})(?:ab|seit|zum|gültig|per)\s)(?<d>\d{1,2})\.\s?(?<m>\d{1,2})\.(?!\d)(?<y>(?!))?", RegexOptions.IgnoreCase)]
    private static partial Regex WithFullStop();

    /// <summary>A time of day is no price; it is kept here as a date that no day answers to.</summary>
    [GeneratedRegex(@"(?<![\d.,:])\d{1,2}:[0-5]\d(?!\d)|(?<![\d.,:])\d{1,2}(?:[.:h][0-5]\d)?\s?(?:uur|uhr|hrs?|heures|horas|ore|o'clock|am|pm|a\.m\.|p\.m\.|h)(?!\p{L})", RegexOptions.IgnoreCase)]
    private static partial Regex Clock();

    /// <summary>Day and month alone are a date only behind a word that says so; else they are two prices or a price.</summary>
    [GeneratedRegex(@"(?<=(?<!\p{L})(?:vom|am|bis|stand|datum|date|du|del|dal|van|on|by|before|until|mo|di|mi|do|fr|mon|tue|wed|thu|fri|montag|dienstag|mittwoch|donnerstag|freitag|monday|tuesday|wednesday|thursday|friday|lundi|mardi|mercredi|jeudi|vendredi|lunes|martes|jueves|viernes|maandag|dinsdag|woensdag|donderdag|vrijdag|lunedi|lunedì|martedì|giovedì|venerdì|list|liste|lista)[.,:]?\s)(?<d>\d{1,2})(?<s>[./])(?<m>\d{1,2})(?:(?<=\.\d{1,2})\.)?(?![\d/])(?<y>(?!))?", RegexOptions.IgnoreCase)]
    private static partial Regex WithoutYear();

    [GeneratedRegex(@"(?<![\d.,])(?<d>\d{1,2})(?:st|nd|rd|th|er|º|°|\.)?[\s-]*(?:of\s+|de\s+|den\s+)?" + Month + @"\.?(?:,?[\s-]*(?:de\s+|del\s+)?(?<y>20\d\d|'?\d\d(?![\d.,:])))?(?!\p{L})", RegexOptions.IgnoreCase)]
    private static partial Regex Named();

    [GeneratedRegex(@"(?<!\p{L})" + Month + @"\.?\s+(?<d>\d{1,2})(?:st|nd|rd|th)?(?:,?\s+(?<y>20\d\d))?(?![\d.,:]\d|\d)", RegexOptions.IgnoreCase)]
    private static partial Regex MonthFirst();

    [GeneratedRegex(@"(?<!\p{L})(?:week(?:\s+(?:no\.?|number|nr\.?))?|wk\.?|kw|kalenderwoche|woche|semaine(?:\s+n[o°]\.?)?|sem\.?|semana|weeknr\.?|weeknummer|settimana|sett\.?)\s*(?:n[o°º]\.?\s*)?(?<w>\d{1,2})(?:\s*(?:/|-|,|of|de|del|van|von)?\s*(?<y>20\d\d))?(?!\d|[.,:]\d)", RegexOptions.IgnoreCase)]
    private static partial Regex WeekWord();
}
