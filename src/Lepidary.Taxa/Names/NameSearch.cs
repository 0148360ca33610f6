using Lepidary.Taxa.Table;

namespace Lepidary.Taxa.Names;

/// <summary>One search for one printed name. The order of its steps is the order of trust.</summary>
internal sealed class NameSearch(TaxonTable table, NameIndex index, NameContext context, string? settled)
{
    private const int FurthestStart = 5;
    private const int MostCandidates = 6;
    private const int MostAsked = 20;

    /// <summary>What the pieces of a printed text mean.</summary>
    public NameMatch Find(List<Token> tokens)
    {
        if (index.Common.IsGroup(PrintedName.Words(tokens)))
            return new NameMatch();
        var readings = Readings(tokens);
        foreach (var reading in readings)
        {
            if (reading.Abbreviated && InContext(reading) is { } match)
                return match;
        }

        if (settled is not null)
            return new NameMatch { Taxon = table.Of(settled), By = MatchedBy.Settled, Form = readings.Select(Form).FirstOrDefault(f => f is not null) };

        foreach (var reading in readings)
        {
            if ((reading.Abbreviated ? Anywhere(reading) : Known(reading)) is { } match)
                return match;
        }

        return CommonName(tokens)
            ?? Misspelt(tokens, readings)
            ?? SlippedSpaces(tokens)
            ?? GenusOnly(tokens, readings)
            ?? UnderGenusHeading(tokens)
            ?? MisspeltCommonName(tokens)
            ?? PartOfCommonName(tokens)
            ?? new NameMatch();
    }

    // Every place where a genus, or its abbreviation, can begin a name.
    private List<Reading> Readings(List<Token> tokens)
    {
        var readings = new List<Reading>(2);
        for (var i = 0; i < tokens.Count && i <= FurthestStart; i++)
        {
            var token = tokens[i];
            if (token.Kind != TokenKind.Word)
                continue;
            var next = i + 1 < tokens.Count && tokens[i + 1].Kind == TokenKind.Word ? tokens[i + 1] : default;
            var isGenus = index.Genus(token.Folded) is not null || (next.Folded is { } epithet && index.Find(token.Folded, epithet) is not null);
            var isAbbreviation = !isGenus && next.Folded is not null && (!next.Break || next.Bracketed) && (token.Capital || (token.Dot && i == 0))
                && (token.Folded.Length == 1 || (token.Dot && token.Folded.Length <= 5));
            if (isGenus || isAbbreviation)
                readings.Add(Reading.From(tokens, i, isAbbreviation, index));
        }

        return readings;
    }

