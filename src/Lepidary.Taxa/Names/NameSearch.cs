using Lepidary.Taxa.Table;

namespace Lepidary.Taxa.Names;

/// <summary>One search for one printed name. The order of its steps is the order of trust.</summary>
internal sealed class NameSearch(TaxonTable table, NameIndex index, NameContext context, string? settled)
{
    private const int FurthestStart = 5;

    private readonly Surroundings around = new(index, context);

    /// <summary>What the pieces of a printed text mean.</summary>
    public NameMatch Find(List<Token> tokens)
    {
        var readings = Reading.All(tokens, index, FurthestStart);
        foreach (var reading in readings)
        {
            if (reading.Abbreviated && InContext(reading) is { } match)
                return match;
        }

        if (settled is not null)
            return new NameMatch { Taxon = table.Of(settled), By = MatchedBy.Settled, Form = readings.Select(Form).FirstOrDefault(f => f is not null) };
        if (index.Common.IsGroup(PrintedName.Words(tokens)))
            return new NameMatch();

        foreach (var reading in readings)
        {
            if ((reading.Abbreviated ? Anywhere(reading) : Known(reading)) is { } match)
                return match;
        }

        var common = new CommonNameSearch(index, around);
        return common.Whole(tokens)
            ?? Misspelt(tokens, readings)
            ?? MisspeltAbbreviation(readings)
            ?? SlippedSpaces(tokens)
            ?? common.InParts(tokens, readings)
            ?? GenusOnly(tokens, readings)
            ?? UnderGenusHeading(tokens)
            ?? common.Misspelt(tokens)
            ?? common.Words(tokens)
            ?? new NameMatch();
    }

    private NameMatch? Known(Reading reading)
    {
        if (reading.Epithet is not { } epithet)
            return null;
        if (LookAbbreviated(reading.Genus.Folded, epithet, reading) is not { } found)
            return null;

        // A name deep in a sentence is not what the text is about.
        if (reading.Before.Count > 3 && !reading.Genus.Break)
            return null;
        return Decide(reading, found.Meaning, found.By, found.Form);
    }

    // A binomial, a trinomial, an epithet in a genus that was moved, or a subspecies name standing for its species.
    private (Meaning Meaning, MatchedBy By, string? Form)? Look(string genus, Token epithet, Reading reading)
    {
        var form = Form(reading);
        if (reading.Forms.Count > 0 && index.Find(genus, $"{epithet.Folded} {reading.Forms[0].Name.Folded}") is { } trinomial)
            return (trinomial, MatchedBy.Synonym, form);
        if (index.Find(genus, epithet.Folded) is { } binomial)
        {
            var by = binomial.Kind switch
            {
                NameKind.Accepted => MatchedBy.Accepted,
                NameKind.Synonym => MatchedBy.Synonym,
                NameKind.Misspelling => MatchedBy.Spelling,
                _ => throw new InvalidOperationException($"No such kind of name: {binomial.Kind}."),
            };
            return (binomial, by, form);
        }

        if (index.Genus(genus) is not { } names)
            return null;
        if (!names.IsAccepted && Moved(names, epithet.Folded) is { } moved)
            return (moved, MatchedBy.Synonym, form);
        if (names.Forms.TryGetValue(epithet.Folded, out var taxa))
        {
            return (Meaning.Of([.. taxa]), MatchedBy.FormName, form ?? epithet.Text);
        }

        return null;
    }

    // "Menelaides polytes": where Menelaides is only an old genus, its species are looked for in the genera that took them up.
    private Meaning? Moved(GenusNames old, string epithet)
    {
        Meaning? only = null;
        foreach (var genus in old.Taxa.Select(t => t.Genus).Distinct())
        {
            if (index.Find(Folding.Fold(genus), epithet) is not { Kind: NameKind.Accepted } meaning)
                continue;
            if (only is not null)
                return null;
            only = meaning;
        }

        return only;
    }

