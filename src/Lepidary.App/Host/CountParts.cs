using System.Globalization;

namespace Lepidary.App.Host;

/// <summary>A count made in parts, layer by layer of a box or section by section of a walk: <c>12+9+3</c> or <c>12 9 3</c>.</summary>
internal static class CountParts
{
    /// <summary>What a field or an argument is told to hold.</summary>
    public const string Expected = "a whole number, or its parts as 12+9+3";

    /// <summary>The parts, one where it was not made in parts; null where it is no count.</summary>
    public static IReadOnlyList<int>? Read(string? text)
    {
        var parts = (text ?? "").Split(['+', ' '], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        var counts = new List<int>();
        foreach (var part in parts)
        {
            if (!int.TryParse(part, NumberStyles.None, CultureInfo.InvariantCulture, out var count))
            {
                return null;
            }

            counts.Add(count);
        }

        return counts.Count == 0 || counts.Sum(count => (long)count) > int.MaxValue ? null : counts;
    }

    /// <summary><c>12+9+3</c>.</summary>
    public static string Write(IEnumerable<int> parts) => string.Join('+', parts.Select(part => part.ToString(CultureInfo.InvariantCulture)));
}
