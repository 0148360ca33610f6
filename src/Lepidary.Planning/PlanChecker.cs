using System.Globalization;
using Lepidary.Science.Counts;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;

namespace Lepidary.Planning;

/// <summary>
/// Judges a plan against its problem by its own arithmetic: it shares no code with the search or with what writes plans. Slow and
/// plain on purpose: sums are written out day by day and pupa by pupa.
/// </summary>
public static class PlanChecker
{
    private const double SameOdds = 1e-7;

    /// <summary>Everything that is wrong with a plan, one sentence each; none when it keeps every rule and its figures are right.</summary>
    /// <param name="problem">A problem that can be planned.</param>
    /// <param name="plan">A plan for it, complete with odds.</param>
    public static IReadOnlyList<string> Check(PlanProblem problem, Plan plan) => Compare(problem, plan).Faults;

    /// <summary>The same, with what was reckoned again beside what the plan says.</summary>
    /// <param name="problem">A problem that can be planned.</param>
    /// <param name="plan">A plan for it, complete with odds.</param>
    public static PlanCheck Compare(PlanProblem problem, Plan plan)
    {
        ArgumentNullException.ThrowIfNull(problem);
        ArgumentNullException.ThrowIfNull(plan);
        var judge = new Judge(problem, plan);
        judge.Lines();
        judge.Orders();
        judge.Limits();
        judge.Odds();
        return new(judge.Compared, judge.Faults);
    }

    private sealed class Judge(PlanProblem problem, Plan plan)
    {
        private readonly int days = problem.HorizonDays + 1;

        public List<string> Faults { get; } = [];

        public List<PlanComparison> Compared { get; } = [];

        public void Lines()
        {
            Answers();
            foreach (var line in plan.Lines.Where(l => !l.Settled))
            {
                var offer = problem.Offers.Single(o => o.Id == line.Offer);
                var supplier = problem.Suppliers.Single(s => s.Name == offer.Supplier);
                Need(line.Supplier == offer.Supplier && line.Taxon == offer.Taxon, $"{line.Offer}: another supplier or taxon than the list's.");
                Need(line.Pupae > 0 && line.Pupae % offer.Pack == 0 && line.Packs * offer.Pack == line.Pupae, $"{line.Offer}: {line.Pupae} pupae are not whole packs of {offer.Pack}.");
                Need(line.Pupae >= offer.Minimum, $"{line.Offer}: {line.Pupae} pupae are below the minimum of {offer.Minimum}.");
                Need(!offer.SoldOut, $"{line.Offer}: sold out.");
                Need(!(problem.OrderDay > (offer.LastOrderDay ?? supplier.LastOrderDay)), $"{line.Offer}: orders closed before {problem.OrderDay:yyyy-MM-dd}.");
                Need(offer.Arrives.Count == 0 || offer.Arrives.Contains(line.Arrives), $"{line.Offer}: this line does not arrive on {line.Arrives:yyyy-MM-dd}.");
                Need(!supplier.ClosedDays.Contains(line.Arrives) && !problem.NoBoxesOn.Contains(line.Arrives), $"{line.Offer}: no box can arrive on {line.Arrives:yyyy-MM-dd}.");
                Need(!supplier.TakesNoMore, $"{line.Offer}: its supplier takes nothing more.");
                Need(!supplier.Avoided, $"{line.Offer}: its supplier is to be avoided.");
                Need(supplier.Arrives.Contains(line.Arrives) && line.Arrives >= problem.OrderDay, $"{line.Offer}: nothing arrives on {line.Arrives:yyyy-MM-dd}.");
                Priced(line, offer);
                Need(offer.Taxon is not null || offer.Mix.All(m => m.Share <= 0 || Taxon(m.Taxon).MostPupae is null), $"{line.Offer}: a mix with a taxon of which only so many may come.");
                foreach (var name in offer.Taxon is null ? offer.Mix.Where(m => m.Share > 0).Select(m => m.Taxon) : [offer.Taxon])
                    Need(Taxon(name).KeepNot is null, $"{line.Offer}: the house may not keep {name}.");
            }

            var planned = plan.Lines.Where(l => !l.Settled).ToList();
            Compared.Add(new("goods of the lines, as printed", "prices", planned.Sum(l => (double)GoodsAgain(l)), planned.Sum(l => (double)l.Goods)) { Figures = planned.Count });
            foreach (var bought in planned.GroupBy(l => l.Offer))
            {
                var available = problem.Offers.Single(o => o.Id == bought.Key).Available;
                Need(available is null || bought.Sum(l => l.Pupae) <= available, $"{bought.Key}: more than the {available} there are.");
                Need(bought.GroupBy(l => l.Arrives).All(g => g.Count() == 1), $"{bought.Key}: twice in one delivery.");
            }
        }

