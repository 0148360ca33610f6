using Lepidary.Science.Counts;
using Lepidary.Science.Emergence;
using Lepidary.Science.Ground;

namespace Lepidary.Science.Pairing;

/// <summary>How many pupae are enough, and how sure that is.</summary>
/// <param name="Pupae">The smallest number that is sure enough.</param>
/// <param name="Chance">The chance it gives, at least what was asked for.</param>
public readonly record struct EnoughPupae(int Pupae, double Chance);

/// <summary>The chance of at least so many males and as many females from a number of pupae.</summary>
public static class Pairs
{
    /// <summary>Most pupae that <see cref="Least(double, double, int, double)"/> will answer with.</summary>
    public const int MostPupae = 2000;

    /// <summary>
    /// P(at least <paramref name="pairs"/> males and as many females emerge), each pupa emerging with the same known chance and
    /// each adult being female with the same chance, all independent. Exact.
    /// </summary>
    /// <param name="pupae">At least 0.</param>
    /// <param name="emergence">Chance that a pupa emerges, 0…1.</param>
    /// <param name="pairs">At least 1.</param>
    /// <param name="femaleShare">Share of females among the emerged, 0…1.</param>
    public static double Chance(int pupae, double emergence, int pairs = 1, double femaleShare = 0.5) =>
        Chance(CountDistribution.Binomial(pupae, emergence), pairs, femaleShare);

    /// <summary>The same when the emergence rate is uncertain and lots differ; the pupae are one new lot.</summary>
    /// <param name="pupae">At least 0.</param>
    /// <param name="emergence">The rate with what is not known of it.</param>
    /// <param name="pairs">At least 1.</param>
    /// <param name="femaleShare">Share of females among the emerged, 0…1.</param>
    public static double Chance(int pupae, EmergenceRate emergence, int pairs = 1, double femaleShare = 0.5) =>
        Chance(emergence.Forecast(pupae), pairs, femaleShare);

    /// <summary>The same for any distribution of how many emerge: Σ P(K=k)·P(pairs ≤ females ≤ k-pairs | k).</summary>
    /// <param name="emerged">How many emerge.</param>
    /// <param name="pairs">At least 1.</param>
    /// <param name="femaleShare">Share of females among the emerged, 0…1.</param>
    public static double Chance(CountDistribution emerged, int pairs = 1, double femaleShare = 0.5)
    {
        ArgumentNullException.ThrowIfNull(emerged);
        ArgumentOutOfRangeException.ThrowIfLessThan(pairs, 1);
        Guard.Chance(femaleShare);
        if (femaleShare is 0 or 1) return 0;
        var chance = 0.0;
        for (var k = 2 * pairs; k <= emerged.Max; k++)
            if (emerged[k] > 0) chance += emerged[k] * BothSexes(k, pairs, femaleShare);
        return Math.Min(1, chance);
    }

    /// <summary>The smallest number of pupae that gives the pairs this surely.</summary>
    /// <param name="sure">The chance wanted, above 0, below 1.</param>
    /// <param name="emergence">Chance that a pupa emerges, 0…1.</param>
    /// <param name="pairs">At least 1.</param>
    /// <param name="femaleShare">Share of females among the emerged, 0…1.</param>
    /// <returns>The number, or a problem when even <see cref="MostPupae"/> pupae are not enough.</returns>
    public static Checked<EnoughPupae> Least(double sure, double emergence, int pairs = 1, double femaleShare = 0.5) =>
        Least(sure, pupae => Chance(pupae, emergence, pairs, femaleShare), pairs);

    /// <summary>The same when the emergence rate is uncertain: a box may be bad as a whole, so more pupae of it help less.</summary>
    /// <param name="sure">The chance wanted, above 0, below 1.</param>
    /// <param name="emergence">The rate with what is not known of it.</param>
    /// <param name="pairs">At least 1.</param>
    /// <param name="femaleShare">Share of females among the emerged, 0…1.</param>
    /// <returns>The number, or a problem when even <see cref="MostPupae"/> pupae are not enough.</returns>
    public static Checked<EnoughPupae> Least(double sure, EmergenceRate emergence, int pairs = 1, double femaleShare = 0.5) =>
        Least(sure, pupae => Chance(pupae, emergence, pairs, femaleShare), pairs);

    private static Checked<EnoughPupae> Least(double sure, Func<int, double> chance, int pairs)
    {
        Guard.OpenChance(sure);
        ArgumentOutOfRangeException.ThrowIfLessThan(pairs, 1);
        // The chance grows with the number: double until it is enough, then halve the gap.
        var enough = Math.Min(2 * pairs, MostPupae);
        while (chance(enough) < sure)
        {
            if (enough == MostPupae)
            {
                return new Problem(
                    "sure",
                    FormattableString.Invariant($"{sure} for {pairs} pair(s)"),
                    FormattableString.Invariant($"at most {chance(MostPupae):0.####}: that is what {MostPupae} pupae give"));
            }
            enough = Math.Min(2 * enough, MostPupae);
        }
        var tooFew = enough / 2;
        while (enough - tooFew > 1)
        {
            var middle = (enough + tooFew) / 2;
            if (chance(middle) >= sure) enough = middle;
            else tooFew = middle;
        }
        return new EnoughPupae(enough, chance(enough));
    }

    /// <summary>P(at least so many of each sex | k adults).</summary>
    private static double BothSexes(int adults, int pairs, double femaleShare)
    {
        if (pairs == 1) return 1 - Math.Pow(femaleShare, adults) - Math.Pow(1 - femaleShare, adults);
        var females = CountDistribution.Binomial(adults, femaleShare);
        return Math.Max(0, 1 - females.AtMost(pairs - 1) - females.AtLeast(adults - pairs + 1));
    }
}
