using System.Globalization;

namespace Lepidary.App.Climate;

/// <summary>One hour of a logger: means of what it wrote.</summary>
/// <param name="Hour">Local time, on the hour.</param>
/// <param name="TemperatureC">Degrees Celsius, or null.</param>
/// <param name="HumidityPercent">Percent, or null.</param>
internal sealed record LoggedHour(DateTime Hour, double? TemperatureC, double? HumidityPercent);

/// <summary>What a logger's file held.</summary>
/// <param name="Hours">In order.</param>
/// <param name="Lines">Lines of measurements read.</param>
/// <param name="LeftOut">Lines below the titles that could not be read, with the reason.</param>
internal sealed record LoggedClimate(IReadOnlyList<LoggedHour> Hours, int Lines, IReadOnlyList<string> LeftOut);

/// <summary>
/// Reads what climate loggers export: text with a title line somewhere near the top, a column of times (or one of days and one of times), one of temperature, one of
/// relative humidity; comma, semicolon or tab; decimal point or comma; titles in six languages; °C or °F. No logger's own format is known by name.
/// </summary>
internal static class LoggerFile
{
    private const int TitlesWithin = 60;
    private const int MostLines = 600_000;

    private static readonly string[] Times = ["time", "date", "datum", "zeit", "uhr", "fecha", "hora", "heure", "data", "ora", "tijd"];
    private static readonly string[] Temperatures = ["temp", "°c", "°f", "celsius", "fahrenheit"];
    private static readonly string[] Humidities = ["humid", "rh", "feuchte", "humedad", "humidit", "umidit", "vocht", "%"];
    private static readonly string[] NotAir = ["dew", "taupunkt", "rosée", "rosee", "rocío", "rocio", "rugiada", "dauwpunt"];

    private static readonly string[] ClockFormats = ["H:mm", "H:mm:ss", "H:mm:ss.FFF", "h:mm tt", "h:mm:ss tt"];

    public static Checked<LoggedClimate> Read(string text)
    {
        var lines = text.ReplaceLineEndings("\n").Split('\n');
        if (lines.Length > MostLines)
        {
            return new Problem("file", $"{lines.Length} lines", $"at most {MostLines}: a part of it at a time");
        }

        if (Titles(lines) is not { } titles)
        {
            return new Problem("file", "no line with titles", $"within the first {TitlesWithin} lines one that names a time and a temperature or a humidity, as \"time;temperature;humidity\"");
        }

        var rows = new List<(int Line, DateParts Day, TimeOnly Clock, double? Temperature, double? Humidity)>();
        var left = new List<string>();
        for (var i = titles.Line + 1; i < lines.Length; i++)
        {
            if (lines[i].Trim().Length == 0)
            {
                continue;
            }

            var cells = Cells(lines[i], titles.Delimiter);
            string At(int column) => column >= 0 && column < cells.Count ? cells[column] : "";
            var when = titles.Clock is { } clock && clock != titles.Time ? $"{At(titles.Time)} {At(clock)}" : At(titles.Time);
            if (Moment(when) is not { } moment)
            {
                left.Add($"line {i + 1}: \"{Short(when)}\" is no time");
                continue;
            }

            var (temperature, humidity) = (Number(At(titles.Temperature), titles.Delimiter), Number(At(titles.Humidity), titles.Delimiter));
            if (titles.Fahrenheit && temperature is { } degrees)
            {
                temperature = (degrees - 32) / 1.8;
            }

            if (temperature is null && humidity is null)
            {
                left.Add($"line {i + 1}: no measurement");
            }
            else if (temperature is < -40 or > 80 || humidity is < 0 or > 100)
            {
                left.Add($"line {i + 1}: {Short(lines[i])} cannot be true");
            }
            else
            {
                rows.Add((i + 1, moment.Day, moment.Clock, temperature, humidity));
            }
        }

        if (rows.Count == 0)
        {
            return new Problem("file", left.Count == 0 ? "titles and nothing below" : left[0], "lines with a time and a measurement");
        }

        if (DayFirst([.. rows.Select(row => row.Day)]) is not { } dayFirst)
        {
            return new Problem($"file, line {rows[0].Line}", $"the day {rows[0].Day.Text}, which may be in either order", "days as 2026-11-30, or a file that runs past the 12th of a month");
        }

        var hours = new SortedDictionary<DateTime, (double Temperature, int Temperatures, double Humidity, int Humidities)>();
        foreach (var row in rows)
        {
            if (row.Day.On(dayFirst) is not { } day)
            {
                left.Add($"line {row.Line}: {row.Day.Text} is no day");
                continue;
            }

            var hour = day.ToDateTime(new TimeOnly(row.Clock.Hour, 0));
            var sum = hours.GetValueOrDefault(hour);
            hours[hour] = (
                sum.Temperature + (row.Temperature ?? 0), sum.Temperatures + (row.Temperature is null ? 0 : 1),
                sum.Humidity + (row.Humidity ?? 0), sum.Humidities + (row.Humidity is null ? 0 : 1));
        }

        return new LoggedClimate(
            [.. hours.Select(hour => new LoggedHour(
                hour.Key,
                hour.Value.Temperatures == 0 ? null : Math.Round(hour.Value.Temperature / hour.Value.Temperatures, 2),
                hour.Value.Humidities == 0 ? null : Math.Round(hour.Value.Humidity / hour.Value.Humidities, 2)))],
            rows.Count,
            left);
    }

