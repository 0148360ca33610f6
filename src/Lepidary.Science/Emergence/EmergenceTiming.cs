using Lepidary.Science.Ground;
using Lepidary.Science.Groups;
using Lepidary.Science.Survival;

namespace Lepidary.Science.Emergence;

/// <summary>What one lot has shown of its timing.</summary>
/// <param name="EmergedByDay">Emerged on day 0, 1, … since arrival.</param>
/// <param name="StillHanging">Pupae that hang and may yet emerge; 0 for a finished lot.</param>
/// <param name="DaysHanging">The day on which those were last seen hanging: no emergence of theirs on any day before it.</param>
public sealed record TimingRecord(IReadOnlyList<int> EmergedByDay, int StillHanging, int DaysHanging);

/// <summary>
/// On which whole day since arrival a pupa emerges, given that it emerges at all: the chance of day 0, 1, … <see cref="LastDay"/>.
/// Immutable.
/// </summary>
public sealed class EmergenceTiming
{
    /// <summary>Where the bell's tail is cut: fewer than one pupa in a hundred million comes later.</summary>
    private const double Cut = 1e-8;

    /// <summary>Fewest pupae that a chance rests on: late days, of which nothing is known, are not all or nothing.</summary>
    private const double FewestWatched = 2;

    private readonly double[] chances;
    private readonly double[] notBefore;

    /// <summary>By day: how many pupae its chance rests on; null where all are taken as known.</summary>
    private readonly double[]? watched;

    private EmergenceTiming(double[] chances, double[]? watched = null)
    {
        this.chances = chances;
        this.watched = watched;
        // notBefore[d] = P(T >= d), summed from the end so that small tails stay exact.
        notBefore = new double[chances.Length + 1];
        for (var day = chances.Length - 1; day >= 0; day--) notBefore[day] = notBefore[day + 1] + chances[day];
        notBefore[0] = 1;
    }

    /// <summary>The last day with a chance.</summary>
    public int LastDay => chances.Length - 1;

    /// <summary>The chance of each day, index = days since arrival.</summary>
    public ReadOnlySpan<double> Chances => chances;

    /// <summary>The chance that it emerges on exactly this day since arrival; 0 outside 0…<see cref="LastDay"/>.</summary>
    public double this[int day] => day < 0 || day > LastDay ? 0 : chances[day];

    /// <summary>Expected days from arrival to emergence.</summary>
    public double MeanDays
    {
        get
        {
            var mean = 0.0;
            for (var day = 1; day < chances.Length; day++) mean += day * chances[day];
            return mean;
        }
    }

    /// <summary>
    /// How well the chances from a day on are known, for a pupa that hangs on it: that of a day is Beta(w·p, w·(1-p)) around the value p here, with this w in
    /// pupae. +∞ where they are taken as known.
    /// </summary>
    /// <param name="day">Days since arrival.</param>
    public double Watched(int day) => watched is null ? double.PositiveInfinity : watched[Math.Clamp(day, 0, watched.Length - 1)];

    /// <summary>
    /// The same chances, known only as well as that many pupae watched from arrival would tell, and with lots that are as unlike each other as
    /// <see cref="UsualLikeness"/> says.
    /// </summary>
    /// <param name="worth">Pupae, above 0, finite.</param>
    public EmergenceTiming KnownFrom(double worth)
    {
        Guard.FinitePositive(worth);
        return new(chances, [.. Enumerable.Range(0, chances.Length).Select(day => Both(worth * NotBefore(day), UsualLikeness))]);
    }

