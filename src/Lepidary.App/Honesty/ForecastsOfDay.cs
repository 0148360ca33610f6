using Lepidary.App.Flying;
using Lepidary.App.Host;
using Lepidary.App.House;
using Lepidary.App.Odds;
using Lepidary.App.Rounds;
using Lepidary.App.Weeks;
using Lepidary.Book;
using Lepidary.Science.Counts;
using Lepidary.Science.Flying;
using Lepidary.Taxa;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Honesty;

/// <summary>
/// All that the pages of a day foretell: how many of each lot emerge that day, when the first of a new lot comes and how many in all, how many of each species and of
/// all fly on the days that are shown, how many are found dead, and what the suppliers' next lists hold. Each as the pages have it.
/// </summary>
internal sealed class ForecastsOfDay(BookContext book, OpenLots openLots, OddsBook odds, SeenLists seen, ListingChances chances)
{
    /// <summary>All that flies.</summary>
    public const string All = "all";

    /// <summary>A lot is new for so many days, as long as nothing has come of it.</summary>
    private const int DaysNew = 3;

    /// <summary>A list is good for a week.</summary>
    private const int DaysGood = 7;

    /// <summary>What flies when no walk has told, of those that are there: three of ten are met.</summary>
    private const double UsualSeen = 0.3;

    /// <summary>Of the days that the picture of all that flies shows, these are scored: neighbours say the same.</summary>
    private static readonly int[] Ahead = [0, 1, 3, 7, 14, 27];

    private readonly HashSet<Guid> asked = [];

    /// <param name="house">With its terms.</param>
    /// <param name="day">The day.</param>
    /// <param name="learned">What the book had taught by that day.</param>
    /// <param name="flyingOn">Which days ahead are worth a forecast of what flies: those on which a walk told.</param>
    /// <param name="cancellation">Stops reading.</param>
    public async Task<IReadOnlyList<Foretold>> Of(Book.House house, DateOnly day, Learned learned, Func<DateOnly, bool> flyingOn, CancellationToken cancellation) =>
    [
        .. await Lots(house, day, learned, cancellation),
        .. await Flying(house, day, learned, flyingOn, cancellation),
        .. await Dead(house, day, learned, cancellation),
        .. await Listings(house, day, cancellation),
    ];

    private async Task<IEnumerable<Foretold>> Lots(Book.House house, DateOnly day, Learned learned, CancellationToken cancellation)
    {
        var before = (await openLots.ReadAsync(house.Id, day.AddDays(-1), cancellation)).Where(lot => lot.Hanging > 0 && lot.Lot.HungOn < day).ToList();
        if (before.Count == 0)
        {
            return [];
        }

        var table = Learned.Nothing;
        var suppliers = await book.Suppliers.AsNoTracking().ToDictionaryAsync(supplier => supplier.Id, supplier => supplier.Name, cancellation);
        var made = new List<Foretold>();
        foreach (var lot in before)
        {
            var supplier = lot.Lot.SupplierId is { } id ? suppliers[id] : null;
            var (said, rival) = (EmergingToday.Hanging(lot, supplier, learned, day), EmergingToday.Hanging(lot, supplier, table, day));
            made.Add(Made(house, ForecastKind.Emerging, day, day, lot.Lot.Id, lot.Lot.Taxon, FlyingForecast.EmergingOf(said, 1)[0], FlyingForecast.EmergingOf(rival, 1)[0], day));
            if (day.DayNumber - lot.Lot.HungOn.DayNumber > DaysNew || lot.Hanging != lot.Lot.Received)
            {
                continue;
            }

            made.Add(Made(house, ForecastKind.Lot, day, day, lot.Lot.Id, lot.Lot.Taxon, FlyingForecast.Alive(said), FlyingForecast.Alive(rival)));
            if (FlyingForecast.First(said) is { } first && FlyingForecast.First(rival) is { } rivalFirst)
            {
                made.Add(Made(house, ForecastKind.Due, day, day, lot.Lot.Id, lot.Lot.Taxon, first, rivalFirst));
            }
        }

        return made;
    }

