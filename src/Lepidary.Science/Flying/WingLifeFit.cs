using Lepidary.Science.Counts;
using Lepidary.Science.Ground;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Flying;

/// <summary>What a day tells of a species on the wing.</summary>
/// <param name="Released">Adults let go; they are on the wing from this day on.</param>
/// <param name="FoundDead">Found dead, of those that died since the day before.</param>
/// <param name="Walked">Counted on a walk, or null on a day without one.</param>
public readonly record struct WingDay(int Released, int FoundDead, int? Walked);

/// <summary>
/// How long adults live in this house, from releases, found dead and walks. The state is the number alive: each lives through a day with the chance that the curve gives for
/// its age; of those that die a share is found; of those alive a share is seen on a walk. All three are unknown: how much faster or slower than the table they die, what share
/// of the dead is found, what share of the living is seen.
/// </summary>
/// <remarks>
/// The filter over the number alive is exact while at most <see cref="MostExact"/> can fly, beyond that by the number's mean and variance (linear Bayes). Counts on a walk vary more than a
/// coin would make them: negative binomial of size <see cref="WalkSize"/>. The day's chance of all that fly is that of their expected ages. Parameters by Laplace's approximation.
/// A butterfly that leaves through a door counts as dead.
/// </remarks>
/// <param name="Factor">By how much the risk of death each day is that of the table, times.</param>
/// <param name="LogFactorDeviation">Posterior standard deviation of its logarithm.</param>
/// <param name="Seen">Share of those alive that a walk counts.</param>
/// <param name="Found">Share of the dead that is found.</param>
/// <param name="Survival">The table's curve with the factor.</param>
public sealed record WingLifeFit(double Factor, double LogFactorDeviation, double Seen, double Found, AdultSurvival Survival)
{
    /// <summary>Adults up to which the filter is exact.</summary>
    public const int MostExact = 24;

    /// <summary>Size of the negative binomial of a walk's count: its standard deviation is a third of a large count. A choice of this project.</summary>
    public const double WalkSize = 10;

    /// <summary>Prior standard deviation of the factor's logarithm: lives of 0.6 to 1.6 times the table's are no surprise. A choice of this project.</summary>
    public const double PriorDeviation = 0.5;

    /// <summary>What the search learnt of the curvature; the next one near it begins with that.</summary>
    private double[,]? Inverse { get; init; }

    /// <summary>Before any count: three of ten are seen, and found; 1 to 7 of ten would be no surprise. A choice of this project.</summary>
    private const double PriorShare = 0.3, PriorShareDeviation = 1.2;

    /// <summary>Fits.</summary>
    /// <param name="days">Day after day without a gap, from the first release on.</param>
    /// <param name="table">What the table expects.</param>
    /// <param name="near">What the days until a while ago told, or null: only a quicker start.</param>
    /// <returns>Null where nothing was counted: no walk and none found dead, or none released.</returns>
    public static WingLifeFit? Fit(IReadOnlyList<WingDay> days, AdultSurvival table, WingLifeFit? near = null)
    {
        ArgumentNullException.ThrowIfNull(days);
        ArgumentNullException.ThrowIfNull(table);
        foreach (var day in days)
            if (day.Released < 0 || day.FoundDead < 0 || day.Walked < 0) throw new ArgumentException("A count below 0.", nameof(days));
        if (!days.Any(day => day.Released > 0) || !days.Any(day => day.Walked is not null || day.FoundDead > 0)) return null;
        var centre = Logit(PriorShare);
        // The day's chances hang on the factor alone: the steps in the two shares take them as they are.
        var (kept, keptAt) = (Array.Empty<double>(), double.NaN);
        var most = days.Sum(day => (long)day.Released);
        double Value(double[] at)
        {
            if (at[0] != keptAt) (kept, keptAt) = (DailyChances(days, table.AtRisk(Math.Exp(at[0]))), at[0]);
            var prior = at[0] * at[0] / (2 * PriorDeviation * PriorDeviation);
            for (var k = 1; k < 3; k++) prior += (at[k] - centre) * (at[k] - centre) / (2 * PriorShareDeviation * PriorShareDeviation);
            return prior - LogLikelihood(days, kept, Chance(at[1]), Chance(at[2]), most, most <= MostExact);
        }
        double Gradient(double[] at, double[] gradient)
        {
            gradient[0] = (Value(Moved(at, 0, 1e-4)) - Value(Moved(at, 0, -1e-4))) / 2e-4;
            var value = Value(at);
            for (var k = 1; k < 3; k++) gradient[k] = (Value(Moved(at, k, 1e-4)) - Value(Moved(at, k, -1e-4))) / 2e-4;
            return value;
        }
        var start = new double[,] { { PriorDeviation * PriorDeviation, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } };
        var found = near is { Inverse: { } learnt }
            ? QuasiNewton.Minimise(Gradient, [Math.Log(near.Factor), Logit(near.Seen), Logit(near.Found)], learnt, 1e-5)
            : QuasiNewton.Minimise(Gradient, [0, centre, centre], start, 1e-5);
        var curvature = new double[3, 3];
        for (var k = 0; k < 3; k++)
        {
            var (up, down) = (new double[3], new double[3]);
            Gradient(Moved(found.At, k, 1e-3), up);
            Gradient(Moved(found.At, k, -1e-3), down);
            for (var l = 0; l < 3; l++)
            {
                curvature[k, l] += (up[l] - down[l]) / 4e-3;
                curvature[l, k] += (up[l] - down[l]) / 4e-3;
            }
        }
        var factor = Math.Exp(found.At[0]);
        var variance = LinearAlgebra.Solve(curvature, [1, 0, 0])[0];
        // Where the differences do not show a minimum, nothing was learnt.
        var deviation = variance > 0 ? Math.Min(PriorDeviation, Math.Sqrt(variance)) : PriorDeviation;
        return new(factor, deviation, Chance(found.At[1]), Chance(found.At[2]), table.AtRisk(factor)) { Inverse = found.Inverse };
    }

