using Lepidary.Taxa.Names;
using Lepidary.Taxa.Table;

namespace Lepidary.Taxa;

/// <summary>At which rank a <see cref="TaxonSelector"/> picks.</summary>
public enum SelectorRank
{
    /// <summary>One species, under any of its scientific names.</summary>
    Species,

    /// <summary>A genus, under an old name too.</summary>
    Genus,

    /// <summary>A tribe, subfamily or family, old families too: <c>Heliconiini</c>, <c>Morphidae</c>.</summary>
    Higher,

    /// <summary>A tag: <c>tag:blue</c>.</summary>
    Tag,
}

/// <summary>Picks taxa for an aim or for the list of what a house does not keep: a species, a genus, a family or a tag.</summary>
public sealed class TaxonSelector
{
    private const string TagPrefix = "tag:";
    private readonly Func<Taxon, bool> holds;

    private TaxonSelector(string text, SelectorRank rank, Func<Taxon, bool> holds)
    {
        Text = text;
        Rank = rank;
        this.holds = holds;
    }

    /// <summary>The selector as it should be written: the accepted name, the genus, the rank, or <c>tag:</c> and the tag.</summary>
    public string Text { get; }

    /// <summary>At which rank it picks.</summary>
    public SelectorRank Rank { get; }

    /// <summary>
    /// Reads a selector: <c>Morpho helenor</c>, <c>Morpho peleides</c> (the same), <c>Morpho</c>, <c>Heliconiidae</c>, <c>tag:cites-ii</c>.
    /// A binomial that is in no table is a species of its own.
    /// </summary>
    /// <param name="text">The selector.</param>
    /// <param name="table">The taxa.</param>
    /// <param name="where">Where it stands, for the problem.</param>
    public static Checked<TaxonSelector> Read(string text, TaxonTable table, string where = "selector")
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(table);
        var trimmed = text.Trim();
        if (trimmed.StartsWith(TagPrefix, StringComparison.OrdinalIgnoreCase))
        {
            var tag = trimmed[TagPrefix.Length..].Trim().ToLowerInvariant();
            return tag.Length == 0 || !table.Tags.Contains(tag)
                ? new Problem(where, $"the tag \"{tag}\"", $"one of {string.Join(", ", table.Tags.Order(StringComparer.Ordinal))}")
                : new TaxonSelector(TagPrefix + tag, SelectorRank.Tag, t => t.Tags.Contains(tag));
        }

        var words = trimmed.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        if (words.Length == 2 && words.All(w => w.All(c => char.IsLetter(c) || c == '-')))
        {
            var name = table.Of(trimmed).Name;
            return new TaxonSelector(name, SelectorRank.Species, t => t.Name == name);
        }

        if (words.Length == 1)
        {
            if (table.Index.Genus(Folding.Fold(words[0])) is { } genus)
            {
                var names = table.Index.TaxaOfGenus(genus.Word.Text).Select(t => t.Name).ToHashSet(StringComparer.Ordinal);
                return new TaxonSelector(genus.Printed, SelectorRank.Genus, t => t.Genus == genus.Printed || names.Contains(t.Name));
            }

            if (table.All.Any(t => Place.Holds(trimmed, t)))
            {
                var rank = char.ToUpperInvariant(trimmed[0]) + trimmed[1..].ToLowerInvariant();
                return new TaxonSelector(rank, SelectorRank.Higher, t => Place.Holds(rank, t));
            }
        }

        return new Problem(where, $"\"{text}\"", "a species, a genus, a family (old names too) or tag: and a tag");
    }

    /// <summary>True where the taxon belongs to what is picked.</summary>
    public bool Includes(Taxon taxon)
    {
        ArgumentNullException.ThrowIfNull(taxon);
        return holds(taxon);
    }

    /// <summary>The selector as written.</summary>
    public override string ToString() => Text;
}
