using Lepidary.Science.Counts;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;

namespace Lepidary.Planning.Model;

/// <summary>Makes the numbers of a checked problem.</summary>
internal sealed class ModelBuilder
{
    private readonly PlanProblem problem;
    private readonly int days;
    private readonly Dictionary<string, PlanTaxon> taxa;
    private readonly Dictionary<string, IReadOnlyList<CountDistribution>> own = [];
    private readonly List<Slot> slots;
    private readonly ILookup<string, LineRule> rules;
    private readonly ILookup<string, SettledLine> settled;
    private readonly Dictionary<string, double> butterflyDays = [];
    private readonly double[] hanging;
    private readonly double[] flying;

    private ModelBuilder(PlanProblem problem)
    {
        this.problem = problem;
        days = problem.HorizonDays + 1;
        taxa = problem.Taxa.ToDictionary(t => t.Name);
        rules = problem.Rules.ToLookup(r => r.Offer);
        settled = problem.Settled.ToLookup(s => s.Offer);
        foreach (var taxon in problem.Taxa)
        {
            if (HasStock(taxon.Stock))
                own[taxon.Name] = FlyingForecast.Of(taxon.Stock, days);
        }

        hanging = HangingByDay(problem.Taxa, days);
        flying = new double[days];
        foreach (var name in problem.Taxa.Select(t => t.Name).Order(StringComparer.Ordinal).Where(own.ContainsKey))
        {
            for (var day = 0; day < days; day++)
                flying[day] += own[name][day].Mean;
        }

        slots = [.. Slots(problem)];
    }

    /// <summary>The problem in numbers.</summary>
    public static PlanModel Build(PlanProblem problem) => new ModelBuilder(Settlement.Of(problem)).Build();

    /// <summary>True when anything hangs, comes or flies.</summary>
    public static bool HasStock(SpeciesStock stock) =>
        stock.Lots.Any(lot => lot.Hanging > 0) || stock.Flying.Any(group => group.Count > 0);

    /// <summary>Expected hanging places taken by what hangs and what is on its way.</summary>
    public static double[] HangingByDay(IEnumerable<PlanTaxon> taxa, int days)
    {
        var taken = new double[days];
        foreach (var lot in taxa.OrderBy(t => t.Name, StringComparer.Ordinal).SelectMany(t => t.Stock.Lots))
        {
            var since = Math.Max(0, lot.DaysHanging);
            var hangs = PupaOdds.Hanging(lot.Rate.Mean, lot.Timing, since + days);
            var now = since == 0 ? 1 : hangs[since - 1];
            for (var day = Math.Max(0, -lot.DaysHanging); day < days; day++)
            {
                // Still on its place though it should be done: it keeps the place until somebody takes it down.
                taken[day] += lot.Hanging * (now > 0 ? hangs[lot.DaysHanging + day] / now : 1);
            }
        }

        return taken;
    }

    /// <summary>Days that an aim counts, from the order day.</summary>
    public static IEnumerable<int> DaysOf(PlanProblem problem, DayAim aim)
    {
        for (var day = 0; day <= problem.HorizonDays; day++)
        {
            var date = problem.OrderDay.AddDays(day);
            if (date >= (aim.From ?? date) && date <= (aim.To ?? date)
                && (aim.Days.Count == 0 || aim.Days.Contains(date.DayOfWeek))
                && (problem.OpenDays?.Contains(date) ?? true))
            {
                yield return day;
            }
        }
    }