    /// <summary>What a walk counts where so many fly: of n a negative binomial count of mean <paramref name="seen"/>·n and size <see cref="WalkSize"/>.</summary>
    /// <param name="flying">How many fly.</param>
    /// <param name="seen">Share of them that a walk counts, 0…1.</param>
    public static CountDistribution Walked(CountDistribution flying, double seen)
    {
        ArgumentNullException.ThrowIfNull(flying);
        Guard.Chance(seen);
        // Ten standard deviations above the most: what lies beyond weighs nothing.
        var most = seen * flying.Max;
        var masses = new double[2 + (int)(most + 10 * Math.Sqrt(most + most * most / WalkSize) + 10)];
        for (var n = 0; n <= flying.Max; n++)
        {
            if (flying[n] < 1e-12) continue;
            var mean = seen * n;
            var mass = flying[n] * Math.Pow(WalkSize / (WalkSize + mean), WalkSize);
            for (var k = 0; k < masses.Length; k++)
            {
                masses[k] += mass;
                mass *= (k + WalkSize) / (k + 1) * (mean / (mean + WalkSize));
            }
        }
        var sum = masses.Sum();
        return CountDistribution.FromMasses([.. masses.Select(mass => mass / sum)]);
    }

    /// <summary>ln P(all that was found and counted | curve and shares).</summary>
    /// <param name="days">Day after day.</param>
    /// <param name="survival">The curve.</param>
    /// <param name="seen">Share of those alive that a walk counts.</param>
    /// <param name="found">Share of the dead that is found.</param>
    /// <param name="exact">Null to choose by the number that can fly.</param>
    internal static double LogLikelihood(IReadOnlyList<WingDay> days, AdultSurvival survival, double seen, double found, bool? exact = null)
    {
        var most = days.Sum(day => (long)day.Released);
        return LogLikelihood(days, DailyChances(days, survival), seen, found, most, exact ?? most <= MostExact);
    }

    private static double LogLikelihood(IReadOnlyList<WingDay> days, double[] chances, double seen, double found, long most, bool exact) =>
        exact ? Exactly(days, chances, seen, found, (int)most) : ByMoments(days, chances, seen, found);

    /// <summary>The chance to live from the day before to each day, of all that fly, by their expected ages.</summary>
    private static double[] DailyChances(IReadOnlyList<WingDay> days, AdultSurvival survival)
    {
        var chances = new double[days.Count];
        var alive = new double[days.Count];
        var daily = new double[days.Count];
        for (var age = 0; age < daily.Length; age++) daily[age] = survival.Daily(age);
        var first = 0;
        for (var t = 0; t < days.Count; t++)
        {
            var (before, after) = (0.0, 0.0);
            for (var s = first; s < t; s++)
            {
                // A thousandth of a butterfly moves no mean; the oldest ages are left behind for good.
                if (alive[s] < 1e-3)
                {
                    if (s == first) first++;
                    continue;
                }
                before += alive[s];
                after += alive[s] *= daily[t - 1 - s];
            }
            chances[t] = before > 0 ? after / before : 1;
            alive[t] = days[t].Released;
        }
        return chances;
    }

