using Lepidary.Lists.Formats;
using Lepidary.Lists.Words;

namespace Lepidary.Lists.Reading;

/// <summary>
/// Reads sentences with several offers in them: "about thirty memnon at 2.40, a dozen palinurus at 2.70 and twenty rumanzovia, same price as the
/// memnon". A sentence is cut at the names; a number right before a name is of that name, all else is of the name before.
/// </summary>
internal sealed class ProseReader(NameReader names, char? decimalMark)
{
    private sealed record Mention(int Token, int Start, int End, string Name)
    {
        /// <summary>Where what is said of it begins.</summary>
        public int From { get; init; }

        /// <summary>Only named to point at its price.</summary>
        public bool Reference { get; init; }

        /// <summary>"no demoleus this week"</summary>
        public bool None { get; init; }

        /// <summary>A common name, or an epithet with a capital: a mention of its own only where something is said of it.</summary>
        public bool Loose { get; init; }

        /// <summary>"20 each of": the number holds for all that follow, up to their price.</summary>
        public bool EachOf { get; init; }
    }

    /// <summary>The offers of a line, or null when it is no sentence with several.</summary>
    public IReadOnlyList<Draft>? Split(Sheet sheet, Row row, IReadOnlyCollection<string> generaBefore)
    {
        if (row.Content.Count() != 1)
            return null;
        var text = row.Content.First().Text;
        var tokens = Tokeniser.Cut(text, decimalMark);
        if (tokens.Count < 5 || !tokens.Exists(token => token.Kind == TokenKind.Number || token.Is(Meaning.SoldOut)))
            return null;
        var mentions = Mentions(text, tokens, generaBefore);
        if ((mentions.Count(mention => !mention.Reference) < 2 && !IsWithinSentence(tokens, mentions)) || (mentions.TrueForAll(mention => mention.Loose) && tokens.Count(token => token.Kind == TokenKind.Number && token.Decimals > 0) < 2))
            return null;
        var drafts = Drafts(sheet, row, text, mentions);
        // One price before all the names is the price of all.
        if (drafts.TrueForAll(draft => !draft.HasPrice))
        {
            // "Sold out this week: helenor, memnon and atlas"
            if (Tokeniser.Cut(text[..mentions[0].From], decimalMark) is { Count: <= 8 } before && before.Exists(token => token.Is(Meaning.SoldOut)) && !drafts.Exists(draft => draft.Facts.Available is not null))
            {
                drafts.ForEach(draft => draft.Facts.SoldOut = true);
                return drafts;
            }
            // "hecale, sara and charithonia: 20 of each, the same price as the melpomene"
            if (drafts.Exists(draft => draft.Says(Meaning.SamePrice)))
            {
                drafts.ForEach(draft => draft.Meanings.Add(Meaning.SamePrice));
                return drafts;
            }
            // "memnon x40, palinurus x12" below a heading with the price
            if (drafts.TrueForAll(draft => draft.Facts.Available is not null || draft.Facts.SoldOut) && Tokeniser.Cut(text[..mentions[0].From], decimalMark).Count <= 4 && !drafts.Exists(draft => Classifier.IsCharge(draft.Meanings)))
                return drafts;
            var front = FactReader.Read(text[..mentions[0].From], decimalMark);
            if (front.Prices.Count != 1)
                return null;
            drafts.ForEach(draft => draft.Facts.Prices.AddRange(front.Prices));
        }
        return drafts;
    }

    /// <summary>"Last of all there are six cocoons of Attacus atlas at seven pounds each": one name in the middle of a sentence, with its price.</summary>
    private static bool IsWithinSentence(List<Token> tokens, List<Mention> mentions) =>
        mentions is [{ Loose: false, Reference: false } only] && only.Name.Contains(' ', StringComparison.Ordinal) && tokens.Take(only.Token).Count(token => token.Kind == TokenKind.Word) >= 4
        && tokens.Skip(only.Token).Any(token => token.Kind == TokenKind.Number && (token.Decimals is 1 or 2 || token.Currency is not null)) && !tokens.Exists(token => token.IsSign('|'));

