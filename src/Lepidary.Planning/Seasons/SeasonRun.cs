using Lepidary.Planning.Model;
using Lepidary.Planning.Report;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;

namespace Lepidary.Planning.Seasons;

/// <summary>
/// One season of a house under one policy: each week the list comes, the policy orders, boxes arrive, pupae emerge or do not, adults fly and die. The keeper
/// counts every emergence, and on order days what flies of each age; whether a pupa that still hangs is alive nobody sees.
/// </summary>
public sealed class SeasonRun
{
    private const ulong ForLists = 1, ForFates = 2, ForRates = 3, ForStock = 4;

    private readonly SeasonSetting setting;
    private readonly ulong key;
    private readonly SeasonRandom random = new(0);
    private readonly IReadOnlyList<PlanOffer>[] lists;
    private readonly Dictionary<string, int> places;
    private readonly PlanTaxon[] truth;
    private readonly FateTable[] tables;
    private readonly IReadOnlyDictionary<string, LaterOffers> later;
    private readonly List<Lot> lots = [];
    private readonly Dictionary<(string Supplier, int Taxon), double> means = [];

    private SeasonRun(SeasonSetting setting, SeasonWorld world, ulong key)
    {
        this.setting = setting;
        this.key = key;
        truth = world.Taxa;
        places = world.Places;
        tables = world.Tables;
        later = world.Later;
        lists = Lists(setting, key);
    }

    /// <summary>What is offered in each week of the season of a seed.</summary>
    internal static IReadOnlyList<PlanOffer>[] Lists(SeasonSetting setting, ulong seed) => setting.Replayed is { } replayed
        ? [.. replayed.Select(week => week.Offers)]
        : SeasonLists.Draw(setting, SeasonRandom.Split(seed, ForLists));

    /// <summary>Plays a season.</summary>
    /// <param name="setting">House and suppliers; without faults.</param>
    /// <param name="policy">How it is ordered.</param>
    /// <param name="seed">One seed, one season: the same lists, and the same fate of the first pupa, the second … of a line, whatever is ordered.</param>
    /// <param name="cancel">Ends it.</param>
    /// <exception cref="ArgumentException">The setting has faults.</exception>
    /// <exception cref="OperationCanceledException">It was cancelled.</exception>
    public static SeasonScore Play(SeasonSetting setting, SeasonPolicy policy, ulong seed, CancellationToken cancel = default) =>
        Play(new SeasonWorld(setting), policy, seed, null, cancel);

    internal static SeasonScore Play(SeasonWorld world, SeasonPolicy policy, ulong seed, Action<int>? weekDone, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(policy);
        var run = new SeasonRun(world.Setting, world, seed);
        return run.Play(policy, weekDone, cancel);
    }

    private sealed class Lot
    {
        public required int Taxon;
        public required string Supplier;
        public required int Arrives;
        public required Fate[] Fates;
        public required EmergenceRate Rate;
        public required EmergenceTiming Timing;
        public required int EmergedBefore;
        public required int LostBefore;
        public bool Bought;

        // From this day on nothing of it hangs or flies.
        public int Over = int.MaxValue;
    }

    private SeasonScore Play(SeasonPolicy policy, Action<int>? weekDone, CancellationToken cancel)
    {
        DrawStock();
        var score = new SeasonScore { Policy = policy.Name };
        var spent = 0m;
        for (var week = 0; week < setting.Weeks; week++)
        {
            cancel.ThrowIfCancellationRequested();
            var problem = Problem(week, setting.Budget - spent);
            var lines = policy.Order(new(problem, week, setting.House.OrderDay.AddDays(setting.Days - 1)), cancel);
            var (boxes, pupae) = (score.Deliveries, score.Pupae);
            var here = Take(problem, week, lines, score);
            spent += here;
            score.Ordered.Add(new(score.Deliveries - boxes, score.Pupae - pupae, here, lines));
            weekDone?.Invoke(week + 1);
        }

        score.Landed = (double)spent;
        Judge(score);
        return score;
    }