    private static double Exactly(IReadOnlyList<WingDay> days, double[] chances, double seen, double found, int most)
    {
        var alive = new double[most + 1];
        alive[0] = 1;
        var masses = new double[most + 1];
        var log = 0.0;
        for (var t = 0; t < days.Count; t++)
        {
            var (day, gone) = (days[t], (1 - chances[t]) * found);
            // Found ones are counted off; of the others each lives with the chance given that it was not found.
            var live = gone < 1 ? chances[t] / (1 - gone) : 0;
            var next = new double[most + 1];
            for (var n = day.FoundDead; n <= most; n++)
            {
                if (alive[n] == 0) continue;
                Binomial(masses, n, gone);
                var weight = alive[n] * masses[day.FoundDead];
                if (weight == 0) continue;
                var left = n - day.FoundDead;
                Binomial(masses, left, live);
                for (var k = 0; k <= left && k + day.Released <= most; k++) next[k + day.Released] += weight * masses[k];
            }
            if (day.Walked is { } walked)
                for (var n = 0; n <= most; n++) next[n] *= Math.Exp(LogNegativeBinomial(walked, seen * n, WalkSize));
            var sum = next.Sum();
            // More dead, or more seen, than were ever let go: a count is wrong. The day then says nothing but that it is improbable.
            if (!(sum > 0)) return log - 50;
            log += Math.Log(sum);
            for (var n = 0; n <= most; n++) next[n] /= sum;
            alive = next;
        }
        return log;
    }

    private static double ByMoments(IReadOnlyList<WingDay> days, double[] chances, double seen, double found)
    {
        var (mean, variance, log) = (0.0, 0.0, 0.0);
        for (var t = 0; t < days.Count; t++)
        {
            var (day, gone) = (days[t], (1 - chances[t]) * found);
            (mean, variance) = Update(day.FoundDead, gone, 0, mean, variance, ref log);
            var left = Math.Max(0, mean - day.FoundDead);
            var live = gone < 1 ? chances[t] / (1 - gone) : 0;
            (mean, variance) = (live * left + day.Released, live * live * variance + live * (1 - live) * left);
            if (day.Walked is { } walked) (mean, variance) = Update(walked, seen, 1 / WalkSize, mean, variance, ref log);
        }
        return log;
    }

    /// <summary>A count of a share of what is alive: its likelihood, and what it says of the number.</summary>
    /// <param name="count">What was counted.</param>
    /// <param name="share">Expected share.</param>
    /// <param name="spread">1/size of its own variation; 0 for a binomial.</param>
    /// <param name="mean">Of the number alive.</param>
    /// <param name="variance">Its variance.</param>
    /// <param name="log">Sum of the likelihoods.</param>
    private static (double Mean, double Variance) Update(int count, double share, double spread, double mean, double variance, ref double log)
    {
        var expected = Math.Max(1e-9, share * mean);
        var own = spread > 0 ? expected + spread * (expected * expected + share * share * variance) : expected * (1 - share);
        var all = Math.Max(expected * 1.0001, own + share * share * variance);
        log += LogNegativeBinomial(count, expected, expected * expected / (all - expected));
        if (variance <= 0) return (mean, variance);
        var gain = share * variance / Math.Max(1e-12, own + share * share * variance);
        return (Math.Max(0, mean + gain * (count - expected)), Math.Max(0, variance - gain * share * variance));
    }

    /// <summary>The chances of 0…n, each from the one before; n is small here, so that the first does not vanish.</summary>
    private static void Binomial(double[] masses, int n, double p)
    {
        if (p >= 1)
        {
            Array.Clear(masses, 0, n);
            masses[n] = 1;
            return;
        }
        masses[0] = Math.Pow(1 - p, n);
        for (var k = 0; k < n; k++) masses[k + 1] = masses[k] * (n - k) / (k + 1) * (p / (1 - p));
    }

    private static double LogNegativeBinomial(int k, double mean, double size)
    {
        const int few = 30;
        if (mean <= 0) return k == 0 ? 0 : double.NegativeInfinity;
        var none = size * Math.Log(size / (size + mean));
        if (k == 0) return none;
        var odds = mean / (size + mean);
        if (k > few) return SpecialFunctions.LogGamma(k + size) - SpecialFunctions.LogGamma(size) - SpecialFunctions.LogGamma(k + 1.0) + none + k * Math.Log(odds);
        // Gamma functions a whole number apart are a product: one logarithm in place of many.
        var ratio = 1.0;
        for (var i = 0; i < k; i++) ratio *= (size + i) / (i + 1) * odds;
        return ratio > 0 ? none + Math.Log(ratio) : none + k * Math.Log(odds);
    }

    private static double[] Moved(double[] at, int k, double by)
    {
        var moved = (double[])at.Clone();
        moved[k] += by;
        return moved;
    }

    private static double Logit(double chance) => Math.Log(chance / (1 - Guard.OpenChance(chance)));

    private static double Chance(double logit) => 1 / (1 + Math.Exp(-logit));
}
