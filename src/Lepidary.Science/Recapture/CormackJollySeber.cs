using Lepidary.Science.Numerics;

namespace Lepidary.Science.Recapture;

/// <summary>An estimated chance.</summary>
/// <param name="Value">0…1.</param>
/// <param name="Error">Standard error; infinite or NaN where the counts do not tell it from another.</param>
/// <param name="From">Lower limit, 95 %, made on the logit scale.</param>
/// <param name="To">Upper limit.</param>
public readonly record struct EstimatedChance(double Value, double Error, double From, double To);

/// <summary>
/// Survival and detection of marked adults from who was seen again when (Cormack, Jolly and Seber): survival φ from one occasion to the next, chance p to be seen on an
/// occasion if alive.
/// </summary>
/// <remarks>
/// Chance of being next seen on occasion j after release i: φ_i…φ_{j-1}·(1-p_{i+1})…(1-p_{j-1})·p_j; what is left was never seen again. Dead and gone look alike, so φ is
/// "alive and still there"; under glass that is survival. Maximum likelihood on the logit scale by damped Newton steps.
/// </remarks>
public sealed record CormackJollySeber
{
    /// <summary>φ by group of intervals, as asked for.</summary>
    public required IReadOnlyList<EstimatedChance> Survival { get; init; }

    /// <summary>p by group of occasions, as asked for.</summary>
    public required IReadOnlyList<EstimatedChance> Detection { get; init; }

    /// <summary>-2·ln of the likelihood, without the multinomial constant.</summary>
    public required double Deviance { get; init; }

    /// <summary>Akaike's criterion corrected for a small sample, which is the number of releases.</summary>
    public required double Aicc { get; init; }

    /// <summary>Fits a model.</summary>
    /// <param name="table">Releases and next sightings.</param>
    /// <param name="survivalGroups">Group of each interval, 0, 1, …: all 0 for one survival, 0…n-1 for one each.</param>
    /// <param name="detectionGroups">Group of each occasion after the first.</param>
    /// <param name="days">Length of each interval, above 0: φ is then of one day, and an interval is lived through with φ to that power. Null for intervals that are all alike.</param>
    /// <exception cref="ArgumentException">Groups or days do not fit the table.</exception>
    public static CormackJollySeber Fit(ReleaseTable table, IReadOnlyList<int> survivalGroups, IReadOnlyList<int> detectionGroups, IReadOnlyList<int>? days = null)
    {
        ArgumentNullException.ThrowIfNull(table);
        if (days is not null && (days.Count != table.Intervals || days.Any(length => length < 1))) throw new ArgumentException($"{table.Intervals} lengths wanted, above 0.", nameof(days));
        var phis = Groups(survivalGroups, table.Intervals);
        var ps = Groups(detectionGroups, table.Intervals);
        double Log(double[] logits) => LogLikelihood(
            table,
            [.. survivalGroups.Select((group, interval) => Math.Pow(Chance(logits[group]), days is null ? 1 : days[interval]))],
            [.. detectionGroups.Select(group => Chance(logits[phis + group]))]);
        var (at, information) = Maximise(Log, new double[phis + ps]);
        var errors = Errors(information);
        EstimatedChance Estimate(int k)
        {
            var chance = Chance(at[k]);
            return new(chance, errors[k] * chance * (1 - chance), Chance(at[k] - 1.959963984540054 * errors[k]), Chance(at[k] + 1.959963984540054 * errors[k]));
        }
        double deviance = -2 * Log(at), parameters = phis + ps, releases = table.Released.Sum();
        return new()
        {
            Survival = [.. Enumerable.Range(0, phis).Select(Estimate)],
            Detection = [.. Enumerable.Range(phis, ps).Select(Estimate)],
            Deviance = deviance,
            Aicc = deviance + 2 * parameters + 2 * parameters * (parameters + 1) / (releases - parameters - 1),
        };
    }

    /// <summary>One survival and one detection for all.</summary>
    /// <param name="table">Releases and next sightings.</param>
    /// <param name="days">Length of each interval, or null for intervals that are all alike.</param>
    public static CormackJollySeber FitConstant(ReleaseTable table, IReadOnlyList<int>? days = null)
    {
        ArgumentNullException.ThrowIfNull(table);
        var one = new int[table.Intervals];
        return Fit(table, one, one, days);
    }