    private List<Mention> Mentions(string text, List<Token> tokens, IReadOnlyCollection<string> generaBefore)
    {
        var found = new List<Mention>();
        for (var i = 0; i < tokens.Count; i++)
        {
            var token = tokens[i];
            if (token.Kind != TokenKind.Word)
                continue;
            if (char.IsUpper(token.Text[0]) && BinomialEnd(text, tokens, i) is var (last, name))
            {
                found.Add(new Mention(i, token.Start, tokens[last].End, name));
                i = EndOfWordsInBrackets(tokens, last);
            }
            else if (token.Meanings.Count == 0 && token.Text.Length > 3 && token.Text.All(char.IsLower) && Epithets.Find(token.Text).Count > 0)
            {
                found.Add(new Mention(i, token.Start, token.End, token.Text));
            }
            else if (BeginsSentence(tokens, i) && Epithets.Find(token.Text) is [{ } first, ..] && !(i + 1 < tokens.Count && tokens[i + 1].IsSign(',')) && i + 1 < tokens.Count)
            {
                // "Polytes are finished."
                found.Add(new Mention(i, token.Start, token.End, Epithets.Find(token.Text).Count == 1 ? first.Name : token.Text.ToLowerInvariant()) { Loose = true });
            }
            else if (CommonNamesInText.At(tokens, i) is var (end, taxon))
            {
                found.Add(new Mention(i, token.Start, tokens[end].End, taxon.Name) { Loose = true });
                i = end;
            }
        }
        OnlySpokenOf(tokens, found);
        // What has one meaning only tells the genus of the rest.
        var genera = generaBefore.Concat(found.Select(mention => Genus(mention.Name)).OfType<string>()).ToHashSet();
        if (!found.Exists(mention => mention.Name.Contains(' ', StringComparison.Ordinal)) && genera.Count == 0)
            genera.UnionWith(found.Select(mention => Epithets.Find(mention.Name)).Where(taxa => taxa.Count == 1).Select(taxa => taxa[0].Genus));
        return [.. found.Select((mention, i) => Place(tokens, mention with { Name = WithGenus(mention.Name, genera, found) }, i == 0 ? null : found[i - 1]))];
    }

    /// <summary>"Papilio cresphontes (Giant Swallowtail)": words alone in brackets behind a name are another name of it.</summary>
    private static int EndOfWordsInBrackets(List<Token> tokens, int last)
    {
        if (last + 1 >= tokens.Count || !tokens[last + 1].IsSign('('))
            return last;
        for (var i = last + 2; i < tokens.Count && i - last <= 8; i++)
        {
            if (tokens[i].IsSign(')'))
                return i > last + 2 ? i : last;
            if (tokens[i].Kind is TokenKind.Number or TokenKind.Currency || FactReader.CountOrWord(tokens[i]) is not null || tokens[i].Is(Meaning.SoldOut) || (char.IsLower(tokens[i].Text[0]) && Epithets.Find(tokens[i].Text).Count > 0))
                return last;
        }
        return last;
    }

    private static bool BeginsSentence(List<Token> tokens, int i) =>
        tokens[i] is { Kind: TokenKind.Word, Meanings.Count: 0, Text.Length: > 4 } word && char.IsUpper(word.Text[0]) && word.Text.Skip(1).All(char.IsLower)
        && (i == 0 || (tokens[i - 1] is { Kind: TokenKind.Sign } stop && ".!?;".Contains(stop.Text[0], StringComparison.Ordinal) && stop.End < word.Start));

    /// <summary>
    /// A common name beside the scientific one of the same species is that one's; one of which neither a price nor a number nor an end is said is only
    /// talk.
    /// </summary>
    private void OnlySpokenOf(List<Token> tokens, List<Mention> found)
    {
        for (var i = found.Count - 1; i >= 0; i--)
        {
            if (!found[i].Loose)
                continue;
            var here = found[i];
            bool Same(Mention other) => other.Name == here.Name || names.SameTaxon(other.Name, here.Name);
            var to = i + 1 < found.Count ? found[i + 1].Start : int.MaxValue;
            var said = tokens.Where(token => token.Start >= here.End && token.Start < to).ToList();
            var before = here.Token > 0 ? tokens[here.Token - 1] : null;
            var spoken = said.Take(12).Any(token => (token.Kind == TokenKind.Number && token.Decimals > 0) || token.Currency is not null || token.Is(Meaning.SoldOut) || token.Is(Meaning.SamePrice))
                || (before is not null && (FactReader.CountOrWord(before) is not null || before.Is(Meaning.None) || before.Is(Meaning.SamePrice)))
                || (here.Token > 1 && tokens[here.Token - 2].Is(Meaning.SamePrice));
            if (!spoken || (i > 0 && Same(found[i - 1]) && here.Token - found[i - 1].Token < 8) || (i + 1 < found.Count && Same(found[i + 1]) && found[i + 1].Token - here.Token < 8))
                found.RemoveAt(i);
        }
    }

    private static string? Genus(string name) => name.Contains(' ', StringComparison.Ordinal) && name.Split(' ')[0] is { Length: > 3 } genus && !genus.EndsWith('.') ? genus : null;

