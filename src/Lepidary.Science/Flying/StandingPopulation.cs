using Lepidary.Science.Counts;
using Lepidary.Science.Ground;

namespace Lepidary.Science.Flying;

/// <summary>How many fly in the long run, from how many are released and how long they live.</summary>
public static class StandingPopulation
{
    /// <summary>
    /// Little's law, L = λ·W: the mean number present is arrivals a day times the mean days each is present. It holds whatever the
    /// distribution of lives, as long as the house is in a steady state (Little and Graves 2008).
    /// </summary>
    /// <param name="arrivalsPerDay">At least 0, finite.</param>
    /// <param name="meanDays">At least 0, finite. <see cref="AdultSurvival.MeanDaysCounted"/> for what a daily count sees.</param>
    public static double Mean(double arrivalsPerDay, double meanDays)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(Guard.Finite(arrivalsPerDay));
        ArgumentOutOfRangeException.ThrowIfNegative(Guard.Finite(meanDays));
        return arrivalsPerDay * meanDays;
    }

    /// <summary>Little's law the other way: how many a day keep so many present.</summary>
    /// <param name="present">At least 0, finite.</param>
    /// <param name="meanDays">Above 0, finite.</param>
    public static double ArrivalsPerDay(double present, double meanDays)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(Guard.Finite(present));
        return present / Guard.FinitePositive(meanDays);
    }

    /// <summary>
    /// Expected number that fly <paramref name="daysAfter"/> days after a release, when the same number has been released every so many
    /// days for ever.
    /// </summary>
    /// <param name="released">Each time, at least 0, finite.</param>
    /// <param name="everyDays">At least 1.</param>
    /// <param name="survival">Life on the wing; must die out.</param>
    /// <param name="daysAfter">0 is straight after the release.</param>
    public static double AfterRegularReleases(double released, int everyDays, AdultSurvival survival, int daysAfter)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(Guard.Finite(released));
        ArgumentOutOfRangeException.ThrowIfLessThan(everyDays, 1);
        ArgumentNullException.ThrowIfNull(survival);
        ArgumentOutOfRangeException.ThrowIfNegative(daysAfter);
        if (double.IsPositiveInfinity(survival.MeanDaysCounted))
            throw new ArgumentException("Adults that never die have no steady number.", nameof(survival));
        var share = 0.0;
        for (var age = daysAfter; survival[age] > 1e-16; age += everyDays) share += survival[age];
        return released * share;
    }

    /// <summary>The exact distribution of how many of past releases fly today.</summary>
    /// <param name="releases">How many, how many days ago (0 is today).</param>
    /// <param name="survival">Life on the wing.</param>
    public static CountDistribution Now(IEnumerable<FlyingGroup> releases, AdultSurvival survival)
    {
        ArgumentNullException.ThrowIfNull(releases);
        ArgumentNullException.ThrowIfNull(survival);
        return CountDistribution.PoissonBinomial(releases.Select(group => (group.Count, survival[group.DaysOnWing])));
    }
}