    private static (int Line, char Delimiter, int Time, int? Clock, int Temperature, int Humidity, bool Fahrenheit)? Titles(string[] lines)
    {
        for (var i = 0; i < Math.Min(lines.Length, TitlesWithin); i++)
        {
            foreach (var delimiter in "\t;,")
            {
                var cells = Cells(lines[i], delimiter).ConvertAll(cell => cell.ToLowerInvariant());
                if (cells.Count < 2)
                {
                    continue;
                }

                bool Says(string cell, string[] words) => words.Any(word => cell.Contains(word, StringComparison.Ordinal));
                int Find(Func<string, bool> fits) => cells.FindIndex(cell => fits(cell));
                var temperature = Find(cell => Says(cell, Temperatures) && !Says(cell, NotAir));
                var humidity = cells.FindIndex(cell => Says(cell, Humidities) && !Says(cell, NotAir) && !Says(cell, ["temp", "°c", "°f"]));
                var time = Find(cell => Says(cell, Times) && !Says(cell, ["temp"]));
                if (time < 0 || (temperature < 0 && humidity < 0))
                {
                    continue;
                }

                // A day and a clock in two columns.
                var clock = cells.FindIndex(time + 1, cell => Says(cell, Times) && !Says(cell, ["temp"]));
                return (i, delimiter, time, clock < 0 ? null : clock, temperature, humidity, temperature >= 0 && Says(cells[temperature], ["°f", "fahrenheit", "(f)"]));
            }
        }

        return null;
    }

    private static List<string> Cells(string line, char delimiter)
    {
        var (cells, cell, quoted) = (new List<string>(), new System.Text.StringBuilder(), false);
        foreach (var character in line)
        {
            if (character == '"')
            {
                quoted = !quoted;
            }
            else if (character == delimiter && !quoted)
            {
                cells.Add(cell.ToString().Trim());
                cell.Clear();
            }
            else
            {
                cell.Append(character);
            }
        }

        cells.Add(cell.ToString().Trim());
        return cells;
    }

    private static double? Number(string text, char delimiter)
    {
        var plain = text.TrimEnd('%', 'C', 'F', '°', ' ', '\u00A0');
        if (delimiter != ',' || plain.Count(character => character == ',') == 1)
        {
            plain = plain.Replace(',', '.');
        }

        return double.TryParse(plain, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number) ? number : null;
    }

    private static (DateParts Day, TimeOnly Clock)? Moment(string text)
    {
        var words = text.Replace('T', ' ').Split(' ', 2, StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        if (words.Length != 2)
        {
            return null;
        }

        var parts = words[0].Split('-', '/', '.');
        // What follows the clock, as a zone, is the logger's own; its clock is the house's.
        var clockText = words[1].TrimEnd('Z').Split('+')[0].Trim();
        if (parts.Length != 3 || !parts.All(part => part.Length is > 0 and <= 4 && part.All(char.IsAsciiDigit))
            || !TimeOnly.TryParseExact(clockText, ClockFormats, CultureInfo.InvariantCulture, DateTimeStyles.None, out var clock))
        {
            return null;
        }

        return (new DateParts(int.Parse(parts[0], CultureInfo.InvariantCulture), int.Parse(parts[1], CultureInfo.InvariantCulture), int.Parse(parts[2], CultureInfo.InvariantCulture), words[0]), clock);
    }

    /// <summary>Does the day stand before the month? Told by a number above 12, or by the order in which days then follow; null where both fit.</summary>
    private static bool? DayFirst(IReadOnlyList<DateParts> days)
    {
        if (days.All(day => day.First > 31))
        {
            return true;
        }

        if (days.Any(day => day.First is > 12 and <= 31))
        {
            return true;
        }

        if (days.Any(day => day.Second > 12))
        {
            return false;
        }

        // Points are written between day and month only with the day first.
        if (days[0].Text.Contains('.', StringComparison.Ordinal))
        {
            return true;
        }

        bool InSteps(bool dayFirst) => days.Zip(days.Skip(1)).All(pair => pair.First.On(dayFirst) is { } one && pair.Second.On(dayFirst) is { } next && next.DayNumber - one.DayNumber is >= -1 and <= 1);
        var (day, month) = (InSteps(true), InSteps(false));
        return day != month ? day : days.All(one => one.First == one.Second) ? true : null;
    }

    private static string Short(string text) => text.Length <= 40 ? text : text[..40] + "…";

    private readonly record struct DateParts(int First, int Second, int Third, string Text)
    {
        public DateOnly? On(bool dayFirst)
        {
            var (year, month, day) = First > 31 ? (First, Second, Third) : (Third < 100 ? 2000 + Third : Third, dayFirst ? Second : First, dayFirst ? First : Second);
            return year is >= 1900 and <= 9998 && month is >= 1 and <= 12 && day >= 1 && day <= DateTime.DaysInMonth(year, month) ? new DateOnly(year, month, day) : null;
        }
    }
}
