using Lepidary.Science.Ground;
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

    private readonly double[] chances;
    private readonly double[] notBefore;

    private EmergenceTiming(double[] chances)
    {
        this.chances = chances;
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

        // Expectation-maximisation: the share of the hanging that is alive depends on the timing that is being learnt.
        var learnt = this;
        for (var round = 0; round < 200; round++)
        {
            var leaving = emergedOn.ToArray();
            var outOfSight = new double[last + 2];
            foreach (var lot in lots)
            {
                if (lot.StillHanging > 0)
                    outOfSight[Math.Clamp(lot.DaysHanging, 0, last + 1)] += lot.StillHanging * learnt.Alive(emergence, lot.DaysHanging);
            }
            var next = Update(leaving, outOfSight, worth);
            var change = 0.0;
            for (var day = 0; day <= last; day++) change = Math.Max(change, Math.Abs(next[day] - learnt[day]));
            learnt = next;
            if (change < 1e-12) break;
        }
        return learnt;
    }

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
        return FromChances(next);
    }
}
