using Lepidary.Planning.Model;
using Lepidary.Science.Flying;

namespace Lepidary.Planning.Seasons;

/// <summary>
/// A rule of thumb: for each wish that is below its number, some of the cheapest offer that serves it; more where the wish is to breed. Common practice, no
/// source: "five of each, eight to breed".
/// </summary>
/// <param name="name">Short name.</param>
/// <param name="trigger">A wish is below when what counts is below its number times this.</param>
/// <param name="countsPupae">True when what hangs and comes counts, too; false when only what flies does.</param>
/// <param name="each">Pupae a wish.</param>
/// <param name="toBreed">Pupae a wish to breed.</param>
/// <param name="namedOnly">True when it looks at wishes for one taxon alone and lets groups and numbers of species look after themselves.</param>
public sealed class OrderByRule(string name, double trigger, bool countsPupae, int each = 5, int toBreed = 8, bool namedOnly = false) : SeasonPolicy
{
    /// <summary>Five of each that does not fly in its number, eight to breed.</summary>
    public static OrderByRule Naive { get; } = new("the rule of thumb", 1, false);

    /// <summary>The same with pupae counted, ordered at a stock of so many times the number.</summary>
    /// <param name="trigger">Above 0.</param>
    /// <param name="each">Pupae a wish.</param>
    public static OrderByRule Tuned(double trigger = 3, int each = 5) => new("the rule of thumb, tuned", trigger, true, each, each + 3);

    /// <inheritdoc/>
    public override string Name => name;

    /// <inheritdoc/>
    public override IReadOnlyList<OrderedLine> Order(SeasonWeek week, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(week);
        var basket = new Basket(week.Problem);
        foreach (var aim in Basket.Ranked(week.Problem, namedOnly))
        {
            if (aim is DayAim day && !Basket.IsAhead(week, day))
                continue;
            var members = basket.Members(aim);
            var there = aim is VarietyAim
                ? members.Count(t => Count(t.Stock) > 0)
                : members.Sum(t => Count(t.Stock));
            var wanted = aim is DayAim d ? d.AtLeast : 2 * ((BreedingAim)aim).Pairs;
            if (there >= wanted * trigger)
                continue;
            // Cheapest first; what another wish has in the basket already serves this one, too.
            if (members.Any(t => basket.Has(t.Name)) && aim is not VarietyAim)
                continue;
            foreach (var offer in basket.Cheapest(members, aim is VarietyAim))
            {
                if (basket.Add(offer, aim is BreedingAim ? toBreed : each))
                    break;
            }
        }

        return basket.Close();
    }

    private double Count(SpeciesStock stock) =>
        stock.Flying.Sum(f => f.Count * f.Alive) + (countsPupae ? stock.Lots.Sum(lot => lot.Hanging) : 0);
}

/// <summary>
/// Orders up to a level: for each wish as many of the cheapest offer as bring the forecast of the days that this order serves up to the number, plus so many
/// deviations.
/// </summary>
/// <param name="deviations">How many deviations above the mean are wanted, at least 0.</param>
/// <param name="share">Day of the forecast: when this share of the order's living pupae has emerged.</param>
/// <param name="namedOnly">True when it looks at wishes for one taxon alone and lets groups and numbers of species look after themselves.</param>
/// <param name="name">Short name.</param>
public sealed class OrderUpTo(double deviations = 0, double share = 0.5, bool namedOnly = false, string name = "order up to the number") : SeasonPolicy
{
    /// <inheritdoc/>
    public override string Name => name;

    /// <inheritdoc/>
    public override IReadOnlyList<OrderedLine> Order(SeasonWeek week, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(week);
        var problem = week.Problem;
        var basket = new Basket(problem);
        var level = new Dictionary<string, double[]>();
        const int days = 60;
        double[] Level(PlanTaxon taxon)
        {
            if (!level.TryGetValue(taxon.Name, out var mean))
                level[taxon.Name] = mean = Means(taxon.Stock, days);
            return mean;
        }

        foreach (var aim in Basket.Ranked(problem, namedOnly))
        {
            if (aim is DayAim day && !Basket.IsAhead(week, day))
                continue;
            var members = basket.Members(aim);
            var wanted = aim is DayAim d ? d.AtLeast : 2.0 * ((BreedingAim)aim).Pairs;
            foreach (var offer in basket.Cheapest(members, aim is VarietyAim))
            {
                var taxon = basket.Taxon(offer);
                var rate = taxon.RateFrom(offer.Supplier).Mean;
                var arrives = basket.Supplier(offer).Arrives.Min().DayNumber - problem.OrderDay.DayNumber;
                var serves = arrives + taxon.Timing.Quantile(share);
                if (serves >= days || problem.OrderDay.AddDays(serves) > week.LastDay)
                    continue;
                var there = aim is VarietyAim
                    ? members.Sum(t => 1 - Math.Exp(-Level(t)[serves]))
                    : members.Sum(t => Level(t)[serves]);
                var missing = aim is VarietyAim
                    ? (wanted - there > 0 && !basket.Has(taxon.Name) ? 2 : 0)
                    : wanted + (deviations * Math.Sqrt(wanted)) - there;
                if (missing <= 0)
                {
                    if (aim is VarietyAim && wanted - there > 0)
                        continue;
                    break;
                }

                var flies = PupaOdds.Flying(rate, taxon.Timing, taxon.Stock.Survival, days - arrives);
                var before = basket.Of(offer);
                basket.Add(offer, (int)Math.Round(missing / Math.Max(1e-6, flies[serves - arrives]), MidpointRounding.AwayFromZero));
                var added = basket.Of(offer) - before;
                for (var since = 0; since < flies.Length; since++)
                    Level(taxon)[arrives + since] += added * flies[since];
            }
        }

        return basket.Close();
    }

