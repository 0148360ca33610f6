using System.Text.RegularExpressions;
using Lepidary.Lists.Words;
using Lepidary.Taxa;

namespace Lepidary.Lists.Reading;

/// <summary>
/// Goes down the rows of one column of offers, knows the heading and the genera around, finds the names and says what each row is.
/// </summary>
internal sealed partial class Classifier(NameReader names)
{
    private const int MostGenera = 12;

    /// <summary>Names the taxa of the drafts and gives each its kind.</summary>
    /// <param name="drafts">Of one block, from top to bottom.</param>
    /// <param name="cancellation">Ends a reading that takes too long.</param>
    public void Classify(IReadOnlyList<Draft> drafts, CancellationToken cancellation)
    {
        foreach (var draft in drafts.Where(draft => !draft.InTable && !draft.IsProse && draft.NameTexts.Count > 0))
            TakeNone(draft);
        var genera = drafts.Select(PrintedGenus).ToList();
        var bare = NamesAlone(drafts);
        var before = new List<string>();
        string? heading = null;
        string? lastGenus = null;
        string? lastFamily = null;
        var underPrice = false;
        (Draft Draft, string Name)? species = null;
        var continued = 0;
        for (var i = 0; i < drafts.Count; i++)
        {
            cancellation.ThrowIfCancellationRequested();
            var draft = drafts[i];
            if (draft.IsTitles)
            {
                draft.Kind = LineKind.Heading;
                continue;
            }
            if (continued > 0)
            {
                continued--;
                draft.Kind = draft.Row.Content.Any() ? LineKind.Note : LineKind.Blank;
                draft.Heading = heading;
                continue;
            }
            if (draft.Row.Text.Length == 0 && !draft.Row.Content.Any())
            {
                draft.Kind = LineKind.Blank;
                continue;
            }
            if (draft.Ditto && lastGenus is not null && draft.NameTexts.Count > 0)
                draft.NameTexts[0] = $"{lastGenus} {draft.NameTexts[0]}";
            if (draft.FamilyText is { } family && !FactDitto(family))
                lastFamily = family;
            draft.Heading = heading;
            if (species is var (parent, name) && IsFormOf(draft, name))
            {
                draft.NameTexts[0] = $"{name} {draft.NameTexts[0]}";
                parent.Kind = LineKind.Heading;
            }
            else if ((!draft.HasPrice && IsGroup(draft)) || IsPriceOfTheFollowing(drafts, i))
            {
                underPrice = draft.HasPrice;
                species = null;
                draft.Kind = LineKind.Heading;
                heading = HeadingText(draft);
                draft.Heading = heading;
                continue;
            }
            if (!underPrice)
                continued = TakeContinuation(drafts, i);
            var context = new NameContext
            {
                GeneraBefore = before,
                GeneraAfter = [.. genera.Skip(i + 1).Take(60).OfType<string>().Distinct().Take(MostGenera)],
                Heading = lastFamily ?? Group(heading),
                CommonNameBeside = draft.CommonName,
            };
            draft.Named = names.Find(draft.NameTexts, context, bare);
            draft.Kind = KindOf(draft);
            // "Mainland 9.90" and below it "Islands 14.90": the second is a charge like the first.
            if (draft.Kind is LineKind.Offer or LineKind.Doubt && !draft.Named.Any && draft.HasPrice && draft.NameTexts.Count > 0 && !names.IsScientific(draft.Spoken) && !draft.Facts.Mix && Before(drafts, i) is { Kind: LineKind.Charge } above)
            {
                draft.Kind = LineKind.Charge;
                draft.Meanings.UnionWith(above.Meanings);
            }
            if (draft.Kind == LineKind.Heading)
            {
                heading = HeadingText(draft);
                draft.Heading = heading;
            }
            if (draft is { Kind: LineKind.Offer, InTable: false, IsProse: false, HasPrice: false, HasStock: false, Named: { Scientific: true, Text: { } alone } } && draft.Row.Content.Count() == 1)
                species = (draft, alone);
            else if (draft.Kind == LineKind.Offer && !(species is var (_, above2) && draft.NameTexts.Count > 0 && draft.NameTexts[0].StartsWith(above2, StringComparison.Ordinal)))
                species = null;
            if (draft.Kind == LineKind.Offer && draft.Named is { Text: { } text, Match.Taxon: not null } && PrintedGenusOf(text, loose: draft.Named.Scientific) is { } genus)
            {
                lastGenus = genus;
                before.Remove(genus);
                before.Insert(0, genus);
                if (before.Count > MostGenera)
                    before.RemoveAt(MostGenera);
            }
        }
    }

