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
/// all fly on the days that are shown, how many are found dead, and what the suppliers' next lists hold. Each as the pages have it. Wishes are kept when an order is written.
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

    /// <summary>Of the days that the picture of all that flies shows, these are kept: neighbours say the same.</summary>
    private static readonly int[] Ahead = [0, 1, 3, 7, 14, 27];

    private readonly HashSet<Guid> asked = [];

    /// <param name="house">With its terms.</param>
    /// <param name="day">The day.</param>
    /// <param name="learned">What the book had taught by that day.</param>
    /// <param name="kept">Keys of those that need not be reckoned.</param>
    /// <param name="flyingOn">Which days ahead are worth a forecast of what flies; null for all that are shown.</param>
    /// <param name="cancellation">Stops reading.</param>
    public async Task<IReadOnlyList<KeptForecast>> Of(Book.House house, DateOnly day, Learned learned, IReadOnlySet<Guid> kept, Func<DateOnly, bool>? flyingOn, CancellationToken cancellation) =>
    [
        .. await Lots(house, day, learned, kept, cancellation),
        .. await Flying(house, day, learned, kept, flyingOn ?? (_ => true), cancellation),
        .. await Dead(house, day, learned, kept, cancellation),
        .. await Listings(house, day, kept, cancellation),
    ];

    private async Task<IEnumerable<KeptForecast>> Lots(Book.House house, DateOnly day, Learned learned, IReadOnlySet<Guid> kept, CancellationToken cancellation)
    {
        var before = (await openLots.ReadAsync(house.Id, day.AddDays(-1), cancellation)).Where(lot => lot.Hanging > 0 && lot.Lot.HungOn < day)
            .Where(lot => !kept.Contains(Key(house, ForecastKind.Emerging, lot.Lot.Id, day))).ToList();
        if (before.Count == 0)
        {
            return [];
        }

        var table = Learned.Nothing;
        var suppliers = await book.Suppliers.AsNoTracking().ToDictionaryAsync(supplier => supplier.Id, supplier => supplier.Name, cancellation);
        var made = new List<KeptForecast>();
        foreach (var lot in before)
        {
            var supplier = lot.Lot.SupplierId is { } id ? suppliers[id] : null;
            var (said, rival) = (EmergingToday.Hanging(lot, supplier, learned, day), EmergingToday.Hanging(lot, supplier, table, day));
            made.Add(Kept(house, ForecastKind.Emerging, day, day, lot.Lot.Id, lot.Lot.Taxon, FlyingForecast.EmergingOf(said, 1)[0], FlyingForecast.EmergingOf(rival, 1)[0], day));
            if (day.DayNumber - lot.Lot.HungOn.DayNumber > DaysNew || lot.Hanging != lot.Lot.Received)
            {
                continue;
            }

            made.Add(Kept(house, ForecastKind.Lot, day, day, lot.Lot.Id, lot.Lot.Taxon, FlyingForecast.Alive(said), FlyingForecast.Alive(rival)));
            if (FlyingForecast.First(said) is { } first && FlyingForecast.First(rival) is { } rivalFirst)
            {
                made.Add(Kept(house, ForecastKind.Due, day, day, lot.Lot.Id, lot.Lot.Taxon, first, rivalFirst));
            }
        }

        return made;
    }

    private async Task<IEnumerable<KeptForecast>> Flying(Book.House house, DateOnly day, Learned learned, IReadOnlySet<Guid> kept, Func<DateOnly, bool> wanted, CancellationToken cancellation)
    {
        var next = ShowFlying.NextShown(house, day);
        var bySpecies = new[] { day, next }.Distinct().Where(wanted).ToList();
        var inAll = Ahead.Select(day.AddDays).Append(next).Distinct().Where(wanted).ToList();
        if ((bySpecies.Count == 0 && inAll.Count == 0) || kept.Contains(Key(house, ForecastKind.Flying, house.Id, All, day, (inAll.Count > 0 ? inAll : bySpecies)[0])))
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
        var made = new List<KeptForecast>();
        foreach (var (taxon, ahead) in said.Species)
        {
            foreach (var on in bySpecies)
            {
                var index = on.DayNumber - day.DayNumber;
                // Shown where one may fly: the page leaves out what has hardly a chance.
                if (ahead[index].AtLeast(1) >= 0.05)
                {
                    made.Add(Kept(house, ForecastKind.Flying, day, on, house.Id, taxon, ahead[index], rival.Species[taxon][index], seenShare[taxon], taxon, day, on));
                }
            }
        }

        var (all, rivalAll) = (said.Total(_ => true), rival.Total(_ => true));
        foreach (var on in inAll)
        {
            var index = on.DayNumber - day.DayNumber;
            var mean = said.Species.Sum(species => species.Value[index].Mean);
            var met = said.Species.Sum(species => (seenShare[species.Key] ?? UsualSeen) * species.Value[index].Mean);
            made.Add(Kept(house, ForecastKind.Flying, day, on, house.Id, All, all[index], rivalAll[index], mean > 0 && seenShare.Values.Any(share => share is not null) ? met / mean : null, All, day, on));
        }

        return made;
    }

    /// <remarks>What flew at the end of the day before, each dying within the day with the chance of its age, and found with the share that was learnt.</remarks>
    private async Task<IEnumerable<KeptForecast>> Dead(Book.House house, DateOnly day, Learned learned, IReadOnlySet<Guid> kept, CancellationToken cancellation)
    {
        var made = new List<KeptForecast>();
        foreach (var group in (await odds.Stock(house.Id, day.AddDays(-1), cancellation)).Where(item => item.Place == StockPlace.Flying).GroupBy(item => item.Taxon))
        {
            var taxon = TaxonTable.Shipped.Of(group.Key);
            if (kept.Contains(Key(house, ForecastKind.FoundDead, house.Id, taxon.Name, day)) || learned.OnTheWing(taxon) is not { } fit)
            {
                continue;
            }

            var table = Learned.Nothing.Survival(taxon);
            CountDistribution Found(AdultSurvival survival) => CountDistribution.PoissonBinomial(StockOdds.Flying(group, day.AddDays(-1), survival)
                .Select(adults => (adults.Count, Math.Clamp(adults.Alive * (1 - survival.Daily(adults.DaysOnWing)) * fit.Found, 0, 1))));
            made.Add(Kept(house, ForecastKind.FoundDead, day, day, house.Id, taxon.Name, Found(fit.Survival), Found(table), taxon.Name, day));
        }

        return made;
    }

    private async Task<IEnumerable<KeptForecast>> Listings(Book.House house, DateOnly day, IReadOnlySet<Guid> kept, CancellationToken cancellation)
    {
        var suppliers = (await seen.Of(house, day, cancellation)).ToList();
        // A list says the same a day later: it is asked once.
        var newest = suppliers.Where(supplier => day.DayNumber - supplier.Weeks[^1].Day.DayNumber < DaysGood && asked.Add(supplier.Weeks[^1].ListId)).ToList();
        if (newest.Count == 0)
        {
            return [];
        }

        var forecasts = chances.Of(suppliers, day.AddDays(DaysGood));
        return newest.SelectMany(supplier => forecasts[supplier.Name].Taxa
            .Where(taxon => !kept.Contains(Key(house, ForecastKind.Listing, supplier.Weeks[^1].ListId, taxon))).Select(taxon =>
        {
            var chance = forecasts[supplier.Name].Of(taxon);
            var share = chance.Lists == 0 ? 0.5 : (double)chance.Listed / chance.Lists;
            return Kept(house, ForecastKind.Listing, day, day, supplier.Weeks[^1].ListId, taxon, Chance(chance.Next.Mean), Chance(share), taxon);
        }));
    }

    /// <summary>A chance as a count of 0 or 1.</summary>
    public static CountDistribution Chance(double chance) => CountDistribution.Binomial(1, Math.Clamp(chance, 0, 1));

    private static KeptForecast Kept(Book.House house, ForecastKind kind, DateOnly made, DateOnly on, Guid about, string subject, CountDistribution said, CountDistribution rival, params object[] key) =>
        Kept(house, kind, made, on, about, subject, said, rival, null, key);

    private static KeptForecast Kept(
        Book.House house, ForecastKind kind, DateOnly made, DateOnly on, Guid about, string subject, CountDistribution said, CountDistribution rival, double? seen, params object[] key) => new()
        {
            Id = Key(house, kind, about, key),
            HouseId = house.Id,
            Kind = kind,
            MadeOn = made,
            ForDay = on,
            AboutId = about,
            Subject = subject,
            Seen = seen,
            Said = Masses(said),
            Rival = Masses(rival),
        };

    /// <summary>What makes one forecast the same as another.</summary>
    public static Guid Key(Book.House house, ForecastKind kind, Guid about, params object[] key) =>
        NamedKey.Of(["forecast", house.Id, kind, about, .. key.Select(word => word is DateOnly on ? on.DayNumber : word)]);

    /// <summary>As they are kept: five places are more than any score can tell, and a big house keeps some hundred forecasts a day.</summary>
    public static List<double> Masses(CountDistribution count)
    {
        var masses = count.Masses.ToArray().Select(mass => Math.Round(mass, 5)).ToList();
        while (masses.Count > 1 && masses[^1] == 0)
        {
            masses.RemoveAt(masses.Count - 1);
        }

        return masses;
    }
}
