using Lepidary.App.Host;
using Lepidary.Book;

namespace Lepidary.App.Deaths;

/// <summary>A species that was released and not all found dead.</summary>
/// <param name="Taxon">Accepted binomial.</param>
/// <param name="Count">Released and not found dead; how many of them still live, nobody has counted.</param>
public sealed record Flyer(string Taxon, int Count);

/// <summary>What may be met on the wing, the commonest first: the order of the lists in which the dead and the flying are counted.</summary>
internal sealed class FlyingNow(HouseDay day, StockReader stock)
{
    /// <summary>Adults older than this seldom fly on; the list stays as long as a hand.</summary>
    private const int RecentDays = 60;

    public async Task<IReadOnlyList<Flyer>> Read(CancellationToken cancellation) =>
    [
        .. (await stock.ReadAsync(day.HouseId, day.Today, cancellation)).Flying
            .Where(group => group.ReleasedOn >= day.Today.AddDays(-RecentDays))
            .GroupBy(group => group.Taxon, StringComparer.Ordinal)
            .Select(group => new Flyer(group.Key, group.Sum(part => part.Count)))
            .OrderByDescending(flyer => flyer.Count).ThenBy(flyer => flyer.Taxon, StringComparer.Ordinal),
    ];
}