        // Pupa by pupa: each at the price that holds for it.
        private void Priced(PlanLine line, PlanOffer offer)
        {
            var goods = 0m;
            for (var pupa = 1; pupa <= line.Pupae; pupa++)
            {
                var (counted, price) = (offer.BreaksHold == BreakHolds.FromThere ? pupa : line.Pupae, offer.Price);
                foreach (var step in offer.Breaks.OrderBy(b => b.From))
                    price = step.From <= counted ? step.Price : price;
                goods += price;
            }

            Need(line.Goods == goods, $"{line.Offer}: {line.Pupae} pupae are {goods}, not {line.Goods} at {line.UnitPrice}.");
            Need(Math.Abs(line.UnitPrice - (goods / line.Pupae)) <= (offer.BreaksHold == BreakHolds.FromThere ? 0.00005m : 0), $"{line.Offer}: each costs {goods / line.Pupae}, not {line.UnitPrice}.");
        }

        // Every answer is in the plan as it was given, and nothing else of a line that was answered.
        private void Answers()
        {
            foreach (var answer in problem.Settled.Where(s => s.Pupae > 0))
            {
                var ordered = problem.Offers.Single(o => o.Id == answer.Offer);
                var lines = plan.Lines.Where(l => l.Settled && l.Supplier == ordered.Supplier && l.Arrives == answer.Arrives
                    && l.Taxon == (answer.Instead ?? ordered.Taxon) && (answer.Instead is null ? l.Offer == answer.Offer : l.Offer.StartsWith(answer.Offer, StringComparison.Ordinal))).ToList();
                Need(lines.Count == 1, $"{answer.Offer}: answered with {answer.Pupae} for {answer.Arrives:yyyy-MM-dd}; the plan has {lines.Count} such lines.");
                if (lines.Count != 1)
                    continue;
                Need(lines[0].Pupae == answer.Pupae, $"{answer.Offer}: {lines[0].Pupae} pupae, though {answer.Pupae} are settled.");
                Priced(lines[0], answer.UnitPrice is { } agreed ? ordered with { Price = agreed, Breaks = [] } : ordered);
            }

            Need(plan.Lines.Count(l => l.Settled) == problem.Settled.Count(s => s.Pupae > 0), $"The plan calls lines settled that nobody has answered.");
            foreach (var line in plan.Lines.Where(l => !l.Settled && problem.Settled.Any(s => s.Offer == l.Offer)))
                Need(false, $"{line.Offer}: {line.Pupae} pupae beside what was answered.");
        }

        public void Orders()
        {
            foreach (var group in plan.Lines.GroupBy(l => (l.Supplier, l.Arrives)))
            {
                var (name, arrives) = group.Key;
                var orders = plan.Orders.Where(o => o.Supplier == name && o.Arrives == arrives).ToList();
                Need(orders.Count == 1, $"{name}: {orders.Count} orders for {arrives:yyyy-MM-dd}; one is right.");
                if (orders.Count == 1)
                    Order(orders[0], [.. group]);
            }

            Need(plan.Orders.Count == plan.Lines.GroupBy(l => (l.Supplier, l.Arrives)).Count(), $"An order has no lines.");
            Need(plan.Total == plan.Orders.Sum(o => o.TotalInHouse), $"The total is {plan.Total}; the orders sum to {plan.Orders.Sum(o => o.TotalInHouse)}.");
            Compared.Add(new("landed, all orders", problem.Currency, (double)plan.Lines.Sum(l => l.Landed), (double)plan.Total));
            Need(plan.Total == plan.Lines.Sum(l => l.Landed), $"The lines' landed costs sum to {plan.Lines.Sum(l => l.Landed)}, not {plan.Total}.");
        }