    private static string WithGenus(string name, HashSet<string> genera, List<Mention> all)
    {
        if (name.Contains(' ', StringComparison.Ordinal))
            return name;
        var near = Epithets.Find(name, genera);
        if (near.Count > 1)
        {
            var unique = all.Where(mention => !mention.Name.Contains(' ', StringComparison.Ordinal)).Select(mention => Epithets.Find(mention.Name)).Where(taxa => taxa.Count == 1).Select(taxa => taxa[0].Genus).ToHashSet();
            near = Epithets.Find(name, unique);
        }
        return near.Count == 1 ? near[0].Name : name;
    }

    /// <summary>"Papilio memnon", "P. memnon agenor": the last token of a name that begins with a capital, and the name.</summary>
    private (int Last, string Name)? BinomialEnd(string text, List<Token> tokens, int i)
    {
        var next = i + 1 < tokens.Count && tokens[i + 1].IsSign('.') ? i + 2 : i + 1;
        if (next >= tokens.Count || !IsLatin(tokens[next]) || tokens[next].Start - tokens[next - 1].End > 1)
            return null;
        var name = text[tokens[i].Start..tokens[next].End];
        if (!names.IsInTable(name))
            return null;
        // A third word right behind is the subspecies, not another species.
        if (next + 1 < tokens.Count && IsLatin(tokens[next + 1]) && tokens[next + 1].Start - tokens[next].End == 1 && names.IsScientific(name + " " + tokens[next + 1].Text) && names.HasForm(name + " " + tokens[next + 1].Text))
            return (next + 1, text[tokens[i].Start..tokens[next + 1].End]);
        return (next, name);
    }

    private static bool IsLatin(Token token) => token.Kind == TokenKind.Word && token.Meanings.Count == 0 && token.Text.Length > 2 && token.Text.All(c => char.IsLower(c) || c == '-');

    /// <summary>Finds where what is said of a name begins: at a number, or a "no", right before it.</summary>
    private static Mention Place(List<Token> tokens, Mention mention, Mention? before)
    {
        // A sentence that begins after the name before is about this one from its first word.
        for (var s = mention.Token - 2; before is not null && s > before.Token; s--)
        {
            if (tokens[s].IsSign('.') && tokens[s].End < tokens[s + 1].Start && char.IsUpper(tokens[s + 1].Text[0]))
            {
                var placed = Place(tokens, mention, null);
                return placed.None || placed.Reference ? placed : placed with { From = tokens[s + 1].Start };
            }
        }
        var i = mention.Token - 1;
        if (i >= 0 && tokens[i].Kind == TokenKind.Word && (tokens[i].Is(Meaning.None) || tokens[i].Is(Meaning.No)))
            return mention with { From = tokens[i].Start, None = true };
        // "as the memnon", "wie memnon"
        var j = i;
        while (j >= 0 && tokens[j].Kind == TokenKind.Word && tokens[j].Text.ToLowerInvariant() is "the" or "der" or "die" or "den" or "das" or "dem" or "bei" or "for" or "le" or "la" or "les" or "des" or "du" or "aux" or "pour" or "el" or "los" or "las" or "del" or "de" or "het" or "van" or "bij" or "il" or "i" or "gli" or "dei" or "delle" or "degli" or "del" or "di" or "as" or "wie" or "que" or "als" or "come" or "comme")
            j--;
        if (j >= 0 && j < i && tokens[j].Is(Meaning.SamePrice) || (i >= 0 && tokens[i].Is(Meaning.SamePrice) && tokens[i].Text.EndsWith("as", StringComparison.OrdinalIgnoreCase)))
            return mention with { From = mention.Start, Reference = true };
        // "12 ", "eight cocoons of "
        var k = i;
        for (var steps = 0; k >= 0 && steps < 3 && tokens[k].Kind == TokenKind.Word && FactReader.CountOrWord(tokens[k]) is null && (tokens[k].Text.Length <= 3 || tokens[k].Is(Meaning.Pieces) || tokens[k].Is(Meaning.Cocoon) || OfEach(tokens[k])); steps++)
            k--;
        var eachOf = k >= 0 && k + 1 < tokens.Count && k < mention.Token && tokens.Skip(k + 1).Take(mention.Token - k - 1).Any(OfEach);
        if (k >= 0 && FactReader.CountOrWord(tokens[k]) is not null && !(k > 0 && (tokens[k - 1].Is(Meaning.From) || tokens[k - 1].Is(Meaning.At)) && !tokens[k - 1].Is(Meaning.Approx)))
        {
            while (k > 0 && tokens[k - 1].Kind == TokenKind.Word && (tokens[k - 1].Is(Meaning.Approx) || tokens[k - 1].Is(Meaning.Only)))
                k--;
            return mention with { From = tokens[k].Start, EachOf = eachOf };
        }
        return mention with { From = mention.Start };
    }

