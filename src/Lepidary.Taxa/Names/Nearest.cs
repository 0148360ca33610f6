namespace Lepidary.Taxa.Names;

/// <summary>A taxon with a name that is spelled nearly like a printed one.</summary>
/// <param name="Taxon">The taxon.</param>
/// <param name="Distance">Edits in genus and epithet together (see <see cref="Spelling.Distance"/>).</param>
/// <param name="InGenus">The part of them in the genus.</param>
internal readonly record struct Near(Taxon Taxon, double Distance, double InGenus)
{
    /// <summary>The part in the epithet.</summary>
    public double InEpithet => Distance - InGenus;
}

/// <summary>The names nearest to a printed one, genus and epithet scored apart.</summary>
internal static class Nearest
{
    /// <summary>A name further than this is another name.</summary>
    public const double Furthest = 3;

    // Names beyond the furthest are still counted as the second best when it is asked whether the best one stands alone.
    private const double Horizon = 4;

    /// <summary>Taxa by distance, each once, the nearest first.</summary>
    public static List<Near> To(NameIndex index, Word genus, Word epithet)
    {
        var most = Reach(epithet.Text.Length);
        var best = new Dictionary<Taxon, Near>(ReferenceEqualityComparer.Instance);
        foreach (var names in index.Genera)
        {
            var inGenus = Spelling.Distance(genus, names.Word, Math.Min(2, Reach(genus.Text.Length)));
            if (inGenus > 2)
                continue;
            foreach (var name in names.Epithets)
            {
                var inEpithet = Spelling.Distance(epithet, name.Word, most);
                if (name.Meaning.Kind == NameKind.Misspelling && inEpithet > 0)
                    inEpithet += Spelling.SameSound;
                var distance = inGenus + inEpithet;
                if (distance > Horizon)
                    continue;
                foreach (var taxon in name.Meaning.Taxa)
                {
                    if (!best.TryGetValue(taxon, out var before) || distance < before.Distance)
                        best[taxon] = new Near(taxon, distance, inGenus);
                }
            }
        }

        return [.. best.Values.OrderBy(n => n.Distance).ThenByDescending(n => n.Taxon.TradedOften)];
    }

    /// <summary>
    /// True where the nearest can be taken without asking: a slip so small, and every other name so far, that no second slip of the same size
    /// leads from another name to what is printed.
    /// </summary>
    /// <param name="near">From <see cref="To"/>, at least one.</param>
    /// <param name="epithet">The epithet as printed.</param>
    public static bool IsSure(List<Near> near, Word epithet)
    {
        var first = near[0];
        var gap = near.Count > 1 ? near[1].Distance - first.Distance : Horizon;
        return first switch
        {
            { InEpithet: 0, InGenus: <= 1 } => epithet.Text.Length >= 4 && gap >= 1,
            { InEpithet: 0 } => epithet.Text.Length >= 6 && gap >= 2,
            { Distance: <= Spelling.SameSound } => epithet.Text.Length >= 5 && gap >= 1,
            { Distance: <= 1 } => epithet.Text.Length >= 5 && gap >= 2,
            { Distance: <= 2 } => epithet.Text.Length >= 8 && gap >= 2,
            _ => false,
        };
    }

    private static int Reach(int length) => length switch
    {
        <= 3 => 1,
        <= 5 => 2,
        _ => 3,
    };
}