    private static double[] Means(SpeciesStock stock, int days)
    {
        var mean = new double[days];
        foreach (var group in stock.Flying)
        {
            for (var day = 0; day < days; day++)
                mean[day] += group.Count * group.Alive * stock.Survival.GivenAlive(group.DaysOnWing, day);
        }

        foreach (var lot in stock.Lots.Where(l => l.Hanging > 0))
        {
            var since = Math.Max(0, lot.DaysHanging);
            var waiting = lot.Timing.NotBefore(since);
            if (waiting <= 0)
                continue;
            var alive = lot.Hanging * lot.Timing.Alive(lot.Rate.Mean, since);
            for (var day = 0; day < days; day++)
            {
                for (var on = 0; on <= day; on++)
                    mean[day] += alive * lot.Timing[lot.DaysHanging + on] / waiting * stock.Survival[day - on];
            }
        }

        return mean;
    }
}

/// <summary>An order that is being put together by a rule, within the lists' and the house's limits.</summary>
internal sealed class Basket
{
    private readonly PlanProblem problem;
    private readonly Dictionary<string, PlanTaxon> taxa;
    private readonly Dictionary<string, PlanSupplier> suppliers;
    private readonly Dictionary<string, int> pupae = [];
    private readonly Dictionary<string, PlanOffer> offers;
    private readonly double[]? room;

    public Basket(PlanProblem problem)
    {
        this.problem = problem;
        taxa = problem.Taxa.ToDictionary(t => t.Name);
        // A box can come on an open day only; who has none, or takes no more orders, is left out.
        suppliers = problem.Suppliers.Select(s => s with { Arrives = [.. s.Arrives.Where(day => !s.ClosedDays.Contains(day) && !problem.NoBoxesOn.Contains(day))] })
            .Where(s => s.Arrives.Count > 0).ToDictionary(s => s.Name);
        offers = problem.Offers.ToDictionary(o => o.Id);
        if (problem.CagePlaces is not null || problem.CagePlacesOn.Count > 0)
        {
            room = [.. ModelBuilder.HangingByDay(problem.Taxa, problem.HorizonDays + 1)
                .Select((taken, day) => (problem.PlacesOn(problem.OrderDay.AddDays(day)) ?? double.PositiveInfinity) - taken)];
        }
    }

    /// <summary>The most important first, single taxa before groups, then as given.</summary>
    public static IEnumerable<Aim> Ranked(PlanProblem problem, bool namedOnly = false) =>
        problem.Aims.Where(a => !namedOnly || a is BreedingAim or DisplayAim { Of.Kind: AimOfKind.Taxon }).OrderByDescending(a => a.Importance).ThenBy(a => a is DayAim { Of.Kind: not AimOfKind.Taxon });

    /// <summary>True when the aim has an open day that this week's boxes can still serve.</summary>
    public static bool IsAhead(SeasonWeek week, DayAim aim)
    {
        var first = week.Problem.Suppliers.SelectMany(s => s.Arrives).DefaultIfEmpty(week.Problem.OrderDay).Min().AddDays(2);
        return first <= week.LastDay && first <= (aim.To ?? week.LastDay) && (aim.From ?? first) <= first.AddDays(18);
    }

    public PlanTaxon Taxon(PlanOffer offer) => taxa[offer.Taxon!];

    public PlanSupplier Supplier(PlanOffer offer) => suppliers[offer.Supplier];

    public List<PlanTaxon> Members(Aim aim) =>
        [.. problem.Taxa.Where(t => aim is DayAim d ? d.Of.Counts(t.Taxon) : ((BreedingAim)aim).Taxon == t.Name)];