        public void Limits()
        {
            // Each order is rounded to a penny, so a budget can be passed by half a penny an order.
            var slack = 0.005m * plan.Orders.Count;
            var settledCost = plan.Lines.Where(l => l.Settled).GroupBy(l => (l.Supplier, l.Arrives)).Sum(g => Landed(problem.Suppliers.Single(s => s.Name == g.Key.Supplier), [.. g]));
            if (problem.Budget is { } budget)
                Compared.Add(new("budget", problem.Currency, (double)plan.Total, null) { Limit = (double)budget });
            Need(problem.Budget is null || plan.Total <= Math.Max(problem.Budget.Value, settledCost) + slack, $"The orders cost {plan.Total}; the budget is {problem.Budget}.");
            Need(problem.SeasonBudget is null || plan.Total <= Math.Max(problem.SeasonBudget.Value, settledCost) + slack, $"The orders cost {plan.Total}; the season has {problem.SeasonBudget} left.");
            foreach (var rule in problem.Rules)
            {
                var pupae = plan.Lines.Where(l => l.Offer == rule.Offer).Sum(l => l.Pupae);
                var kept = rule.Kind switch
                {
                    LineRuleKind.Fixed => pupae == rule.Pupae,
                    LineRuleKind.Forbidden => pupae == 0,
                    LineRuleKind.AtLeast => pupae >= rule.Pupae,
                    LineRuleKind.AtMost => pupae <= rule.Pupae,
                    _ => false,
                };
                Need(kept, $"{rule.Offer}: {pupae} pupae, though the keeper set {rule.Kind} {rule.Pupae}.");
            }

            foreach (var taxon in problem.Taxa.Where(t => t.MostPupae is not null))
            {
                var pupae = plan.Lines.Where(l => l.Taxon == taxon.Name).Sum(l => l.Pupae);
                Compared.Add(new($"most of {taxon.Name}", "pupae", pupae, null) { Limit = taxon.MostPupae });
                Need(pupae <= Math.Max(taxon.MostPupae ?? 0, plan.Lines.Where(l => l.Settled && l.Taxon == taxon.Name).Sum(l => l.Pupae)), $"{taxon.Name}: {pupae} pupae; at most {taxon.MostPupae} may come.");
            }

            var (mostHanging, mostFlying) = (0.0, 0.0);
            for (var day = 0; day < days; day++)
            {
                var (ownHanging, ownFlying) = (problem.Taxa.Sum(t => t.Stock.Lots.Sum(l => Hanging(l, day))), problem.Taxa.Sum(t => OwnMean(t, day)));
                var (hanging, flying) = (0.0, 0.0);
                var (settledHanging, settledFlying) = (0.0, 0.0);
                foreach (var line in plan.Lines)
                {
                    foreach (var (taxon, share) in Parts(line))
                    {
                        var since = Since(line, day);
                        var hangs = share * line.Pupae * (taxon is null ? since >= 0 ? 1 : 0 : HangsAfter(taxon.RateFrom(line.Supplier).Mean, taxon.Timing, since));
                        var flies = taxon is null ? 0 : share * line.Pupae * taxon.RateFrom(line.Supplier).Mean * FliesAfter(taxon, since);
                        (hanging, flying) = (hanging + hangs, flying + flies);
                        if (line.Settled)
                            (settledHanging, settledFlying) = (settledHanging + hangs, settledFlying + flies);
                    }
                }

                (mostHanging, mostFlying) = (Math.Max(mostHanging, ownHanging + hanging), Math.Max(mostFlying, ownFlying + flying));
                var date = problem.OrderDay.AddDays(day);
                if ((problem.CagePlacesOn.TryGetValue(date, out var that) ? that : problem.CagePlaces) is { } places)
                    Need(hanging <= Math.Max(settledHanging, Math.Max(0, places - ownHanging)) + 1e-4, $"Day {day}: {ownHanging + hanging:0.0} hang; there are {places} places.");
                if (problem.FlyingCeiling is { } ceiling)
                    Need(flying <= Math.Max(settledFlying, Math.Max(0, ceiling - ownFlying)) + 1e-4, $"Day {day}: {ownFlying + flying:0.0} fly; the ceiling is {ceiling}.");
            }

            Compared.Add(new("hanging on the fullest day", "mean", mostHanging, null) { Limit = problem.CagePlaces, Figures = days });
            Compared.Add(new("flying on the fullest day", "mean", mostFlying, null) { Limit = problem.FlyingCeiling, Figures = days });
        }

