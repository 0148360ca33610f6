using Lepidary.Science.Survival;

namespace Lepidary.Science.Tests.Survival;

public class KaplanMeierTest
{
    /// <summary>6-MP: t, n, d, S, Greenwood's error, 95 % "log" limits, Nelson-Aalen and its error. Computed with R 4.2.2, survival 3.5-3, 2026-11-30; recipe in bench/peers/survival.R.</summary>
    [Fact]
    public void SixMp_equals_R()
    {
        double[][] expected =
        [
            [6, 21, 3, 0.857143, 0.076360, 0.719817, 1.000000, 0.14285714, 0.08247861],
            [7, 17, 1, 0.806723, 0.086935, 0.653124, 0.996444, 0.20168067, 0.10130611],
            [10, 15, 1, 0.752941, 0.096350, 0.585919, 0.967575, 0.26834734, 0.12127396],
            [13, 12, 1, 0.690196, 0.106815, 0.509613, 0.934769, 0.35168067, 0.14714557],
            [16, 11, 1, 0.627451, 0.114054, 0.439394, 0.895995, 0.44258976, 0.17296323],
            [22, 7, 1, 0.537815, 0.128234, 0.337037, 0.858201, 0.58544691, 0.22433110],
            [23, 6, 1, 0.448179, 0.134591, 0.248788, 0.807372, 0.75211357, 0.27946775],
        ];
        var estimate = KaplanMeier.Of(Samples.SixMp);
        Assert.Equal(7, estimate.Steps.Count);
        foreach (var (i, step) in estimate.Steps.Index())
        {
            var (from, to) = step.Limits();
            Close.To(
                expected[i],
                [step.Time, step.AtRisk, step.Events, step.Survival, step.Error, from, to, step.Hazard, step.HazardError],
                5.1e-7);
        }
        Assert.Equal(23, estimate.TimeAt(0.5));
        Assert.Equal((16.0, (double?)null), estimate.TimeLimits(0.5));
    }

    /// <summary>Other kinds of limits for 6-MP. Computed with R 4.2.2, survival 3.5-3.</summary>
    [Fact]
    public void SixMp_other_limits_equal_R()
    {
        var steps = KaplanMeier.Of(Samples.SixMp).Steps;
        (double, double) At(double time, SurvivalLimits limits) => steps.Single(step => step.Time == time).Limits(0.95, limits);
        void Near((double From, double To) expected, (double From, double To) actual) =>
            Close.To([expected.From, expected.To], [actual.From, actual.To], 5.1e-7);
        Near((0.619718, 0.951552), At(6, SurvivalLimits.LogLog));
        Near((0.503200, 0.889362), At(10, SurvivalLimits.LogLog));
        Near((0.188052, 0.680143), At(23, SurvivalLimits.LogLog));
        Near((0.564099, 0.941783), At(10, SurvivalLimits.Plain));
    }

    /// <summary>Restricted means of 6-MP. Computed with R 4.2.2, survival 3.5-3.</summary>
    [Theory]
    [InlineData(35, 23.2873950, 2.8274676)]
    [InlineData(23, 17.909244, 1.553190)]
    public void MeanUpTo_equals_R(double horizon, double mean, double error)
    {
        var restricted = KaplanMeier.Of(Samples.SixMp).MeanUpTo(horizon);
        Close.To(mean, restricted.Mean, 5.1e-7);
        Close.To(error, restricted.Error, 5.1e-7);
    }

    /// <summary>Whole days are counted, other times are sorted: half of every time changes nothing but the times.</summary>
    [Fact]
    public void Of_whole_days_equals_Of_any_times() => Gen.Select(Gen.Int[0, 30], Gen.Bool).Array[1, 60].Holds(drawn =>
    {
        Observation[] days = [.. drawn.Select(one => new Observation(one.Item1, one.Item2))];
        var (whole, half) = (KaplanMeier.Of(days), KaplanMeier.Of([.. days.Select(one => one with { Time = (one.Time / 2) + 0.25 })]));
        Assert.Equal(whole.Steps.Select(step => (step.AtRisk, step.Events, step.Survival)), half.Steps.Select(step => (step.AtRisk, step.Events, step.Survival)));
        Assert.Equal(whole.Steps.Select(step => (step.Time / 2) + 0.25), half.Steps.Select(step => step.Time));
        Assert.Equal((whole.LastTime / 2) + 0.25, half.LastTime);
    });

