namespace Lepidary.Taxa.Names;

/// <summary>How an answer that asks the keeper is put.</summary>
internal static class Answer
{
    /// <summary>More than so many are not named in one sentence.</summary>
    public const int MostCandidates = 6;

    /// <summary>A doubt.</summary>
    /// <param name="why">In a sentence.</param>
    /// <param name="candidates">What it could be, best first.</param>
    public static NameMatch Doubt(string why, IReadOnlyList<Taxon> candidates) => new()
    {
        Doubts = [why],
        Candidates = [.. candidates.Take(MostCandidates + 1)],
    };

    /// <summary>"Papilio lowii and Papilio rumanzovia".</summary>
    public static string List(IReadOnlyList<Taxon> taxa) => taxa.Count switch
    {
        0 => "",
        1 => taxa[0].Name,
        > MostCandidates => $"{string.Join(", ", taxa.Take(MostCandidates - 1).Select(t => t.Name))} and others",
        _ => $"{string.Join(", ", taxa.SkipLast(1).Select(t => t.Name))} and {taxa[^1].Name}",
    };

    /// <summary>The likeliest first: with a life history of its own, then often on lists.</summary>
    public static List<Taxon> Likeliest(IEnumerable<Taxon> taxa) =>
        [.. taxa.OrderByDescending(t => t.Life.AdultLifeDays.Confidence != Confidence.Borrowed).ThenByDescending(t => t.TradedOften)];
}
