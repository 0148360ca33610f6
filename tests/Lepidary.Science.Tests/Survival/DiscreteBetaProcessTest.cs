using Lepidary.Science.Survival;

namespace Lepidary.Science.Tests.Survival;

public class DiscreteBetaProcessTest
{
    /// <summary>c = 4, h = 0.1; (10,2), (7,1), (5,0). Computed with R 4.2.2; the first day by hand: (0.4+2)/14.</summary>
    [Fact]
    public void Posterior_small_example_equals_R()
    {
        var days = DiscreteBetaProcess.Posterior([0.1, 0.1, 0.1], [4, 4, 4], [10, 7, 5], [2, 1, 0]);
        Close.To(2.4 / 14, days[0].Hazard, 1e-15);
        Close.To([0.1714285714, 0.1272727273, 0.0444444444], days.Select(day => day.Hazard).ToArray(), 5.1e-11);
        Close.To([0.8285714286, 0.7231168831, 0.6909783550], days.Select(day => day.Survival).ToArray(), 5.1e-11);
        Close.To([0.0973107792, 0.1168533295, 0.1214356404], days.Select(day => day.Deviation).ToArray(), 5.1e-11);
        // The same counts without a prior: Kaplan-Meier.
        Close.To([0.8, 0.6857142857, 0.6857142857], DiscreteBetaProcess.Posterior([0.1, 0.1, 0.1], [0, 0, 0], [10, 7, 5], [2, 1, 0]).Select(day => day.Survival).ToArray(), 5.1e-11);
    }

    /// <summary>6-MP on weeks 1…35, prior hazard 0.05: share left and its deviation. Computed with R 4.2.2.</summary>
    [Theory]
    [InlineData(1, new[] { 0.997727, 0.988688, 0.851620, 0.744913, 0.615048, 0.442332, 0.382236 }, new[] { 0.009929, 0.022003, 0.073736, 0.092111, 0.107221, 0.119947, 0.125319 })]
    [InlineData(5, new[] { 0.990385, 0.952839, 0.833734, 0.719767, 0.578773, 0.418621, 0.291150 }, new[] { 0.018780, 0.040417, 0.070250, 0.085324, 0.095322, 0.097487, 0.090827 })]
    [InlineData(20, new[] { 0.975610, 0.883854, 0.797625, 0.672422, 0.518820, 0.371059, 0.220295 }, new[] { 0.023802, 0.048247, 0.059483, 0.068334, 0.070747, 0.065298, 0.051031 })]
    public void Posterior_of_6mp_equals_R(double weight, double[] survival, double[] deviation)
    {
        var days = SixMp(weight);
        foreach (var (i, week) in new[] { 1, 5, 6, 10, 16, 23, 35 }.Index())
        {
            Close.To(survival[i], days[week - 1].Survival, 5.1e-7);
            Close.To(deviation[i], days[week - 1].Deviation, 5.1e-7);
        }
        if (weight == 5) Close.To(21.19496548, 1 + days.Take(34).Sum(day => day.Survival), 5.1e-9);
    }

    [Fact]
    public void Without_weight_it_is_Kaplan_Meier_and_with_endless_weight_the_prior()
    {
        var estimate = KaplanMeier.Of(Samples.SixMp);
        foreach (var (i, day) in SixMp(1e-12).Index()) Close.To(estimate.At(i + 1), day.Survival, 1e-9);
        foreach (var (i, day) in SixMp(1e12).Index())
        {
            Close.To(Math.Pow(0.95, i + 1), day.Survival, 1e-9);
            Close.To(0, day.Deviation, 1e-5);
        }
        // Nobody at risk and no weight: the prior hazard stands.
        Close.To(0.7, DiscreteBetaProcess.Posterior([0.3], [0], [0], [0])[0].Survival, 1e-15);
    }

    [Fact]
    public void Impossible_arguments_are_refused()
    {
        Assert.Throws<ArgumentException>(() => DiscreteBetaProcess.Posterior([0.1], [4, 4], [10], [2]));
        Assert.Throws<ArgumentOutOfRangeException>(() => DiscreteBetaProcess.Posterior([1.1], [4], [10], [2]));
        Assert.Throws<ArgumentOutOfRangeException>(() => DiscreteBetaProcess.Posterior([0.1], [-1], [10], [2]));
        Assert.Throws<ArgumentOutOfRangeException>(() => DiscreteBetaProcess.Posterior([0.1], [4], [1], [2]));
    }

    private static IReadOnlyList<BetaProcessDay> SixMp(double weight)
    {
        var weeks = Enumerable.Range(1, 35).ToArray();
        return DiscreteBetaProcess.Posterior(
            [.. weeks.Select(_ => 0.05)],
            [.. weeks.Select(_ => weight)],
            [.. weeks.Select(week => (double)Samples.SixMp.Count(o => o.Time >= week))],
            [.. weeks.Select(week => (double)Samples.SixMp.Count(o => o.HasEvent && o.Time == week))]);
    }
}
