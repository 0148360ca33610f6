using Lepidary.Science.Survival;

namespace Lepidary.Science.Tests.Survival;

public class LogRankTest
{
    /// <summary>Edmonson's ovarian trial as in R's survival::ovarian: days, event, treatment (read in R), and residual disease
    /// (from memory; it gives the stratified value that R printed).</summary>
    private static readonly (double Time, int Event, int Treatment, int Residual)[] Ovarian =
    [
        (59, 1, 1, 2), (115, 1, 1, 2), (156, 1, 1, 2), (421, 0, 2, 2), (431, 1, 1, 2), (448, 0, 1, 1), (464, 1, 2, 2), (475, 1, 2, 2),
        (477, 0, 1, 2), (563, 1, 2, 1), (638, 1, 1, 1), (744, 0, 2, 1), (769, 0, 2, 2), (770, 0, 2, 2), (803, 0, 1, 1), (855, 0, 1, 1),
        (1040, 0, 1, 2), (1106, 0, 1, 1), (1129, 0, 2, 1), (1206, 0, 2, 2), (1227, 0, 2, 1), (268, 1, 1, 2), (329, 1, 1, 2), (353, 1, 2, 1),
        (365, 1, 2, 2), (377, 0, 2, 1),
    ];

    /// <summary>Computed with R 4.2.2, survival 3.5-3, 2026-11-30; recipe in bench/peers/survival.R.</summary>
    [Fact]
    public void SixMp_equals_R()
    {
        var result = LogRank.Test([Samples.SixMp, Samples.Placebo]);
        Close.To([9, 21], result.Observed.ToArray(), 1e-12);
        Close.To([19.250500948, 10.749499052], result.Expected.ToArray(), 5.1e-7);
        Close.To(6.256960574, result.Variance, 5.1e-10);
        Close.To(16.792941, result.ChiSquared, 5.1e-7);
        Close.To(4.1688091e-05, result.P, 5.1e-13);
    }

    /// <summary>Peto and Peto's weights. Computed with R 4.2.2, survival 3.5-3.</summary>
    [Fact]
    public void SixMp_with_Peto_weights_equals_R()
    {
        var result = LogRank.Test([Samples.SixMp, Samples.Placebo], rho: 1);
        Close.To([5.1215146, 14.552852], result.Observed.ToArray(), 5.1e-7);
        Close.To([11.99856, 7.6758067], result.Expected.ToArray(), 5.1e-6);
        Close.To(14.457151, result.ChiSquared, 5.1e-7);
        Close.To(0.00014338444, result.P, 5.1e-12);
    }

    /// <summary>Computed with R 4.2.2, survival 3.5-3.</summary>
    [Fact]
    public void Aml_and_ovarian_equal_R()
    {
        var aml = LogRank.Test([Samples.Maintained, Samples.NotMaintained]);
        Close.To([7, 11], aml.Observed.ToArray(), 1e-12);
        Close.To([10.689336, 7.310664], aml.Expected.ToArray(), 5.1e-7);
        Close.To(4.0075507, aml.Variance, 5.1e-8);
        Close.To(3.3963887, aml.ChiSquared, 5.1e-8);
        Close.To(0.065339322, aml.P, 5.1e-10);
        var ovarian = LogRank.Test([Arm(1), Arm(2)]);
        Close.To([7, 5], ovarian.Observed.ToArray(), 1e-12);
        Close.To([5.233531, 6.766469], ovarian.Expected.ToArray(), 5.1e-7);
        Close.To(1.0627399, ovarian.ChiSquared, 5.1e-8);
        Close.To(0.30259112, ovarian.P, 5.1e-9);
    }

    /// <summary>Four groups, three degrees of freedom. Computed with R 4.2.2, survival 3.5-3, 2026-11-30; recipe in bench/peers/survival.R.</summary>
    [Fact]
    public void Veterans_of_four_groups_equal_R()
    {
        var result = LogRank.Test(Samples.Veterans);
        Close.To([31, 45, 26, 26], result.Observed.ToArray(), 1e-12);
        Close.To([47.6546776725, 30.1020793268, 15.6937646144, 34.5494783863], result.Expected.ToArray(), 5.1e-9);
        Assert.Equal(3, result.Degrees);
        Close.To(25.4037003458, result.ChiSquared, 5.1e-9);
        Close.To(1.27124593901e-05, result.P, 5.1e-15);
    }

