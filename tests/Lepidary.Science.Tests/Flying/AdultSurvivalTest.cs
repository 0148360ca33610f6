using Lepidary.Science.Flying;

namespace Lepidary.Science.Tests.Flying;

public class AdultSurvivalTest
{
    /// <summary>Geometric, s = 0.9: counted days with the day of release 10. Computed with R 4.2.2.</summary>
    [Fact]
    public void FromDaily_equals_R()
    {
        var survival = AdultSurvival.FromDaily(0.9);
        Close.To(10, survival.MeanDaysCounted, 1e-12);
        Close.To(0.81, survival[2], 1e-15);
        Close.To(Math.Pow(0.9, 40), survival[40], 1e-15);
        Close.To(0.9, survival.Daily(7), 1e-14);
    }

    /// <summary>Weibull, scale 14, shape 1.8 (parameters invented). Computed with R 4.2.2.</summary>
    [Fact]
    public void FromWeibull_equals_R()
    {
        var survival = AdultSurvival.FromWeibull(14, 1.8);
        Close.To(0.7503807094, survival[7], 5e-11);
        Close.To(0.3678794412, survival[14], 5e-11);
        Close.To(0.1255887247, survival[21], 5e-11);
        Close.To(12.95007945, survival.MeanDaysCounted, 5e-9);
    }

    [Theory]
    [InlineData(12, 28)]
    [InlineData(14, 30)]
    [InlineData(5, 10)]
    [InlineData(60, 140)]
    public void FromLife_keeps_mean_and_maximum(double mean, double max)
    {
        var survival = AdultSurvival.FromLife(mean, max);
        // The sum of a smooth curve over whole days is half a day more than its integral.
        Close.To(mean + 0.5, survival.MeanDaysCounted, 0.01);
        Close.To(AdultSurvival.ShareAtMax, survival[(int)max], 1e-6);
    }

    [Fact]
    public void FromLife_with_odd_figures_keeps_the_mean()
    {
        // Longest-lived at ten times the mean: constant risk. At a tenth more than the mean: the steepest curve allowed.
        Close.To(AdultSurvival.FromDaily(Math.Exp(-1.0 / 20))[13], AdultSurvival.FromLife(20, 200)[13], 1e-12);
        Close.To(20.5, AdultSurvival.FromLife(20, 22).MeanDaysCounted, 0.01);
    }

    [Fact]
    public void Curve_never_rises()
    {
        Gen.Select(Gen.Double[0.5, 100], Gen.Double[1.01, 20]).Holds((mean, ratio) =>
        {
            var survival = AdultSurvival.FromLife(mean, mean * ratio);
            Assert.Equal(1, survival[0]);
            for (var day = 0; day < 1200; day++) Assert.InRange(survival[day + 1], 0, survival[day]);
        }, seed: 1);
    }

    [Fact]
    public void GivenAlive_conditions_and_goes_on_past_the_curve()
    {
        var survival = AdultSurvival.FromCurve([1, 0.8, 0.4]);
        Close.To(0.5, survival.GivenAlive(1, 1), 1e-15);
        Close.To(0.4, survival.GivenAlive(0, 2), 1e-15);
        Close.To(0.4 * 0.25, survival[4], 1e-15);
        Close.To(0.25, survival.GivenAlive(9, 2), 1e-14);
        // Seen older than any curve allows.
        Assert.Equal(0, AdultSurvival.FromCurve([1, 0.5, 0]).GivenAlive(5, 1));
        Assert.Equal(1, AdultSurvival.FromCurve([1, 0.5, 0]).GivenAlive(5, 0));
    }

    [Fact]
    public void Impossible_values_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => AdultSurvival.FromLife(0, 5));
        Assert.Throws<ArgumentOutOfRangeException>(() => AdultSurvival.FromLife(6, 5));
        Assert.Throws<ArgumentOutOfRangeException>(() => AdultSurvival.FromDaily(1.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => AdultSurvival.FromWeibull(double.NaN, 1));
        Assert.Throws<ArgumentException>(() => AdultSurvival.FromCurve([]));
        Assert.Throws<ArgumentException>(() => AdultSurvival.FromCurve([0.9]));
        Assert.Throws<ArgumentException>(() => AdultSurvival.FromCurve([1, 0.5, 0.6]));
    }
}