    /// <summary>Forty pupae of four lots, invented; nine still hung. Computed with R 4.2.2, survival 3.5-3, 2026-11-30; recipe in bench/peers/survival.R.</summary>
    [Fact]
    public void Pupae_of_four_lots_equal_R()
    {
        double[][] expected =
        [
            [3, 40, 1, 0.9750000, 0.02468552, 0.92779811, 1.0000000, 0.02500000, 0.02500000],
            [4, 39, 1, 0.9500000, 0.03446012, 0.88480441, 1.0000000, 0.05064103, 0.03581148],
            [5, 38, 4, 0.8500000, 0.05645795, 0.74624454, 0.9681813, 0.15590418, 0.06365960],
            [6, 34, 8, 0.6500000, 0.07541552, 0.51779000, 0.8159679, 0.39119830, 0.10475190],
            [7, 25, 7, 0.4680000, 0.07972101, 0.33515734, 0.6534961, 0.67119830, 0.14890588],
            [8, 17, 5, 0.3303529, 0.07643006, 0.20991584, 0.5198896, 0.96531595, 0.19868064],
            [9, 9, 3, 0.2202353, 0.07273850, 0.11528033, 0.4207447, 1.29864928, 0.27660628],
            [10, 4, 2, 0.1101176, 0.06598634, 0.03402415, 0.3563909, 1.79864928, 0.44889981],
        ];
        var estimate = KaplanMeier.Of(Samples.PupaeByLot.SelectMany(lot => lot));
        Assert.Equal(expected.Length, estimate.Steps.Count);
        foreach (var (i, step) in estimate.Steps.Index())
        {
            var (from, to) = step.Limits();
            Close.To(expected[i], [step.Time, step.AtRisk, step.Events, step.Survival, step.Error, from, to, step.Hazard, step.HazardError], 5.1e-8);
        }
        var test = LogRank.Test(Samples.PupaeByLot);
        Close.To([7, 8, 8, 8], [.. test.Observed], 1e-12);
        Close.To([7.979826149, 5.195739462, 11.951590855, 5.872843534], [.. test.Expected], 5.1e-10);
        Close.To(5.022184949, test.ChiSquared, 5.1e-10);
    }

    /// <summary>Placebo arm. Computed with R 4.2.2, survival 3.5-3.</summary>
    [Fact]
    public void Placebo_equals_R()
    {
        double[] survival =
        [
            0.904762, 0.809524, 0.761905, 0.666667, 0.571429, 0.380952, 0.285714, 0.190476, 0.142857, 0.095238, 0.047619, 0,
        ];
        double[] error =
        [
            0.064056, 0.085689, 0.092943, 0.102869, 0.107990, 0.105971, 0.098581, 0.085689, 0.076360, 0.064056, 0.046471,
        ];
        var estimate = KaplanMeier.Of(Samples.Placebo);
        Close.To(survival, estimate.Steps.Select(step => step.Survival).ToArray(), 5.1e-7);
        Close.To(error, estimate.Steps.Take(11).Select(step => step.Error).ToArray(), 5.1e-7);
        Assert.True(double.IsNaN(estimate.Steps[^1].Error));
        Assert.Equal(8, estimate.TimeAt(0.5));
        Assert.Equal((4.0, 12.0), estimate.TimeLimits(0.5));
    }