    private PlanModel Build()
    {
        var items = Items();
        var worth = (double)WorthOf(problem);
        double WorthOfAim(Aim aim) => worth * Math.Pow(3, aim.Importance - 1);
        // Which wishes are groups, and how their spread is taken, must not change with a rule or a limit: so every line counts here.
        var listed = problem.Offers.SelectMany(o => o.Mix.Where(m => m.Share > 0).Select(m => m.Taxon).Append(o.Taxon)).ToHashSet();

        var wishes = new Dictionary<string, List<DayWish>>();
        var pairs = new Dictionary<string, List<PairWish>>();
        var groups = new List<(int Aim, DayAim Wish, HashSet<string> Members)>();
        var constant = 0.0;
        foreach (var (aim, place) in problem.Aims.Select((a, i) => (a, i)).OrderBy(x => x.a.Id, StringComparer.Ordinal))
        {
            switch (aim)
            {
                case BreedingAim breeding:
                    ListOf(pairs, breeding.Taxon).Add(new(
                        place, breeding.Pairs, aim.Sure, WorthOfAim(aim) * 2 * DaysAPairIsWorth, breeding.NewBlood));
                    break;
                case DayAim wish:
                    var members = problem.Taxa.Where(t => wish.Of.Counts(t.Taxon)).Select(t => t.Name)
                        .Where(n => listed.Contains(n) || own.ContainsKey(n)).ToHashSet();
                    if (members.Count == 0)
                        constant += WorthOfAim(aim) * wish.AtLeast * DaysOf(problem, wish).Count();
                    else if (members.Count == 1 && wish is DisplayAim)
                    {
                        foreach (var day in DaysOf(problem, wish))
                            ListOf(wishes, members.Single()).Add(new(place, day, wish.AtLeast, wish.Sure, Now(WorthOfAim(aim), taxa[members.Single()], day)));
                    }
                    else
                    {
                        groups.Add((place, wish, members));
                    }

                    break;
            }
        }

        var groupSets = groups.Where(g => g.Wish is DisplayAim).Select(g => g.Members)
            .Distinct(HashSet<string>.CreateSetComparer()).ToList();
        foreach (var item in items)
            item.Groups = [.. groupSets.Select(set => ShareOf(item.Offer, item.Slot, set))];
        var spread = groupSets.Select(Spread).ToList();

        var (blocks, ownConstant) = Blocks(items, wishes, pairs, groups);
        var groupDays = new List<GroupDay>();
        foreach (var (place, wish, members) in groups)
        {
            foreach (var day in DaysOf(problem, wish))
                groupDays.Add(GroupDayOf(place, wish, members, day, items, groupSets, spread, Now(WorthOfAim(wish), members, day)));
        }

        foreach (var block in blocks)
        {
            block.GroupDays = [.. Enumerable.Range(0, groupDays.Count).Where(i => groupDays[i].CountsSpecies
                ? block.Taxon is { } t && groups.First(g => g.Aim == groupDays[i].Aim).Members.Contains(t.Name)
                    && Array.BinarySearch(block.PresenceDays, groupDays[i].Day) >= 0
                : block.Items.Any(item => item.Groups[groupDays[i].Group] is { } share && share.Mean[groupDays[i].Day] > 0))];
        }

        return new()
        {
            Problem = problem,
            Slots = slots,
            Items = items,
            Blocks = blocks,
            GroupDays = groupDays,
            Rooms = Rooms(items),
            Budget = problem.Spendable is { } budget ? Math.Max((double)budget, SettledCost(items)) : double.PositiveInfinity,
            Constant = constant + ownConstant,
            Worth = worth,
        };
    }

    /// <summary>A pair short counts as two butterflies short for a week.</summary>
    internal const int DaysAPairIsWorth = 7;

    // What a shortage counts for this week: in full as far as no later order can mend it; as far as one can, only what mending it then
    // will cost.
    private double Now(double worth, PlanTaxon taxon, int day)
    {
        if (taxon.Later is null || Urgency(taxon, day) is var urgency && urgency >= 1)
            return worth;
        return (worth * urgency) + (Math.Min(worth, ButterflyDay(taxon)) * (1 - urgency));
    }

    // A group is mended by whichever of its taxa is listed then and comes out first; what that costs is taken from the cheap quarter of them, which a later buyer would pick from.
    private double Now(double worth, HashSet<string> members, int day)
    {
        var listed = members.Order(StringComparer.Ordinal).Select(name => taxa[name]).Where(taxon => taxon.Later is not null).ToList();
        if (listed.Count == 0)
            return worth;
        var none = 1.0;
        foreach (var arrives in problem.LaterArrivals)
        {
            var since = day - (arrives.DayNumber - problem.OrderDay.DayNumber);
            var (mended, unlisted) = (0.0, 1.0);
            foreach (var (outBy, chance) in listed.Select(t => (OutBy: 1 - t.Timing.NotBefore(Math.Max(0, since + 1)), t.Later!.WeeklyChance)).OrderByDescending(t => t.OutBy))
            {
                mended += unlisted * chance * outBy;
                unlisted *= 1 - chance;
            }

            none *= 1 - mended;
        }

        var costs = listed.Select(ButterflyDay).Order().ToList();
        return (worth * none) + (Math.Min(worth, costs[costs.Count / 4]) * (1 - none));
    }