        public void Odds()
        {
            foreach (var aim in problem.Aims)
            {
                var told = plan.Aims.SingleOrDefault(a => a.Aim == aim.Id);
                Need(told is not null, $"Aim {aim.Words} has no odds.");
                if (told is null)
                    continue;
                if (aim is BreedingAim breeding)
                {
                    var chance = Enumerable.Range(0, days).Max(day => BothSexes(breeding.NewBlood ? Fresh(Taxon(breeding.Taxon), day) : Of(Taxon(breeding.Taxon), day, true), breeding.Pairs, Taxon(breeding.Taxon).FemaleShare));
                    Compared.Add(new(aim.Words, "chance", chance, told.Days[0].With) { Figures = days });
                    Need(Math.Abs(chance - told.Days[0].With) < SameOdds, $"Aim {aim.Words}: the chance is {chance:0.000000}, not {told.Days[0].With:0.000000}.");
                    continue;
                }

                var wish = (DayAim)aim;
                var counted = Enumerable.Range(0, days).Select(problem.OrderDay.AddDays).Where(d => Counts(wish, d)).ToList();
                Need(counted.SequenceEqual(told.Days.Select(d => d.Day)), $"Aim {aim.Words}: other days than its own.");
                var pairs = new List<(double Reckoned, double Said, bool Ordered)>();
                foreach (var day in told.Days)
                {
                    foreach (var (ordered, said) in new[] { (true, day.With), (false, day.Without) })
                    {
                        var chance = AtLeast(wish, day.Day.DayNumber - problem.OrderDay.DayNumber, ordered);
                        pairs.Add((chance, said, ordered));
                        Need(Math.Abs(chance - said) < SameOdds, $"Aim {aim.Words}, {day.Day:yyyy-MM-dd}: the chance is {chance:0.000000}, not {said:0.000000}.");
                    }

                    Need(aim.Sure is null || day.Met == day.With >= aim.Sure - 1e-9, $"Aim {aim.Words}, {day.Day:yyyy-MM-dd}: met is said wrongly.");
                }

                if (pairs.Count > 0)
                {
                    var shown = pairs.OrderByDescending(p => Math.Abs(p.Reckoned - p.Said) >= SameOdds ? Math.Abs(p.Reckoned - p.Said) : 0)
                        .ThenByDescending(p => p.Ordered).ThenBy(p => p.Reckoned).First();
                    Compared.Add(new(aim.Words, "chance", shown.Reckoned, shown.Said) { Figures = pairs.Count });
                }
            }
        }

        private void Need(bool good, FormattableString otherwise)
        {
            if (!good)
                Faults.Add(otherwise.ToString(CultureInfo.InvariantCulture));
        }