    /// <summary>aml, both arms. Computed with R 4.2.2, survival 3.5-3.</summary>
    [Fact]
    public void Aml_equals_R()
    {
        var maintained = KaplanMeier.Of(Samples.Maintained);
        Close.To(
            [0.909091, 0.818182, 0.715909, 0.613636, 0.490909, 0.368182, 0.184091],
            maintained.Steps.Select(step => step.Survival).ToArray(), 5.1e-7);
        Close.To(
            [0.086678, 0.116291, 0.139665, 0.152632, 0.164193, 0.162669, 0.153493],
            maintained.Steps.Select(step => step.Error).ToArray(), 5.1e-7);
        Assert.Equal(31, maintained.TimeAt(0.5));
        var other = KaplanMeier.Of(Samples.NotMaintained);
        Close.To(
            [0.833333, 0.666667, 0.583333, 0.486111, 0.388889, 0.291667, 0.194444, 0.097222, 0],
            other.Steps.Select(step => step.Survival).ToArray(), 5.1e-7);
        Close.To(
            [0.107583, 0.136083, 0.142319, 0.148130, 0.146986, 0.138715, 0.121875, 0.091866],
            other.Steps.Take(8).Select(step => step.Error).ToArray(), 5.1e-7);
        Assert.Equal(23, other.TimeAt(0.5));
    }

    /// <summary>By hand: 1, 2+, 3. S is 2/3 from 1 on and 0 from 3 on; variance at 1: (2/3)²·1/(3·2).</summary>
    [Fact]
    public void Of_by_hand()
    {
        var estimate = KaplanMeier.Of(Samples.Read("1,2+,3"));
        Close.To(2.0 / 3, estimate.At(1), 1e-15);
        Close.To(2.0 / 3, estimate.At(2.9), 1e-15);
        Assert.Equal(0, estimate.At(3));
        Assert.Equal(1, estimate.At(0.5));
        Close.To(2.0 / 3 * Math.Sqrt(1.0 / 6), estimate.Steps[0].Error, 1e-15);
        Close.To(1 + 2 * 2.0 / 3, estimate.MeanUpTo(3).Mean, 1e-15);
    }

    /// <summary>A second way: redistribute the weight of each censored one to all later ones (Efron). Random cases.</summary>
    [Fact]
    public void Of_equals_redistribution_to_the_right()
    {
        Gen.Select(Gen.Int[1, 12], Gen.Bool).Array[1, 25].Holds(cases =>
        {
            var sample = cases.Select(one => new Observation(one.Item1, one.Item2)).OrderBy(o => o.Time).ThenByDescending(o => o.HasEvent).ToArray();
            var weights = Enumerable.Repeat(1.0 / sample.Length, sample.Length).ToArray();
            for (var i = 0; i < sample.Length - 1; i++)
            {
                if (sample[i].HasEvent) continue;
                for (var j = i + 1; j < sample.Length; j++) weights[j] += weights[i] / (sample.Length - i - 1);
                weights[i] = 0;
            }
            var estimate = KaplanMeier.Of(sample);
            for (var time = 0; time <= 12; time++)
                Close.To(1 - sample.Zip(weights).Where(pair => pair.First.HasEvent && pair.First.Time <= time).Sum(pair => pair.Second), estimate.At(time), 1e-12);
        });
    }

    [Fact]
    public void Nobody_has_an_event_and_nobody_watched()
    {
        var estimate = KaplanMeier.Of(Samples.Read("3+,5+"));
        Assert.Empty(estimate.Steps);
        Assert.Equal(1, estimate.At(9));
        Assert.Null(estimate.TimeAt(0.5));
        Assert.Equal(5, estimate.MeanUpTo(5).Mean);
        Assert.Throws<ArgumentException>(() => KaplanMeier.Of([]));
        Assert.Throws<ArgumentOutOfRangeException>(() => KaplanMeier.Of([new(-1, true)]));
        Assert.Throws<ArgumentOutOfRangeException>(() => KaplanMeier.Of([new(double.NaN, true)]));
        Assert.Throws<ArgumentOutOfRangeException>(() => estimate.MeanUpTo(6));
    }
}