    // What a later order pays for one flying on one day. It serves every wish that counts the taxon, and each bears its share.
    private double ButterflyDay(PlanTaxon taxon)
    {
        if (!butterflyDays.TryGetValue(taxon.Name, out var cost))
        {
            var served = problem.Aims.Count(a => a is DisplayAim wish && wish.Of.Counts(taxon.Taxon));
            butterflyDays[taxon.Name] = cost = (double)taxon.Later!.LandedPrice
                / Math.Max(1e-6, taxon.UsualRate.Mean * taxon.Stock.Survival.MeanDaysCounted) / Math.Max(1, served);
        }

        return cost;
    }

    // The chance that no later order can bring one more of the taxon by this day.
    private double Urgency(PlanTaxon taxon, int day)
    {
        if (taxon.Later is not { } later)
            return 1;
        var none = 1.0;
        foreach (var arrives in problem.LaterArrivals)
        {
            var since = day - (arrives.DayNumber - problem.OrderDay.DayNumber);
            none *= 1 - (later.WeeklyChance * (1 - taxon.Timing.NotBefore(Math.Max(0, since + 1))));
        }

        return none;
    }

    // What is settled will be paid, whatever the budget says.
    private double SettledCost(List<Item> items)
    {
        var cost = 0.0;
        foreach (var slot in slots)
        {
            var own = items.Where(i => i.IsSettled && i.Slot == slot).ToList();
            var goods = own.Sum(i => (double)Item.GoodsOf(i.Offer, i.Choices[0]));
            cost += (goods * slot.GoodsFactor) + slot.FixedCost(own.Sum(i => i.Choices[0]), goods);
        }

        return cost;
    }

    private static List<T> ListOf<T>(Dictionary<string, List<T>> lists, string key)
    {
        if (!lists.TryGetValue(key, out var list))
            lists[key] = list = [];
        return list;
    }

    /// <summary>
    /// What one butterfly short on one day is worth at importance 1: as given, or from everything on the lists, whatever the rules. A line
    /// that the keeper forbids must not change what a butterfly is worth.
    /// </summary>
    public static decimal WorthOf(PlanProblem problem)
    {
        if (problem.Settings.WorthOfOneShort is { } given)
            return given;
        var factor = problem.Suppliers.ToDictionary(s => s.Name, s => LandedFactor(s, true));
        var prices = problem.Offers.Select(o => (double)o.Price * factor[o.Supplier]).Order().ToList();
        return prices.Count == 0 ? 1 : (decimal)Math.Max(0.01, 5 * prices[prices.Count / 2]);
    }

    /// <summary>Every delivery that could be ordered.</summary>
    internal static IReadOnlyList<Slot> SlotsOf(PlanProblem problem) => [.. Slots(problem)];