    /// <summary>
    /// From the usual window of a species: a bell (logistic) over whole days, 9 of 10 emerge inside the window, and both tails
    /// fall off exponentially, so that a straggler is unlikely but never impossible. Days before arrival are cut off.
    /// </summary>
    /// <remarks>
    /// The logistic has mean (from+to)/2 and scale h/ln 19, where h = (to-from+1)/2 is half the window with both end days counted
    /// whole; the scale is at least half a day. The shape is a choice of this project, not a published fit.
    /// </remarks>
    /// <param name="from">First usual day since arrival, at least 0.</param>
    /// <param name="to">Last usual day, not below <paramref name="from"/>.</param>
    public static EmergenceTiming FromWindow(int from, int to)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(from);
        ArgumentOutOfRangeException.ThrowIfLessThan(to, from);
        var middle = (from + to) / 2.0;
        var scale = Math.Max(0.5, (to - from + 1) / 2.0 / Math.Log(19));
        // P(T > t) of the bell at the end of day t.
        double After(int day) => 1 / (1 + Math.Exp((day + 0.5 - middle) / scale));
        var start = After(-1);
        var chances = new List<double>();
        for (var day = 0; After(day - 1) > Cut * start; day++) chances.Add(After(day - 1) - After(day));
        return FromChances([.. chances]);
    }

    /// <summary>From chances by day, scaled to sum 1.</summary>
    /// <param name="chances">Index = days since arrival; none negative or NaN; a positive, finite sum.</param>
    /// <exception cref="ArgumentException">The chances are no distribution.</exception>
    public static EmergenceTiming FromChances(ReadOnlySpan<double> chances)
    {
        var sum = 0.0;
        foreach (var chance in chances)
        {
            if (!(chance >= 0)) throw new ArgumentException($"A chance of {chance} is none.", nameof(chances));
            sum += chance;
        }
        if (!(sum > 0) || !double.IsFinite(sum)) throw new ArgumentException($"The chances sum to {sum}.", nameof(chances));
        var last = chances.Length - 1;
        while (chances[last] == 0) last--;
        var scaled = chances[..(last + 1)].ToArray();
        foreach (ref var chance in scaled.AsSpan()) chance /= sum;
        return new(scaled);
    }

    /// <summary>Every pupa that emerges does so on this day.</summary>
    /// <param name="day">At least 0.</param>
    public static EmergenceTiming Certain(int day)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(day);
        var chances = new double[day + 1];
        chances[day] = 1;
        return new(chances);
    }

    /// <summary>The same days, all of them so much later; parts of a day are shared out between the two days they fall on, what would come before arrival comes on it.</summary>
    /// <param name="days">Finite; below 0 is earlier.</param>
    public EmergenceTiming Shifted(double days)
    {
        Guard.Finite(days);
        var (whole, part) = ((int)Math.Floor(days), days - Math.Floor(days));
        var shifted = new double[Math.Max(1, LastDay + whole + 2)];
        for (var day = 0; day <= LastDay; day++)
        {
            shifted[Math.Max(0, day + whole)] += (1 - part) * chances[day];
            shifted[Math.Max(0, day + whole + 1)] += part * chances[day];
        }
        var moved = FromChances(shifted);
        return watched is null ? moved : new(moved.chances, [.. Enumerable.Range(0, moved.chances.Length).Select(day => Watched(day - whole))]);
    }

    /// <summary>
    /// The same days of development in days of the calendar: in a warm cage they pass quicker. By the start of calendar day k so many days of development are over as <paramref name="reached"/>
    /// says; a day's chance is the share of development that falls on it, straight lines between whole days.
    /// </summary>
    /// <param name="reached">Days of development over at the start of calendar day 0, 1, …: begins with 0, never falls, finite; at least one value.</param>
    /// <param name="pace">Days of development a calendar day after the last of them; above 0, finite.</param>
    public EmergenceTiming AtPace(IReadOnlyList<double> reached, double pace)
    {
        ArgumentNullException.ThrowIfNull(reached);
        Guard.FinitePositive(pace);
        if (reached.Count == 0 || reached[0] != 0) throw new ArgumentException("Development begins with 0.", nameof(reached));
        for (var day = 1; day < reached.Count; day++)
            if (!(reached[day] >= reached[day - 1]) || !double.IsFinite(reached[day])) throw new ArgumentException($"Day {day} has {reached[day]} days of development after {reached[day - 1]}.", nameof(reached));
        double Reached(int day) => day < reached.Count ? reached[day] : reached[^1] + ((day - reached.Count + 1) * pace);
        double Left(double days)
        {
            var whole = (int)Math.Min(days, LastDay + 1);
            return NotBefore(whole) + ((Math.Min(days, LastDay + 1) - whole) * (NotBefore(whole + 1) - NotBefore(whole)));
        }
        var (paced, known) = (new List<double>(), new List<double>());
        for (var day = 0; Left(Reached(day)) > 0; day++)
        {
            paced.Add(Left(Reached(day)) - Left(Reached(day + 1)));
            if (watched is not null) known.Add(Watched((int)Reached(day)));
        }
        var timing = FromChances([.. paced]);
        return watched is null ? timing : new(timing.chances, [.. known.Take(timing.chances.Length)]);
    }

    /// <summary>P(T ≥ <paramref name="day"/>): it has not emerged on any day before this one.</summary>
    public double NotBefore(int day) => day <= 0 ? 1 : day > LastDay ? 0 : notBefore[day];

    /// <summary>The smallest day t with P(T ≤ t) ≥ <paramref name="q"/>.</summary>
    /// <param name="q">0…1.</param>
    public int Quantile(double q)
    {
        Guard.Chance(q);
        var day = 0;
        while (day < LastDay && notBefore[day + 1] > 1 - q + 1e-12) day++;
        return day;
    }

    /// <summary>
    /// The timing of a pupa that will emerge and has not done so on any day before <paramref name="daysHanging"/>; still counted
    /// in days since arrival.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">Nothing is left: the day is past <see cref="LastDay"/>.</exception>
    public EmergenceTiming GivenNotYet(int daysHanging)
    {
        if (daysHanging <= 0) return this;
        ArgumentOutOfRangeException.ThrowIfGreaterThan(daysHanging, LastDay);
        var left = chances.ToArray();
        left.AsSpan(0, daysHanging).Clear();
        return FromChances(left);
    }

    /// <summary>
    /// The chance that a pupa still hanging on this day is alive and will emerge, when a new one of its kind emerges with the
    /// given chance: s·P(T≥d) / (s·P(T≥d) + 1-s) by Bayes. A dead pupa looks like one that waits.
    /// </summary>
    /// <param name="emergence">Chance that a new pupa emerges, 0…1.</param>
    /// <param name="daysHanging">Days since arrival on which it still hangs, not emerged on any day before.</param>
    public double Alive(double emergence, int daysHanging)
    {
        Guard.Chance(emergence);
        var alive = emergence * NotBefore(daysHanging);
        return alive == 0 ? 0 : alive / (alive + (1 - emergence));
    }

    /// <summary>
    /// What the records add to this timing: a discrete beta process whose prior is this timing (Bayesian Kaplan-Meier; Hjort 1990,
    /// citation from memory). Pupae that still hang count as at risk on the days they have hung, each with the chance that it is
    /// alive; that chance and the timing are solved together.
    /// </summary>
    /// <remarks>
    /// Hazard of day k: (c_k·h_k + d_k)/(c_k + n_k), with h_k the hazard here, d_k emerged on day k, n_k alive and not emerged before
    /// day k, c_k = <paramref name="worth"/>·P(T ≥ k): the table counts as that many pupae watched from arrival.
    /// Days past <see cref="LastDay"/> on which something emerged extend the timing.
    /// </remarks>
    /// <param name="records">Lots of this kind, finished or hanging; counts at least 0.</param>
    /// <param name="emergence">Chance that a new pupa emerges, 0…1; weighs those that still hang.</param>
    /// <param name="worth">How many watched pupae this timing counts for; above 0, finite.</param>
    /// <returns>The chances with how well they are known: the pupae watched on each day, and how unlike the lots were (<see cref="Likeness"/>).</returns>
    public EmergenceTiming Learn(IEnumerable<TimingRecord> records, double emergence, double worth = 10)
    {
        ArgumentNullException.ThrowIfNull(records);
        Guard.Chance(emergence);
        Guard.FinitePositive(worth);
        var lots = records.ToList();
        var last = LastDay;
        foreach (var lot in lots)
        {
            ArgumentOutOfRangeException.ThrowIfNegative(lot.StillHanging, nameof(records));
            if (lot.EmergedByDay.Any(emerged => emerged < 0))
                throw new ArgumentOutOfRangeException(nameof(records), "A count below 0.");
            for (var day = lot.EmergedByDay.Count - 1; day > last; day--)
                if (lot.EmergedByDay[day] > 0) last = day;
        }
        var emergedOn = new double[last + 1];
        foreach (var lot in lots)
            for (var day = 0; day <= Math.Min(last, lot.EmergedByDay.Count - 1); day++)
                emergedOn[day] += lot.EmergedByDay[day];

        // Of those that hang only the day counts on which they were last seen.
        var hanging = lots.Where(lot => lot.StillHanging > 0).GroupBy(lot => lot.DaysHanging).Select(day => (Day: day.Key, Count: day.Sum(lot => lot.StillHanging))).ToList();
        // Expectation-maximisation: the share of the hanging that is alive depends on the timing that is being learnt.
        var learnt = this;
        for (var round = 0; round < 200; round++)
        {
            var outOfSight = new double[last + 2];
            foreach (var (day, count) in hanging) outOfSight[Math.Clamp(day, 0, last + 1)] += count * learnt.Alive(emergence, day);
            var next = Update(emergedOn, outOfSight, worth);
            var change = 0.0;
            for (var day = 0; day <= last; day++) change = Math.Max(change, Math.Abs(next[day] - learnt[day]));
            learnt = next;
            if (change < 1e-12 || hanging.Count == 0) break;
        }
        var likeness = Likeness(lots, learnt);
        return new(learnt.chances, [.. learnt.watched!.Select(pupae => Both(pupae, likeness))]);
    }

    /// <summary>
    /// How alike lots are from day to day: of n pupae of a lot that wait on a day, d ~ beta-binomial(n, κh, κ(1-h)) emerge on it, h the hazard of the day for
    /// all lots together. Posterior mean on a grid of κ; its prior is log-normal around <see cref="UsualLikeness"/> with factor 3.
    /// </summary>
    /// <param name="lots">What the lots showed; only the emerged count.</param>
    /// <param name="all">The timing of all together.</param>
    /// <returns>κ, 2…; the harmonic mean over the grid, because 1/(κ+1) is what widens a forecast.</returns>
    public static double Likeness(IEnumerable<TimingRecord> lots, EmergenceTiming all)
    {
        ArgumentNullException.ThrowIfNull(lots);
        ArgumentNullException.ThrowIfNull(all);
        double HazardOn(int day) => all.NotBefore(day) > 0 ? Math.Min(1, all[day] / all.NotBefore(day)) : 1;
        var logs = new double[LikenessGrid.Length];
        for (var g = 0; g < logs.Length; g++)
        {
            var z = Math.Log(LikenessGrid[g] / UsualLikeness) / Math.Log(3);
            logs[g] = -z * z / 2;
        }
        // Beta functions of whole numbers are products: of all lots together it is enough how many of them reach each count.
        var (came, stayed, waited) = (new List<List<int>>(), new List<List<int>>(), new List<int>());
        foreach (var lot in lots)
        {
            var waiting = lot.EmergedByDay.Sum();
            for (var day = 0; day < lot.EmergedByDay.Count && waiting > 1; day++)
            {
                var (out1, hazard) = (lot.EmergedByDay[day], HazardOn(day));
                while (came.Count <= day)
                {
                    came.Add([]);
                    stayed.Add([]);
                }
                if (hazard is > 1e-6 and < 1 - 1e-6)
                {
                    came[day].Add(out1);
                    stayed[day].Add(waiting - out1);
                    waited.Add(waiting);
                }
                waiting -= out1;
            }
        }
        var waitedAbove = LotLikelihood.Above(waited);
        for (var g = 0; g < logs.Length; g++) logs[g] -= LotLikelihood.Rising(waitedAbove, LikenessGrid[g]);
        for (var day = 0; day < came.Count; day++)
        {
            if (came[day].Count == 0) continue;
            var (cameAbove, stayedAbove, hazard) = (LotLikelihood.Above(came[day]), LotLikelihood.Above(stayed[day]), HazardOn(day));
            for (var g = 0; g < logs.Length; g++)
                logs[g] += LotLikelihood.Rising(cameAbove, LikenessGrid[g] * hazard) + LotLikelihood.Rising(stayedAbove, LikenessGrid[g] * (1 - hazard));
        }
        var (top, sum, inverse) = (logs.Max(), 0.0, 0.0);
        for (var g = 0; g < logs.Length; g++)
        {
            var weight = Math.Exp(logs[g] - top);
            sum += weight;
            inverse += weight / (LikenessGrid[g] + 1);
        }
        return sum / inverse - 1;
    }

    /// <summary>κ of lots whose likeness was never looked at. A choice of this project, no source.</summary>
    public const double UsualLikeness = 15;

    private static readonly double[] LikenessGrid = [2, 3, 4.5, 7, 10, 15, 22, 33, 50, 75, 110, 170, 250];

    /// <summary>Two things that are not known: the variances add, each p(1-p)/(w+1).</summary>
    private static double Both(double pupae, double likeness) => Math.Max(FewestWatched, 1 / (1 / (pupae + 1) + 1 / (likeness + 1)) - 1);

    /// <summary>One step of the beta process; <paramref name="outOfSight"/>[d]: alive, last seen at the start of day d.</summary>
    private EmergenceTiming Update(double[] emergedOn, double[] outOfSight, double worth)
    {
        var last = emergedOn.Length - 1;
        var atRisk = new double[last + 1];
        var risk = 0.0;
        for (var day = last; day >= 0; day--)
        {
            // Seen hanging at the start of day d means: at risk on days 0…d-1.
            risk += emergedOn[day] + outOfSight[day + 1];
            atRisk[day] = risk;
        }
        var (hazard, weight) = (new double[last + 1], new double[last + 1]);
        for (var day = 0; day <= last; day++)
        {
            weight[day] = worth * NotBefore(day);
            hazard[day] = weight[day] > 0 ? Math.Min(1, this[day] / NotBefore(day)) : 1;
        }
        var next = new double[last + 1];
        var left = 1.0;
        foreach (var (day, posterior) in DiscreteBetaProcess.Posterior(hazard, weight, atRisk, emergedOn).Index())
        {
            next[day] = left - posterior.Survival;
            left = posterior.Survival;
        }
        var known = new double[last + 1];
        for (var day = 0; day <= last; day++) known[day] = weight[day] + atRisk[day];
        return new(FromChances(next).chances, known);
    }
}
