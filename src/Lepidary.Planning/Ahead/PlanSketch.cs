using Lepidary.Planning.Model;
using Lepidary.Science.Flying;

namespace Lepidary.Planning;

/// <summary>One taxon in one week, as far as it is firm: bought, ordered or bred already.</summary>
/// <param name="Taxon">Accepted binomial.</param>
/// <param name="Arrives">Pupae that come in this week, ordered before or by this plan.</param>
/// <param name="Emerges">Mean number that emerges in this week.</param>
/// <param name="Flies">Mean number that flies, on the mean day of the week.</param>
public sealed record FirmTaxon(string Taxon, int Arrives, double Emerges, double Flies);

/// <summary>A later order that is likely, not made.</summary>
/// <param name="Taxon">Accepted binomial.</param>
/// <param name="Arrives">When it would arrive.</param>
/// <param name="Chance">Chance that somebody lists it then, 0 … 1.</param>
/// <param name="Pupae">How many would then be ordered.</param>
/// <param name="UnitPrice">What a pupa would cost, landed, house currency.</param>
/// <param name="Suppliers">Who may list it, the likeliest first; empty where not told.</param>
/// <param name="For">Words of the aim it would be ordered for.</param>
public sealed record LikelyOrder(string Taxon, DateOnly Arrives, double Chance, int Pupae, decimal UnitPrice, IReadOnlyList<string> Suppliers, string For)
{
    /// <summary>What it costs on average, house currency: the chance counted.</summary>
    public decimal ExpectedCost => Math.Round((decimal)Chance * Pupae * UnitPrice, 2);
}

/// <summary>An aim in one week: means on its worst day.</summary>
/// <param name="Aim">Id of the aim.</param>
/// <param name="Words">The aim in the keeper's words.</param>
/// <param name="Wanted">The number wanted.</param>
/// <param name="Day">The day of this week with the fewest.</param>
/// <param name="Firm">Mean number on that day from what is firm.</param>
/// <param name="Likely">The same with the later orders that are likely, each counted by its chance.</param>
public sealed record SketchAim(string Aim, string Words, int Wanted, DateOnly Day, double Firm, double Likely);

/// <summary>One week of the sketch.</summary>
/// <param name="From">First day.</param>
/// <param name="To">Last day.</param>
/// <param name="Firm">What is firm, by taxon.</param>
/// <param name="Likely">Later orders that would arrive in this week.</param>
/// <param name="Aims">Aims with days in this week; breeding and numbers of species are not sketched.</param>
public sealed record SketchWeek(DateOnly From, DateOnly To, IReadOnlyList<FirmTaxon> Firm, IReadOnlyList<LikelyOrder> Likely, IReadOnlyList<SketchAim> Aims);

/// <summary>
/// The weeks after an order, in means: what is firm, and what later orders would probably bring. A picture to plan by, not a plan: each later
/// box is filled in turn, taxon by taxon, up to what the aims then still lack until the box after it can help; every chance is an average.
/// </summary>
/// <param name="Weeks">The weeks, the order week first.</param>
public sealed record PlanSketch(IReadOnlyList<SketchWeek> Weeks)
{
    /// <summary>The sketch of a plan.</summary>
    /// <param name="problem">The problem, with <see cref="PlanProblem.LaterArrivals"/> and <see cref="PlanTaxon.Later"/> where anything is known.</param>
    /// <param name="plan">A plan for it, complete with forecast.</param>
    /// <param name="weeks">How many weeks, at least 1; fewer where the plan ends before.</param>
    /// <param name="outlooks">Who may list what, or null.</param>
    public static PlanSketch Of(PlanProblem problem, Plan plan, int weeks = 4, IReadOnlyList<ListingOutlook>? outlooks = null)
    {
        ArgumentNullException.ThrowIfNull(problem);
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentOutOfRangeException.ThrowIfLessThan(weeks, 1);
        return new Sketcher(problem, plan, outlooks ?? []).Draw(weeks);
    }

    private sealed class Sketcher
    {
        // A box that brings less than this share of its best day is not ordered for a day.
        private const double Useful = 0.3;

        private readonly PlanProblem problem;
        private readonly Plan plan;
        private readonly int days;
        private readonly Dictionary<string, PlanTaxon> taxa;
        private readonly Dictionary<string, double[]> firm = [];
        private readonly Dictionary<string, double[]> likely = [];
        private readonly Dictionary<string, IReadOnlyList<string>> suppliers;
        private readonly List<LikelyOrder> orders = [];

        public Sketcher(PlanProblem problem, Plan plan, IReadOnlyList<ListingOutlook> outlooks)
        {
            this.problem = problem;
            this.plan = plan;
            days = problem.HorizonDays + 1;
            taxa = problem.Taxa.ToDictionary(t => t.Name);
            suppliers = outlooks.ToDictionary(o => o.Taxon, o => (IReadOnlyList<string>)[.. o.Suppliers.Where(s => s.ChanceIn(1) > 0).OrderByDescending(s => s.ChanceIn(1)).Select(s => s.Supplier)]);
            foreach (var taxon in problem.Taxa)
                firm[taxon.Name] = new double[days];
            foreach (var forecast in plan.Forecast)
                firm[forecast.Taxon] = [.. forecast.Days.Select(d => d.With)];
            foreach (var (name, byDay) in firm)
                likely[name] = (double[])byDay.Clone();
        }

