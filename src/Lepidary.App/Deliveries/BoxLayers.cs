using Lepidary.App.Host;

namespace Lepidary.App.Deliveries;

/// <summary>Counts made layer by layer: the sum is the count, the layers stand in the line's remark, where a claim can quote them.</summary>
internal static class BoxLayers
{
    /// <summary>The sum; what was counted in several layers is noted.</summary>
    /// <param name="parts">Counts of the layers, the top one first; one for the whole box.</param>
    /// <param name="what">What was counted.</param>
    /// <param name="layers">Notes so far.</param>
    public static int Sum(IReadOnlyList<int> parts, string what, List<string> layers)
    {
        if (parts.Count > 1)
        {
            layers.Add($"{what} {CountParts.Write(parts)}");
        }

        return parts.Sum();
    }

    /// <summary>What the keeper wrote, and the layers behind it: <c>two soft; from the top layer down: dead 0+0+6</c>.</summary>
    public static string? Remark(string? typed, IReadOnlyCollection<string> layers) =>
        layers.Count == 0 ? typed : $"{(typed is null ? "" : typed + "; ")}from the top layer down: {string.Join(", ", layers)}";
}
