namespace Lepidary.Lists.Tests.Corpus;

/// <summary>Which offer that was read belongs to which offer of the truth.</summary>
/// <param name="Pairs">Every offer of the truth with the one read for it, or null.</param>
/// <param name="Extra">Offers read that belong to none.</param>
public sealed record Pairing(IReadOnlyList<(TruthOffer Wanted, Offer? Got)> Pairs, IReadOnlyList<Offer> Extra)
{
    /// <summary>Pairs offers of one sheet and line; several on a line by how much they share.</summary>
    public static Pairing ByLine(IReadOnlyList<TruthOffer> wanted, IReadOnlyList<Offer> read)
    {
        var left = read.ToList();
        var got = new Offer?[wanted.Count];
        foreach (var least in new[] { 3, 1, 0 })
        {
            for (var i = 0; i < wanted.Count; i++)
            {
                if (got[i] is not null)
                    continue;
                var here = wanted[i];
                var best = left
                    .Where(o => o.Line == here.Line && (o.Sheet is null || o.Sheet == here.Sheet) && Shared(here, o) >= least)
                    .MaxBy(o => Shared(here, o));
                if (best is null)
                    continue;
                got[i] = best;
                left.Remove(best);
            }
        }

        return new Pairing([.. wanted.Select((w, i) => (w, got[i]))], left);
    }

    /// <summary>Pairs offers in their order, so that as much as possible is shared: the longest common subsequence, weighted.</summary>
    public static Pairing InOrder(IReadOnlyList<TruthOffer> wanted, IReadOnlyList<Offer> read)
    {
        var best = new int[wanted.Count + 1, read.Count + 1];
        for (var i = wanted.Count - 1; i >= 0; i--)
        {
            for (var j = read.Count - 1; j >= 0; j--)
            {
                var share = Shared(wanted[i], read[j]);
                var both = share > 0 ? share + best[i + 1, j + 1] : 0;
                best[i, j] = Math.Max(both, Math.Max(best[i + 1, j], best[i, j + 1]));
            }
        }

        var pairs = new List<(TruthOffer, Offer?)>();
        var extra = new List<Offer>();
        var (a, b) = (0, 0);
        while (a < wanted.Count || b < read.Count)
        {
            var share = a < wanted.Count && b < read.Count ? Shared(wanted[a], read[b]) : 0;
            if (share > 0 && best[a, b] == share + best[a + 1, b + 1])
                pairs.Add((wanted[a++], read[b++]));
            else if (a < wanted.Count && (b == read.Count || best[a, b] == best[a + 1, b]))
                pairs.Add((wanted[a++], null));
            else
                extra.Add(read[b++]);
        }

        return new Pairing(pairs, extra);
    }

    // The taxon weighs most; where it was misread, the printed name and the price still tell which line it is.
    private static int Shared(TruthOffer wanted, Offer read)
    {
        var name = read.Taxon == wanted.Taxon ? 4 : NamedIn(wanted, read) ? 2 : 0;
        return name == 0 ? 0 : name + (read.Price == wanted.Price ? 1 : 0);
    }

    private static bool NamedIn(TruthOffer wanted, Offer read) =>
        wanted.Text.Length > 0
        && read.Text.Length > 0
        && (read.Text.Contains(wanted.Text, StringComparison.OrdinalIgnoreCase)
            || wanted.Text.Contains(read.Text, StringComparison.OrdinalIgnoreCase)
            || (wanted.Taxon is not null && read.Text.Contains(wanted.Taxon.Split(' ')[^1], StringComparison.OrdinalIgnoreCase)));
}