    /// <summary>Log-likelihood, without the multinomial constant.</summary>
    /// <param name="table">Releases and next sightings.</param>
    /// <param name="survival">φ of each interval, 0…1.</param>
    /// <param name="detection">p on each occasion after the first, 0…1.</param>
    public static double LogLikelihood(ReleaseTable table, IReadOnlyList<double> survival, IReadOnlyList<double> detection)
    {
        ArgumentNullException.ThrowIfNull(table);
        ArgumentNullException.ThrowIfNull(survival);
        ArgumentNullException.ThrowIfNull(detection);
        var log = 0.0;
        for (var release = 0; release < table.Intervals; release++)
        {
            var (unseen, never, left) = (1.0, 1.0, table.Released[release]);
            for (var j = release; j < table.Intervals; j++)
            {
                var seen = unseen * survival[j] * detection[j];
                var count = table.NextSeen(release)[j - release];
                if (count > 0) log += count * Math.Log(seen);
                unseen *= survival[j] * (1 - detection[j]);
                never -= seen;
                left -= count;
            }
            if (left > 0) log += left * Math.Log(Math.Max(never, 0));
        }
        return log;
    }

    private static int Groups(IReadOnlyList<int> groups, int intervals)
    {
        ArgumentNullException.ThrowIfNull(groups);
        var count = groups.Count == 0 ? 0 : groups.Max() + 1;
        return groups.Count == intervals && Enumerable.Range(0, count).All(groups.Contains) && groups.All(group => group >= 0)
            ? count
            : throw new ArgumentException($"{intervals} groups wanted, numbered from 0 without a gap.", nameof(groups));
    }

    private static double Chance(double logit) => 1 / (1 + Math.Exp(-logit));

    /// <summary>Newton's method with Marquardt's damping; slopes and curvatures by central differences. Returns the negative curvature too.</summary>
    private static (double[] At, double[,] Information) Maximise(Func<double[], double> log, double[] at)
    {
        var n = at.Length;
        var (value, damping) = (log(at), 1e-3);
        for (var step = 0; step < 200; step++)
        {
            var (slope, curvature) = Derivatives(log, at, value);
            var moved = false;
            while (!moved && damping < 1e12)
            {
                var system = new double[n, n];
                for (var i = 0; i < n; i++)
                {
                    for (var j = 0; j < n; j++) system[i, j] = -curvature[i, j];
                    system[i, i] += damping * (1 + Math.Abs(curvature[i, i]));
                }
                var change = LinearAlgebra.Solve(system, [.. slope]);
                double[] tried = [.. at.Zip(change, (x, dx) => x + Math.Clamp(dx, -2, 2))];
                var better = log(tried);
                if (better >= value)
                {
                    var done = change.Max(Math.Abs) < 1e-9;
                    (at, value, damping, moved) = (tried, better, damping / 10, true);
                    if (done) return (at, Derivatives(log, at, value, negated: true).Curvature);
                }
                else
                {
                    damping *= 10;
                }
            }
            if (!moved) break;
        }
        return (at, Derivatives(log, at, value, negated: true).Curvature);
    }

    private static (double[] Slope, double[,] Curvature) Derivatives(Func<double[], double> log, double[] at, double value, bool negated = false)
    {
        const double H = 1e-4;
        var n = at.Length;
        double At(int i, double hi, int j, double hj)
        {
            double[] moved = [.. at];
            moved[i] += hi;
            moved[j] += hj;
            return log(moved);
        }
        var (slope, curvature) = (new double[n], new double[n, n]);
        for (var i = 0; i < n; i++)
        {
            var (up, down) = (At(i, H, i, 0), At(i, -H, i, 0));
            slope[i] = (up - down) / (2 * H);
            curvature[i, i] = (up - 2 * value + down) / (H * H);
            for (var j = 0; j < i; j++)
                curvature[i, j] = curvature[j, i] = (At(i, H, j, H) - At(i, H, j, -H) - At(i, -H, j, H) + At(i, -H, j, -H)) / (4 * H * H);
        }
        if (negated)
            for (var i = 0; i < n; i++)
                for (var j = 0; j < n; j++) curvature[i, j] = -curvature[i, j];
        return (slope, curvature);
    }

    /// <summary>Square roots of the inverse's diagonal; infinite where two chances cannot be told apart.</summary>
    private static double[] Errors(double[,] information)
    {
        var n = information.GetLength(0);
        var errors = new double[n];
        for (var k = 0; k < n; k++)
        {
            var unit = new double[n];
            unit[k] = 1;
            try
            {
                var variance = LinearAlgebra.Solve((double[,])information.Clone(), unit)[k];
                errors[k] = variance is > 0 and < 1e5 ? Math.Sqrt(variance) : double.PositiveInfinity;
            }
            catch (ArgumentException)
            {
                errors[k] = double.PositiveInfinity;
            }
        }
        return errors;
    }
}
