using Lepidary.Science.Ground;

namespace Lepidary.Science.Survival;

/// <summary>One animal watched: when its event came, or when it was last seen without.</summary>
/// <param name="Time">In any one unit of time, at least 0.</param>
/// <param name="HasEvent">True if the event came at <paramref name="Time"/>; false if it was still to come (censored).</param>
public readonly record struct Observation(double Time, bool HasEvent);

/// <summary>
/// How many are at risk and how many have the event, at each distinct time of an event. One censored at the same time as an event is
/// still at risk for it.
/// </summary>
/// <param name="Time">The time.</param>
/// <param name="AtRisk">Watched until this time or longer.</param>
/// <param name="Events">Events at this time.</param>
public readonly record struct RiskStep(double Time, int AtRisk, int Events)
{
    /// <summary>The steps of a sample, by rising time; times without an event are left out.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A time is below 0, infinite or NaN.</exception>
    public static IReadOnlyList<RiskStep> Of(IEnumerable<Observation> observations)
    {
        ArgumentNullException.ThrowIfNull(observations);
        var all = observations as Observation[] ?? observations.ToArray();
        var (most, whole) = (0.0, true);
        foreach (var (time, _) in all)
        {
            ArgumentOutOfRangeException.ThrowIfNegative(Guard.Finite(time, nameof(observations)), nameof(observations));
            most = Math.Max(most, time);
            whole &= time == Math.Floor(time);
        }
        // Whole days are counted day by day; only times of any kind need sorting.
        return whole && most <= MostCounted ? Counted(all, (int)most) : Sorted(all);
    }

    private const int MostCounted = 100_000;

    private static List<RiskStep> Counted(Observation[] all, int most)
    {
        var (left, events) = (new int[most + 1], new int[most + 1]);
        foreach (var (time, hasEvent) in all)
        {
            left[(int)time]++;
            if (hasEvent) events[(int)time]++;
        }
        var (steps, atRisk) = (new List<RiskStep>(), all.Length);
        for (var day = 0; day <= most; day++)
        {
            if (events[day] > 0) steps.Add(new(day, atRisk, events[day]));
            atRisk -= left[day];
        }
        return steps;
    }

    private static List<RiskStep> Sorted(Observation[] all)
    {
        var (times, events) = (new double[all.Length], new bool[all.Length]);
        for (var i = 0; i < all.Length; i++) (times[i], events[i]) = (all[i].Time, all[i].HasEvent);
        Array.Sort(times, events);
        var steps = new List<RiskStep>();
        for (var i = 0; i < times.Length;)
        {
            var (start, count) = (i, 0);
            for (; i < times.Length && times[i] == times[start]; i++)
                if (events[i]) count++;
            if (count > 0) steps.Add(new(times[start], times.Length - start, count));
        }
        return steps;
    }
}
