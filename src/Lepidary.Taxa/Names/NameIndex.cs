using Lepidary.Taxa.Table;

namespace Lepidary.Taxa.Names;

/// <summary>How a scientific name belongs to its taxon, the strongest first.</summary>
internal enum NameKind
{
    /// <summary>The accepted name.</summary>
    Accepted,

    /// <summary>Another scientific name.</summary>
    Synonym,

    /// <summary>A misspelling that the table knows.</summary>
    Misspelling,
}

/// <summary>What a scientific name can mean.</summary>
internal sealed class Meaning
{
    /// <summary>Taxa, the likeliest first.</summary>
    public List<Taxon> Taxa { get; } = [];

    /// <summary>How the name belongs to the first of them.</summary>
    public NameKind Kind { get; set; }

    /// <summary>True where the name can also mean a species that is not in the table.</summary>
    public bool OrUnknown { get; set; }

    /// <summary>True where lists are known to swap this name with another's.</summary>
    public bool Swapped { get; set; }

    /// <summary>A meaning that was worked out, not printed in the table.</summary>
    public static Meaning Of(params Taxon[] taxa)
    {
        var meaning = new Meaning { Kind = NameKind.Synonym };
        meaning.Taxa.AddRange(taxa);
        return meaning;
    }

    /// <summary>True where the name leads to one taxon and nothing else.</summary>
    public bool IsPlain => Taxa.Count == 1 && !OrUnknown && !Swapped;
}

/// <summary>An epithet printed with a genus.</summary>
internal sealed record EpithetName(Word Word, Meaning Meaning);

/// <summary>A genus that the table prints, accepted or old.</summary>
internal sealed class GenusNames(string printed, string folded)
{
    private readonly List<Taxon> taxa = [];
    private readonly HashSet<Taxon> known = new(ReferenceEqualityComparer.Instance);

    public string Printed { get; } = printed;

    public Word Word { get; } = Word.Of(folded);

    /// <summary>True where it is the genus of an accepted name.</summary>
    public bool IsAccepted { get; set; }

    /// <summary>Every epithet printed with it.</summary>
    public List<EpithetName> Epithets { get; } = [];

    /// <summary>Subspecies and forms of its species, folded.</summary>
    public Dictionary<string, List<Taxon>> Forms { get; } = new(StringComparer.Ordinal);

    /// <summary>Every taxon that has a name in it.</summary>
    public IReadOnlyList<Taxon> Taxa => taxa;

    public void Add(Taxon taxon)
    {
        if (known.Add(taxon))
            taxa.Add(taxon);
    }
}

/// <summary>Every scientific name of the table, ready to look up.</summary>
internal sealed class NameIndex
{
    private readonly Dictionary<string, Meaning> names = new(8192, StringComparer.Ordinal);
    private readonly Dictionary<string, GenusNames> genera = new(1024, StringComparer.Ordinal);
    private readonly Lazy<Suggestions> suggestions;
    private readonly Lazy<List<(Word Name, Meaning Meaning)>> joined;
    private readonly Dictionary<string, List<(GenusNames Genus, Meaning Meaning)>> epithets = new(4096, StringComparer.Ordinal);

    // Usual abbreviations of authors on labels and lists; general knowledge.
    private readonly HashSet<string> authors = new(
        ["l", "lin", "linn", "linne", "f", "fab", "fabr", "cr", "cram", "bdv", "boisd", "hbn", "hb", "feld", "hew", "dbl", "doubl", "westw", "wallgr", "rothsch", "fruhst", "latr", "godt", "bat", "men", "stgr", "esp", "schiff", "auct"],
        StringComparer.Ordinal);

    public NameIndex(IReadOnlyList<NameRow> rows)
    {
        foreach (var row in rows)
            Add(row.Taxon.Name, row.Taxon, NameKind.Accepted);
        foreach (var row in rows)
        {
            foreach (var name in row.Taxon.Synonyms)
                Add(name, row.Taxon, NameKind.Synonym);
            foreach (var form in row.Taxon.Forms)
                AddForm(row.Taxon, form);
        }

        foreach (var row in rows)
        {
            foreach (var name in row.Misspellings)
                Add(name, row.Taxon, NameKind.Misspelling);
        }

        AddAmbiguities(rows);
        Common = new CommonNames(rows);
        suggestions = new Lazy<Suggestions>(() => new Suggestions(rows));
        joined = new Lazy<List<(Word, Meaning)>>(() =>
            [.. names.Select(n => (n.Key.Replace(" ", "", StringComparison.Ordinal), n.Value)).Select(n => (new Word(n.Item1, "", Folding.Letters(n.Item1)), n.Value))]);
        foreach (var row in rows)
        {
            foreach (var token in PrintedName.Read(row.Taxon.Authority))
            {
                if (token.Kind == TokenKind.Word)
                    authors.Add(token.Folded);
            }
        }
    }

    public CommonNames Common { get; }

    /// <summary>Words of author names, folded, with the abbreviations in use.</summary>
    public IReadOnlySet<string> Authors => authors;

    /// <summary>True where a species of this genus has a subspecies or form of this name.</summary>
    public bool IsForm(string genus, string folded) => Genus(genus)?.Forms.ContainsKey(folded) ?? false;

    public IReadOnlyCollection<GenusNames> Genera => genera.Values;

    /// <summary>The genus printed so, or null.</summary>
    public GenusNames? Genus(string folded) => genera.GetValueOrDefault(folded);

