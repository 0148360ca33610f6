using Lepidary.Book;

namespace Lepidary.App.Odds;

/// <summary>What a walk met in all of its sections.</summary>
internal static class WalkSums
{
    public static IEnumerable<(string Taxon, int Count)> Of(Walk walk) => walk.Counts.GroupBy(count => count.Taxon).Select(taxon => (taxon.Key, taxon.Sum(count => count.Count)));
}
