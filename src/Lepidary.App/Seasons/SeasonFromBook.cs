using Lepidary.App.Host;
using Lepidary.App.Lists;
using Lepidary.App.Odds;
using Lepidary.App.Orders;
using Lepidary.App.Weeks;
using Lepidary.Book;
using Lepidary.Lists;
using Lepidary.Planning;
using Lepidary.Planning.Seasons;
using Lepidary.Science.Listing;
using Lepidary.Taxa;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Seasons;

/// <summary>What is asked of a season.</summary>
internal sealed record SeasonAsked
{
    /// <summary>First order day of weeks that were, to replay them; null to play from today on.</summary>
    public DateOnly? From { get; init; }

    /// <summary>Order weeks.</summary>
    public int Weeks { get; init; } = 12;

    /// <summary>Draws.</summary>
    public int Draws { get; init; } = 4;

    /// <summary>Seed.</summary>
    public int Seed { get; init; } = 1;

    /// <summary>What if: another budget a week; null for the house's.</summary>
    public decimal? Budget { get; init; }

    /// <summary>What if: this supplier is lost.</summary>
    public string? Without { get; init; }

    /// <summary>What if: pupae take so many hundredths longer, as in a colder house; below 0 shorter.</summary>
    public int SlowerPercent { get; init; }

    /// <summary>What if: every number wished for is so many hundredths of what it is.</summary>
    public int AimsPercent { get; init; } = 100;

    /// <summary>Everything that is wrong with it.</summary>
    public IReadOnlyList<Problem> Problems()
    {
        var problems = new List<Problem>();
        void Need(bool good, string where, object? found, string expected)
        {
            if (!good)
            {
                problems.Add(new(where, FormattableString.Invariant($"{found}"), expected));
            }
        }

        Need(Weeks is >= 2 and <= 52, "weeks", Weeks, "2 to 52");
        Need(Draws is >= 1 and <= 200, "draws", Draws, "1 to 200");
        Need(Seed >= 0, "seed", Seed, "0 or more");
        Need(Budget is null or >= 0, "budget", Budget, "0 or more");
        Need(SlowerPercent is >= -50 and <= 200, "slower", SlowerPercent, "-50 to 200");
        Need(AimsPercent is >= 10 and <= 500, "aims", AimsPercent, "10 to 500");
        return problems;
    }

    /// <summary>A setting with what is asked.</summary>
    public SeasonSetting Change(SeasonSetting setting)
    {
        if (Budget is { } budget)
        {
            setting = setting.WithWeeklyBudget(budget);
        }

        if (Without is { Length: > 0 } supplier)
        {
            setting = setting.Without(supplier);
        }

        if (SlowerPercent != 0)
        {
            setting = setting.WithSlowerPupae(1 + (SlowerPercent / 100.0));
        }

        return AimsPercent == 100 ? setting : setting.WithAims(AimsPercent / 100.0);
    }
}

/// <summary>A season as the book has it.</summary>
/// <param name="Setting">What is played.</param>
/// <param name="Really">What was really ordered in weeks that are replayed; null for weeks to come.</param>
internal sealed record LaidSeason(SeasonSetting Setting, IReadOnlyList<ReallyOrdered>? Really);

/// <summary>Lays the book out as a season: the house, its stock and odds as of today, and what its suppliers' lists have held.</summary>
internal sealed class SeasonFromBook(HouseDay day, BookContext book, CurrentLists lists, OddsBook odds, SeenLists seenLists, WeeksAhead ahead)
{
    /// <summary>Older lists say little of the next ones.</summary>
    private const int DaysOfLists = 364;

    /// <summary>Pupae of a line whose list does not say how many there are.</summary>
    private const int UsualOnHand = 100;

    /// <summary>Spread of a price seen once.</summary>
    private const decimal SeenOnce = 0.1m;

    private const int DaysBefore = 14;

    /// <summary>The season that is asked for.</summary>
    public Task<Checked<LaidSeason>> Lay(SeasonAsked asked, CancellationToken cancellation) =>
        asked.From is { } from ? Past(from, asked, cancellation) : Ahead(asked, cancellation);