    /// <summary>Stratified by residual disease. Computed with R 4.2.2, survival 3.5-3.</summary>
    [Fact]
    public void Ovarian_stratified_equals_R()
    {
        var result = LogRank.Stratified([.. new[] { 1, 2 }.Select(residual => (IReadOnlyList<IReadOnlyCollection<Observation>>)[Arm(1, residual), Arm(2, residual)])]);
        Close.To(1.2796435, result.ChiSquared, 5.1e-8);
    }

    private static Observation[] Arm(int treatment, int? residual = null) =>
        [.. Ovarian.Where(row => row.Treatment == treatment && row.Residual == (residual ?? row.Residual))
            .Select(row => new Observation(row.Time, row.Event == 1))];

    /// <summary>A slow second implementation: everyone counted anew at every time of an event.</summary>
    [Fact]
    public void Test_equals_counting_anew_at_each_time()
    {
        var all = Samples.SixMp.Concat(Samples.Placebo).ToList();
        var (expected, variance) = (0.0, 0.0);
        foreach (var time in all.Where(one => one.HasEvent).Select(one => one.Time).Distinct())
        {
            double atRisk = all.Count(one => one.Time >= time), events = all.Count(one => one.HasEvent && one.Time == time);
            var share = Samples.SixMp.Count(one => one.Time >= time) / atRisk;
            expected += events * share;
            variance += atRisk > 1 ? events * share * (1 - share) * (atRisk - events) / (atRisk - 1) : 0;
        }

        var result = LogRank.Test([Samples.SixMp, Samples.Placebo]);
        Close.To(expected, result.Expected[0], 1e-10);
        Close.To(variance, result.Variance, 1e-10);
        Close.To(Math.Pow(Samples.SixMp.Count(one => one.HasEvent) - expected, 2) / variance, result.ChiSquared, 1e-10);
    }

    /// <summary>By hand: 1 against 2. At time 1: one event, one of two at risk in the first group: expected ½, variance ¼.</summary>
    [Fact]
    public void Test_by_hand()
    {
        var result = LogRank.Test([Samples.Read("1"), Samples.Read("2")]);
        Close.To([0.5, 1.5], result.Expected.ToArray(), 1e-15);
        Close.To(0.25, result.Variance, 1e-15);
        Close.To(1, result.ChiSquared, 1e-15);
    }

    [Fact]
    public void More_groups_and_strata()
    {
        // Splitting one arm at random leaves observed = expected sums and gives one more degree of freedom.
        var result = LogRank.Test([Samples.SixMp, Samples.Placebo[..10], Samples.Placebo[10..]]);
        Assert.Equal(2, result.Degrees);
        Close.To(result.Observed.Sum(), result.Expected.Sum(), 1e-10);
        // Two equal strata double both the difference and its variance, so they double the statistic.
        IReadOnlyList<IReadOnlyCollection<Observation>> one = [Samples.SixMp, Samples.Placebo];
        Close.To(2 * LogRank.Test(one).ChiSquared, LogRank.Stratified([one, one]).ChiSquared, 1e-10);
        // The order of groups does not matter.
        Close.To(result.ChiSquared, LogRank.Test([Samples.Placebo[..10], Samples.SixMp, Samples.Placebo[10..]]).ChiSquared, 1e-10);
    }

    [Fact]
    public void Nothing_to_compare_is_refused()
    {
        Assert.Throws<ArgumentException>(() => LogRank.Test([Samples.SixMp]));
        Assert.Throws<ArgumentException>(() => LogRank.Stratified([[Samples.SixMp, Samples.Placebo], [Samples.SixMp]]));
        Assert.Throws<ArgumentException>(() => LogRank.Test([Samples.Read("1+"), Samples.Read("2+")]));
    }
}
