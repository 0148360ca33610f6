using Lepidary.Taxa;

namespace Lepidary.Lists.Reading;

/// <summary>Species by their epithet alone, as breeders speak of them: "thirty memnon".</summary>
internal static class Epithets
{
    private static readonly Lazy<ILookup<string, Taxon>> ByEpithet = new(() => TaxonTable.Shipped.All
        .SelectMany(taxon => taxon.Synonyms.Append(taxon.Name).Select(Epithet).Where(epithet => epithet.Length > 3).Distinct().Select(epithet => (epithet, taxon)))
        .ToLookup(pair => pair.epithet, pair => pair.taxon, StringComparer.Ordinal));

    private static string Epithet(string name)
    {
        var words = name.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        return words.Length == 2 ? words[1] : words.Length == 3 && words[1].StartsWith('(') ? words[2] : "";
    }

    /// <summary>The species of the table that go by an epithet under any name.</summary>
    public static IReadOnlyList<Taxon> Find(string epithet) => [.. ByEpithet.Value[epithet.ToLowerInvariant()].Distinct()];

    /// <summary>Those of them in genera that were named near; all when none is.</summary>
    public static IReadOnlyList<Taxon> Find(string epithet, IReadOnlyCollection<string> genera)
    {
        var all = Find(epithet);
        var near = all.Where(taxon => genera.Contains(taxon.Genus) || taxon.Synonyms.Any(name => genera.Contains(name.Split(' ')[0]) && name.EndsWith(' ' + epithet, StringComparison.OrdinalIgnoreCase))).ToList();
        return near.Count > 0 ? near : all;
    }
}