    private static IEnumerable<Slot> Slots(PlanProblem problem)
    {
        var index = 0;
        var offers = problem.Offers.ToDictionary(o => o.Id, o => o.Supplier);
        var agreed = problem.Settled.Where(s => s.Pupae > 0).Select(s => (offers[s.Offer], s.Arrives)).ToHashSet();
        foreach (var supplier in problem.Suppliers.OrderBy(s => s.Name, StringComparer.Ordinal))
        {
            foreach (var arrives in supplier.Arrives.Distinct().Order())
            {
                var day = arrives.DayNumber - problem.OrderDay.DayNumber;
                var closed = (supplier.ClosedDays.Contains(arrives) || problem.NoBoxesOn.Contains(arrives)) && !agreed.Contains((supplier.Name, arrives));
                if (day < 0 || day > problem.HorizonDays || closed)
                    continue;
                yield return new()
                {
                    Index = index++,
                    // Who has confirmed a delivery sends it, however small it became.
                    Supplier = agreed.Contains((supplier.Name, arrives)) ? supplier with { MinimumPupae = 0, MinimumGoods = 0 } : supplier,
                    Arrives = arrives,
                    ArrivalDay = day,
                    GoodsFactor = LandedFactor(supplier, true),
                    Ladders = Ladders(supplier),
                    OrderCharge = (double)supplier.Charges.Where(c => c.Per == PlanChargePer.Order).Sum(c => c.Amount)
                        * LandedFactor(supplier, supplier.CarriageTaxed),
                    Weight = 1 / (1 + supplier.FavouredBy),
                };
            }
        }
    }

    /// <summary>Landed house currency for one of the supplier's as printed.</summary>
    internal static double LandedFactor(PlanSupplier supplier, bool taxed)
    {
        var rate = (double)supplier.Rate;
        if (!taxed)
            return rate;
        var tax = 1 + (double)supplier.TaxRate;
        return supplier.PricesExcludeTax
            ? supplier.TaxReclaimed ? rate : rate * tax
            : supplier.TaxReclaimed ? rate / tax : rate;
    }

    private static List<Ladder> Ladders(PlanSupplier supplier)
    {
        // Beyond this many pupae no order of the trade goes; boxes are counted up to there.
        const int mostPupae = 20_000;
        var factor = LandedFactor(supplier, supplier.CarriageTaxed);
        var ladders = new List<Ladder>();
        var byPupae = new SortedDictionary<double, double>();
        var carriage = supplier.Carriage.OrderBy(c => c.From).ToList();
        if (supplier.CarriageBy == CarriageBy.Goods && carriage.Count > 0)
            ladders.Add(LadderOf(true, carriage.Select(c => ((double)c.From, (double)c.Cost * factor))));
        if (supplier.CarriageBy != CarriageBy.Goods)
        {
            var before = 0.0;
            foreach (var step in carriage)
            {
                var from = supplier.CarriageBy == CarriageBy.Grams
                    ? Math.Ceiling((double)step.From / supplier.GramsPerPupa - 1e-9)
                    : (double)step.From;
                byPupae[from] = byPupae.GetValueOrDefault(from) + (double)step.Cost - before;
                before = (double)step.Cost;
            }
        }

        foreach (var charge in supplier.Charges.Where(c => c.Per == PlanChargePer.Box))
        {
            for (var from = 1; from <= mostPupae; from += charge.BoxPupae)
                byPupae[from] = byPupae.GetValueOrDefault(from) + (double)charge.Amount;
        }

        if (byPupae.Count > 0)
        {
            var steps = new List<(double, double)>();
            var cost = 0.0;
            foreach (var (from, rise) in byPupae)
                steps.Add((from, (cost += rise) * factor));
            ladders.Add(LadderOf(false, steps));
        }

        return ladders;
    }

    // A first step at 0 or 1 begins at 0: a delivery of nothing has no carriage anyway.
    private static Ladder LadderOf(bool byGoods, IEnumerable<(double From, double Cost)> steps)
    {
        var (from, cost) = (new List<double> { 0 }, new List<double> { 0 });
        foreach (var step in steps)
        {
            if (step.From <= (byGoods ? 0 : 1))
            {
                cost[0] = step.Cost;
            }
            else
            {
                from.Add(step.From);
                cost.Add(step.Cost);
            }
        }

        return new(byGoods, [.. from], [.. cost]);
    }

