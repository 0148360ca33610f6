using System.Collections.Concurrent;
using Lepidary.Taxa.Names;
using Lepidary.Taxa.Table;

namespace Lepidary.Taxa;

/// <summary>
/// The taxa that the product knows, each with its names and its life. How the table was made and how far to trust it: docs/taxa.md.
/// </summary>
public sealed class TaxonTable
{
    private static readonly Lazy<TaxonTable> shipped = new(() => new TaxonTable(Csv.Shipped("names.csv"), Csv.Shipped("species.csv")));

    private readonly Dictionary<string, Taxon> byName;
    private readonly ConcurrentDictionary<(string Name, string Family), Taxon> outside = new();
    private readonly Borrowing borrowing;
    private readonly Lazy<NameIndex> index;
    private readonly Lazy<IReadOnlySet<string>> tags;

    internal TaxonTable(Csv names, Csv species)
    {
        (Rows, borrowing) = TableReader.Read(names, species);
        var all = new Taxon[Rows.Count];
        byName = new Dictionary<string, Taxon>(all.Length, StringComparer.OrdinalIgnoreCase);
        for (var i = 0; i < all.Length; i++)
        {
            all[i] = Rows[i].Taxon;
            byName.Add(all[i].Name, all[i]);
        }

        All = all;
        tags = new Lazy<IReadOnlySet<string>>(() => All.SelectMany(t => t.Tags).ToHashSet(StringComparer.Ordinal));
        index = new Lazy<NameIndex>(() => new NameIndex(Rows));
    }

    /// <summary>The table that ships with the product.</summary>
    public static TaxonTable Shipped => shipped.Value;

    /// <summary>Every taxon, in the order of the table.</summary>
    public IReadOnlyList<Taxon> All { get; }

    /// <summary>Every tag that a taxon of the table has.</summary>
    public IReadOnlySet<string> Tags => tags.Value;

    internal IReadOnlyList<NameRow> Rows { get; }

    internal NameIndex Index => index.Value;

    /// <summary>The taxon with this accepted binomial, whatever its case; null where the table has none.</summary>
    public Taxon? Find(string acceptedName)
    {
        ArgumentNullException.ThrowIfNull(acceptedName);
        return byName.GetValueOrDefault(acceptedName.Trim());
    }

    /// <summary>
    /// The taxon that a binomial means: the table's own, also under another scientific name where that can mean nothing else; or a new one
    /// (<see cref="Taxon.InTable"/> false) with a life borrowed from its genus, or else from its <paramref name="family"/>, or else from all.
    /// </summary>
    /// <param name="binomial">Genus and epithet, as in <c>Morpho helenor</c>. For a name as printed on a list use <see cref="NameFinder"/>.</param>
    /// <param name="family">Family where known, for a genus that the table does not have; old names too.</param>
    /// <exception cref="ArgumentException"><paramref name="binomial"/> is not two words of letters.</exception>
    public Taxon Of(string binomial, string family = "")
    {
        ArgumentNullException.ThrowIfNull(binomial);
        ArgumentNullException.ThrowIfNull(family);
        if (Find(binomial) is { } known)
            return known;
        var words = binomial.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        if (words.Length != 2 || !words.All(w => w.All(c => char.IsLetter(c) || c == '-')))
            throw new ArgumentException($"A binomial is two words; found \"{binomial}\".", nameof(binomial));
        if (Index.OnlyMeaning(Folding.Fold(words[0]), Folding.Fold(words[1])) is { } synonym)
            return synonym;
        var name = $"{char.ToUpperInvariant(words[0][0])}{words[0][1..].ToLowerInvariant()} {words[1].ToLowerInvariant()}";
        return outside.GetOrAdd((name, family), key => Outside(key.Name, key.Family));
    }

    /// <summary>True for the name of a family, subfamily or tribe of the table, old families too.</summary>
    internal bool IsRank(string text) => text.EndsWith('e') || text.EndsWith('i') || text.EndsWith('E') || text.EndsWith('I')
        ? All.Any(t => Place.Holds(text.Trim(), t))
        : false;

    private Taxon Outside(string name, string family)
    {
        // Its place is that of its genus in the table, under an old genus name too; or else that of the family told.
        var genus = name[..name.IndexOf(' ', StringComparison.Ordinal)];
        var sameGenus = Index.TaxaOfGenus(Folding.Fold(genus));
        var place = sameGenus.Count > 0 ? Place.Of(sameGenus[0]) : Place.Named(this, family);
        var kinGenus = sameGenus.Count > 0 ? sameGenus[0].Genus : genus;

        // Some genera are protected whole: where every one that the table has is, another one most likely is too.
        var cites = sameGenus.Count > 0 && sameGenus.All(t => t.CitesAppendix.Length > 0) ? "II" : "";
        var kind = sameGenus.Count > 0 ? sameGenus[0].Kind : place.Family == "Saturniidae" ? PostedKind.Cocoon : PostedKind.Pupa;
        var life = borrowing.For(kinGenus, place, "", null);
        return new Taxon
        {
            Name = name,
            Family = place.Family,
            TradeFamily = place.TradeFamily,
            Subfamily = place.Subfamily,
            Tribe = place.Tribe,
            Kind = kind,
            CitesAppendix = cites,
            Tags = Tagging.Tags(borrowing.SharedHabits(kinGenus, place), "", cites, kind, life.WingspanMm?.Value),
            Notes = "Not in the table. Look up its protection and its life before you order.",
            NameSource = "as printed",
            InTable = false,
            Life = life,
        };
    }
}