    /// <summary>What a name of two or three folded words means, or null.</summary>
    public Meaning? Find(string genus, string epithet) => names.GetValueOrDefault($"{genus} {epithet}");

    /// <summary>The one taxon that a binomial can mean, or null.</summary>
    public Taxon? OnlyMeaning(string genus, string epithet) =>
        Find(genus, epithet) is { IsPlain: true, Kind: not NameKind.Misspelling } meaning ? meaning.Taxa[0] : null;

    /// <summary>The names ranked for a search box.</summary>
    public Suggestions Suggestions => suggestions.Value;

    /// <summary>Every scientific name without its spaces, for texts whose spaces slipped.</summary>
    public IReadOnlyList<(Word Name, Meaning Meaning)> Joined => joined.Value;

    /// <summary>Every name with this epithet, whatever its genus.</summary>
    public IReadOnlyList<(GenusNames Genus, Meaning Meaning)> WithEpithet(string folded) => epithets.GetValueOrDefault(folded) ?? [];

    /// <summary>Taxa whose accepted name has this genus; of an old genus, those that have a name in it.</summary>
    public IReadOnlyList<Taxon> TaxaOfGenus(string folded) =>
        Genus(folded) is not { } genus ? [] : genus.IsAccepted ? [.. genus.Taxa.Where(t => t.Genus == genus.Printed)] : genus.Taxa;

    private void Add(string name, Taxon taxon, NameKind kind)
    {
        var space = name.IndexOf(' ', StringComparison.Ordinal);
        if (name[space + 1] == '(')
        {
            // "Papilio (Menelaides) memnon": lists print either word before the epithet.
            var bracket = name.IndexOf(')', space);
            Add(string.Concat(name.AsSpan(0, space), name.AsSpan(bracket + 1)), taxon, kind);
            Add(string.Concat(name.AsSpan(space + 2, bracket - space - 2), name.AsSpan(bracket + 1)), taxon, kind);
            return;
        }

        var printedGenus = name[..space];
        var genusFolded = Folding.Fold(printedGenus);
        var subspecies = name.IndexOf(' ', space + 1);
        var rest = subspecies < 0
            ? Folding.Fold(name[(space + 1)..])
            : $"{Folding.Fold(name[(space + 1)..subspecies])} {Folding.Fold(name[(subspecies + 1)..])}";
        var key = $"{genusFolded} {rest}";
        if (names.TryGetValue(key, out var meaning))
        {
            // A name that is somebody's accepted name is theirs, whatever else it was used for.
            if (!meaning.Taxa.Contains(taxon) && meaning.Kind == kind)
                meaning.Taxa.Add(taxon);
            return;
        }

        meaning = new Meaning { Kind = kind };
        meaning.Taxa.Add(taxon);
        names.Add(key, meaning);
        if (subspecies >= 0)
        {
            AddForm(taxon, name[(subspecies + 1)..]);
            return;
        }

        if (kind == NameKind.Misspelling && !genera.ContainsKey(genusFolded))
            return;
        var genus = GenusOf(printedGenus, genusFolded);
        genus.IsAccepted |= kind == NameKind.Accepted;
        genus.Epithets.Add(new EpithetName(Word.Of(rest), meaning));
        if (kind != NameKind.Misspelling)
            genus.Add(taxon);
        if (!epithets.TryGetValue(rest, out var same))
            epithets.Add(rest, same = []);
        same.Add((genus, meaning));
    }

    private void AddForm(Taxon taxon, string form)
    {
        var folded = Folding.Fold(form[(form.LastIndexOf(' ') + 1)..]);
        var genus = GenusOf(taxon.Genus, Folding.Fold(taxon.Genus));
        if (!genus.Forms.TryGetValue(folded, out var taxa))
            genus.Forms.Add(folded, taxa = []);
        if (!taxa.Contains(taxon))
            taxa.Add(taxon);
    }

    private GenusNames GenusOf(string printed, string folded)
    {
        if (!genera.TryGetValue(folded, out var genus))
            genera.Add(folded, genus = new GenusNames(printed, folded));
        return genus;
    }

    private void AddAmbiguities(IReadOnlyList<NameRow> rows)
    {
        var byName = rows.ToDictionary(r => r.Taxon.Name, StringComparer.Ordinal);
        foreach (var row in rows)
        {
            foreach (var ambiguous in row.Ambiguous)
            {
                var words = ambiguous.Name.Split(' ');
                var key = $"{Folding.Fold(words[0])} {Folding.Fold(words[1])}";
                if (!names.ContainsKey(key))
                    Add(ambiguous.Name, row.Taxon, NameKind.Synonym);
                var meaning = names[key];
                if (meaning.Kind == NameKind.Accepted)
                {
                    // The name is another row's own. It keeps it, unless lists swap the two both ways.
                    meaning.Swapped |= row.Ambiguous.Any(a => a.Name == meaning.Taxa[0].Name)
                        && byName[meaning.Taxa[0].Name].Ambiguous.Any(a => a.Name == row.Taxon.Name);
                    if (meaning.Swapped && !meaning.Taxa.Contains(row.Taxon))
                        meaning.Taxa.Add(row.Taxon);
                    continue;
                }

                meaning.OrUnknown |= ambiguous.Others.Count == 0;
                foreach (var taxon in ambiguous.Others.Where(byName.ContainsKey).Select(n => byName[n].Taxon).Prepend(row.Taxon))
                {
                    if (!meaning.Taxa.Contains(taxon))
                        meaning.Taxa.Add(taxon);
                }
            }
        }
    }
}
