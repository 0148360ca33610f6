using Lepidary.Science.Numerics;

namespace Lepidary.Planning.Seasons;

/// <summary>How far a comparison has come.</summary>
/// <param name="Policy">The policy that is playing.</param>
/// <param name="WeeksDone">Weeks played, all seasons and policies together.</param>
/// <param name="Weeks">Weeks in all.</param>
/// <param name="SeasonsDone">Whole draws that every policy has played.</param>
public sealed record SeasonProgress(string Policy, int WeeksDone, int Weeks, int SeasonsDone);

/// <summary>A mean over draws.</summary>
/// <param name="Mean">Mean.</param>
/// <param name="From">Lower end of the interval: 95 of 100 such intervals hold the true mean. Minus infinity for a single draw.</param>
/// <param name="To">Upper end.</param>
public sealed record MeanOf(double Mean, double From, double To)
{
    /// <summary>Student's interval of independent values.</summary>
    public static MeanOf Of(IReadOnlyCollection<double> values)
    {
        ArgumentNullException.ThrowIfNull(values);
        if (values.Count == 0)
            return new(double.NaN, double.NegativeInfinity, double.PositiveInfinity);
        var mean = values.Average();
        if (values.Count == 1)
            return new(mean, double.NegativeInfinity, double.PositiveInfinity);
        var error = Math.Sqrt(values.Sum(v => (v - mean) * (v - mean)) / (values.Count - 1) / values.Count);
        var half = StudentQuantile(0.975, values.Count - 1) * error;
        return new(mean, mean - half, mean + half);
    }

    /// <summary>The quantile of Student's t above one half, by its tail P(|T| &gt; t) = I_x(n/2, 1/2) with x = n/(n+t²).</summary>
    internal static double StudentQuantile(double q, int degrees)
    {
        var x = SpecialFunctions.BetaQuantile(2 * (1 - q), degrees / 2.0, 0.5);
        return Math.Sqrt(degrees * (1 - x) / x);
    }
}

/// <summary>Seasons under several policies, all on the same draws.</summary>
public sealed class SeasonComparison
{
    private SeasonComparison(ulong seed, IReadOnlyList<string> policies, IReadOnlyList<IReadOnlyList<SeasonScore>> draws)
    {
        (Seed, Policies, Draws) = (seed, policies, draws);
    }

    /// <summary>Seed of the first draw.</summary>
    public ulong Seed { get; }

    /// <summary>Names, as given.</summary>
    public IReadOnlyList<string> Policies { get; }

    /// <summary>By draw, by policy. Draws that were not finished are not here.</summary>
    public IReadOnlyList<IReadOnlyList<SeasonScore>> Draws { get; }

    /// <summary>Plays every policy on each draw.</summary>
    /// <param name="setting">House and suppliers; without faults.</param>
    /// <param name="policies">At least one; names are unique.</param>
    /// <param name="draws">Seasons, at least 1.</param>
    /// <param name="seed">One seed, one outcome, where the policies depend on nothing but what they are told.</param>
    /// <param name="progress">Told after every week.</param>
    /// <param name="cancel">Ends it; the draws that are finished are kept.</param>
    public static SeasonComparison Play(
        SeasonSetting setting, IReadOnlyList<SeasonPolicy> policies, int draws, ulong seed, IProgress<SeasonProgress>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(policies);
        ArgumentOutOfRangeException.ThrowIfLessThan(draws, 1);
        var world = new SeasonWorld(setting);
        var finished = new List<IReadOnlyList<SeasonScore>>();
        var weeks = draws * policies.Count * world.Setting.Weeks;
        var done = 0;
        try
        {
            for (var draw = 0; draw < draws; draw++)
            {
                var scores = new List<SeasonScore>();
                foreach (var policy in policies)
                    scores.Add(SeasonRun.Play(world, policy, SeedOf(seed, draw), _ => progress?.Report(new(policy.Name, ++done, weeks, finished.Count)), cancel));
                finished.Add(scores);
            }
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            // What is finished is worth keeping: it is no different for having been stopped.
        }

        return new(seed, [.. policies.Select(p => p.Name)], finished);
    }

    /// <summary>The seed of one draw.</summary>
    public static ulong SeedOf(ulong seed, int draw) => SeasonRandom.Split(seed, (ulong)draw);

    /// <summary>Mean of a figure under a policy.</summary>
    /// <param name="policy">Place of the policy.</param>
    /// <param name="figure">The figure of a season.</param>
    public MeanOf Mean(int policy, Func<SeasonScore, double> figure) => MeanOf.Of([.. Draws.Select(d => figure(d[policy]))]);

    /// <summary>Mean difference of a figure from another policy's on the same draws.</summary>
    /// <param name="policy">Place of the policy.</param>
    /// <param name="other">Place of the other.</param>
    /// <param name="figure">The figure of a season.</param>
    public MeanOf Difference(int policy, int other, Func<SeasonScore, double> figure) => MeanOf.Of([.. Draws.Select(d => figure(d[policy]) - figure(d[other]))]);

    /// <summary>
    /// Share by which the sum of a figure is above another policy's (below 0: under it), with the interval of a ratio of paired sums: that of d - r·x, divided by the
    /// mean of x.
    /// </summary>
    /// <param name="policy">Place of the policy.</param>
    /// <param name="other">Place of the other.</param>
    /// <param name="figure">The figure of a season.</param>
    public MeanOf Ratio(int policy, int other, Func<SeasonScore, double> figure) =>
        Ratio([.. Draws.Select(d => figure(d[policy]))], [.. Draws.Select(d => figure(d[other]))]);

    /// <summary>The same for paired values.</summary>
    public static MeanOf Ratio(IReadOnlyList<double> values, IReadOnlyList<double> others)
    {
        ArgumentNullException.ThrowIfNull(values);
        ArgumentNullException.ThrowIfNull(others);
        var mean = others.Average();
        var ratio = values.Average() / mean;
        var spread = MeanOf.Of([.. values.Zip(others, (v, o) => v - (ratio * o))]);
        return new(ratio - 1, ratio - 1 + (spread.From / mean), ratio - 1 + (spread.To / mean));
    }
}
