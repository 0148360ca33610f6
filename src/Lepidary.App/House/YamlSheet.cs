using System.Globalization;
using YamlDotNet.Core;
using YamlDotNet.RepresentationModel;

namespace Lepidary.App.House;

/// <summary>
/// One mapping of a YAML file, read field by field. A missing, malformed or unknown field becomes a problem with its line;
/// reading goes on, so that all problems are named at once.
/// </summary>
internal sealed class YamlSheet
{
    private readonly string file;
    private readonly List<Problem> problems;
    private readonly Dictionary<string, (YamlNode Key, YamlNode Value)> fields = [];
    private readonly HashSet<string> asked = [];
    private readonly Mark start;

    private YamlSheet(string file, YamlNode node, List<Problem> problems)
    {
        this.file = file;
        this.problems = problems;
        start = node.Start;
        if (node is not YamlMappingNode mapping)
        {
            Report(node, Words(node), "fields, each on a line as `name: value`");
            return;
        }

        foreach (var (key, value) in mapping.Children)
        {
            if (key is YamlScalarNode { Value: { } name })
            {
                fields[name] = (key, value);
            }
            else
            {
                Report(key, Words(key), "the name of a field");
            }
        }
    }

    /// <summary>Parses a whole file.</summary>
    public static YamlSheet? Parse(string file, string text, List<Problem> problems)
    {
        try
        {
            var stream = new YamlStream();
            stream.Load(new StringReader(text));
            if (stream.Documents.Count == 0)
            {
                problems.Add(new(file, "an empty file", "the fields of a house; docs/house-file.md lists them"));
                return null;
            }

            return new YamlSheet(file, stream.Documents[0].RootNode, problems);
        }
        catch (YamlException wrong)
        {
            problems.Add(new($"{file}, line {wrong.Start.Line}", wrong.Message, "well-formed YAML"));
            return null;
        }
    }

    public bool Has(string name)
    {
        asked.Add(name);
        return fields.ContainsKey(name);
    }

    public string? Text(string name) => Scalar(name);

    public string NeededText(string name, string what)
    {
        if (Scalar(name) is { Length: > 0 } text)
        {
            return text;
        }

        Missing(name, what);
        return "";
    }

    public int? Whole(string name, int from = 0, int to = 1_000_000) =>
        Parsed<int>(name, $"a whole number from {from} to {to}", (string text, out int value) =>
            int.TryParse(text, NumberStyles.Integer, CultureInfo.InvariantCulture, out value) && value >= from && value <= to);

    public decimal? Number(string name, decimal from = 0, decimal to = 1_000_000) =>
        Parsed<decimal>(name, string.Create(CultureInfo.InvariantCulture, $"a number from {from} to {to}, with a decimal point"), (string text, out decimal value) =>
            decimal.TryParse(text, NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out value) && value >= from && value <= to);

    /// <summary>A share: <c>80%</c> or <c>0.8</c>.</summary>
    public double? Share(string name, double from = 0, double to = 1) =>
        Parsed<double>(name, from < 0 ? "a share such as 5% or -5%" : "a share such as 80% or 0.8", (string text, out double value) =>
        {
            var percent = text.EndsWith('%');
            var good = double.TryParse(text.TrimEnd('%', ' '), NumberStyles.AllowDecimalPoint | (from < 0 ? NumberStyles.AllowLeadingSign : NumberStyles.None), CultureInfo.InvariantCulture, out value);
            value = percent ? value / 100 : value;
            return good && value >= from && value <= to;
        });

    public bool? YesNo(string name) =>
        Parsed<bool>(name, "yes or no", (string text, out bool value) =>
        {
            value = text is "yes" or "true";
            return value || text is "no" or "false";
        });

    public DateOnly? Day(string name) =>
        Parsed<DateOnly>(name, "a date as 2026-11-27", (string text, out DateOnly value) => Dates(text, out value));

    public DayOfWeek? Weekday(string name) =>
        Parsed<DayOfWeek>(name, "a weekday: mon, tue, wed, thu, fri, sat or sun", Weekdays);