        private void Order(SupplierOrder order, List<PlanLine> lines)
        {
            var supplier = problem.Suppliers.Single(s => s.Name == order.Supplier);
            var (pupae, printed) = (lines.Sum(l => l.Pupae), lines.Sum(l => l.Goods));
            Need(order.Pupae == pupae, $"{supplier.Name}: {pupae} pupae, not {order.Pupae}.");
            var agreed = lines.Any(l => l.Settled);
            Need(agreed || pupae >= supplier.MinimumPupae, $"{supplier.Name}: {pupae} pupae; the minimum is {supplier.MinimumPupae}.");
            Need(agreed || printed >= supplier.MinimumGoods, $"{supplier.Name}: goods of {printed}; the minimum is {supplier.MinimumGoods}.");
            var (landed, carriage, charges, tax) = Cost(supplier, lines);
            void Same(string what, decimal reckoned, decimal said)
            {
                Compared.Add(new($"{supplier.Name}: {what}", supplier.Currency, (double)reckoned, (double)said));
                Need(Math.Abs(reckoned - said) < 1e-9m, $"{supplier.Name}: {what} {reckoned:0.0000} {supplier.Currency}, not {said:0.0000}.");
            }

            Same("carriage", carriage, order.Carriage);
            Same("charges", charges, order.Charges);
            Same("tax", tax, order.Tax);
            Compared.Add(new($"{supplier.Name}: landed", supplier.Currency, (double)landed, (double)order.Total));
            Need(Math.Abs(order.Total - landed) < 1e-9m, $"{supplier.Name}: costs {landed:0.0000} {supplier.Currency}, not {order.Total:0.0000}.");
            Need(Math.Abs(order.Goods + order.Carriage + order.Charges + order.Tax - order.Total) < 1e-9m, $"{supplier.Name}: the parts do not make the total.");
            Need(Math.Abs(order.TotalInHouse - (landed * supplier.Rate)) <= 0.0050001m, $"{supplier.Name}: {landed * supplier.Rate:0.0000} {problem.Currency}, not {order.TotalInHouse}.");
        }

        // What a delivery of these lines costs, house currency.
        private static decimal Landed(PlanSupplier supplier, List<PlanLine> lines) => Cost(supplier, lines).Landed * supplier.Rate;

        // The same with its parts without tax and the tax that stays, supplier's currency.
        private static (decimal Landed, decimal Carriage, decimal Charges, decimal Tax) Cost(PlanSupplier supplier, List<PlanLine> lines)
        {
            var (pupae, printed) = (lines.Sum(l => l.Pupae), lines.Sum(l => l.Goods));
            var amount = supplier.CarriageBy == CarriageBy.Pupae ? pupae
                : supplier.CarriageBy == CarriageBy.Goods ? printed
                : (decimal)(pupae * supplier.GramsPerPupa);
            var carriage = 0m;
            foreach (var step in supplier.Carriage.OrderBy(s => s.From))
                carriage = step.From <= amount ? step.Cost : carriage;
            var charges = 0m;
            foreach (var charge in supplier.Charges)
                charges += charge.Per == PlanChargePer.Order ? charge.Amount : charge.Amount * (int)Math.Ceiling(pupae / (double)charge.BoxPupae);
            var due = printed * (supplier.PricesExcludeTax ? 1 + supplier.TaxRate : 1);
            var carried = (carriage + charges) * (supplier.CarriageTaxed && supplier.PricesExcludeTax ? 1 + supplier.TaxRate : 1);
            if (supplier.TaxReclaimed)
            {
                due /= 1 + supplier.TaxRate;
                carried /= supplier.CarriageTaxed ? 1 + supplier.TaxRate : 1;
            }

            decimal Net(decimal amount, bool taxed) => taxed && !supplier.PricesExcludeTax ? amount / (1 + supplier.TaxRate) : amount;
            var (goods, carriageNet, chargesNet) = (Net(printed, true), Net(carriage, supplier.CarriageTaxed), Net(charges, supplier.CarriageTaxed));
            return (due + carried, carriageNet, chargesNet, due + carried - goods - carriageNet - chargesNet);
        }

        private decimal GoodsAgain(PlanLine line)
        {
            var offer = problem.Offers.Single(o => o.Id == line.Offer);
            var price = offer.Price;
            foreach (var step in offer.Breaks.OrderBy(b => b.From))
                price = line.Pupae >= step.From ? step.Price : price;
            return price * line.Pupae;
        }