    private List<Item> Items()
    {
        var items = new List<Item>();
        foreach (var offer in problem.Offers.OrderBy(o => o.Id, StringComparer.Ordinal))
        {
            var own = slots.Where(s => s.Supplier.Name == offer.Supplier
                && (offer.Arrives.Count == 0 || offer.Arrives.Contains(s.Arrives) || settled.Contains(offer.Id))).ToList();
            foreach (var slot in own)
            {
                var choices = Choices(offer, slot, own.Count > 1);
                if (choices is [0])
                    continue;
                var taxon = offer.Taxon is null ? null : taxa[offer.Taxon];
                items.Add(new()
                {
                    Index = items.Count,
                    Offer = offer,
                    Slot = slot,
                    Choices = choices,
                    IsSettled = settled.Contains(offer.Id),
                    Rate = taxon?.RateFrom(offer.Supplier) ?? EmergenceRate.Usual,
                    FliesGivenEmerged = taxon is null ? null : FliesGivenEmerged(taxon, slot),
                    Flies = ByShare(offer, taxon, t => Scaled(FliesGivenEmerged(t, slot), t.RateFrom(offer.Supplier).Mean)),
                    Hangs = ByShare(offer, taxon, t => Shifted(PupaOdds.Hanging(t.RateFrom(offer.Supplier).Mean, t.Timing, days), slot), slot),
                });
            }
        }

        return items;
    }

    private int[] Choices(PlanOffer offer, Slot slot, bool severalDays)
    {
        if (settled.Contains(offer.Id))
            return [settled[offer.Id].Where(s => s.Arrives == slot.Arrives).Sum(s => s.Pupae)];
        var (least, most) = (0, offer.Available ?? problem.Settings.MostOfALine);
        foreach (var rule in rules[offer.Id])
        {
            switch (rule.Kind)
            {
                case LineRuleKind.Fixed when severalDays:
                    most = rule.Pupae;
                    break;
                case LineRuleKind.Fixed:
                    return [rule.Pupae];
                case LineRuleKind.Forbidden:
                    return [0];
                case LineRuleKind.AtMost:
                    most = Math.Min(most, rule.Pupae);
                    break;
                case LineRuleKind.AtLeast:
                    least = severalDays ? 0 : Math.Max(least, rule.Pupae);
                    most = Math.Max(most, offer.Available ?? rule.Pupae);
                    break;
            }
        }

        if (slot.Supplier.Avoided || OrdersClosed(problem, slot.Supplier, offer) || offer.SoldOut || WhyNotKept(problem, taxa, offer) is not null)
            return [0];
        if (offer.Taxon is { } name && taxa[name].MostPupae is { } licence)
            most = Math.Min(most, licence);
        if (problem.PlacesOn(slot.Arrives) is { } places)
            most = Math.Min(most, (int)Math.Max(0, places - hanging[slot.ArrivalDay] + PlanModel.Tolerance));
        most = Math.Max(most, least);
        var choices = new List<int>();
        if (least == 0)
            choices.Add(0);
        for (var n = offer.Pack; n <= most; n += offer.Pack)
        {
            if (n >= Math.Max(1, Math.Max(least, offer.Minimum))
                && (problem.Spendable is not { } budget || (double)Item.GoodsOf(offer, n) * slot.GoodsFactor <= (double)budget + PlanModel.Tolerance))
            {
                choices.Add(n);
            }
        }

        // An empty choice is a clash that was found before; the smallest number stands for it.
        return choices.Count == 0 ? [least] : [.. choices];
    }

    /// <summary>True when a line can't be ordered any more on the order day.</summary>
    public static bool OrdersClosed(PlanProblem problem, PlanSupplier supplier, PlanOffer offer) =>
        supplier.TakesNoMore || problem.OrderDay > (offer.LastOrderDay ?? supplier.LastOrderDay);

    /// <summary>Why the house may not keep what a line brings, or null.</summary>
    public static string? WhyNotKept(PlanProblem problem, Dictionary<string, PlanTaxon> taxa, PlanOffer offer)
    {
        if (offer.Taxon is { } name)
            return taxa[name].KeepNot;
        // What of a mix is of a taxon whose number is limited nobody knows before it is there.
        if (offer.Mix.FirstOrDefault(m => m.Share > 0 && taxa[m.Taxon].MostPupae is not null) is { } limited)
            return $"the supplier may put any number of {limited.Taxon} in it, of which only so many may come";
        var barred = offer.Mix.Where(m => m.Share > 0 && taxa[m.Taxon].KeepNot is not null).Select(m => m.Taxon).FirstOrDefault();
        return barred is null ? null : $"the supplier may put {barred} in it, and {taxa[barred].KeepNot}";
    }

