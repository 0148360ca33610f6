using Lepidary.Science.Counts;
using Lepidary.Science.Ground;

namespace Lepidary.Science.Pairing;

/// <summary>The best time to find pairs together, and the chance of it then.</summary>
/// <param name="Day">First day of the stretch, in days since the pupae arrived.</param>
/// <param name="Chance">The chance that the wanted number of both sexes flies on every day of it.</param>
public readonly record struct BestStretch(int Day, double Chance);

/// <summary>
/// The chance that males and females are on the wing together, not merely that both emerge, from pupae that arrive together.
/// Adults are independent given how many emerge; a day of emergence counts as a day on the wing.
/// </summary>
public static class PairsTogether
{
    /// <summary>Most adults that <see cref="Chance"/> can work with: beyond it the factorials leave the range of a double.</summary>
    public const int MostAdults = 150;

    /// <summary>
    /// P(some male and some female are on the wing together on at least <paramref name="days"/> days). Exact.
    /// </summary>
    /// <remarks>
    /// Shorten every life by days-1 at its end: two adults are together long enough if the shortened lives meet. The chance that no
    /// male life meets a female one is swept day by day. While adults of one sex fly, only the latest of their ends matters; so the
    /// state is the sex that flies and that end, kept as a distribution function because the ends of several arrivals are all before
    /// a day with the product of their chances. Powers of x count the adults used, which gives every number of adults at once.
    /// </remarks>
    /// <param name="emerged">How many adults there will be; at most <see cref="MostAdults"/>.</param>
    /// <param name="males">Timing and life of males.</param>
    /// <param name="females">Timing and life of females.</param>
    /// <param name="days">Days together, at least 1.</param>
    /// <param name="femaleShare">Share of females among the emerged, 0…1.</param>
    public static double Chance(CountDistribution emerged, WingLife males, WingLife females, int days = 1, double femaleShare = 0.5)
    {
        ArgumentNullException.ThrowIfNull(emerged);
        ArgumentNullException.ThrowIfNull(males);
        ArgumentNullException.ThrowIfNull(females);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(emerged.Max, MostAdults, nameof(emerged));
        ArgumentOutOfRangeException.ThrowIfLessThan(days, 1);
        if (Guard.Chance(femaleShare) is 0 or 1) return 0;
        WingLife[] sexes = [males, females];
        double[] shares = [1 - femaleShare, femaleShare];
        var size = emerged.Max + 1;
        var lastDay = Math.Max(males.Timing.LastDay, females.Timing.LastDay);
        var tooShort = 1.0;
        for (var sex = 0; sex < 2; sex++) tooShort -= shares[sex] * sexes[sex].Survival[days - 1];

        // nobody[j]: nobody of use flies; flying[sex][end][j]: that sex flies, and the latest shortened life ends by then.
        var nobody = new double[size];
        nobody[0] = 1;
        var flying = new double[2][][];
        for (var sex = 0; sex < 2; sex++)
            flying[sex] = [.. Enumerable.Range(0, lastDay + 1).Select(_ => new double[size])];
        for (var day = 0; day <= lastDay; day++)
        {
            if (day > 0) Expire(nobody, flying, day);
            for (var sex = 0; sex < 2; sex++)
            {
                for (var end = day; end <= lastDay; end++)
                {
                    // An adult of this sex emerges today and its shortened life, never empty, ends by then; the last day stands for ever.
                    var survival = sexes[sex].Survival;
                    var by = survival[days - 1] - (end == lastDay ? 0 : survival[end - day + days]);
                    Arrive(flying[sex][end], nobody, shares[sex] * sexes[sex].Timing[day] * by);
                }
            }
        }
        var apart = nobody;
        foreach (var sex in flying)
            for (var j = 0; j < size; j++) apart[j] += sex[lastDay][j];
        var chance = 0.0;
        for (var adults = 2; adults <= emerged.Max; adults++)
            if (emerged[adults] > 0) chance += emerged[adults] * Math.Max(0, 1 - Apart(apart, adults, Math.Max(0, tooShort)));
        return Math.Min(1, chance);
    }

    /// <summary>
    /// The stretch of days on which it is likeliest that at least so many males and females fly on every day of it, the same animals.
    /// Exact for that stretch; so it is a lower bound of the chance that there is such a stretch at all.
    /// </summary>
    /// <param name="emerged">How many adults there will be.</param>
    /// <param name="males">Timing and life of males.</param>
    /// <param name="females">Timing and life of females.</param>
    /// <param name="pairs">At least 1.</param>
    /// <param name="days">Length of the stretch, at least 1.</param>
    /// <param name="femaleShare">Share of females among the emerged, 0…1.</param>
    public static BestStretch OnBestStretch(
        CountDistribution emerged, WingLife males, WingLife females, int pairs = 1, int days = 1, double femaleShare = 0.5)
    {
        ArgumentNullException.ThrowIfNull(emerged);
        ArgumentNullException.ThrowIfNull(males);
        ArgumentNullException.ThrowIfNull(females);
        ArgumentOutOfRangeException.ThrowIfLessThan(days, 1);
        Guard.Chance(femaleShare);
        var best = new BestStretch(0, -1);
        for (var day = 0; day <= Math.Max(males.Timing.LastDay, females.Timing.LastDay); day++)
        {
            var male = (1 - femaleShare) * Flies(males, day, days);
            var female = femaleShare * Flies(females, day, days);
            if (male + female == 0) continue;
            var chance = Pairs.Chance(emerged.Thin(Math.Min(1, male + female)), pairs, female / (male + female));
            if (chance > best.Chance) best = new(day, chance);
        }
        return best;
    }

    /// <summary>The chance that an adult flies on every day of the stretch.</summary>
    private static double Flies(WingLife life, int day, int days)
    {
        var flies = 0.0;
        for (var on = 0; on <= day; on++) flies += life.Timing[on] * life.Survival[day + days - 1 - on];
        return flies;
    }

    /// <summary>Where the latest life ended yesterday, nobody flies today.</summary>
    private static void Expire(double[] nobody, double[][][] flying, int day)
    {
        foreach (var byEnd in flying)
        {
            var ended = byEnd[day - 1];
            for (var j = 0; j < nobody.Length; j++)
            {
                nobody[j] += ended[j];
                for (var end = day; end < byEnd.Length; end++) byEnd[end][j] -= ended[j];
            }
        }
    }

    /// <summary>Adults of the sex that flies come today with weight w, or they are the first: F ← F·e^(wx) + N·(e^(wx)-1).</summary>
    private static void Arrive(double[] flying, double[] nobody, double weight)
    {
        if (weight <= 0) return;
        for (var j = flying.Length - 1; j >= 1; j--)
        {
            var term = 1.0;
            for (var k = 1; k <= j; k++)
            {
                term *= weight / k;
                flying[j] += term * (flying[j - k] + nobody[j - k]);
            }
        }
    }

    /// <summary>P(no male meets a female | so many adults): those not used lived too short.</summary>
    private static double Apart(double[] coefficients, int adults, double tooShort)
    {
        var (sum, ways) = (0.0, 1.0);
        for (var j = 0; j <= adults; j++)
        {
            sum += coefficients[j] * ways * Math.Pow(tooShort, adults - j);
            ways *= adults - j;
        }
        return sum;
    }
}
