namespace Lepidary.Taxa.Table;

/// <summary>The words that aims may use for a taxon.</summary>
internal static class Tagging
{
    /// <summary>A taxon whose middle wingspan is at least this many millimetres is <c>large</c>.</summary>
    public const int LargeFromMm = 100;

    /// <summary>A taxon whose middle wingspan is at most this many millimetres is <c>small</c>.</summary>
    public const int SmallToMm = 50;

    /// <summary>Tags from the figures that every taxon has and from its habits.</summary>
    /// <param name="habits">Colour, food, flight layer and hours, as far as known.</param>
    /// <param name="region">Realm, or empty.</param>
    /// <param name="cites">Appendix, or empty.</param>
    /// <param name="kind">Pupa or cocoon.</param>
    /// <param name="wingspan">In millimetres, or null.</param>
    public static HashSet<string> Tags(IEnumerable<string> habits, string region, string cites, PostedKind kind, WholeRange? wingspan)
    {
        var tags = new HashSet<string>(habits, StringComparer.Ordinal);
        if (region.Length > 0)
            tags.Add(region.ToLowerInvariant());
        if (cites.Length > 0)
            tags.Add($"cites-{cites.ToLowerInvariant()}");
        if (kind == PostedKind.Cocoon)
            tags.Add("cocoon");
        if (wingspan is { } span)
        {
            var middle = (span.From + span.To) / 2.0;
            if (middle >= LargeFromMm)
                tags.Add("large");
            if (middle <= SmallToMm)
                tags.Add("small");
        }

        return tags;
    }
}