    private double[] FliesGivenEmerged(PlanTaxon taxon, Slot slot) =>
        Shifted(PupaOdds.Flying(1, taxon.Timing, taxon.Stock.Survival, days), slot);

    private double[] Shifted(double[] sinceArrival, Slot slot)
    {
        var shifted = new double[days];
        sinceArrival.AsSpan(0, days - slot.ArrivalDay).CopyTo(shifted.AsSpan(slot.ArrivalDay));
        return shifted;
    }

    private static double[] Scaled(double[] values, double factor) => [.. values.Select(v => v * factor)];

    // A mix is the mean of its taxa; what nobody knows of it hangs to the end and never flies.
    private double[] ByShare(PlanOffer offer, PlanTaxon? taxon, Func<PlanTaxon, double[]> of, Slot? unknownHangsFrom = null)
    {
        if (taxon is not null)
            return of(taxon);
        var sum = new double[days];
        var known = 0.0;
        foreach (var part in offer.Mix)
        {
            known += part.Share;
            var values = of(taxa[part.Taxon]);
            for (var day = 0; day < days; day++)
                sum[day] += part.Share * values[day];
        }

        if (unknownHangsFrom is not null)
        {
            for (var day = unknownHangsFrom.ArrivalDay; day < days; day++)
                sum[day] += Math.Max(0, 1 - known);
        }

        return sum;
    }

    private Share? ShareOf(PlanOffer offer, Slot slot, HashSet<string> group)
    {
        IReadOnlyList<MixShare> parts = offer.Taxon is { } name ? [new(name, 1)] : offer.Mix;
        var counted = parts.Where(p => group.Contains(p.Taxon)).ToList();
        if (counted.Count == 0)
            return null;
        var (mean, excess) = (new double[days], new double[days]);
        var of = counted.Select(p => (p.Share, Rate: taxa[p.Taxon].RateFrom(offer.Supplier), Flies: FliesGivenEmerged(taxa[p.Taxon], slot))).ToList();
        for (var day = 0; day < days; day++)
            (mean[day], excess[day]) = OfPupa(of.Select(p => (p.Share, p.Rate, p.Flies[day])), offer.Taxon is null ? offer.MixCertainty : double.PositiveInfinity);
        return new(mean, excess);
    }

    /// <summary>
    /// Chance that a pupa of a lot is one of these taxa and flies, and the covariance of two pupae of the lot: they share the lot's unknown rate
    /// of each taxon, and the make-up, which is Dirichlet with this concentration.
    /// </summary>
    internal static (double Mean, double Covariance) OfPupa(IEnumerable<(double Share, EmergenceRate Rate, double Flies)> parts, double makeUp)
    {
        // E(p_i p_j) is s_i·s_j·shared, for i = j plus s_i·apart.
        var (shared, apart) = double.IsPositiveInfinity(makeUp) ? (1, 0) : (makeUp / (makeUp + 1), 1 / (makeUp + 1));
        var (mean, own) = (0.0, 0.0);
        foreach (var (share, rate, flies) in parts)
        {
            mean += share * rate.Mean * flies;
            var squared = SquaredMean(rate);
            own += flies * flies * ((share * share * shared * (squared - (rate.Mean * rate.Mean))) + (share * apart * squared));
        }

        return (mean, own + ((shared - 1) * mean * mean));
    }

    /// <summary>E(p²) of a new lot's own rate p: the unknown mean and the lot's spread around it.</summary>
    internal static double SquaredMean(EmergenceRate rate)
    {
        var ofMean = double.IsPositiveInfinity(rate.Certainty)
            ? rate.Mean * rate.Mean
            : (rate.Mean * rate.Mean) + (rate.Mean * (1 - rate.Mean) / (rate.Certainty + 1));
        return double.IsPositiveInfinity(rate.LotConcentration)
            ? ofMean
            : ((rate.LotConcentration * ofMean) + rate.Mean) / (rate.LotConcentration + 1);
    }

