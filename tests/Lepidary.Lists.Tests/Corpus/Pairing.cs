namespace Lepidary.Lists.Tests.Corpus;

/// <summary>Which offer that was read belongs to which offer of the truth.</summary>
/// <param name="Pairs">Every offer of the truth with the one read for it, or null.</param>
/// <param name="Extra">Offers read that belong to none.</param>
public sealed record Pairing(IReadOnlyList<(TruthOffer Wanted, Offer? Got)> Pairs, IReadOnlyList<Offer> Extra)
{
    // Least that a pair must share, from certain to weak: taxon and price, taxon, printed name and price, printed name.
    private static readonly int[] Passes = [5, 4, 3, 2];

    /// <summary>Pairs offers of one sheet and line; several on a line by how much they share, one alone in any case.</summary>
    public static Pairing ByLine(IReadOnlyList<TruthOffer> wanted, IReadOnlyList<Offer> read) =>
        Pair(wanted, read, [.. Passes, 0], (w, o) => o.Line == w.Line && (o.Sheet is null || o.Sheet == w.Sheet));

    /// <summary>Pairs offers wherever they stand, for a format without lines, by how much they share.</summary>
    public static Pairing Freely(IReadOnlyList<TruthOffer> wanted, IReadOnlyList<Offer> read) =>
        Pair(wanted, read, Passes, (_, _) => true);

    private static Pairing Pair(
        IReadOnlyList<TruthOffer> wanted, IReadOnlyList<Offer> read, int[] passes, Func<TruthOffer, Offer, bool> mayPair)
    {
        var left = read.ToList();
        var got = new Offer?[wanted.Count];
        foreach (var least in passes)
        {
            for (var i = 0; i < wanted.Count; i++)
            {
                if (got[i] is not null)
                    continue;
                var best = left
                    .Where(o => mayPair(wanted[i], o) && Shared(wanted[i], o) >= least)
                    .MaxBy(o => Shared(wanted[i], o));
                if (best is null)
                    continue;
                got[i] = best;
                left.Remove(best);
            }
        }

        return new Pairing([.. wanted.Select((w, i) => (w, got[i]))], left);
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