    // The house as the keeper sees it on a week's order day.
    private PlanProblem Problem(int week, decimal? left)
    {
        var day = week * 7;
        var house = setting.Replayed?[week] ?? setting.House;
        var orderDay = setting.House.OrderDay.AddDays(day);
        var shift = orderDay.DayNumber - house.OrderDay.DayNumber;
        var believed = house.Taxa.ToDictionary(t => t.Name);
        var hanging = new List<HangingLot>[truth.Length];
        var flying = new SortedDictionary<int, int>[truth.Length];
        foreach (var lot in lots)
        {
            if (day >= lot.Over)
                continue;
            var emerged = 0;
            foreach (var fate in lot.Fates)
            {
                var on = fate.EmergesOn < 0 ? int.MaxValue : lot.Arrives + fate.EmergesOn;
                if (on >= day)
                    continue;
                emerged++;
                if (on + fate.Flies > day)
                {
                    var ages = flying[lot.Taxon] ??= [];
                    ages[on] = ages.GetValueOrDefault(on) + 1;
                }
            }

            var hangs = lot.Fates.Length - emerged;
            // What became of the pupae is drawn from what is known by now; the keeper of a week that is replayed knew what was known then.
            var (rate, timing) = lot.Bought && setting.Replayed is not null && believed.TryGetValue(truth[lot.Taxon].Name, out var then) ? (then.RateFrom(lot.Supplier), then.Timing) : (lot.Rate, lot.Timing);
            // Given up, and the place cleared, the day after 99 of 100 of the living have emerged.
            if (hangs > 0 && day <= lot.Arrives + timing.Quantile(0.99) + 1)
                (hanging[lot.Taxon] ??= []).Add(new(hangs, day - lot.Arrives, rate, timing, lot.Supplier, lot.EmergedBefore + emerged, lot.LostBefore));
        }

        var taxa = truth.Select((t, i) => (believed.TryGetValue(t.Name, out var known) ? known : t) with
        {
            Stock = new((known ?? t).Stock.Survival, hanging[i] ?? [], flying[i] is { } ages ? [.. ages.Select(a => new FlyingGroup(a.Value, day - a.Key))] : []),
            Later = (known ?? t).Later ?? later.GetValueOrDefault(t.Name),
        }).ToArray();
        return house with
        {
            OrderDay = orderDay,
            Suppliers = [.. house.Suppliers.Select(s => shift == 0 ? s : s with { Arrives = [.. s.Arrives.Select(a => a.AddDays(shift))], LastOrderDay = s.LastOrderDay?.AddDays(shift) })],
            Offers = lists[week],
            Taxa = taxa,
            OpenDays = OpenDays(day),
            Budget = left is { } most ? Math.Max(0, Math.Min(most, house.Budget ?? most)) : house.Budget,
        };
    }

    private DateOnly[] OpenDays(int from) =>
    [
        .. Enumerable.Range(from, setting.Days - from).Where(d => d >= setting.DaysBefore).Select(setting.House.OrderDay.AddDays)
            .Where(d => setting.House.OpenDays?.Contains(d) ?? true),
    ];

