using System.CommandLine;
using System.Globalization;

namespace Lepidary.App.Host;

/// <summary>Options that several commands share the shape of.</summary>
internal static class Options
{
    /// <summary><c>--on 2026-11-27</c>.</summary>
    public static Option<DateOnly?> On(string description) => Day("--on", description);

    /// <summary>A day.</summary>
    public static Option<DateOnly?> Day(string name, string description) => new(name)
    {
        Description = description + " As 2026-11-27.",
        CustomParser = result =>
        {
            var text = result.Tokens.Count == 1 ? result.Tokens[0].Value : "";
            if (DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day))
            {
                return day;
            }

            result.AddError($"{name}: found {text}; expected a date as 2026-11-27");
            return null;
        },
    };
}