        private PlanTaxon Taxon(string name) => problem.Taxa.Single(t => t.Name == name);

        private int Since(PlanLine line, int day) => problem.OrderDay.AddDays(day).DayNumber - line.Arrives.DayNumber;

        private IEnumerable<(PlanTaxon? Taxon, double Share)> Parts(PlanLine line)
        {
            if (line.Taxon is not null)
                return [(Taxon(line.Taxon), 1)];
            var mix = problem.Offers.Single(o => o.Id == line.Offer).Mix;
            return [.. mix.Select(m => ((PlanTaxon?)Taxon(m.Taxon), m.Share)), (null, Math.Max(0, 1 - mix.Sum(m => m.Share)))];
        }

        private bool Counts(DayAim aim, DateOnly day) =>
            !(day < aim.From) && !(day > aim.To) && (aim.Days.Count == 0 || aim.Days.Contains(day.DayOfWeek))
            && (problem.OpenDays is null || problem.OpenDays.Contains(day));

        // Emerged by then and alive, day of emergence by day of emergence.
        private static double FliesAfter(PlanTaxon taxon, int since)
        {
            var chance = 0.0;
            for (var emerged = 0; emerged <= since; emerged++)
                chance += taxon.Timing[emerged] * taxon.Stock.Survival[since - emerged];
            return chance;
        }

        // Not emerged by the end of the day; the dead are given up the day after 99 of 100 of the living are out.
        private static double HangsAfter(double emergence, EmergenceTiming timing, int since)
        {
            if (since < 0)
                return 0;
            var (living, dead) = (1.0, 1.0);
            var before = 0.0;
            for (var day = 0; day <= since; day++)
            {
                living -= timing[day];
                if (day > 0)
                    before += timing[day - 1];
                if (before >= 0.99 - 1e-9)
                    dead = 0;
            }

            return (emergence * Math.Max(0, living)) + ((1 - emergence) * (since > timing.LastDay ? 0 : dead));
        }

        private static double Hanging(HangingLot lot, int day)
        {
            var since = lot.DaysHanging + day;
            if (since < 0)
                return 0;
            var now = lot.DaysHanging <= 0 ? 1 : HangsAfter(lot.Rate.Mean, lot.Timing, lot.DaysHanging - 1);
            return lot.Hanging * (now > 0 ? HangsAfter(lot.Rate.Mean, lot.Timing, since) / now : 1);
        }

        private double OwnMean(PlanTaxon taxon, int day)
        {
            var masses = Of(taxon, day, false);
            var mean = 0.0;
            for (var k = 0; k < masses.Length; k++)
                mean += k * masses[k];
            return mean;
        }

        private readonly Dictionary<string, IReadOnlyList<CountDistribution>> own = [];
        private readonly Dictionary<(string, int, bool), double[]> cache = [];

        private double[] Of(PlanTaxon taxon, int day, bool ordered)
        {
            if (cache.TryGetValue((taxon.Name, day, ordered), out var known))
                return known;
            if (!own.TryGetValue(taxon.Name, out var byDay))
                own[taxon.Name] = byDay = FlyingForecast.Of(taxon.Stock, days);
            var sum = byDay[day].Masses.ToArray();
            foreach (var line in plan.Lines.Where(l => ordered && l.Taxon == taxon.Name))
                sum = Sum(sum, Thinned(taxon.RateFrom(line.Supplier).Forecast(line.Pupae).Masses, FliesAfter(taxon, Since(line, day))));
            return cache[(taxon.Name, day, ordered)] = sum;
        }

        private double[] Fresh(PlanTaxon taxon, int day)
        {
            double[] sum = [1];
            foreach (var line in plan.Lines.Where(l => l.Taxon == taxon.Name))
                sum = Sum(sum, Thinned(taxon.RateFrom(line.Supplier).Forecast(line.Pupae).Masses, FliesAfter(taxon, Since(line, day))));
            return sum;
        }

