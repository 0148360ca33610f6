using Lepidary.App.Host;
using Lepidary.Book;

namespace Lepidary.App.Deliveries;

/// <summary>What of a line is counted layer by layer.</summary>
internal enum LayerCount
{
    Alive,
    Dead,
    Damaged,
    Emerged,
    WrongSpecies,
    ColouredUp,
}

/// <summary>Counts of one line as they come in, whole or layer by layer: the sum is the count, and the layers are kept beside it.</summary>
internal sealed class BoxLayers
{
    private static readonly IReadOnlyList<(LayerCount What, string Words, Func<BoxLayer, int?> Of, Action<BoxLayer, int> Put)> _counts =
    [
        (LayerCount.Alive, "alive", layer => layer.Alive, (layer, count) => layer.Alive = count),
        (LayerCount.Dead, "dead", layer => layer.Dead, (layer, count) => layer.Dead = count),
        (LayerCount.Damaged, "damaged", layer => layer.Damaged, (layer, count) => layer.Damaged = count),
        (LayerCount.Emerged, "emerged in the box", layer => layer.Emerged, (layer, count) => layer.Emerged = count),
        (LayerCount.WrongSpecies, "of another species", layer => layer.WrongSpecies, (layer, count) => layer.WrongSpecies = count),
        (LayerCount.ColouredUp, "coloured up", layer => layer.ColouredUp, (layer, count) => layer.ColouredUp = count),
    ];

    private readonly Dictionary<LayerCount, IReadOnlyList<int>> byLayer = [];

    /// <summary>The sum; what was counted in several layers is remembered.</summary>
    /// <param name="parts">Counts of the layers, the top one first; one for the whole box.</param>
    /// <param name="what">What was counted.</param>
    public int Sum(IReadOnlyList<int> parts, LayerCount what)
    {
        if (parts.Count > 1)
        {
            byLayer[what] = parts;
        }

        return parts.Sum();
    }

    /// <summary>The layers, the top one first; none where everything was counted whole.</summary>
    /// <param name="where">What messages call the line.</param>
    /// <param name="problems">Gets counts that name unlike numbers of layers: whose is whose could not be told.</param>
    public List<BoxLayer> Take(string where, List<Problem> problems)
    {
        if (byLayer.Count == 0)
        {
            return [];
        }

        var many = byLayer.Values.Max(parts => parts.Count);
        problems.AddRange(
            from count in _counts
            where byLayer.TryGetValue(count.What, out var parts) && parts.Count != many
            select new Problem($"{where}, {count.Words}", CountParts.Write(byLayer[count.What]), $"{many} layers as in the other counts, 0 for a layer without any; or one sum"));
        var layers = Enumerable.Range(0, many).Select(_ => new BoxLayer()).ToList();
        foreach (var (what, _, _, put) in _counts.Where(count => byLayer.ContainsKey(count.What)))
        {
            foreach (var (at, count) in byLayer[what].Index())
            {
                put(layers[at], count);
            }
        }

        return layers;
    }

    /// <summary><c>from the top layer down: alive 12+8, dead 0+4</c>; null where there are no layers. What no layer had any of is left out.</summary>
    public static string? Words(IReadOnlyCollection<BoxLayer> layers)
    {
        var counted = _counts.Where(count => layers.Any(layer => count.Of(layer) is > 0)).Select(count => $"{count.Words} {CountParts.Write(layers.Select(layer => count.Of(layer) ?? 0))}").ToList();
        return counted.Count == 0 ? null : $"from the top layer down: {string.Join(", ", counted)}";
    }
}