    private async Task<Checked<LaidSeason>> Ahead(SeasonAsked asked, CancellationToken cancellation)
    {
        if (asked.Problems() is { Count: > 0 } problems)
        {
            return problems.ToArray();
        }

        var house = await day.House(cancellation);
        var seen = await Seen(house, day.Today.AddDays(-DaysOfLists), day.Today, cancellation);
        if (seen.Count == 0)
        {
            return new Problem("lists", "none of a supplier with terms to this house", "one list or more in the book: take one in under Lists");
        }

        if (asked.Without is { Length: > 0 } lost && seen.All(s => s.From.Terms.Supplier!.Name != lost))
        {
            return new Problem("without", lost, string.Join(", ", seen.Select(s => s.From.Terms.Supplier!.Name).Distinct()));
        }

        // Of each supplier the newest list, with what only older ones held put behind it.
        var newest = seen.GroupBy(s => s.From.Terms.SupplierId).Select(theirs =>
        {
            var byAge = theirs.OrderByDescending(s => s.Day).ToList();
            var (known, offers) = (new HashSet<string>(StringComparer.Ordinal), byAge[0].From.List.Offers.ToList());
            known.UnionWith(offers.Select(o => o.Taxon).OfType<string>());
            foreach (var offer in byAge.Skip(1).SelectMany(s => s.From.List.Offers).Where(o => o.Kind != OfferKind.Mix && o.Taxon is not null && o.Price > 0))
            {
                if (known.Add(offer.Taxon!))
                {
                    offers.Add(offer with { Line = 1_000_000 + offers.Count, Sheet = null });
                }
            }

            return byAge[0].From with { List = byAge[0].From.List with { Offers = offers } };
        }).ToList();
        var laid = PlanningDesk.Lay(
            new PlanningInput
            {
                House = house,
                Stock = await odds.Stock(house.Id, day.Today, cancellation),
                Lists = newest,
                OrderDay = day.Today,
                Learned = await odds.Learned(house.Id, day.Today, cancellation),
            },
            TaxonTable.Shipped);
        if (!laid.IsGood)
        {
            return laid.Problems.ToArray();
        }

        var setting = new SeasonSetting
        {
            House = AllSeason(laid.Value.Problem, house, asked.Weeks) with { Offers = [] },
            Weeks = asked.Weeks,
            DaysBefore = Math.Min(DaysBefore, (asked.Weeks - 1) * 7),
            Lines = Lines(laid.Value, seen),
            Budget = laid.Value.Problem.SeasonBudget,
        };
        return new LaidSeason(asked.Change(setting), null);
    }