        public PlanSketch Draw(int weeks)
        {
            var arrivals = problem.LaterArrivals.Distinct().Order().Where(d => Day(d) >= 0 && Day(d) < days).ToList();
            for (var box = 0; box < arrivals.Count; box++)
                Fill(arrivals[box], box + 1 < arrivals.Count ? arrivals[box + 1] : null);
            var drawn = new List<SketchWeek>();
            for (var from = 0; from < days && drawn.Count < weeks; from += 7)
                drawn.Add(Week(from, Math.Min(days - 1, from + 6)));
            return new(drawn);
        }

        private int Day(DateOnly date) => date.DayNumber - problem.OrderDay.DayNumber;

        private double[] Flies(PlanTaxon taxon, int arrives)
        {
            var flies = new double[days];
            PupaOdds.Flying(taxon.UsualRate.Mean, taxon.Timing, taxon.Stock.Survival, days - arrives).CopyTo(flies, arrives);
            return flies;
        }

        // One later box: for each aim what it still lacks on the days that this box can serve and the next cannot yet; the cheapest taxa first.
        private void Fill(DateOnly arrives, DateOnly? next)
        {
            foreach (var aim in problem.Aims.OfType<DisplayAim>().OrderByDescending(a => a.Importance).ThenBy(Breadth).ThenBy(a => a.Id, StringComparer.Ordinal))
            {
                var members = problem.Taxa.Where(t => aim.Of.Counts(t.Taxon)).ToList();
                var offered = members.Where(t => t.KeepNot is null && t.Later is { WeeklyChance: > 0 })
                    .OrderBy(t => (double)t.Later!.LandedPrice / Math.Max(1e-6, t.UsualRate.Mean * t.Stock.Survival.MeanDaysCounted)).ThenBy(t => t.Name, StringComparer.Ordinal);
                foreach (var taxon in offered)
                {
                    var flies = Flies(taxon, Day(arrives));
                    var (from, to) = Serves(flies, next is { } n ? Flies(taxon, Math.Min(days - 1, Day(n))) : null);
                    var lacking = ModelBuilder.DaysOf(problem, aim).Where(d => d >= from && d <= to && flies[d] > 0)
                        .Select(d => (aim.AtLeast - members.Sum(t => likely[t.Name][d])) / flies[d]).DefaultIfEmpty(0).Max();
                    var most = taxon.MostPupae ?? problem.Settings.MostOfALine;
                    var pupae = Math.Min(most, (int)Math.Ceiling(lacking - 1e-9));
                    if (pupae <= 0)
                        continue;
                    var chance = taxon.Later!.WeeklyChance;
                    orders.Add(new(taxon.Name, arrives, chance, pupae, taxon.Later.LandedPrice, suppliers.GetValueOrDefault(taxon.Name, []), aim.Words));
                    for (var day = 0; day < days; day++)
                        likely[taxon.Name][day] += chance * pupae * flies[day];
                }
            }
        }

        private int Breadth(DisplayAim aim) => problem.Taxa.Count(t => aim.Of.Counts(t.Taxon));

        private (int From, int To) Serves(double[] flies, double[]? next)
        {
            var from = Array.FindIndex(flies, f => f >= Useful * flies.Max());
            var until = next is null || next.Max() <= 0 ? -1 : Array.FindIndex(next, f => f >= Useful * next.Max());
            return (from < 0 ? days : from, until < 0 ? days - 1 : until - 1);
        }

        private SketchWeek Week(int from, int to)
        {
            var (first, last) = (problem.OrderDay.AddDays(from), problem.OrderDay.AddDays(to));
            var aims = new List<SketchAim>();
            foreach (var aim in problem.Aims.OfType<DisplayAim>())
            {
                var own = ModelBuilder.DaysOf(problem, aim).Where(d => d >= from && d <= to).ToList();
                if (own.Count == 0)
                    continue;
                var members = problem.Taxa.Where(t => aim.Of.Counts(t.Taxon)).Select(t => t.Name).ToList();
                var worst = own.MinBy(d => members.Sum(m => likely[m][d]));
                aims.Add(new(aim.Id, aim.Words, aim.AtLeast, problem.OrderDay.AddDays(worst), members.Sum(m => firm[m][worst]), members.Sum(m => likely[m][worst])));
            }

            return new(
                first, last, [.. problem.Taxa.OrderBy(t => t.Name, StringComparer.Ordinal).Select(t => Firm(t, from, to)).Where(f => f.Arrives > 0 || f.Emerges > 0.05 || f.Flies > 0.05)],
                [.. orders.Where(o => o.Arrives >= first && o.Arrives <= last).OrderBy(o => o.Arrives).ThenBy(o => o.Taxon, StringComparer.Ordinal)], aims);
        }

        private FirmTaxon Firm(PlanTaxon taxon, int from, int to)
        {
            var ordered = plan.Lines.Where(l => l.Taxon == taxon.Name).ToList();
            var arrives = ordered.Where(l => Day(l.Arrives) >= from && Day(l.Arrives) <= to).Sum(l => l.Pupae)
                + taxon.Stock.Lots.Where(l => l.DaysHanging < 0 && -l.DaysHanging >= from && -l.DaysHanging <= to).Sum(l => l.Hanging);
            var emerges = taxon.Stock.Lots.Count == 0 ? 0 : FlyingForecast.Emerging(taxon.Stock.Lots, days).Skip(from).Take(to - from + 1).Sum(d => d.Mean);
            foreach (var line in ordered)
            {
                for (var day = Math.Max(from, Day(line.Arrives)); day <= to; day++)
                    emerges += line.Pupae * taxon.RateFrom(line.Supplier).Mean * taxon.Timing[day - Day(line.Arrives)];
            }

            return new(taxon.Name, arrives, emerges, Enumerable.Range(from, to - from + 1).Average(d => firm[taxon.Name][d]));
        }
    }
}