        private double AtLeast(DayAim aim, int day, bool ordered)
        {
            var members = problem.Taxa.Where(t => aim.Of.Counts(t.Taxon)).ToList();
            double[] sum = [1];
            foreach (var taxon in members)
            {
                var masses = Of(taxon, day, ordered);
                sum = Sum(sum, aim is VarietyAim ? [masses[0], 1 - masses[0]] : masses);
            }

            if (aim is DisplayAim && ordered && members.Count > 1)
            {
                foreach (var line in plan.Lines.Where(l => l.Taxon is null))
                    sum = Sum(sum, Mixed(line, members, day));
            }

            var chance = 1.0;
            for (var k = 0; k < Math.Min(aim.AtLeast, sum.Length); k++)
                chance -= sum[k];
            return Math.Max(0, chance);
        }

        // Binomial or beta-binomial masses from log-gamma free products.
        private double[] Mixed(PlanLine line, List<PlanTaxon> members, int day)
        {
            // Two pupae of a lot, taxon by taxon: both fly. The make-up is an urn: the second is drawn after the first was put back double.
            var known = problem.Offers.Single(o => o.Id == line.Offer).MixCertainty;
            var (mean, twice, most) = (0.0, 0.0, 0.0);
            var counted = Parts(line).Where(p => p.Taxon is not null && members.Contains(p.Taxon)).ToList();
            foreach (var (taxon, share) in counted)
            {
                var rate = taxon!.RateFrom(line.Supplier);
                var flies = FliesAfter(taxon, Since(line, day));
                mean += share * flies * rate.Mean;
                most = share > 0 ? Math.Max(most, flies) : most;
                foreach (var (other, otherShare) in counted)
                {
                    var same = other == taxon;
                    var second = double.IsPositiveInfinity(known) ? otherShare : ((otherShare * known) + (same ? 1 : 0)) / (known + 1);
                    var bothEmerge = same ? rate.Forecast(2)[2] : rate.Mean * other!.RateFrom(line.Supplier).Mean;
                    twice += share * second * bothEmerge * flies * FliesAfter(other!, Since(line, day));
                }
            }

            if (most <= 0)
                return [1];
            mean /= most;
            var spread = (twice / most / most) - (mean * mean);

            mean = Math.Min(1, mean);
            var n = line.Pupae;
            var masses = new double[n + 1];
            var plain = spread <= 1e-12 || mean is <= 0 or >= 1;
            var size = plain ? 0 : (mean * (1 - mean) / spread) - 1;
            for (var k = 0; k <= n; k++)
            {
                var mass = 1.0;
                for (var i = 0; i < n; i++)
                {
                    var hit = i < k;
                    var (own, place) = hit ? (mean, i) : (1 - mean, i - k);
                    mass *= plain ? own : ((own * size) + place) / (size + i);
                    if (hit)
                        mass *= (double)(n - i) / (i + 1);
                }

                masses[k] = mass;
            }

            return Thinned(masses, most);
        }

        private static double[] Sum(double[] a, double[] b)
        {
            var sum = new double[a.Length + b.Length - 1];
            for (var i = 0; i < a.Length; i++)
            {
                for (var j = 0; j < b.Length; j++)
                    sum[i + j] += a[i] * b[j];
            }

            return sum;
        }

        // Pupa by pupa: of each number that emerged, how many still fly.
        private static double[] Thinned(ReadOnlySpan<double> masses, double kept)
        {
            var thinned = new double[masses.Length];
            double[] flying = [1];
            for (var emerged = 0; emerged < masses.Length; emerged++)
            {
                for (var k = 0; k < flying.Length; k++)
                    thinned[k] += masses[emerged] * flying[k];
                flying = Sum(flying, [1 - kept, kept]);
            }

            return thinned;
        }

        private static double BothSexes(double[] masses, int pairs, double femaleShare)
        {
            var chance = 0.0;
            double[] females = [1];
            for (var adults = 0; adults < masses.Length; adults++)
            {
                for (var f = pairs; f <= adults - pairs; f++)
                    chance += masses[adults] * females[f];
                females = Sum(females, [1 - femaleShare, femaleShare]);
            }

            return chance;
        }
    }
}