    public IReadOnlyList<DayOfWeek> WeekdayList(string name) =>
        List<DayOfWeek>(name, "weekdays: [tue, sat, sun]", Weekdays);

    public IReadOnlyList<DateOnly> DayList(string name) =>
        List<DateOnly>(name, "dates: [2026-12-25]", Dates);

    public IReadOnlyList<string> TextList(string name) =>
        List<string>(name, "a list: [one, another]", (string text, out string value) => (value = text).Length > 0);

    /// <summary>A nested mapping, or null.</summary>
    public YamlSheet? Sheet(string name)
    {
        asked.Add(name);
        return fields.TryGetValue(name, out var field) ? new YamlSheet(file, field.Value, problems) : null;
    }

    /// <summary>A list of nested mappings; empty when absent.</summary>
    public IReadOnlyList<YamlSheet> Sheets(string name)
    {
        asked.Add(name);
        if (!fields.TryGetValue(name, out var field))
        {
            return [];
        }

        if (field.Value is YamlSequenceNode sequence)
        {
            return [.. sequence.Children.Select(child => new YamlSheet(file, child, problems))];
        }

        Report(field.Value, Words(field.Value), $"a list under `{name}`, each item behind a dash");
        return [];
    }

    /// <summary>Reports what is wrong with a field that reads well by itself.</summary>
    public void Wrong(string name, string expected) =>
        Report(fields.TryGetValue(name, out var field) ? field.Value : null, fields.ContainsKey(name) ? $"`{name}: {Words(field.Value)}`" : $"no `{name}`", expected);

    /// <summary>Reports every field that nobody asked for.</summary>
    public void Close()
    {
        foreach (var (name, field) in fields.Where(field => !asked.Contains(field.Key)))
        {
            Report(field.Key, $"the field `{name}`", $"one of: {string.Join(", ", asked.Order(StringComparer.Ordinal))}");
        }
    }

    private delegate bool Parser<T>(string text, out T value);

    private T? Parsed<T>(string name, string expected, Parser<T> parse)
        where T : struct
    {
        if (Scalar(name) is not { } text)
        {
            return null;
        }

        if (parse(text, out var value))
        {
            return value;
        }

        Report(fields[name].Value, $"`{name}: {text}`", expected);
        return null;
    }

    private IReadOnlyList<T> List<T>(string name, string expected, Parser<T> parse)
    {
        asked.Add(name);
        if (!fields.TryGetValue(name, out var field))
        {
            return [];
        }

        IEnumerable<YamlNode> items = field.Value is YamlSequenceNode sequence ? sequence.Children : [field.Value];
        var list = new List<T>();
        foreach (var item in items)
        {
            if (item is YamlScalarNode { Value: { } text } && parse(text, out var value))
            {
                list.Add(value);
            }
            else
            {
                Report(item, $"`{Words(item)}` under `{name}`", expected);
            }
        }

        return list;
    }

    private string? Scalar(string name)
    {
        asked.Add(name);
        if (!fields.TryGetValue(name, out var field))
        {
            return null;
        }

        if (field.Value is YamlScalarNode scalar)
        {
            return scalar.Value;
        }

        Report(field.Value, Words(field.Value), $"one value for `{name}`");
        return null;
    }

    private static bool Dates(string text, out DateOnly value) =>
        DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out value);

    private static bool Weekdays(string text, out DayOfWeek value)
    {
        value = default;
        if (text.Length < 3)
        {
            return false;
        }

        foreach (var day in Enum.GetValues<DayOfWeek>())
        {
            if (day.ToString().StartsWith(text, StringComparison.OrdinalIgnoreCase))
            {
                value = day;
                return true;
            }
        }

        return false;
    }

    private void Missing(string name, string what) => Report(null, $"no `{name}`", what);

    private void Report(YamlNode? node, string found, string expected) =>
        problems.Add(new($"{file}, line {(node?.Start ?? start).Line}", found, expected));

    private static string Words(YamlNode node) => node switch
    {
        YamlScalarNode scalar => scalar.Value ?? "nothing",
        YamlSequenceNode => "a list",
        YamlMappingNode => "a group of fields",
        _ => "something else",
    };
}
