using Lepidary.App.Host;
using Lepidary.App.House;
using Lepidary.App.Odds;
using Lepidary.Science.Flying;
using Lepidary.Taxa;

namespace Lepidary.App.Deaths;

/// <summary>A species that may be met on the wing.</summary>
/// <param name="Taxon">Accepted binomial.</param>
/// <param name="About">How many fly today, the forecast's mean, at least 1.</param>
public sealed record Flyer(string Taxon, int About);

/// <summary>What flies today, the commonest first: the order of the lists in which the dead and the flying are counted.</summary>
internal sealed class FlyingNow(HouseDay day, OddsBook odds)
{
    public async Task<IReadOnlyList<Flyer>> Read(CancellationToken cancellation)
    {
        var learned = await odds.Learned(day.HouseId, day.Today, cancellation);
        return
        [
            .. (await odds.Stock(day.HouseId, day.Today, cancellation)).Where(item => item.Place == StockPlace.Flying)
                .GroupBy(item => item.Taxon, StringComparer.Ordinal)
                .Select(group => (Taxon: group.Key, FlyingForecast.Of(StockOdds.Of(TaxonTable.Shipped.Of(group.Key), group, day.Today, learned), 1)[0].Mean))
                .Where(flyer => flyer.Mean >= 0.5)
                .OrderByDescending(flyer => flyer.Mean).ThenBy(flyer => flyer.Taxon, StringComparer.Ordinal)
                .Select(flyer => new Flyer(flyer.Taxon, Math.Max(1, (int)Math.Round(flyer.Mean)))),
        ];
    }
}