    private NameMatch Decide(Reading reading, Meaning meaning, MatchedBy by, string? form)
    {
        var printed = Printed(reading);
        var others = reading.Joined.SelectMany(j => index.WithEpithet(j.Epithet).Where(n => n.Genus.Word.Text.StartsWith(j.Genus, StringComparison.Ordinal)))
            .SelectMany(n => n.Meaning.Taxa).Except(meaning.Taxa).ToList();
        if (reading.Hybrid || others.Count > 0)
            return Answer.Doubt($"More than one species, or a hybrid, stands behind \"{printed}\".", [.. meaning.Taxa, .. others]);

        var beside = around.Beside(reading);
        var taxon = meaning.Taxa[0];
        if (!meaning.IsPlain)
        {
            var left = meaning.Taxa.Where(beside.Contains).ToList();
            if (left.Count != 1 && !meaning.OrUnknown && !meaning.Swapped)
                left = [.. meaning.Taxa.Where(around.UnderHeading)];
            if (left.Count == 1 && (context.Heading is not null || beside.Count > 0))
                taxon = left[0];
            else if (meaning.Swapped)
                return Answer.Doubt($"Lists swap {Answer.List(meaning.Taxa)}.", meaning.Taxa) with { Taxon = taxon, By = by, Form = form };
            else if (meaning.OrUnknown)
                return Answer.Doubt($"\"{printed}\" is used for {Answer.List(meaning.Taxa)} and for a species that is not in the table.", [.. meaning.Taxa, table.Of(Binomial(printed))]);
            else
                return Answer.Doubt($"\"{printed}\" is used for {Answer.List(meaning.Taxa)}.", meaning.Taxa);
        }

        var doubts = new List<string>();
        if (reading.Unsure)
            doubts.Add($"The list itself is not sure: \"{printed}\" is marked cf. or aff.");
        if (by != MatchedBy.FormName && reading.Forms.Count > 0 && OwnersOf(reading.Forms[0].Name.Folded, taxon) is { Count: > 0 } owners)
            return Answer.Doubt($"\"{reading.Forms[0].Name.Text}\" belongs to {Answer.List(owners)}, not to {taxon.Name}.", [taxon, .. owners]);
        if (beside.Count > 0 && by != MatchedBy.Accepted && beside.All(t => t.Tribe != taxon.Tribe || t.Family != taxon.Family))
            return Answer.Doubt($"The common name beside \"{printed}\" belongs to {Answer.List(beside)}.", [taxon, .. beside]);
        if (by == MatchedBy.Spelling && context.Heading is { } heading && table.IsRank(heading) && !Place.Holds(heading.Trim(), taxon))
            return Answer.Doubt($"\"{printed}\" is spelled nearly like {taxon.Name}, which is no {heading.Trim()}.", [taxon]);
        return new NameMatch { Taxon = taxon, By = by, Form = form, Doubts = doubts };
    }

    // Species of the same genus that the table gives a subspecies to, or that are named so, where it is not a subspecies of this one.
    private List<Taxon> OwnersOf(string form, Taxon taxon)
    {
        var genus = Folding.Fold(taxon.Genus);
        var owners = index.Genus(genus)?.Forms.GetValueOrDefault(form) ?? [];
        if (owners.Contains(taxon))
            return [];
        if (owners.Count == 0 && index.Find(genus, form) is { Kind: NameKind.Accepted } named)
            owners = named.Taxa;

        // A nominate subspecies repeats the epithet and belongs to whatever it repeats.
        return owners.Contains(taxon) ? [] : owners;
    }

    private NameMatch? InContext(Reading reading)
    {
        if (reading.Epithet is not { } epithet)
            return null;
        foreach (var genus in ContextGenera(reading.Genus.Folded))
        {
            if (LookAbbreviated(genus, epithet, reading) is { } found)
                return Decide(reading, found.Meaning, MatchedBy.Abbreviation, found.Form);
        }

        return null;
    }