    private async Task<IEnumerable<Foretold>> Flying(Book.House house, DateOnly day, Learned learned, Func<DateOnly, bool> wanted, CancellationToken cancellation)
    {
        var next = ShowFlying.NextShown(house, day);
        var bySpecies = new[] { day, next }.Distinct().Where(wanted).ToList();
        var inAll = Ahead.Select(day.AddDays).Append(next).Distinct().Where(wanted).ToList();
        if (bySpecies.Count == 0 && inAll.Count == 0)
        {
            return [];
        }

        var stock = (await odds.Stock(house.Id, day, cancellation)).GroupBy(item => item.Taxon).ToList();
        if (stock.Count == 0)
        {
            return [];
        }

        var table = Learned.Nothing;
        var days = bySpecies.Concat(inAll).Max(on => on.DayNumber) - day.DayNumber + 1;
        var seenShare = stock.ToDictionary(taxon => taxon.Key, taxon => learned.OnTheWing(TaxonTable.Shipped.Of(taxon.Key))?.Seen);
        Outlook Look(Learned known) => Outlook.Of(stock.ToDictionary(taxon => taxon.Key, taxon => StockOdds.Of(TaxonTable.Shipped.Of(taxon.Key), taxon, day, known)), day, days);
        var (said, rival) = (Look(learned), Look(table));
        var made = new List<Foretold>();
        foreach (var (taxon, ahead) in said.Species)
        {
            foreach (var on in bySpecies)
            {
                var index = on.DayNumber - day.DayNumber;
                // Shown where one may fly: the page leaves out what has hardly a chance.
                if (ahead[index].AtLeast(1) >= 0.05)
                {
                    made.Add(Made(house, ForecastKind.Flying, day, on, house.Id, taxon, ahead[index], rival.Species[taxon][index], seenShare[taxon], taxon, day, on));
                }
            }
        }

        var (all, rivalAll) = (said.Total(_ => true), rival.Total(_ => true));
        foreach (var on in inAll)
        {
            var index = on.DayNumber - day.DayNumber;
            var mean = said.Species.Sum(species => species.Value[index].Mean);
            var met = said.Species.Sum(species => (seenShare[species.Key] ?? UsualSeen) * species.Value[index].Mean);
            made.Add(Made(house, ForecastKind.Flying, day, on, house.Id, All, all[index], rivalAll[index], mean > 0 && seenShare.Values.Any(share => share is not null) ? met / mean : null, All, day, on));
        }

        return made;
    }

    /// <remarks>What flew at the end of the day before, each dying within the day with the chance of its age, and found with the share that was learnt.</remarks>
    private async Task<IEnumerable<Foretold>> Dead(Book.House house, DateOnly day, Learned learned, CancellationToken cancellation)
    {
        var made = new List<Foretold>();
        foreach (var group in (await odds.Stock(house.Id, day.AddDays(-1), cancellation)).Where(item => item.Place == StockPlace.Flying).GroupBy(item => item.Taxon))
        {
            var taxon = TaxonTable.Shipped.Of(group.Key);
            if (learned.OnTheWing(taxon) is not { } fit)
            {
                continue;
            }

            var table = Learned.Nothing.Survival(taxon);
            CountDistribution Found(AdultSurvival survival) => CountDistribution.PoissonBinomial(StockOdds.Flying(group, day.AddDays(-1), survival)
                .Select(adults => (adults.Count, Math.Clamp(adults.Alive * (1 - survival.Daily(adults.DaysOnWing)) * fit.Found, 0, 1))));
            made.Add(Made(house, ForecastKind.FoundDead, day, day, house.Id, taxon.Name, Found(fit.Survival), Found(table), taxon.Name, day));
        }

        return made;
    }

    private async Task<IEnumerable<Foretold>> Listings(Book.House house, DateOnly day, CancellationToken cancellation)
    {
        var suppliers = (await seen.Of(house, day, cancellation)).ToList();
        // A list says the same a day later: it is asked once.
        var newest = suppliers.Where(supplier => day.DayNumber - supplier.Weeks[^1].Day.DayNumber < DaysGood && asked.Add(supplier.Weeks[^1].ListId)).ToList();
        if (newest.Count == 0)
        {
            return [];
        }

        var forecasts = chances.Of(suppliers, day.AddDays(DaysGood));
        return newest.SelectMany(supplier => forecasts[supplier.Name].Taxa.Select(taxon =>
        {
            var chance = forecasts[supplier.Name].Of(taxon);
            var share = chance.Lists == 0 ? 0.5 : (double)chance.Listed / chance.Lists;
            return Made(house, ForecastKind.Listing, day, day, supplier.Weeks[^1].ListId, taxon, Chance(chance.Next.Mean), Chance(share), taxon);
        }));
    }

    /// <summary>A chance as a count of 0 or 1.</summary>
    private static CountDistribution Chance(double chance) => CountDistribution.Binomial(1, Math.Clamp(chance, 0, 1));

    private static Foretold Made(Book.House house, ForecastKind kind, DateOnly made, DateOnly on, Guid about, string subject, CountDistribution said, CountDistribution rival, params object[] key) =>
        Made(house, kind, made, on, about, subject, said, rival, null, key);

    private static Foretold Made(
        Book.House house, ForecastKind kind, DateOnly made, DateOnly on, Guid about, string subject, CountDistribution said, CountDistribution rival, double? seen, params object[] key) => new()
        {
            Id = Key(house, kind, about, key),
            Kind = kind,
            MadeOn = made,
            ForDay = on,
            AboutId = about,
            Subject = subject,
            Seen = seen,
            Said = said,
            Rival = rival,
        };

    /// <summary>What makes one forecast the same as another.</summary>
    private static Guid Key(Book.House house, ForecastKind kind, Guid about, params object[] key) =>
        NamedKey.Of(["forecast", house.Id, kind, about, .. key.Select(word => word is DateOnly on ? on.DayNumber : word)]);
}