    /// <summary>
    /// Weeks that were: on each order day the lists of then, and odds from what was counted until then; the stock at the start as the book has it, and from there on as the
    /// policy's own orders make it. House, aims and terms are today's: the book does not keep what they were.
    /// </summary>
    private async Task<Checked<LaidSeason>> Past(DateOnly from, SeasonAsked asked, CancellationToken cancellation)
    {
        if (asked.Problems() is { Count: > 0 } problems)
        {
            return problems.ToArray();
        }

        if (from.AddDays(asked.Weeks * 7) > day.Today.AddDays(7))
        {
            return new Problem("from", $"{from:yyyy-MM-dd} and {asked.Weeks} weeks", $"a season that had begun its last week by {day.Today:yyyy-MM-dd}");
        }

        var house = await day.House(cancellation);
        var weeks = new List<PlanProblem>();
        decimal? seasonBudget = null;
        var met = new Dictionary<string, PlanTaxon>(StringComparer.Ordinal);
        for (var week = 0; week < asked.Weeks; week++)
        {
            var on = from.AddDays(7 * week);
            var then = PlanningDesk.Lay(await Then(house, on, week == 0, cancellation), TaxonTable.Shipped);
            if (!then.IsGood)
            {
                return then.Problems.ToArray();
            }

            // A taxon that this week's lists leave out may hang from an earlier order: what was last known of it is what was known.
            foreach (var taxon in then.Value.Problem.Taxa)
            {
                met[taxon.Name] = taxon;
            }

            seasonBudget ??= then.Value.Problem.SeasonBudget;
            weeks.Add(AllSeason(then.Value.Problem, house, asked.Weeks - week) with { Taxa = [.. met.Values.OrderBy(taxon => taxon.Name, StringComparer.Ordinal)] });
        }

        if (weeks.All(week => week.Offers.Count == 0))
        {
            return new Problem("lists", $"none in the {asked.Weeks} weeks from {from:yyyy-MM-dd}", "lists of then in the book");
        }

        // What became of the pupae is drawn from what the book knows by now, of every taxon that any of the weeks names.
        var all = weeks.SelectMany(week => week.Suppliers).DistinctBy(s => s.Name).ToList();
        var known = await odds.Learned(house.Id, day.Today, cancellation);
        var stock = weeks[0].Taxa.ToDictionary(t => t.Name, t => t.Stock);
        var taxa = weeks.SelectMany(week => week.Taxa).DistinctBy(t => t.Name).Select(t => t with
        {
            Timing = known.Timing(t.Taxon),
            Rates = all.ToDictionary(s => s.Name, s => known.Rate(t.Taxon, s.Name)),
            UsualRate = known.Rate(t.Taxon, null),
            Stock = stock.GetValueOrDefault(t.Name) ?? t.Stock with { Lots = [], Flying = [] },
        }).ToList();
        var setting = new SeasonSetting
        {
            House = weeks[0] with { Taxa = taxa, Suppliers = all, Offers = [], Rules = [] },
            Weeks = asked.Weeks,
            DaysBefore = Math.Min(DaysBefore, (asked.Weeks - 1) * 7),
            Replayed = weeks,
            Budget = seasonBudget,
        };
        return new LaidSeason(asked.Change(setting), await Ordered(from, asked.Weeks, cancellation));
    }

    private async Task<IReadOnlyList<ReallyOrdered>> Ordered(DateOnly from, int weeks, CancellationToken cancellation)
    {
        var end = from.AddDays(7 * weeks);
        var orders = await book.Orders.AsNoTracking().Include(order => order.Lines).Where(order => order.HouseId == day.HouseId && order.OnDay >= from && order.OnDay < end).ToListAsync(cancellation);
        var states = await OrderStates.ReadAsync(book, [.. orders.Select(order => order.Id)], day.Today, cancellation);
        return [.. Enumerable.Range(0, weeks).Select(week =>
        {
            var here = orders.Where(order => (order.OnDay.DayNumber - from.DayNumber) / 7 == week && states.GetValueOrDefault(order.Id, OrderState.Drafted) is OrderState.Sent or OrderState.Confirmed).ToList();
            return new ReallyOrdered(from.AddDays(7 * week), here.Count, here.Sum(order => order.Lines.Sum(line => line.Pupae)), here.Sum(order => order.Landed));
        })];
    }

    /// <summary>Suppliers whose lists a season can be drawn from.</summary>
    public async Task<IReadOnlyList<string>> Suppliers(CancellationToken cancellation) =>
        [.. (await day.House(cancellation)).Terms.Select(terms => terms.Supplier!.Name).Order(StringComparer.Ordinal)];

    // What was known on an order day. The keeper's own orders of that day are what is decided, not what was there.
    private async Task<PlanningInput> Then(Book.House house, DateOnly on, bool withStock, CancellationToken cancellation)
    {
        var onOffer = await lists.OnOffer(house, on, cancellation);
        var weeks = await seenLists.Of(house, on, cancellation);
        var ordered = await book.Orders.AsNoTracking().Where(order => order.HouseId == house.Id && order.OnDay == on).Select(order => order.Id).ToListAsync(cancellation);
        return new PlanningInput
        {
            House = house,
            Stock = withStock ? await odds.Stock(house.Id, on, cancellation, ordered.ToHashSet()) : [],
            Lists = onOffer,
            OrderDay = on,
            Learned = await odds.LearnedBy(house.Id, on, cancellation),
            Ahead = await ahead.Of(house, weeks, onOffer, on, cancellation),
        };
    }

