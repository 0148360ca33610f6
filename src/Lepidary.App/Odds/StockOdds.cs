using Lepidary.App.House;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;
using Lepidary.Taxa;

namespace Lepidary.App.Odds;

/// <summary>Own stock of a species as the science takes it.</summary>
internal static class StockOdds
{
    /// <param name="taxon">The species.</param>
    /// <param name="items">Its stock; items of other species do no harm if left out by the caller.</param>
    /// <param name="day">Day 0 of the forecast.</param>
    /// <param name="learned">What the book taught.</param>
    public static SpeciesStock Of(Taxon taxon, IEnumerable<StockItem> items, DateOnly day, Learned learned)
    {
        var survival = learned.Survival(taxon);
        var all = items.Where(item => item.Count > 0).ToList();
        return new SpeciesStock(
            survival,
            [.. all.Where(item => item.Place != StockPlace.Flying).Select(item => Lot(taxon, item, day, learned))],
            Flying(all, day, survival));
    }

    /// <summary>What flies, by age, each with the chance to be alive.</summary>
    public static IReadOnlyList<FlyingGroup> Flying(IEnumerable<StockItem> items, DateOnly day, AdultSurvival survival) =>
        [.. items.Where(item => item.Place == StockPlace.Flying && item.Count > 0).Select(item => Group(item, day, survival))];

    private static HangingLot Lot(Taxon taxon, StockItem item, DateOnly day, Learned learned)
    {
        var bred = item.Supplier is null && item.Place == StockPlace.Hanging;
        var timing = item.Place == StockPlace.Hanging ? learned.TimingOf(taxon, bred, item.Cage, item.Since, day) : learned.Timing(taxon, bred);
        return new HangingLot(
            item.Count,
            Math.Min(day.DayNumber - item.Since.DayNumber, timing.LastDay),
            item.Rate is { } rate ? EmergenceRate.FromTable(rate) : learned.Rate(taxon, item.Supplier),
            timing,
            item.Supplier ?? "own",
            item.Emerged,
            item.Lost);
    }

    /// <remarks>
    /// Of those let go, the expected number alive is that of the survival curve: most dead are never found. The found dead are out; where
    /// more were found than the curve expects, the rest are taken to live.
    /// </remarks>
    private static FlyingGroup Group(StockItem item, DateOnly day, AdultSurvival survival)
    {
        var age = Math.Max(0, day.DayNumber - item.Since.DayNumber);
        var alive = item.Released is { } released ? Math.Min(1, released * survival[age] / item.Count) : 1;
        return new FlyingGroup(item.Count, age, alive);
    }
}