    private (List<Block> Blocks, double Constant) Blocks(
        List<Item> items, Dictionary<string, List<DayWish>> wishes, Dictionary<string, List<PairWish>> pairs,
        List<(int Aim, DayAim Wish, HashSet<string> Members)> groups)
    {
        var blocks = new List<Block>();
        var constant = 0.0;
        var several = slots.GroupBy(s => s.Supplier.Name).Where(g => g.Count() > 1).Select(g => g.Key).ToHashSet();
        void Add(PlanTaxon? taxon, Item[] members, IReadOnlyList<DayWish> w, IReadOnlyList<PairWish> p, int[] presence)
        {
            var sums = new List<SumRule>();
            foreach (var offer in members.Where(i => !i.IsSettled).GroupBy(i => i.Offer.Id).Where(g => several.Contains(g.First().Offer.Supplier)))
                sums.Add(SumOf(offer.First().Offer, [.. offer.Select(i => Array.IndexOf(members, i))]));
            if (taxon?.MostPupae is { } most)
                sums.Add(new([.. Enumerable.Range(0, members.Length)], 0, Math.Max(most, members.Where(i => i.IsSettled).Sum(i => i.Choices[0]))));
            var block = new Block(blocks.Count, taxon, members, w, p, presence, sums, taxon is null ? null : Own(taxon));
            for (var place = 0; place < members.Length; place++)
                (members[place].Block, members[place].PlaceInBlock) = (block.Index, place);
            blocks.Add(block);
        }

        foreach (var taxon in problem.Taxa.OrderBy(t => t.Name, StringComparer.Ordinal))
        {
            var members = items.Where(i => i.Offer.Taxon == taxon.Name).ToArray();
            var w = wishes.GetValueOrDefault(taxon.Name) ?? [];
            var p = pairs.GetValueOrDefault(taxon.Name) ?? [];
            if (members.Length == 0)
            {
                if (w.Count + p.Count > 0)
                    constant += new Block(0, taxon, [], w, p, [], [], Own(taxon)).Of([]).Shortage;
                continue;
            }

            var presence = groups.Where(g => g.Wish is VarietyAim && g.Members.Contains(taxon.Name))
                .SelectMany(g => DaysOf(problem, g.Wish)).Where(d => members.Any(i => i.Flies[d] > 0)).Distinct().Order().ToArray();
            if (w.Count + p.Count + presence.Length > 0 || taxon.MostPupae is not null)
            {
                Add(taxon, members, w, p, presence);
            }
            else
            {
                foreach (var offer in members.GroupBy(i => i.Offer.Id))
                    Add(taxon, [.. offer], [], [], []);
            }
        }

        foreach (var offer in items.Where(i => i.Offer.Taxon is null).GroupBy(i => i.Offer.Id))
            Add(null, [.. offer], [], [], []);
        return (blocks, constant);
    }

    private IReadOnlyList<CountDistribution> Own(PlanTaxon taxon) =>
        own.TryGetValue(taxon.Name, out var byDay) ? byDay : [.. Enumerable.Repeat(CountDistribution.Certain(0), days)];

    private SumRule SumOf(PlanOffer offer, int[] places)
    {
        var (least, most) = (0, offer.Available ?? int.MaxValue);
        foreach (var rule in rules[offer.Id])
        {
            (least, most) = rule.Kind switch
            {
                LineRuleKind.Fixed => (rule.Pupae, rule.Pupae),
                LineRuleKind.AtLeast => (rule.Pupae, most),
                LineRuleKind.AtMost => (least, Math.Min(most, rule.Pupae)),
                _ => (least, most),
            };
        }

        return new(places, least, most);
    }