    // The aims with their own dates instead of one plan's, and the open days of the whole season.
    private static PlanProblem AllSeason(PlanProblem problem, Book.House house, int weeks)
    {
        var aims = house.Aims.Select((aim, index) => (Id: $"aim-{index + 1}", Aim: aim)).ToDictionary(a => a.Id, a => a.Aim);
        return problem with
        {
            Aims = [.. problem.Aims.Select(a => a is DayAim d ? d with { From = aims[a.Id].From, To = aims[a.Id].To } : a)],
            OpenDays = [.. Enumerable.Range(0, weeks * 7).Select(problem.OrderDay.AddDays).Where(house.IsOpen)],
            // The season's own account says what is left of it.
            SeasonBudget = null,
        };
    }

    private async Task<List<(DateOnly Day, ListOnOffer From)>> Seen(Book.House house, DateOnly from, DateOnly to, CancellationToken cancellation)
    {
        var rows = await book.Lists.AsNoTracking().Where(list => list.OnDay >= from && list.OnDay <= to).OrderBy(list => list.OnDay).ThenBy(list => list.ReceivedAt)
            .Select(list => new { list.Id, list.SupplierId, list.OnDay }).ToListAsync(cancellation);
        var seen = new List<(DateOnly, ListOnOffer)>();
        foreach (var row in rows.GroupBy(row => (row.SupplierId, row.OnDay)).Select(same => same.Last()))
        {
            if (house.Terms.FirstOrDefault(terms => terms.SupplierId == row.SupplierId) is { } terms && await lists.One(row.Id, cancellation) is { } list)
            {
                seen.Add((row.OnDay, new ListOnOffer(terms, list.List, list.FileName)));
            }
        }

        return seen;
    }

    private List<SeasonLine> Lines(PlanningTask task, List<(DateOnly Day, ListOnOffer From)> seen)
    {
        var names = seen.SelectMany(s => s.From.List.Offers).Where(IsToBeHad).Select(o => o.Taxon!).ToHashSet(StringComparer.Ordinal);
        var newest = task.Problem.Offers.Where(o => o.Taxon is not null).GroupBy(o => (o.Supplier, o.Taxon)).ToDictionary(g => g.Key, g => g.OrderBy(o => o.Price).First());
        var lines = new List<SeasonLine>();
        foreach (var theirs in seen.GroupBy(s => s.From.Terms.Supplier!.Name))
        {
            var forecast = new ListingForecast(theirs.Select(s => new SeenList(s.Day, s.From.List.Offers.Where(IsToBeHad).Select(o => o.Taxon!).ToHashSet(StringComparer.Ordinal), new HashSet<string>())), names, day.Today);
            foreach (var taxon in theirs.SelectMany(s => s.From.List.Offers).Where(IsToBeHad).Select(o => o.Taxon!).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal))
            {
                if (!newest.TryGetValue((theirs.Key, taxon), out var offer))
                {
                    continue;
                }

                var prices = theirs.SelectMany(s => s.From.List.Offers).Where(o => IsToBeHad(o) && o.Taxon == taxon).Select(o => o.Price!.Value).Order().ToList();
                var middle = prices[prices.Count / 2];
                lines.Add(new()
                {
                    Id = theirs.Key + "/" + taxon,
                    Supplier = theirs.Key,
                    Taxon = taxon,
                    Chance = forecast.Of(taxon).OnList[^1],
                    Price = prices.Count > 1
                        ? new(prices[prices.Count / 10], middle, prices[prices.Count * 9 / 10])
                        : new(middle * (1 - SeenOnce), middle, middle * (1 + SeenOnce)),
                    Pack = offer.Pack,
                    Minimum = offer.Minimum,
                    AvailableFrom = offer.Available ?? UsualOnHand,
                    AvailableTo = offer.Available ?? UsualOnHand,
                });
            }
        }

        return lines;
    }

    private static bool IsToBeHad(Offer offer) => offer is { Kind: not OfferKind.Mix, Taxon: not null, Price: > 0, SoldOut: false };
}