    public bool Has(string taxon) => pupae.Keys.Any(id => offers[id].Taxon == taxon);

    public int Of(PlanOffer offer) => pupae.GetValueOrDefault(offer.Id);

    /// <summary>Offers of these taxa, cheapest landed first; for a number of species the absent ones first.</summary>
    public List<PlanOffer> Cheapest(List<PlanTaxon> members, bool absentFirst)
    {
        var names = members.Select(t => t.Name).ToHashSet();
        return
        [
            .. problem.Offers.Where(o => o.Taxon is { } t && names.Contains(t) && !o.SoldOut && taxa[t].KeepNot is null && suppliers.TryGetValue(o.Supplier, out var s) && !s.Avoided && !ModelBuilder.OrdersClosed(problem, s, o))
                .OrderBy(o => absentFirst && (Has(o.Taxon!) || taxa[o.Taxon!].Stock is { Lots.Count: > 0 } or { Flying.Count: > 0 }))
                .ThenBy(o => (double)o.Price * ModelBuilder.LandedFactor(suppliers[o.Supplier], true)).ThenBy(o => o.Id, StringComparer.Ordinal),
        ];
    }

    /// <summary>Adds to a line, in whole packs and as far as list, licence and places go.</summary>
    public bool Add(PlanOffer offer, int wanted)
    {
        var before = Of(offer);
        var most = offer.Available ?? problem.Settings.MostOfALine;
        if (taxa[offer.Taxon!].MostPupae is { } licence)
            most = Math.Min(most, licence - (pupae.Where(p => offers[p.Key].Taxon == offer.Taxon).Sum(p => p.Value) - before));
        if (room is not null)
        {
            var from = Math.Max(0, Supplier(offer).Arrives.Min().DayNumber - problem.OrderDay.DayNumber);
            most = (int)Math.Min(most, before + Math.Max(0, Math.Floor(from < room.Length ? room[from..].Min() : 0)));
        }

        var number = Math.Max(before + wanted, offer.Minimum);
        number = (number + offer.Pack - 1) / offer.Pack * offer.Pack;
        if (number > most)
            number = most / offer.Pack * offer.Pack;
        if (number <= before || number < offer.Minimum)
            return false;
        Take(offer, number - before);
        pupae[offer.Id] = number;
        return true;
    }

    /// <summary>The lines, without deliveries below a supplier's least and, last in first out, without what the budget does not reach.</summary>
    public IReadOnlyList<OrderedLine> Close()
    {
        while (true)
        {
            var orders = pupae.GroupBy(p => offers[p.Key].Supplier)
                .Select(g => (Supplier: suppliers[g.Key], Lines: g.Select(p => (Offer: offers[p.Key], Pupae: p.Value, Settled: false)).ToList())).ToList();
            var small = orders.FirstOrDefault(o => o.Lines.Sum(l => l.Pupae) < o.Supplier.MinimumPupae || o.Lines.Sum(l => Item.GoodsOf(l.Offer, l.Pupae)) < o.Supplier.MinimumGoods);
            if (small.Lines is not null)
            {
                // A keeper fills a delivery up with more of the same before doing without it.
                if (!FillUp(small.Supplier, small.Lines))
                    small.Lines.ForEach(line => pupae.Remove(line.Offer.Id));
                continue;
            }

            if (problem.Budget is not { } budget || orders.Sum(o => Report.Money.OrderOf(o.Supplier, o.Supplier.Arrives.Min(), o.Lines).TotalInHouse) <= budget)
                return [.. pupae.Select(p => new OrderedLine(p.Key, p.Value, suppliers[offers[p.Key].Supplier].Arrives.Min()))];
            pupae.Remove(pupae.Keys.Last());
        }
    }

    private bool FillUp(PlanSupplier supplier, List<(PlanOffer Offer, int Pupae, bool Settled)> lines)
    {
        var before = lines.Sum(l => l.Pupae);
        if (before * 2 < supplier.MinimumPupae)
            return false;
        return lines.Any(line => Add(line.Offer, line.Offer.Pack));
    }

    private void Take(PlanOffer offer, int more)
    {
        if (room is null)
            return;
        var taxon = Taxon(offer);
        var from = Supplier(offer).Arrives.Min().DayNumber - problem.OrderDay.DayNumber;
        var hangs = PupaOdds.Hanging(taxon.RateFrom(offer.Supplier).Mean, taxon.Timing, Math.Max(0, room.Length - from));
        for (var since = 0; since < hangs.Length; since++)
            room[from + since] -= more * hangs[since];
    }
}