    private decimal Take(PlanProblem problem, int week, IReadOnlyList<OrderedLine> lines, SeasonScore score)
    {
        var offers = problem.Offers.ToDictionary(o => o.Id);
        var suppliers = problem.Suppliers.ToDictionary(s => s.Name);
        var spent = 0m;
        foreach (var box in lines.GroupBy(l => (offers[l.Offer].Supplier, Arrives: l.Arrives ?? suppliers[offers[l.Offer].Supplier].Arrives.Min())))
        {
            var supplier = suppliers[box.Key.Supplier];
            List<(PlanOffer Offer, int Pupae, bool Settled)> bought = [.. box.Select(l => (offers[l.Offer], l.Pupae, false))];
            if (bought.FirstOrDefault(b => b.Pupae <= 0 || b.Pupae % b.Offer.Pack != 0 || b.Pupae < b.Offer.Minimum || b.Pupae > (b.Offer.Available ?? int.MaxValue) || b.Offer.SoldOut) is { Offer: { } wrong } && setting.Replayed is null)
                throw new InvalidOperationException($"The policy ordered a number of {wrong.Id} that is not sold.");
            var order = Money.OrderOf(supplier, box.Key.Arrives, bought);
            spent += order.TotalInHouse;
            score.Deliveries++;
            var arrives = box.Key.Arrives.DayNumber - setting.House.OrderDay.DayNumber;
            foreach (var (offer, pupae, _) in bought)
            {
                score.Pupae += pupae;
                if (offer.Taxon is { } taxon)
                {
                    DrawLot(places[taxon], offer, week, pupae, arrives);
                }
                else
                {
                    var left = pupae;
                    foreach (var (part, index) in offer.Mix.Where(m => m.Share > 0).Select((m, i) => (m, i)))
                    {
                        var here = Math.Min(left, (int)Math.Round(part.Share * pupae, MidpointRounding.AwayFromZero));
                        left -= here;
                        DrawLot(places[part.Taxon], offer, week, here, arrives, index + 1);
                    }

                    score.UnknownPupae += left;
                }
            }
        }

        if (problem.Budget is { } budget && spent > budget + 0.01m * problem.Suppliers.Count && setting.Replayed is null)
            throw new InvalidOperationException(FormattableString.Invariant($"The policy spent {spent} of {budget}."));
        return spent;
    }

    private void DrawLot(int taxon, PlanOffer offer, int week, int pupae, int arrives, int part = 0)
    {
        var label = SeasonLists.Label(FormattableString.Invariant($"{offer.Id}/{week}/{part}"));
        var rate = truth[taxon].RateFrom(offer.Supplier);
        random.Restart(SeasonRandom.Split(SeasonRandom.Split(key, ForRates), label));
        var own = OwnRate(rate, Mean(offer.Supplier, taxon, rate));
        random.Restart(SeasonRandom.Split(SeasonRandom.Split(key, ForFates), label));
        var fates = new Fate[pupae];
        tables[taxon].Draw(random, own, fates);
        lots.Add(new() { Taxon = taxon, Supplier = offer.Supplier, Arrives = arrives, Fates = fates, Rate = rate, Timing = truth[taxon].Timing, EmergedBefore = 0, LostBefore = 0, Bought = true, Over = setting.Replayed is null ? arrives + tables[taxon].Reach : int.MaxValue });
    }

    // The unknown mean is one for the whole season; a lot's own rate lies around it.
    private double Mean(string supplier, int taxon, EmergenceRate rate)
    {
        if (double.IsPositiveInfinity(rate.Certainty) || rate.Mean is 0 or 1)
            return rate.Mean;
        if (!means.TryGetValue((supplier, taxon), out var mean))
        {
            var own = new SeasonRandom(SeasonRandom.Split(SeasonRandom.Split(key, ForRates), SeasonLists.Label(supplier + "/" + truth[taxon].Name)));
            means[(supplier, taxon)] = mean = own.NextBeta(rate.Mean * rate.Certainty, (1 - rate.Mean) * rate.Certainty);
        }

        return mean;
    }

    private double OwnRate(EmergenceRate rate, double mean) =>
        double.IsPositiveInfinity(rate.LotConcentration) || mean is <= 1e-12 or >= 1 - 1e-12
            ? mean : random.NextBeta(mean * rate.LotConcentration, (1 - mean) * rate.LotConcentration);