    private NameMatch? Known(Reading reading)
    {
        if (reading.Epithet is not { } epithet)
            return null;
        if (LookAbbreviated(reading.Genus.Folded, epithet, reading) is not { } found)
            return null;

        // Far into a sentence only a name that the table knows counts, and one that stands apart or nearly so.
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
            var meaning = new Meaning { Kind = NameKind.Synonym };
            meaning.Taxa.AddRange(taxa);
            return (meaning, MatchedBy.FormName, form ?? epithet.Text);
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
            return Doubt($"More than one species, or a hybrid, stands behind \"{printed}\".", [.. meaning.Taxa, .. others]);

        var beside = Beside(reading);
        var taxon = meaning.Taxa[0];
        if (!meaning.IsPlain)
        {
            var left = meaning.Taxa.Where(beside.Contains).ToList();
            if (left.Count != 1 && !meaning.OrUnknown && !meaning.Swapped)
                left = [.. meaning.Taxa.Where(UnderHeading)];
            if (left.Count == 1 && (context.Heading is not null || beside.Count > 0))
                taxon = left[0];
            else if (meaning.Swapped)
                return Doubt($"Lists swap {List(meaning.Taxa)}.", meaning.Taxa) with { Taxon = taxon, By = by, Form = form };
            else if (meaning.OrUnknown)
                return Doubt($"\"{printed}\" is used for {List(meaning.Taxa)} and for a species that is not in the table.", [.. meaning.Taxa, table.Of(Binomial(printed))]);
            else
                return Doubt($"\"{printed}\" is used for {List(meaning.Taxa)}.", meaning.Taxa);
        }

        var doubts = new List<string>();
        if (reading.Unsure)
            doubts.Add($"The list itself is not sure: \"{printed}\" is marked cf. or aff.");
        if (by != MatchedBy.FormName && reading.Forms.Count > 0 && OwnersOf(reading.Forms[0].Name.Folded, taxon) is { Count: > 0 } owners)
            return Doubt($"\"{reading.Forms[0].Name.Text}\" belongs to {List(owners)}, not to {taxon.Name}.", [taxon, .. owners]);
        if (beside.Count > 0 && by != MatchedBy.Accepted && beside.All(t => t.Tribe != taxon.Tribe || t.Family != taxon.Family))
            return Doubt($"The common name beside \"{printed}\" belongs to {List(beside)}.", [taxon, .. beside]);
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
        var fitting = taxa.Where(t => t.Synonyms.Prepend(t.Name).Any(n => Folding.Fold(n.Split(' ')[^1]).StartsWith(epithet.Folded, StringComparison.Ordinal))).ToList();
        if (fitting.Count == 0)
            return null;
        var meaning = new Meaning { Kind = NameKind.Synonym };
        meaning.Taxa.AddRange(fitting);
        return (meaning, MatchedBy.Abbreviation, Form(reading));
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
        {
            var meaning = new Meaning();
            meaning.Taxa.Add(found[0]);
            return Decide(reading, meaning, MatchedBy.Abbreviation, Form(reading));
        }

        return Doubt(
            near.Count > 0 ? $"\"{printed}\" is in no genus named near it." : $"\"{printed}\" can be {List(found)}.",
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

    private NameMatch? CommonName(List<Token> tokens)
    {
        var words = PrintedName.Words(tokens);
        var taxa = index.Common.Find(words);
        if (taxa.Count == 0)
            taxa = index.Common.Find(words.SkipWhile(TradeWords.Noise.Contains).Reverse().SkipWhile(TradeWords.Noise.Contains).Reverse().ToList());
        if (taxa.Count == 0)
        {
            // "Blue Morpho / Blauer Morphofalter": one part is enough where no part says otherwise.
            foreach (var part in Parts(tokens))
            {
                var named = index.Common.Find(PrintedName.Words(part));
                if (named.Count == 0)
                    continue;
                taxa = taxa.Count == 0 ? named : [.. taxa.Intersect(named)];
                if (taxa.Count == 0)
                    return Doubt("Two common names on one line belong to different species.", named);
            }
        }

        if (taxa.Count == 0)
            return null;
        if (taxa.Count == 1)
            return new NameMatch { Taxon = taxa[0], By = MatchedBy.CommonName };
        var beside = context.CommonNameBeside is { } other ? NamedBeside(other) : [];
        var left = taxa.Where(beside.Contains).ToList();
        if (left.Count != 1)
            left = [.. taxa.Where(UnderHeading)];
        return left.Count == 1
            ? new NameMatch { Taxon = left[0], By = MatchedBy.CommonName }
            : Doubt($"\"{string.Join(' ', tokens.Select(t => t.Text))}\" is a common name of {List(taxa)}.", taxa);
    }

    private NameMatch? Misspelt(List<Token> tokens, List<Reading> readings)
    {
        // The reading with a known genus nearest the beginning; or else the first words, as a genus misspelt or unknown.
        var reading = readings.Find(r => !r.Abbreviated && r.Epithet is not null && r.Before.Count <= 1);
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
            {
                var meaning = new Meaning();
                meaning.Taxa.Add(near[0].Taxon);
                return Decide(reading, meaning, MatchedBy.Spelling, Form(reading));
            }

            if (near[0].Distance <= 2 || (near[0].Distance <= Nearest.Furthest && word.Text.Length >= 9))
            {
                return Doubt(
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
            return Doubt($"\"{Printed(reading)}\" is not in the table; {List(elsewhere)} has the same epithet.", Candidates(elsewhere, reading, epithet));
        return NewBinomial(reading, epithet, genusIsKnown);
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
            : Doubt($"\"{string.Join(' ', words)}\" is spelled nearly like {List([.. near.Select(n => n.Taxon)])}.", [.. near.Select(n => n.Taxon)]);
    }

    private bool SettledByContext(List<Near> near, Reading reading)
    {
        var beside = Beside(reading);
        return beside.Count > 0 && beside.Contains(near[0].Taxon) && near.Skip(1).All(n => !beside.Contains(n.Taxon));
    }

    private List<Taxon> Candidates(IEnumerable<Taxon> taxa, Reading reading, Token epithet)
    {
        var candidates = taxa.Distinct().Take(MostCandidates).ToList();
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
            : !properCase || !Latin.IsEpithetOfUnknownGenus(word) || !Latin.IsGenus(genus) || index.Common.IsWord(genus) || (!isNamed && reading.Rest.Count > 2))
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
        return Doubt($"\"{genus.Printed}\" is a genus. Which species?", [.. index.TaxaOfGenus(genus.Word.Text).OrderByDescending(t => t.TradedOften).Take(MostCandidates)]);
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

    private NameMatch? MisspeltCommonName(List<Token> tokens)
    {
        var words = PrintedName.Words(tokens.Where(t => !TradeWords.Noise.Contains(t.Folded)));
        if (words.Count is 0 or > 5 || words.All(Latin.IsOrdinary))
            return null;
        var near = index.Common.Nearest(words);
        if (near.Count == 0)
            return null;
        return near is [{ Sure: true }] && words.Count > 1
            ? new NameMatch { Taxon = near[0].Taxon, By = MatchedBy.CommonName }
            : Doubt($"\"{string.Join(' ', tokens.Select(t => t.Text))}\" is spelled nearly like a common name of {List([.. near.Select(n => n.Taxon)])}.", [.. near.Select(n => n.Taxon)]);
    }

    // "Owl": enough to ask with, never enough to decide.
    private NameMatch? PartOfCommonName(List<Token> tokens)
    {
        var words = PrintedName.Words(tokens.Where(t => !TradeWords.Noise.Contains(t.Folded)));
        if (words.Count is 0 or > 3 || words.Any(w => w.Length < 3 || Latin.IsOrdinary(w)))
            return null;
        var taxa = index.Common.WithWords(words, MostAsked);
        return taxa.Count == 0 ? null : Doubt($"\"{string.Join(' ', tokens.Select(t => t.Text))}\" is part of common names of {List(taxa)}.", taxa);
    }

    // Beside a common name may stand the scientific one, where a list has its columns the other way round.
    private List<Taxon> NamedBeside(string text)
    {
        var tokens = PrintedName.Read(text);
        return [.. index.Common.Find(PrintedName.Words(tokens)),
            .. Readings(tokens).Where(r => r.Epithet is not null).SelectMany(r => index.Find(r.Genus.Folded, r.Epithet!.Value.Folded)?.Taxa ?? [])];
    }

    private List<Taxon> Beside(Reading reading)
    {
        var taxa = new List<Taxon>();
        if (context.CommonNameBeside is { } name)
            taxa.AddRange(NamedBeside(name));
        taxa.AddRange(index.Common.Find(PrintedName.Words(reading.Before)));
        foreach (var part in Parts(reading.Rest))
            taxa.AddRange(index.Common.Find(PrintedName.Words(part)));
        return [.. taxa.Distinct()];
    }

    private static IEnumerable<List<Token>> Parts(IReadOnlyList<Token> tokens)
    {
        var part = new List<Token>();
        foreach (var token in tokens)
        {
            if (token.Break && part.Count > 0)
            {
                yield return part;
                part = [];
            }

            part.Add(token);
        }

        if (part.Count > 0)
            yield return part;
    }

    private bool UnderHeading(Taxon taxon) =>
        context.Heading is { } heading
        && (Place.Holds(heading.Trim(), taxon) || Folding.Fold(heading) == Folding.Fold(taxon.Genus) || Realms.Named(heading).Contains(taxon.Region));

    private static string? Form(Reading reading) => reading.Forms.Count == 0
        ? null
        : string.Join(' ', reading.Forms.Select(f => TradeWords.KeptFormMarks.Contains(f.Mark) ? $"{f.Mark}. {f.Name.Text}" : f.Name.Text));

    private static string Printed(Reading reading) =>
        reading.Epithet is { } epithet ? $"{reading.Genus.Text}{(reading.Abbreviated && reading.Genus.Dot ? "." : "")} {epithet.Text}" : reading.Genus.Text;

    private static string Binomial(string printed) => string.Join(' ', printed.Split(' ').Select(Folding.Fold));

    private static string List(IReadOnlyList<Taxon> taxa) => taxa.Count switch
    {
        0 => "",
        1 => taxa[0].Name,
        _ => $"{string.Join(", ", taxa.Take(Math.Min(taxa.Count, MostCandidates) - 1).Select(t => t.Name))} and {(taxa.Count > MostCandidates ? "others" : taxa[^1].Name)}",
    };

    private static NameMatch Doubt(string why, IReadOnlyList<Taxon> candidates) => new()
    {
        Doubts = [why],
        Candidates = [.. candidates.Take(MostCandidates + 1)],
    };
}
