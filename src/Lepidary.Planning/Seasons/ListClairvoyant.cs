using Lepidary.Planning.Model;
using Lepidary.Planning.Solver;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;

namespace Lepidary.Planning.Seasons;

/// <summary>
/// What a buyer would pay who knew every list of the season in advance, but not what emerges: the least landed cost and expected shortage of orders fixed at
/// the start, as a linear program.
/// </summary>
/// <remarks>
/// Looking at every day, it is never above the cost of any such fixed orders: numbers need not be whole, least numbers and packs are dropped, carriage is its convex minorant, and the shortage of a
/// day is the least that any sum of independent pupae with that mean can have when none flies with a greater chance than p: that of the binomial with p (Hoeffding
/// 1956), drawn straight between whole numbers, and of the straight pieces only a few, drawn out until they meet. A policy that sees what emerges can in principle do better than any
/// fixed order, so it is a reference for policies, not a bound.
/// Aims for a number of species and for breeding are left out.
/// </remarks>
public static class ListClairvoyant
{
    /// <summary>Landed cost and worth of the shortage; house currency. NaN when the program did not end in time.</summary>
    /// <param name="setting">House and suppliers; without faults.</param>
    /// <param name="seed">The draw's own seed: <see cref="SeasonComparison.SeedOf"/>.</param>
    /// <param name="every">A wish is looked at on every so many days, each standing for as many: what flies changes slowly. 1 looks at all.</param>
    /// <param name="seconds">Longest search, wall clock.</param>
    /// <param name="cancel">Ends it.</param>
    public static double Cost(SeasonSetting setting, ulong seed, int every = 1, double seconds = 300, CancellationToken cancel = default)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(every, 1);
        var world = new SeasonWorld(setting);
        return new Program(world, SeasonRun.Lists(world.Setting, seed), every).Solve(seconds, cancel);
    }

    // Rows beyond which the simplex method takes minutes.
    private const int LargeProgram = 2000;

    // Straight pieces of a shortage.
    private const int MostPieces = 10;

    private sealed record Line(PlanOffer Offer, int Taxon, int Arrives, int Box, double Rate, double[] Flies, double[] Hangs);

    private sealed class Program(SeasonWorld world, IReadOnlyList<PlanOffer>[] lists, int every)
    {
        private readonly SeasonSetting setting = world.Setting;
        private readonly SparseLines columns = new();
        private readonly SparseLines rows = new();
        private readonly List<Line> lines = [];
        private readonly List<(int Week, Slot Slot)> boxes = [];
        private double constant;

        private int Column(double lowest, double highest, double cost)
        {
            columns.Begin(lowest, highest, cost);
            return columns.Count - 1;
        }

        public double Solve(double seconds, CancellationToken cancel)
        {
            Lay();
            var used = boxes.Select(box => Column(0, 1, 0)).ToArray();
            var freight = boxes.Select(box => Column(0, double.PositiveInfinity, 1)).ToArray();
            for (var box = 0; box < boxes.Count; box++)
                Carriage(box, used[box], freight[box]);
            if (setting.House.CagePlaces is { } places)
                Places(places);
            Budgets(freight);
            foreach (var aim in setting.House.Aims.OfType<DisplayAim>())
                Wish(aim);
            using var program = new LinearProgram(1);
            program.AddColumns(columns);
            program.AddRows(rows);
            if (rows.Count > LargeProgram)
                program.UseInteriorPoint();
            var end = program.SolveLinear(seconds, cancel);
            cancel.ThrowIfCancellationRequested();
            return end == SolveEnd.Optimal ? program.Objective + constant : double.NaN;
        }

        // One column a line, at the price of its cheapest step.
        private void Lay()
        {
            for (var week = 0; week < setting.Weeks; week++)
            {
                var house = setting.Replayed?[week] ?? setting.House;
                var slots = ModelBuilder.SlotsOf(house);
                foreach (var slot in slots)
                {
                    var box = boxes.Count;
                    boxes.Add((week, slot));
                    var arrives = (week * 7) + slot.ArrivalDay;
                    foreach (var offer in lists[week].Where(o => o.Supplier == slot.Supplier.Name && o.Taxon is not null && !o.SoldOut))
                    {
                        var taxon = world.Places[offer.Taxon!];
                        var truth = world.Taxa[taxon];
                        var days = Math.Max(0, setting.Days - arrives);
                        var rate = truth.RateFrom(offer.Supplier);
                        var price = (double)offer.Breaks.Select(b => b.Price).Append(offer.Price).Min() * slot.GoodsFactor;
                        Column(0, offer.Available ?? setting.House.Settings.MostOfALine, price);
                        lines.Add(new(
                            offer, taxon, arrives, box, Reaches(rate), PupaOdds.Flying(rate.Mean, truth.Timing, truth.Stock.Survival, days),
                            PupaOdds.Hanging(rate.Mean, truth.Timing, days)));
                    }
                }
            }
        }

        // How much greater than its mean a pupa's chance can be once its lot's rate is known.
        private static double Reaches(EmergenceRate rate) =>
            double.IsPositiveInfinity(rate.Certainty) && double.IsPositiveInfinity(rate.LotConcentration) ? 1 : 1 / Math.Max(1e-9, rate.Mean);

        private void Carriage(int box, int used, int freight)
        {
            var slot = boxes[box].Slot;
            var own = Enumerable.Range(0, lines.Count).Where(i => lines[i].Box == box).ToArray();
            var most = own.Sum(i => (double)(lines[i].Offer.Available ?? setting.House.Settings.MostOfALine));
            foreach (var i in own)
            {
                rows.Begin(double.NegativeInfinity, 0);
                rows.Add(i, 1);
                rows.Add(used, -(lines[i].Offer.Available ?? setting.House.Settings.MostOfALine));
            }

            if (slot.Supplier.MinimumPupae > 0)
            {
                rows.Begin(0, double.PositiveInfinity);
                foreach (var i in own)
                    rows.Add(i, 1);
                rows.Add(used, -slot.Supplier.MinimumPupae);
            }

            // Ends of steps, each at the step's cost; steps by goods count with the least of them.
            var byPupae = slot.Ladders.Where(l => !l.ByGoods).ToList();
            var plain = slot.OrderCharge + slot.Ladders.Where(l => l.ByGoods).Sum(l => l.Cost.Min());
            var ends = byPupae.SelectMany(l => l.From.Skip(1).Select(f => f - 1)).Append(1).Append(most).Where(q => q >= 1 && q <= most).Distinct().Order().ToList();
            var points = ends.Select(q => (At: q, Cost: plain + byPupae.Sum(l => l.Cost[..(l.StepAt(q) + 1)].Max() == l.At(q) ? l.At(q) : l.Cost.Min()))).ToList();
            var hull = new List<(double At, double Cost)>();
            foreach (var point in points)
            {
                while (hull.Count > 1 && (hull[^1].Cost - hull[^2].Cost) * (point.At - hull[^2].At) >= (point.Cost - hull[^2].Cost) * (hull[^1].At - hull[^2].At))
                    hull.RemoveAt(hull.Count - 1);
                hull.Add(point);
            }

            for (var i = 0; i < hull.Count; i++)
            {
                // f >= a·used + b·q
                var rise = i + 1 < hull.Count ? (hull[i + 1].Cost - hull[i].Cost) / (hull[i + 1].At - hull[i].At) : 0;
                if (i + 1 == hull.Count && hull.Count > 1)
                    break;
                rows.Begin(0, double.PositiveInfinity);
                rows.Add(freight, 1);
                rows.Add(used, -(hull[i].Cost - (rise * hull[i].At)));
                foreach (var line in own)
                    rows.Add(line, -rise);
            }
        }

        private void Places(int places)
        {
            var taken = ModelBuilder.HangingByDay(setting.House.Taxa, setting.Days);
            for (var day = 0; day < setting.Days; day++)
            {
                rows.Begin(double.NegativeInfinity, Math.Max(0, places - taken[day]));
                for (var i = 0; i < lines.Count; i++)
                {
                    if (day >= lines[i].Arrives && lines[i].Hangs[day - lines[i].Arrives] > 1e-9)
                        rows.Add(i, lines[i].Hangs[day - lines[i].Arrives]);
                }
            }
        }

        private void Budgets(int[] freight)
        {
            void Spend(Func<int, bool> weeks, decimal budget)
            {
                rows.Begin(double.NegativeInfinity, (double)budget);
                for (var i = 0; i < lines.Count; i++)
                {
                    if (weeks(boxes[lines[i].Box].Week))
                        rows.Add(i, columns.Costs[i]);
                }

                for (var box = 0; box < boxes.Count; box++)
                {
                    if (weeks(boxes[box].Week))
                        rows.Add(freight[box], 1);
                }
            }

            if (setting.Budget is { } season)
                Spend(_ => true, season);
            for (var week = 0; week < setting.Weeks; week++)
            {
                var here = week;
                if ((setting.Replayed?[week] ?? setting.House).Budget is { } budget)
                    Spend(w => w == here, budget);
            }
        }

        private void Wish(DisplayAim aim)
        {
            var worth = every * (double)ModelBuilder.WorthOf(setting.House) * Math.Pow(3, aim.Importance - 1);
            var member = world.Taxa.Select(t => aim.Of.Counts(t.Taxon)).ToArray();
            var own = new double[setting.Days];
            foreach (var taxon in world.Taxa.Where((t, i) => member[i] && ModelBuilder.HasStock(t.Stock)))
            {
                foreach (var (day, there) in FlyingForecast.Of(taxon.Stock, setting.Days).Index())
                    own[day] += there.Mean;
            }

            for (var day = setting.DaysBefore; day < setting.Days; day++)
            {
                if ((day - setting.DaysBefore) % every != 0)
                    continue;
                var date = setting.House.OrderDay.AddDays(day);
                if (!(setting.House.OpenDays?.Contains(date) ?? true) || date < (aim.From ?? date) || date > (aim.To ?? date)
                    || (aim.Days.Count > 0 && !aim.Days.Contains(date.DayOfWeek)))
                {
                    continue;
                }

                var serving = new List<(int Line, double Flies)>();
                var chance = own[day] > 0 ? 1.0 : 0;
                for (var i = 0; i < lines.Count; i++)
                {
                    if (!member[lines[i].Taxon] || day < lines[i].Arrives)
                        continue;
                    var flies = lines[i].Flies[day - lines[i].Arrives];
                    if (flies > 1e-9)
                    {
                        serving.Add((i, flies));
                        chance = Math.Max(chance, Math.Min(1, flies * lines[i].Rate));
                    }
                }

                constant += worth * aim.AtLeast;
                if (serving.Count == 0 && own[day] <= 0)
                    continue;
                var first = columns.Count;
                foreach (var (width, slope) in Pieces(aim.AtLeast, chance))
                    Column(0, width, -worth * slope);

                rows.Begin(double.NegativeInfinity, own[day]);
                for (var piece = first; piece < columns.Count; piece++)
                    rows.Add(piece, 1);
                foreach (var (line, flies) in serving)
                    rows.Add(line, -flies);
            }
        }

        // The convex shortage, as a few of its straight pieces, each drawn out to where it meets the next that is kept: nowhere above the shortage itself.
        private static List<(double Width, double Slope)> Pieces(int wanted, double chance)
        {
            var missing = Shortages(wanted, chance).Prepend(wanted).ToArray();
            var slopes = Enumerable.Range(0, missing.Length - 1).Select(n => (missing[n] - missing[n + 1]) / chance).ToArray();
            var kept = Enumerable.Range(0, MostPieces).Select(i => (int)Math.Round(i * (slopes.Length - 1.0) / (MostPieces - 1))).Distinct().ToArray();
            var pieces = new List<(double, double)>();
            var from = 0.0;
            for (var i = 0; i < kept.Length; i++)
            {
                // Piece n goes through (n·p, missing[n]) with its slope.
                double At(int n) => missing[n] + (slopes[n] * n * chance);
                var steepness = slopes[kept[i]];
                var to = i + 1 == kept.Length ? (missing.Length - 1) * chance : Math.Abs(steepness - slopes[kept[i + 1]]) < 1e-12 ? from : (At(kept[i]) - At(kept[i + 1])) / (steepness - slopes[kept[i + 1]]);
                if (to > from + 1e-9)
                    pieces.Add((to - from, steepness));
                from = Math.Max(from, to);
            }

            return pieces;
        }

        // E(T - Bin(n, p))+ for n = 1, 2, … until what is left can be forgotten.
        private static IEnumerable<double> Shortages(int wanted, double chance)
        {
            var masses = new double[wanted];
            masses[0] = 1;
            while (true)
            {
                for (var k = wanted - 1; k >= 0; k--)
                    masses[k] = (masses[k] * (1 - chance)) + (k > 0 ? masses[k - 1] * chance : 0);
                var missing = 0.0;
                for (var k = 0; k < wanted; k++)
                    missing += masses[k] * (wanted - k);
                if (missing < 1e-3)
                {
                    // The rest at once, so that the sum of all pieces is the whole.
                    yield return 0;
                    yield break;
                }

                yield return missing;
            }
        }
    }
}