    /// <summary>"no palinurus", "kein Papilio polytes": there is none of it.</summary>
    private void TakeNone(Draft draft)
    {
        var text = draft.NameTexts[0];
        var tokens = Tokeniser.Cut(text, null);
        if (tokens.Count is < 2 or > 8 || !(tokens[0].Is(Meaning.None) || (tokens[0].Is(Meaning.No) && tokens[0].Text.Length > 2)) || draft.HasPrice)
            return;
        var name = text[tokens[1].Start..];
        if (!names.IsInTable(name) && !(tokens[1].Meanings.Count == 0 && Epithets.Find(tokens[1].Text).Count > 0))
            return;
        draft.NameTexts[0] = names.IsInTable(name) || tokens.Count == 2 ? name : tokens[1].Text;
        draft.Facts.SoldOut = true;
    }

    /// <summary>What the names that are an epithet alone say of one another: the genera of those that one species only goes by, and what is printed in full.</summary>
    private static BareNames NamesAlone(IReadOnlyList<Draft> drafts)
    {
        var genera = new HashSet<string>();
        var full = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (var text in drafts.Where(draft => draft.NameTexts.Count > 0).Select(draft => draft.NameTexts[0]))
        {
            if (text.All(c => char.IsLetter(c) || c == '-'))
            {
                if (Epithets.Find(text) is [{ } only])
                    genera.Add(only.Genus);
            }
            else if (GenusAndEpithet().Match(text) is { Success: true } binomial)
            {
                full.Add(binomial.Value);
            }
        }
        return new BareNames(genera, full);
    }

    private static Draft? Before(IReadOnlyList<Draft> drafts, int i)
    {
        for (i--; i >= 0; i--)
        {
            if (drafts[i].Kind != LineKind.Blank)
                return drafts[i];
        }
        return null;
    }

    /// <summary>Lines below a name that can belong to it.</summary>
    private const int MostContinued = 8;

    /// <summary>
    /// An offer over several lines: a name, and below it a common name, the price, what there is. Takes what they say into the draft and gives
    /// how many lines they are. They end at the next name, a heading, a charge, or what speaks of the order.
    /// </summary>
    private int TakeContinuation(IReadOnlyList<Draft> drafts, int i)
    {
        var draft = drafts[i];
        if (draft.InTable || draft.IsProse || draft.Facts.Mix || draft.NameTexts.Count == 0 || draft.Words > 12 || draft.Text.TrimEnd().EndsWith(':') || !names.IsScientific(draft.NameTexts[0]))
            return 0;
        var priced = draft.HasPrice;
        // "Papilio memnon 2.40" and below it "40 available": only what there is can follow.
        var last = i;
        for (var j = i + 1; j < drafts.Count && j - i <= MostContinued; j++)
        {
            var below = drafts[j];
            if (!below.Row.Content.Any())
            {
                if (last == i && !priced && j == i + 1)
                    continue;
                break;
            }
            if (Footnotes.Explains(below.Spoken) || below.InTable || below.IsProse || below.IsTitles || below.IsQuoted || below.Sheet != draft.Sheet || below.Facts.Mix || below.Words > 12 || below.Text.TrimEnd().EndsWith(':') || IsCharge(below.Meanings)
                || below.Says(Meaning.Tax) || below.Says(Meaning.Discount) || below.Says(Meaning.Prices) || below.Says(Meaning.PerSpecies) || below.Says(Meaning.All) && !below.HasPrice)
                break;
            var named = below.NameTexts.FindAll(text => !NameReader.OnlyListWords(text));
            if (named.Exists(names.IsScientific) || (!below.HasPrice && !below.HasStock && IsGroup(below)))
                break;
            if (priced)
            {
                if (named.Count > 0 || below.HasPrice || !(below.Facts.Available is not null || below.Facts.SoldOut) || draft.HasStock || below.Facts.Minimum is not null || below.Facts.Pack is not null || below.Words > 5)
                    break;
                last = j;
                break;
            }
            if (below.HasPrice || below.HasStock)
            {
                if (named.Count > 0 && !(named.Count == 1 && below.HasPrice && names.IsCommon(named[0])))
                    break;
                last = j;
            }
            else if (below.Words > 6 || below.Text.TrimEnd().EndsWith('.'))
            {
                break;
            }
        }
        var lines = Enumerable.Range(i + 1, last - i).Select(j => drafts[j]).ToList();
        if (!lines.Exists(line => line.HasPrice || line.HasStock))
            return 0;
        foreach (var line in lines)
        {
            draft.Continue(line);
            foreach (var text in line.NameTexts.Where(text => !NameReader.OnlyListWords(text)))
            {
                if (draft.CommonName is null && names.IsCommon(text))
                    draft.CommonName = text;
                else
                    draft.Note = draft.Note is null ? text : $"{draft.Note}; {text}";
            }
        }
        return last - i;
    }

