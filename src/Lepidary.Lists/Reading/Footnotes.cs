using System.Text.RegularExpressions;

namespace Lepidary.Lists.Reading;

/// <summary>
/// Marks beside names and the lines that explain them: "Papilio memnon* 2.40" and below the list "* sold in packs of 5". What such a line says
/// holds for the offers with its mark and for no other.
/// </summary>
internal static partial class Footnotes
{
    /// <summary>Gives the offers what their footnotes say.</summary>
    public static void Follow(IReadOnlyList<Draft> drafts, char? decimalMark)
    {
        foreach (var note in drafts.Where(draft => draft.Kind is LineKind.Note or LineKind.Heading or LineKind.Doubt && !draft.IsTitles && !draft.IsQuoted && draft.Text.Length <= Tokeniser.LongestLine))
        {
            var text = note.Spoken.Trim();
            if (Explanation().Match(text) is not { Success: true } found)
                continue;
            var (mark, said) = (found.Groups["mark"].Value, found.Groups["said"].Value);
            var marked = drafts.Where(draft => draft.Kind == LineKind.Offer && draft.Sheet == note.Sheet && draft != note && Carries(draft, mark)).ToList();
            if (marked.Count == 0 || marked.Count * 4 > drafts.Count(draft => draft.Kind == LineKind.Offer) * 3)
                continue;
            note.IsFootnote = true;
            note.Kind = LineKind.Note;
            foreach (var draft in marked)
                Take(draft, mark, said, FactReader.Read(said, decimalMark));
        }
    }

    /// <summary>True for a line that begins with a mark and explains it.</summary>
    public static bool Explains(string text) => Explanation().IsMatch(text.Trim());

    private static void Take(Draft draft, string mark, string said, Facts facts)
    {
        // The number in "(1)" is the mark's.
        var digit = mark.FirstOrDefault(char.IsAsciiDigit);
        if (digit != '\0')
            draft.Unexplained.RemoveAll(number => number.Value == digit - '0' && number.Place.Contains("in brackets", StringComparison.Ordinal));
        draft.Note = draft.Note is null ? said : $"{draft.Note}; {said}";
        draft.Facts.Pack ??= facts.Pack;
        if (draft.Facts.Minimum is null)
            (draft.Facts.Minimum, draft.Facts.MinimumInPacks) = (facts.Minimum, facts.MinimumInPacks);
        if (draft.Facts.Available is null && !draft.Facts.SoldOut)
            (draft.Facts.Available, draft.Facts.AvailableInPacks) = (facts.Available, facts.AvailableInPacks);
        draft.Facts.SoldOut |= facts.SoldOut;
        draft.Facts.InStock |= facts.InStock;
        if (facts.PercentBreaks.Count > 0 && draft.Facts.PercentBreaks.Count == 0)
            draft.Facts.PercentBreaks.AddRange(facts.PercentBreaks);
        if (facts.Prices.Count > 0 && !facts.Prices.TrueForAll(price => Classifier.IsCharge([.. Tokeniser.Cut(said, null).SelectMany(token => token.Meanings)])))
            draft.Doubts.Add($"The footnote \"{said}\" speaks of the price: check what holds.");
    }

    /// <summary>True when the mark stands somewhere behind the first letter of an offer's line.</summary>
    private static bool Carries(Draft draft, string mark)
    {
        var text = draft.Text;
        var first = text.AsSpan().IndexOfAnyInRange('A', 'z');
        for (var at = first < 0 ? -1 : text.IndexOf(mark, first, StringComparison.Ordinal); at >= 0; at = text.IndexOf(mark, at + mark.Length, StringComparison.Ordinal))
        {
            var before = text[at - 1];
            var after = at + mark.Length < text.Length ? text[at + mark.Length] : ' ';
            var alone = before != mark[0] && after != mark[0] && !(mark[^1] is '¹' or '²' or '³' && char.IsDigit(after));
            if (alone && (mark[0] != '(' || char.IsWhiteSpace(before) || char.IsLetter(before)))
                return true;
        }
        return false;
    }

    [GeneratedRegex(@"^(?<mark>\*{1,3}|[†‡§]|[¹²³]|\([1-9a-c]\)|\[[1-9]\])\s*[=:–-]?\s*(?<said>[\p{L}\d].*)$")]
    private static partial Regex Explanation();
}
