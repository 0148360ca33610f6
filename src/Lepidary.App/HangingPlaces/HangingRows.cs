using System.Globalization;
using System.Text.RegularExpressions;

namespace Lepidary.App.HangingPlaces;

/// <summary>Rows of a cage as a label says them: <c>3</c>, <c>3-5</c>, <c>3-5,8</c>; with a letter before where the house writes one: <c>A3</c>.</summary>
internal static partial class HangingRows
{
    private const int MostRows = 1000;

    /// <summary>The rows that a text names; empty where it names none that can be read.</summary>
    public static IReadOnlyList<int> Read(string? text)
    {
        var rows = new SortedSet<int>();
        foreach (var part in (text ?? "").Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            if (Range().Match(part) is not { Success: true } range)
            {
                return [];
            }

            var from = int.Parse(range.Groups["from"].Value, CultureInfo.InvariantCulture);
            var to = range.Groups["to"].Success ? int.Parse(range.Groups["to"].Value, CultureInfo.InvariantCulture) : from;
            if (from < 1 || to < from || to > MostRows)
            {
                return [];
            }

            rows.UnionWith(Enumerable.Range(from, to - from + 1));
        }

        return [.. rows];
    }

    /// <summary>Rows as <see cref="Read"/> reads them.</summary>
    public static string Write(IEnumerable<int> rows)
    {
        var parts = new List<string>();
        var (from, to) = (0, 0);
        foreach (var row in rows.Order().Append(int.MaxValue))
        {
            if (from > 0 && row == to + 1)
            {
                to = row;
                continue;
            }

            if (from > 0)
            {
                parts.Add(from == to ? from.ToString(CultureInfo.InvariantCulture) : string.Create(CultureInfo.InvariantCulture, $"{from}-{to}"));
            }

            (from, to) = (row, row);
        }

        return string.Join(',', parts);
    }

    [GeneratedRegex(@"^[A-Za-z]{0,3}\s*(?<from>\d{1,4})(?:\s*[-–]\s*[A-Za-z]{0,3}\s*(?<to>\d{1,4}))?$")]
    private static partial Regex Range();
}