    // What hangs and flies at the start, drawn from what is known of it.
    private void DrawStock()
    {
        for (var taxon = 0; taxon < truth.Length; taxon++)
        {
            var stock = truth[taxon].Stock;
            random.Restart(SeasonRandom.Split(SeasonRandom.Split(key, ForStock), SeasonLists.Label(truth[taxon].Name)));
            foreach (var lot in stock.Lots.Where(l => l.Hanging > 0))
            {
                var since = Math.Max(0, lot.DaysHanging);
                var fates = new Fate[lot.Hanging];
                Array.Fill(fates, Fate.Never);
                if (lot.Timing.NotBefore(since) > 0)
                {
                    var alive = FlyingForecast.Alive(lot);
                    var count = alive.Quantile(random.NextShare());
                    LaidTables.OfPupae(lot.Timing, stock.Survival, since).Draw(random, 1, fates.AsSpan(0, Math.Min(count, fates.Length)));
                }

                lots.Add(new() { Taxon = taxon, Supplier = lot.RateSource, Arrives = -lot.DaysHanging, Fates = fates, Rate = lot.Rate, Timing = lot.Timing, EmergedBefore = lot.Emerged, LostBefore = lot.Lost });
            }

            foreach (var group in stock.Flying.Where(g => g.Count > 0))
            {
                var fates = new Fate[group.Count];
                LaidTables.OfFlying(stock.Survival, group.DaysOnWing).Draw(random, 1, fates);
                var alive = fates.Where(_ => random.NextShare() < group.Alive).Select(f => f with { EmergesOn = 0, Flies = f.Flies + group.DaysOnWing }).ToArray();
                lots.Add(new() { Taxon = taxon, Supplier = "", Arrives = -group.DaysOnWing, Fates = alive, Rate = EmergenceRate.Known(1), Timing = EmergenceTiming.Certain(0), EmergedBefore = 0, LostBefore = 0 });
            }
        }
    }

    private void Judge(SeasonScore score)
    {
        var days = setting.Days;
        var flying = new int[truth.Length][];
        for (var t = 0; t < truth.Length; t++)
            flying[t] = new int[days + 1];
        var hanging = new int[days + 1];
        var open = OpenDays(0).Select(d => d.DayNumber - setting.House.OrderDay.DayNumber).ToArray();
        var openUpTo = new int[days + 1];
        foreach (var day in open)
            openUpTo[day + 1]++;
        for (var day = 0; day < days; day++)
            openUpTo[day + 1] += openUpTo[day];
        foreach (var lot in lots)
        {
            var givenUp = lot.Arrives + lot.Timing.Quantile(0.99) + 1;
            foreach (var fate in lot.Fates)
            {
                var on = fate.EmergesOn < 0 ? int.MaxValue : lot.Arrives + fate.EmergesOn;
                var off = fate.EmergesOn < 0 ? Math.Max(givenUp, 0) : on;
                hanging[Math.Clamp(lot.Arrives, 0, days)]++;
                hanging[Math.Clamp(off, 0, days)]--;
                if (on < days)
                {
                    flying[lot.Taxon][Math.Max(0, on)]++;
                    flying[lot.Taxon][Math.Clamp(on + fate.Flies, 0, days)]--;
                }

                if (!lot.Bought)
                    continue;
                if (fate.EmergesOn >= 0 && on >= days)
                {
                    score.EmergeLater++;
                    continue;
                }

                if (fate.EmergesOn < 0)
                    score.NeverEmerge++;
                else if (on + fate.Flies >= days)
                    score.FlyOn++;
                else
                    score.Flown++;
                if (fate.EmergesOn < 0 || (on + fate.Flies < days && openUpTo[on + fate.Flies] == openUpTo[on]))
                    score.Wasted++;
            }
        }

        var total = new int[days];
        for (var day = 0; day < days; day++)
        {
            hanging[day] += day == 0 ? 0 : hanging[day - 1];
            for (var t = 0; t < truth.Length; t++)
            {
                flying[t][day] += day == 0 ? 0 : flying[t][day - 1];
                total[day] += flying[t][day];
            }

            var places = setting.House.PlacesOn(setting.House.OrderDay.AddDays(day));
            if (day >= setting.DaysBefore && (hanging[day] > (places ?? int.MaxValue) || total[day] > (setting.House.FlyingCeiling ?? int.MaxValue)))
                score.DaysOver++;
            if (day >= setting.DaysBefore && hanging[day] >= 0.95 * (places ?? double.PositiveInfinity))
                score.DaysFull++;
        }

        score.Flying = total;
        score.OpenDays = open.Length;
        score.ButterflyDays = open.Sum(day => (long)total[day]);
        var missed = new bool[days];
        foreach (var aim in setting.House.Aims.OfType<DayAim>())
        {
            var worth = (double)ModelBuilder.WorthOf(setting.House) * Math.Pow(3, aim.Importance - 1);
            var members = Enumerable.Range(0, truth.Length).Where(t => aim.Of.Counts(truth[t].Taxon)).ToArray();
            var of = new AimScore { Aim = aim.Id, Words = aim.Words };
            foreach (var day in open)
            {
                var date = setting.House.OrderDay.AddDays(day);
                if (date < (aim.From ?? date) || date > (aim.To ?? date) || (aim.Days.Count > 0 && !aim.Days.Contains(date.DayOfWeek)))
                    continue;
                var there = 0;
                foreach (var t in members)
                    there += aim is VarietyAim ? Math.Min(1, flying[t][day]) : flying[t][day];
                of.Days++;
                if (there >= aim.AtLeast)
                    continue;
                of.DaysShort++;
                of.Short += aim.AtLeast - there;
                missed[day] = true;
            }

            score.Shortage += worth * of.Short;
            score.Aims.Add(of);
        }

        score.DaysShort = missed.Count(m => m);
    }
}