    /// <summary>"ssp. agenor 2.40" below "Papilio memnon".</summary>
    private bool IsFormOf(Draft draft, string species) =>
        draft is { InTable: false, IsProse: false, HasPrice: true, NameTexts.Count: > 0 } && FormName().IsMatch(draft.NameTexts[0]) && names.IsInTable(species) && names.HasForm($"{species} {draft.NameTexts[0]}");

    /// <summary>"All at 1.70 each" over names without prices.</summary>
    private bool IsPriceOfTheFollowing(IReadOnlyList<Draft> drafts, int i)
    {
        if (!drafts[i].HasPrice || drafts[i].Facts.Mix || drafts[i].Words > 8 || drafts[i].Row.Content.Count() > 1 || drafts[i].NameTexts.Exists(names.IsScientific))
            return false;
        var next = drafts.Skip(i + 1).FirstOrDefault(draft => draft.Row.Content.Any());
        if (next is not { HasPrice: false, NameTexts.Count: > 0 } || NoSpecies().IsMatch(drafts[i].Text))
            return false;
        // "Group A: 1.60 each" is a heading whatever names follow, also where the first of them is gone.
        var group = drafts[i].Facts.Prices.Count == 1 && !drafts[i].HasStock && !drafts[i].NameTexts.Exists(names.IsCommon) && !IsCharge(drafts[i].Meanings)
            && (drafts[i].Says(Meaning.Each) || drafts[i].Says(Meaning.Both) || drafts[i].Text.Contains(':', StringComparison.Ordinal));
        return (names.IsScientific(next.NameTexts[0]) && (group || !next.Facts.SoldOut)) || (group && next.HasStock && names.IsCommon(next.NameTexts[0]));
    }

    private static bool FactDitto(string text) => text is "\"" or "''" or "-" or "do." or "dto.";

    /// <summary>A heading without what stands behind it in brackets or after a dash, if that makes it a group.</summary>
    private string? Group(string? heading)
    {
        if (heading is null)
            return null;
        foreach (var part in (string[])[heading, heading.Split('(', '-', '–', '—', ':', ',', '/')[0].Trim()])
        {
            if (names.IsHeading(part))
                return part;
        }
        return heading.Split(' ', '(', ')', ',', ':', '/', '-').FirstOrDefault(word => word.Length > 4 && names.IsHeading(word)) ?? heading;
    }

    private static string HeadingText(Draft draft) => draft.Text.Split(" | ")[0].Trim(' ', ':', ';', ',', '*', '-', '=', '_', '#', '~', '|');

    /// <summary>A family, a genus or a region alone on its row.</summary>
    private bool IsGroup(Draft draft)
    {
        if (draft.Row.Content.Count() > 1 && draft.InTable)
            return false;
        var text = HeadingText(draft);
        if (text.Length is 0 or > 80 || draft.Facts.Available is not null || (draft.Facts.SoldOut && draft.NameTexts.Exists(names.IsScientific)))
            return false;
        if (names.IsHeading(text) || Vocabulary.Of(text).Contains(Meaning.Region))
            return true;
        var first = text.Split('(', '-', '–', '—', ':', ',', '/')[0].Trim();
        return first.Length > 3 && first.Length < text.Length && (names.IsHeading(first) || Vocabulary.Of(first).Contains(Meaning.Region)) && draft.Words <= 8;
    }

    /// <summary>A charge or a term of the order, and no offer.</summary>
    public bool IsTerm(Draft draft) => (IsCharge(draft.Meanings) || SpeaksOfTheOrder(draft)) && !draft.NameTexts.Exists(names.IsScientific) && !(draft.CommonName is { } common && names.IsScientific(common));

