using Lepidary.Science.Counts;
using Lepidary.Science.Ground;
using Lepidary.Science.Tables;

namespace Lepidary.Science.Inspection;

/// <summary>
/// A box looked at in part: a sample of it is opened and judged, the rest is not. Exact, from the hypergeometric distribution. No AQL is used: ISO 2859-1 is made for a
/// continuing series from one source, and boxes of mixed pupae are not that.
/// </summary>
public static class PartialInspection
{
    /// <summary>Chance that a sample of a box holds at most so many bad ones: that a rule "accept up to c" accepts it.</summary>
    /// <param name="lot">Pupae in the box, at least 0.</param>
    /// <param name="bad">Bad ones among them, 0…lot.</param>
    /// <param name="sample">Looked at, 0…lot.</param>
    /// <param name="accept">c, at least 0.</param>
    public static double AcceptanceChance(int lot, int bad, int sample, int accept)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(accept);
        return Hypergeometric.Of(lot, bad, sample).AtMost(accept);
    }

    /// <summary>Smallest sample that shows at least one bad one this surely.</summary>
    /// <param name="lot">Pupae in the box.</param>
    /// <param name="bad">Bad ones among them, 1…lot.</param>
    /// <param name="sure">Above 0, at most 1.</param>
    public static int SampleToSeeOne(int lot, int bad, double sure)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(bad, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(bad, lot);
        if (Guard.Chance(sure) == 0) throw new ArgumentOutOfRangeException(nameof(sure), sure, "Must be above 0.");
        // P(none) = product of (lot-bad-i)/(lot-i).
        var none = 1.0;
        for (var sample = 1; sample <= lot; sample++)
        {
            none *= Math.Max(0, (double)(lot - bad - sample + 1) / (lot - sample + 1));
            if (1 - none >= sure - 1e-12) return sample;
        }
        return lot;
    }

    /// <summary>
    /// How many bad ones are among those not looked at, when nothing is known beforehand (every number of bad ones in the box equally likely): beta-binomial(N-n; x+1,
    /// n-x+1).
    /// </summary>
    /// <param name="lot">Pupae in the box.</param>
    /// <param name="sample">Looked at, 0…lot.</param>
    /// <param name="found">Bad ones found, 0…sample.</param>
    public static CountDistribution RemainingBad(int lot, int sample, int found)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(found);
        ArgumentOutOfRangeException.ThrowIfLessThan(sample, found);
        ArgumentOutOfRangeException.ThrowIfLessThan(lot, sample);
        return CountDistribution.BetaBinomial(lot - sample, found + 1, sample - found + 1);
    }

    /// <summary>Exact two-sided limits for the bad ones in the whole box: all numbers of which neither tail is below (1-level)/2.</summary>
    /// <param name="lot">Pupae in the box.</param>
    /// <param name="sample">Looked at, 0…lot.</param>
    /// <param name="found">Bad ones found, 0…sample.</param>
    /// <param name="level">Above 0, below 1.</param>
    public static (int From, int To) BadLimits(int lot, int sample, int found, double level = 0.95)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(found);
        ArgumentOutOfRangeException.ThrowIfLessThan(sample, found);
        ArgumentOutOfRangeException.ThrowIfLessThan(lot, sample);
        var tail = (1 - Guard.OpenChance(level)) / 2;
        var (from, to) = (found, lot - (sample - found));
        while (from < to && Hypergeometric.Of(lot, from, sample).AtLeast(found) < tail) from++;
        while (to > from && Hypergeometric.Of(lot, to, sample).AtMost(found) < tail) to--;
        return (from, to);
    }
}
