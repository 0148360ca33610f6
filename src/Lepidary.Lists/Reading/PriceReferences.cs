using Lepidary.Lists.Words;

namespace Lepidary.Lists.Reading;

/// <summary>Prices by reference: "the same price as the melpomene", "idem memnon", "wie oben".</summary>
internal static class PriceReferences
{
    /// <summary>Gives the offers that only point at a price that of the offer they name, or else of the one before.</summary>
    public static void Follow(IReadOnlyList<Draft> drafts)
    {
        Draft? before = null;
        foreach (var draft in drafts.Where(draft => draft.Kind == LineKind.Offer))
        {
            if (!draft.HasPrice && !draft.Facts.SoldOut && (draft.Says(Meaning.SamePrice) || draft.PriceDitto) && (draft.PriceDitto ? before : Named(draft, drafts) ?? before) is { } meant)
                draft.Facts.Prices.AddRange(meant.Facts.Prices);
            if (draft.HasPrice)
                before = draft;
        }
    }

    /// <summary>The offer with a price whose species stands behind the words that point.</summary>
    private static Draft? Named(Draft draft, IReadOnlyList<Draft> drafts)
    {
        var tokens = Tokeniser.Cut(draft.IsProse ? draft.Spoken : draft.Text, null);
        foreach (var at in Enumerable.Range(0, tokens.Count).Where(i => tokens[i].Is(Meaning.SamePrice)))
        {
            foreach (var word in tokens.Skip(at + 1).Take(6).Where(token => token.Kind == TokenKind.Word && token.Text.Length > 3).Select(token => token.Text))
            {
                var meant = drafts.FirstOrDefault(other => other != draft && other.Sheet == draft.Sheet && other is { Kind: LineKind.Offer, HasPrice: true } && Epithet(other) is { } epithet && epithet.Equals(word, StringComparison.OrdinalIgnoreCase));
                if (meant is not null)
                    return meant;
            }
        }
        return null;
    }

    private static string? Epithet(Draft draft) => (draft.Named.Text ?? draft.NameTexts.FirstOrDefault())?.Split(' ') is { Length: > 0 } words ? words[^1].TrimEnd('.', ',') : null;
}