    private static LineKind KindOf(Draft draft)
    {
        // "Everything 2.00 unless it says otherwise"
        if (draft is { InTable: false, HasPrice: true, Named.Any: false } && draft.Says(Meaning.All) && !draft.Facts.Mix && !IsCharge(draft.Meanings) && !SpeaksOfTheOrder(draft))
            return LineKind.Note;
        if (draft.IsProse)
            return LineKind.Offer;
        if (!draft.Text.Any(char.IsLetterOrDigit))
            return LineKind.Heading;
        if (draft.Text.Length > Tokeniser.LongestLine)
            return draft.InTable ? LineKind.Doubt : LineKind.Note;
        var facts = draft.Facts;
        var charge = IsCharge(draft.Meanings);
        var match = draft.Named;
        var letters = draft.NameTexts.Count > 0 || draft.CommonName is not null;

        if (draft.InTable)
        {
            if (match.Scientific || (match.Any && !charge && !facts.Mix))
                return LineKind.Offer;
            if (facts.Mix && letters && (draft.HasPrice || draft.HasStock) && !(charge && facts.Pack is null && facts.Available is null))
                return LineKind.Offer;
            if (charge && (draft.HasPrice || draft.Says(Meaning.AtCost)))
                return LineKind.Charge;
            if (SpeaksOfTheOrder(draft) || !letters)
                return letters || !draft.HasPrice ? LineKind.Note : LineKind.Doubt;
            return draft.HasPrice || (draft.HasStock && draft.Words <= 8) ? LineKind.Offer : LineKind.Note;
        }

        var isShort = draft.Words <= 8;
        if (match.Scientific && (draft.HasPrice || draft.HasStock ? draft.Words <= 30 : isShort && !charge))
            return LineKind.Offer;
        if (facts.Mix && letters && draft.HasPrice && !(charge && facts.Pack is null && facts.Available is null) && !SpeaksOfTheOrder(draft))
            return LineKind.Offer;
        // "Carriage free from 300": no amount is charged there.
        if (charge && draft.HasPrice && draft.Says(Meaning.AtCost) && facts.Prices.TrueForAll(price => price.From > 1 || facts.FromPrice))
            return LineKind.Note;
        if (charge && draft.HasPrice && !match.Scientific && !(match.Sure && !SpeaksOfTheOrder(draft)))
            return LineKind.Charge;
        if (charge && draft.Says(Meaning.AtCost) && isShort && !draft.HasPrice && !draft.Text.Any(char.IsAsciiDigit))
            return LineKind.Charge;
        if (match.Any && draft.HasPrice && !SpeaksOfTheOrder(draft))
            return LineKind.Offer;
        if (match.Sure && draft.HasStock && draft.Words <= 10 && !SpeaksOfTheOrder(draft))
            return LineKind.Offer;
        if (draft.HasPrice && !SpeaksOfTheOrder(draft) && !draft.Says(Meaning.Prices) && !draft.Says(Meaning.ListTitle))
            return letters && isShort ? LineKind.Offer : LineKind.Doubt;
        if (draft.Text.TrimStart().StartsWith('(') && (facts.Pack is not null || facts.Minimum is not null))
            return LineKind.Note;
        return isShort && !draft.HasPrice && !draft.Text.TrimEnd().EndsWith('.') && draft.Words <= 5 ? LineKind.Heading : LineKind.Note;
    }

    /// <summary>Words for what is charged beside the animals.</summary>
    public static bool IsCharge(HashSet<Meaning> says) => says.Overlaps(
        [Meaning.Permit, Meaning.Document, Meaning.Box, Meaning.Packing, Meaning.Carriage, Meaning.Handling, Meaning.PerBox, Meaning.PerShipment, Meaning.PerPermit, Meaning.PerOrder]);

    /// <summary>Terms of the order as a whole: smallest order, discounts, tax, totals.</summary>
    private static bool SpeaksOfTheOrder(Draft draft) =>
        draft.Says(Meaning.Tax) || draft.Says(Meaning.Discount) || draft.Says(Meaning.WholeOrder) || draft.Says(Meaning.Total) || draft.Says(Meaning.NetPrices) || draft.Says(Meaning.GrossPrices);

    /// <summary>Genera written out on the last rows.</summary>
    public static IReadOnlyCollection<string> PrintedGenera(IReadOnlyList<Draft> drafts) => [.. drafts.TakeLast(8).Select(PrintedGenus).OfType<string>().Distinct()];

    private static string? PrintedGenus(Draft draft) => draft.NameTexts.Count == 0 || draft.Ditto ? null : PrintedGenusOf(draft.NameTexts[0], loose: false);

    private static string? PrintedGenusOf(string text, bool loose)
    {
        var match = GenusAndEpithet().Match(text);
        if (match.Success)
            return match.Groups[1].Value;
        if (!loose)
            return null;
        var first = FirstWord().Match(text);
        return first.Success && first.Value.Length > 2 ? char.ToUpperInvariant(first.Value[0]) + first.Value[1..].ToLowerInvariant() : null;
    }

    [GeneratedRegex(@"^(\p{Lu}\p{Ll}{2,})\s+(?:\(\p{L}+\)\s+)?\p{Ll}{3,}")]
    private static partial Regex GenusAndEpithet();

    [GeneratedRegex(@"^(?:(?:ssp|subsp|f|form|forma|var)\.?\s+)?\p{Ll}{3,}$")]
    private static partial Regex FormName();

    [GeneratedRegex(@"\bspp?\b", RegexOptions.IgnoreCase)]
    private static partial Regex NoSpecies();

    [GeneratedRegex(@"^\p{L}+(?=\s)")]
    private static partial Regex FirstWord();
}