    // "M. peleides"; or "H. m. cythera" and "Heliconius m. cythera" with the epithet cut too.
    private (Meaning Meaning, MatchedBy By, string? Form)? LookAbbreviated(string genus, Token epithet, Reading reading)
    {
        if (Look(genus, epithet, reading) is { } whole)
            return whole;
        if (epithet.Folded.Length > 2 || reading.Forms.Count == 0 || index.Genus(genus) is not { } names || !names.Forms.TryGetValue(reading.Forms[0].Name.Folded, out var taxa))
            return null;
        var fitting = taxa.Where(t => t.Synonyms.Prepend(t.Name).Any(n => Folding.Fold(n.Split(' ')[^1]).StartsWith(epithet.Folded, StringComparison.Ordinal))).ToArray();
        return fitting.Length == 0 ? null : (Meaning.Of(fitting), MatchedBy.Abbreviation, Form(reading));
    }

    private NameMatch? Anywhere(Reading reading)
    {
        if (reading.Epithet is not { } epithet)
            return null;
        var printed = Printed(reading);
        var prefix = reading.Genus.Folded;
        var found = new List<Taxon>();
        var plain = true;
        foreach (var (genus, meaning) in index.WithEpithet(epithet.Folded))
        {
            if (!genus.Word.Text.StartsWith(prefix, StringComparison.Ordinal))
                continue;
            plain &= meaning.IsPlain;
            found.AddRange(meaning.Taxa.Where(t => !found.Contains(t)));
        }

        if (found.Count == 0)
        {
            foreach (var genus in index.Genera.Where(g => g.Word.Text.StartsWith(prefix, StringComparison.Ordinal)))
            {
                if (LookAbbreviated(genus.Word.Text, epithet, reading) is { } form)
                    found.AddRange(form.Meaning.Taxa.Where(t => !found.Contains(t)));
            }
        }

        if (found.Count == 0)
            return null;
        var near = ContextGenera(prefix).ToList();
        if (found.Count == 1 && plain && near.Count == 0 && epithet.Folded.Length > 3)
            return Decide(reading, Meaning.Of(found[0]), MatchedBy.Abbreviation, Form(reading));

        return Answer.Doubt(
            near.Count > 0 ? $"\"{printed}\" is in no genus named near it." : $"\"{printed}\" can be {Answer.List(found)}.",
            [.. found.OrderByDescending(t => t.TradedOften)]);
    }

    private IEnumerable<string> ContextGenera(string prefix)
    {
        var heading = context.Heading is { } text && index.Genus(Folding.Fold(text)) is { } genus ? [genus.Word.Text] : Array.Empty<string>();
        return context.GeneraBefore.Concat(heading).Concat(context.GeneraAfter)
            .Select(Folding.Fold)
            .Where(g => g.StartsWith(prefix, StringComparison.Ordinal))
            .Distinct();
    }

    private NameMatch? Misspelt(List<Token> tokens, List<Reading> readings)
    {
        // The reading with a known genus nearest the beginning; or else the first words, as a genus misspelt or unknown.
        var reading = readings.Find(r => !r.Abbreviated && r.Epithet is not null && (r.Before.Count <= 1 || r.Genus.Break));
        if (reading is null)
        {
            var start = tokens.FindIndex(t => t.Kind == TokenKind.Word && !TradeWords.Noise.Contains(t.Folded));
            if (start < 0 || start > 2 || tokens[start].Folded.Length < 3 || start + 1 >= tokens.Count || Latin.IsOrdinary(tokens[start].Folded))
                return null;
            reading = Reading.From(tokens, start, false, index);
        }

        if (reading.Epithet is not { } epithet || epithet.Folded.Length < 2 || Latin.IsOrdinary(epithet.Folded))
            return null;
        var genus = Word.Of(reading.Genus.Folded);
        var word = Word.Of(epithet.Folded);
        var near = Nearest.To(index, genus, word);
        var genusIsKnown = index.Genus(genus.Text) is not null;
        if (near.Count > 0)
        {
            if (Nearest.IsSure(near, word) || (near[0].Distance <= 1 && SettledByContext(near, reading)))
                return Decide(reading, Meaning.Of(near[0].Taxon), MatchedBy.Spelling, Form(reading));

            if (near[0].Distance <= 2 || (near[0].Distance <= Nearest.Furthest && word.Text.Length >= 9))
            {
                return Answer.Doubt(
                    $"\"{Printed(reading)}\" is not in the table; {near[0].Taxon.Name} is spelled nearly so.",
                    Candidates(near.Select(n => n.Taxon), reading, epithet));
            }
        }

        var elsewhere = index.WithEpithet(word.Text).SelectMany(n => n.Meaning.Taxa).Distinct().ToList();
        if (genusIsKnown)
        {
            var family = index.TaxaOfGenus(genus.Text)[0];
            elsewhere = [.. elsewhere.Where(t => t.Subfamily == family.Subfamily && t.Tribe == family.Tribe)];
        }

        if (elsewhere.Count > 0 && word.Text.Length >= 5 && (genusIsKnown || Latin.IsGenus(genus.Text)))
            return Answer.Doubt($"\"{Printed(reading)}\" is not in the table; {Answer.List(elsewhere)} has the same epithet.", Candidates(elsewhere, reading, epithet));
        return NewBinomial(reading, epithet, genusIsKnown);
    }

