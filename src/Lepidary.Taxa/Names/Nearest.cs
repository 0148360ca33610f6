namespace Lepidary.Taxa.Names;

/// <summary>A taxon with a name that is spelled nearly like a printed one.</summary>
/// <param name="Taxon">The taxon.</param>
/// <param name="Distance">Edits in genus and epithet together (see <see cref="Spelling.Distance"/>).</param>
/// <param name="InGenus">The part of them in the genus.</param>
/// <param name="Name">The epithet that it is near to.</param>
/// <param name="OtherGenus">True where the name puts the taxon in a genus that is in use for others: an old <c>Papilio</c>.</param>
internal readonly record struct Near(Taxon Taxon, double Distance, double InGenus, string Name, bool OtherGenus)
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
                        best[taxon] = new Near(taxon, distance, inGenus, name.Word.Text, names.IsAccepted && taxon.Genus != names.Printed);
                }
            }
        }

        return [.. best.Values.OrderBy(n => n.Distance).ThenByDescending(n => n.Taxon.TradedOften)];
    }

    /// <summary>Taxa whose name, without spaces, is at most two edits from a text without spaces; each once, the nearest first.</summary>
    public static List<Near> ToJoined(NameIndex index, string folded)
    {
        var word = new Word(folded, "", Folding.Letters(folded));
        var best = new Dictionary<Taxon, Near>(ReferenceEqualityComparer.Instance);
        foreach (var (name, meaning) in index.Joined)
        {
            var distance = Spelling.Distance(word, name, 2);
            if (distance > 2)
                continue;
            foreach (var taxon in meaning.Taxa)
            {
                if (!best.TryGetValue(taxon, out var before) || distance < before.Distance)
                    best[taxon] = new Near(taxon, distance, 0, name.Text, false);
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

        // Everything was once a Papilio: its species a letter apart are more often another animal than a slip.
        if (first.OtherGenus && first.InEpithet > 0)
            return false;
        var length = epithet.Text.Length;
        return first switch
        {
            { InEpithet: 0, InGenus: <= 1 } => length >= 4 && gap >= 1,
            { InEpithet: 0 } => length >= 6 && gap >= 2,
            { Distance: <= Spelling.SameSound } => length >= 5 && gap >= 1,
            { Distance: <= 1 } => length >= 5 && gap >= 2,

            // Two letters of one short word are as often another species as a slip.
            { Distance: <= 2 } => (first.InGenus > 0 ? length >= 7 : length >= 10) && epithet.Text[0] == first.Name[0] && gap >= 2,
            _ => false,
        };
    }

    private static int Reach(int length) => length <= 5 ? 2 : 3;
}