    /// <summary>"each of", "je", "de chaque": a number before it is of each that follows.</summary>
    private static bool OfEach(Token token) => token.Kind == TokenKind.Word && (token.Is(Meaning.Both) || token.Text.ToLowerInvariant() is "each" or "je" or "jeweils" or "chaque" or "cada" or "elk" or "ciascuno" or "ciascuna");

    private List<Draft> Drafts(Sheet sheet, Row row, string text, List<Mention> mentions)
    {
        var drafts = new List<Draft>();
        var waiting = new List<Draft>();
        int? ofEach = null;
        for (var i = 0; i < mentions.Count; i++)
        {
            var mention = mentions[i];
            if (mention.Reference)
            {
                if (drafts.Count > 0 && !drafts[^1].HasPrice && drafts.Find(draft => draft.NameTexts[0] == mention.Name) is { HasPrice: true } meant)
                {
                    drafts[^1].Facts.Prices.AddRange(meant.Facts.Prices);
                    waiting.Remove(drafts[^1]);
                }
                continue;
            }
            var end = i + 1 < mentions.Count ? mentions[i + 1].From : text.Length;
            var said = $"{text[mention.From..mention.Start]} | {text[mention.End..Math.Max(mention.End, end)]}";
            var draft = new Draft { Row = row, Line = row.LineAt(mention.From), Sheet = sheet, Text = text[mention.From..Math.Max(mention.End, end)].Trim(' ', ',', ';'), IsProse = true, Facts = FactReader.Read(said, decimalMark) };
            draft.NameTexts.Add(mention.Name);
            foreach (var token in Tokeniser.Cut(said, decimalMark))
                draft.Meanings.UnionWith(token.Meanings);
            Settle(draft.Facts);
            draft.Facts.SoldOut |= mention.None;
            if (mention.From < mention.Start)
                ofEach = mention.EachOf ? draft.Facts.Available : null;
            else if (!draft.Facts.SoldOut)
                draft.Facts.Available ??= ofEach;
            if (draft.HasPrice)
                ofEach = null;
            // "from 20 of one kind I let polytes go for 2.30": more about an offer made before.
            if (drafts.Find(other => other.NameTexts[0] == mention.Name) is { } first)
            {
                if (draft.Facts.Prices is [{ } more] && (more.From > 1 ? more.From : FromNumber(said)) is { } from)
                    first.Facts.Prices.Add(more with { From = from });
                else
                    first.Doubts.Add($"The line speaks of it twice: \"{draft.Text}\". Check what holds.");
                continue;
            }
            drafts.Add(draft);
            if (!draft.HasPrice && draft.Says(Meaning.SamePrice) && drafts.Count > 1 && !(i + 1 < mentions.Count && mentions[i + 1].Reference))
                draft.Facts.Prices.AddRange(drafts[^2].Facts.Prices);
            if (!draft.HasPrice && !draft.Facts.SoldOut)
            {
                waiting.Add(draft);
                continue;
            }
            // "melpomene and hecale at 2.80 each, thirty of either"
            if (draft.Says(Meaning.SamePrice) && !draft.HasPrice)
                waiting.ForEach(one => one.Meanings.Add(Meaning.SamePrice));
            foreach (var one in waiting.Where(_ => draft.HasPrice))
            {
                one.Facts.Prices.AddRange(draft.Facts.Prices);
                if (draft.Says(Meaning.Both))
                    one.Facts.Available ??= draft.Facts.Available;
            }
            waiting.Clear();
        }
        // "A, B and C: 20 of each"
        if (drafts.Count > 1 && drafts[^1] is { HasPrice: false, Facts.Available: { } all } last && last.Says(Meaning.Both))
        {
            foreach (var one in waiting)
                one.Facts.Available ??= all;
        }
        return drafts;
    }

    /// <summary>"from 20" anywhere in what is said.</summary>
    private int? FromNumber(string said)
    {
        var tokens = Tokeniser.Cut(said, decimalMark);
        var at = tokens.FindIndex(token => token.Is(Meaning.From));
        return at >= 0 && at + 1 < tokens.Count && FactReader.CountOrWord(tokens[at + 1]) is { } from and > 1 ? from : null;
    }

    /// <summary>In a sentence a number that nothing else explains is how many there are.</summary>
    private static void Settle(Facts facts)
    {
        // "memnon x40"
        if (facts is { PackByTimes: true, Available: null, Pack: { } times })
            (facts.Available, facts.Pack) = (times, null);
        if (facts.Available is null && facts.Bare.Find(token => token.IsWhole) is { } bare)
        {
            facts.Available = (int)bare.Value;
            facts.Bare.Remove(bare);
        }
        if (facts.Available is null && facts.CountWords.Count > 0)
            facts.Available = facts.CountWords[0];
    }
}