    // "M. pelaides" among Morpho: sure only where a genus stands near it.
    private NameMatch? MisspeltAbbreviation(List<Reading> readings)
    {
        if (readings.Find(r => r.Abbreviated) is not { Epithet: { Folded.Length: >= 4 } epithet } reading || Latin.IsOrdinary(epithet.Folded) || !char.IsLower(epithet.Text[0]))
            return null;
        var word = Word.Of(epithet.Folded);
        var printed = Printed(reading);
        foreach (var genus in ContextGenera(reading.Genus.Folded))
        {
            var near = Nearest.To(index, Word.Of(genus), word).Where(n => n.InGenus == 0 && n.Distance <= 2).ToList();
            if (near.Count > 0 && Nearest.IsSure(near, word))
                return Decide(reading, Meaning.Of(near[0].Taxon), MatchedBy.Spelling, Form(reading));
            if (near.Count > 0)
                return Answer.Doubt($"\"{printed}\" is not in the table; {near[0].Taxon.Name} is spelled nearly so.", [.. near.Select(n => n.Taxon)]);
            if (Latin.IsEpithet(word.Text) && index.Genus(genus) is { } known)
                return Answer.Doubt($"No {known.Printed} in the table has the epithet \"{epithet.Text}\".", [table.Of($"{genus} {word.Text}")]);
        }

        var anywhere = index.Genera.Where(g => g.Word.Text.StartsWith(reading.Genus.Folded, StringComparison.Ordinal))
            .SelectMany(g => g.Epithets).Where(e => Spelling.Distance(word, e.Word, 1) <= 1).SelectMany(e => e.Meaning.Taxa).Distinct().ToList();
        return anywhere.Count == 0 ? null : Answer.Doubt($"\"{printed}\" is spelled nearly like {Answer.List(anywhere)}.", anywhere);
    }

    // "Papiliomemnon", "Pa pilio memnon", "Papili omemnon"
    private NameMatch? SlippedSpaces(List<Token> tokens)
    {
        var words = tokens.Where(t => t.Kind == TokenKind.Word && !TradeWords.Noise.Contains(t.Folded)).Select(t => t.Folded).ToList();
        var text = string.Concat(words);
        if (words.Count is 0 or > 3 || text.Length is < 9 or > 40 || words.Exists(Latin.IsOrdinary))
            return null;
        var near = Nearest.ToJoined(index, text);
        if (near.Count == 0)
            return null;
        return near[0].Distance <= 1 && (near.Count == 1 || near[1].Distance - near[0].Distance >= 2)
            ? new NameMatch { Taxon = near[0].Taxon, By = MatchedBy.Spelling }
            : Answer.Doubt($"\"{string.Join(' ', words)}\" is spelled nearly like {Answer.List([.. near.Select(n => n.Taxon)])}.", [.. near.Select(n => n.Taxon)]);
    }

    private bool SettledByContext(List<Near> near, Reading reading)
    {
        var beside = around.Beside(reading);
        return beside.Count > 0 && beside.Contains(near[0].Taxon) && near.Skip(1).All(n => !beside.Contains(n.Taxon));
    }