    private GroupDay GroupDayOf(
        int aim, DayAim wish, HashSet<string> members, int day, List<Item> items, List<HashSet<string>> sets, List<double[]> spread, double worth)
    {
        var variety = wish is VarietyAim;
        var group = variety ? -1 : sets.FindIndex(s => s.SetEquals(members));
        var (mean, variance) = (0.0, 0.0);
        // Of a species that is offered the block knows what is there; here it only helps to guess the spread.
        var (elsewhereMean, elsewhereVariance) = (0.0, 0.0);
        var offered = items.Where(i => i.Offer.Taxon is not null && i.Flies[day] > 0).Select(i => i.Offer.Taxon!).ToHashSet();
        foreach (var name in members.Order(StringComparer.Ordinal).Where(own.ContainsKey))
        {
            var there = own[name][day];
            var (m, v) = variety ? (1 - there[0], there[0] * (1 - there[0])) : (there.Mean, there.Variance);
            if (variety && offered.Contains(name))
                (elsewhereMean, elsewhereVariance) = (elsewhereMean + m, elsewhereVariance + v);
            else
                (mean, variance) = (mean + m, variance + v);
        }

        // The variance that a count of the wanted size would have: own stock, and the rest from lots of the usual size.
        var missing = Math.Max(0, wish.AtLeast - mean - elsewhereMean);
        var expected = variance + elsewhereVariance + (missing * (variety ? UsualSpreadOfPresence : spread[group][day]));
        // Variety must not be punished for a chance of presence that nears certainty: spread weighs less than the mean.
        var mostVarianceFactor = variety ? 0.9 : double.PositiveInfinity;
        return new()
        {
            Aim = aim,
            Group = group,
            Day = day,
            Worth = worth,
            OwnMean = mean,
            OwnVariance = variance,
            Planes = wish.Sure is { } sure
                ? [Planes.Sure(wish.AtLeast, sure, expected, mostVarianceFactor)]
                : Planes.Expected(wish.AtLeast, expected, mostVarianceFactor),
        };
    }

    // A species that counts is there with a chance near 0.8 to 0.95.
    private const double UsualSpreadOfPresence = 0.15;

    // By day: variance for one of the mean of a group, in lots of the usual size of every line, weighted by what is worth buying for the
    // day.
    private double[] Spread(HashSet<string> group)
    {
        const int usualLot = 10;
        var (means, variances) = (new double[days], new double[days]);
        foreach (var offer in problem.Offers.OrderBy(o => o.Id, StringComparer.Ordinal))
        {
            foreach (var slot in slots.Where(s => s.Supplier.Name == offer.Supplier))
            {
                if (ShareOf(offer, slot, group) is not { } share)
                    continue;
                for (var day = 0; day < days; day++)
                {
                    var chance = share.Mean[day];
                    means[day] += chance * chance;
                    variances[day] += chance * ((chance * (1 - chance)) + ((usualLot - 1) * share.Excess[day]));
                }
            }
        }

        return [.. means.Zip(variances, (m, v) => m > 0 ? v / m : 0)];
    }

    private List<RoomDay> Rooms(List<Item> items)
    {
        var rooms = new List<RoomDay>();
        if (problem.CagePlaces is { } places)
        {
            // Between arrivals places only fall free, so the days of arrival are the full ones.
            var arrivals = slots.Select(s => s.ArrivalDay)
                .Concat(problem.Taxa.SelectMany(t => t.Stock.Lots).Where(l => l.Hanging > 0 && l.DaysHanging < 0).Select(l => -l.DaysHanging))
                .Where(d => d < days).Distinct().Order();
            rooms.AddRange(arrivals.Where(_ => problem.CagePlacesOn.Count == 0).Select(day => new RoomDay(day, Math.Max(0, places - hanging[day]), true)));
        }

        if (problem.CagePlacesOn.Count > 0)
        {
            for (var day = 0; day < days; day++)
            {
                if (problem.PlacesOn(problem.OrderDay.AddDays(day)) is { } here)
                    rooms.Add(new(day, Math.Max(0, here - hanging[day]), true));
            }
        }

        if (problem.FlyingCeiling is { } ceiling)
            rooms.AddRange(Enumerable.Range(0, days).Select(day => new RoomDay(day, Math.Max(0, ceiling - flying[day]), false)));
        // What is settled takes its room, whether there is any or not.
        return
        [
            .. rooms.Where(room => items.Any(item => room.Takes(item) > 0))
                .Select(room => room with { Room = Math.Max(room.Room, items.Where(i => i.IsSettled).Sum(i => room.Takes(i) * i.Choices[0])) }),
        ];
    }
}
