using Lepidary.Science.Emergence;
using Lepidary.Science.Ground;

namespace Lepidary.Science.Flying;

/// <summary>What one pupa does by days since arrival: the planner's coefficients.</summary>
public static class PupaOdds
{
    /// <summary>
    /// φ(d): the chance that a pupa flies d days after arrival, for d = 0 … <paramref name="days"/>-1: it emerges, has done so by then,
    /// and lives.
    /// </summary>
    /// <param name="emergence">Chance that it emerges, 0…1: <see cref="EmergenceRate.Mean"/>.</param>
    /// <param name="timing">Timing since arrival.</param>
    /// <param name="survival">Life on the wing.</param>
    /// <param name="days">At least 0.</param>
    public static double[] Flying(double emergence, EmergenceTiming timing, AdultSurvival survival, int days)
    {
        Guard.Chance(emergence);
        ArgumentNullException.ThrowIfNull(timing);
        ArgumentNullException.ThrowIfNull(survival);
        var flying = new double[days];
        for (var day = 0; day < days; day++)
        {
            for (var on = 0; on <= Math.Min(day, timing.LastDay); on++) flying[day] += timing[on] * survival[day - on];
            flying[day] = Math.Min(1, emergence * flying[day]);
        }
        return flying;
    }

    /// <summary>
    /// h(d): the chance that a pupa takes up its place in the cage at the end of day d after arrival, for d = 0 …
    /// <paramref name="days"/>-1. One that will not emerge hangs until it is given up: the day after 99 of 100 of the living have
    /// emerged.
    /// </summary>
    /// <param name="emergence">Chance that it emerges, 0…1.</param>
    /// <param name="timing">Timing since arrival.</param>
    /// <param name="days">At least 0.</param>
    public static double[] Hanging(double emergence, EmergenceTiming timing, int days)
    {
        Guard.Chance(emergence);
        ArgumentNullException.ThrowIfNull(timing);
        var givenUp = timing.Quantile(0.99) + 1;
        var hanging = new double[days];
        for (var day = 0; day < days; day++)
            hanging[day] = emergence * timing.NotBefore(day + 1) + (day < givenUp ? 1 - emergence : 0);
        return hanging;
    }
}