    private List<Taxon> Candidates(IEnumerable<Taxon> taxa, Reading reading, Token epithet)
    {
        var candidates = taxa.Distinct().Take(Answer.MostCandidates).ToList();
        if (Latin.IsEpithet(epithet.Folded) && reading.Genus.Folded.Length >= 3)
            candidates.Add(table.Of($"{reading.Genus.Folded} {epithet.Folded}"));
        return candidates;
    }

    private NameMatch? NewBinomial(Reading reading, Token epithet, bool genusIsKnown)
    {
        var (genus, word) = (reading.Genus.Folded, epithet.Folded);
        if (index.Common.IsWord(word) || reading.Before.Any(t => !TradeWords.Noise.Contains(t.Folded) && t.Kind == TokenKind.Word))
            return null;
        var properCase = reading.Genus.Capital && char.IsLower(epithet.Text[0]);
        var isNamed = reading.Year || reading.Authors.Count > 0;
        var looksLatin = Latin.IsEpithet(word);
        if (genusIsKnown ? word.Length < 3 || !(looksLatin || properCase)
            : !properCase || !Latin.IsStrictEpithet(word) || !Latin.IsGenus(genus) || index.Common.IsWord(genus) || (!isNamed && reading.Rest.Count > 2))
        {
            return null;
        }

        var family = context.Heading is { } heading && table.IsRank(heading) ? heading : "";
        var taxon = table.Of($"{genus} {word}", family);
        List<string> doubts = [];
        if (!looksLatin || word.Length < 4 || (!genusIsKnown && !isNamed && family.Length == 0))
            doubts.Add($"The table does not know {(genusIsKnown ? taxon.Name : $"the genus {taxon.Genus}")}. Is it a name?");
        if (reading.Hybrid || reading.Joined.Count > 0)
            doubts.Add($"More than one species, or a hybrid, stands behind \"{Printed(reading)}\".");
        return new NameMatch { Taxon = taxon, By = MatchedBy.NewBinomial, Form = Form(reading), Doubts = doubts };
    }

    private NameMatch? GenusOnly(List<Token> tokens, List<Reading> readings)
    {
        var reading = readings.Find(r => !r.Abbreviated);
        if (reading is null || tokens.Count(t => t.Kind == TokenKind.Word) > 5 || index.Genus(reading.Genus.Folded) is not { } genus)
            return null;
        var others = tokens.Where(t => t.Kind == TokenKind.Word && t != reading.Genus);
        if (!others.All(t => Latin.IsOrdinary(t.Folded) || index.Common.IsWord(t.Folded)))
            return null;
        return Answer.Doubt($"\"{genus.Printed}\" is a genus. Which species?", [.. index.TaxaOfGenus(genus.Word.Text).OrderByDescending(t => t.TradedOften).Take(Answer.MostCandidates)]);
    }

    // A lone epithet under a heading that is a genus.
    private NameMatch? UnderGenusHeading(List<Token> tokens)
    {
        if (context.Heading is not { } heading || index.Genus(Folding.Fold(heading)) is not { } genus)
            return null;
        var start = tokens.FindIndex(t => t.Kind == TokenKind.Word && !TradeWords.Noise.Contains(t.Folded));
        if (start < 0 || start > 2)
            return null;
        var epithet = tokens[start];
        List<Token> withGenus = [new Token(genus.Printed, genus.Word.Text, TokenKind.Word, false, false, false, false), epithet with { Break = false }, .. tokens[(start + 1)..]];
        var reading = Reading.From(withGenus, 0, true, index);
        return Look(genus.Word.Text, epithet, reading) is { } found ? Decide(reading, found.Meaning, MatchedBy.Abbreviation, found.Form) : null;
    }

    private static string? Form(Reading reading) => reading.Forms.Count == 0
        ? null
        : string.Join(' ', reading.Forms.Select(f => TradeWords.KeptFormMarks.Contains(f.Mark) ? $"{f.Mark}. {f.Name.Text}" : f.Name.Text));

    private static string Printed(Reading reading) =>
        reading.Epithet is { } epithet ? $"{reading.Genus.Text}{(reading.Abbreviated && reading.Genus.Dot ? "." : "")} {epithet.Text}" : reading.Genus.Text;

    private static string Binomial(string printed) => string.Join(' ', printed.Split(' ').Select(Folding.Fold));
}