/// <summary>What of a setting does not change from season to season, made once.</summary>
internal sealed class SeasonWorld
{
    public SeasonWorld(SeasonSetting setting)
    {
        ArgumentNullException.ThrowIfNull(setting);
        if (setting.Faults() is { Count: > 0 } faults)
            throw new ArgumentException(string.Join(" ", faults), nameof(setting));
        // What a missing butterfly is worth must not hang on what a week happens to list.
        Setting = setting.House.Settings.WorthOfOneShort is not null ? setting
            : setting with { House = setting.House with { Settings = setting.House.Settings with { WorthOfOneShort = Worth(setting) } } };
        Taxa = [.. setting.House.Taxa];
        Places = Taxa.Select((t, i) => (t.Name, i)).ToDictionary(t => t.Name, t => t.i);
        Tables = [.. Taxa.Select(t => LaidTables.OfPupae(t.Timing, t.Stock.Survival))];
        Later = setting.Later();
    }

    public SeasonSetting Setting { get; }

    public PlanTaxon[] Taxa { get; }

    public Dictionary<string, int> Places { get; }

    public FateTable[] Tables { get; }

    public IReadOnlyDictionary<string, LaterOffers> Later { get; }

    // Five times the middle price of everything that may be listed, as a single week's plan has it of its lists.
    private static decimal Worth(SeasonSetting setting)
    {
        var factor = setting.House.Suppliers.ToDictionary(s => s.Name, s => (decimal)ModelBuilder.LandedFactor(s, true));
        var prices = (setting.Replayed is { } weeks
            ? weeks.SelectMany(w => w.Offers.Where(o => w.Suppliers.Any(s => s.Name == o.Supplier)).Select(o => o.Price * (decimal)ModelBuilder.LandedFactor(w.Suppliers.First(s => s.Name == o.Supplier), true)))
            : setting.Lines.Select(l => l.Price.Middle * factor[l.Supplier])).Order().ToList();
        return prices.Count == 0 ? 1 : Math.Max(0.01m, 5 * prices[prices.Count / 2]);
    }
}
