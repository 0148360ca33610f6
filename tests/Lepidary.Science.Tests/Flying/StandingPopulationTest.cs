using Lepidary.Science.Flying;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Tests.Flying;

public class StandingPopulationTest
{
    /// <summary>
    /// Little and Graves 2008, Building Intuition, ch. 5 (read): a wine rack holds 160 bottles on average, 8 are bought a month, so a
    /// bottle stays 20 months.
    /// </summary>
    [Fact]
    public void Little_wine_rack_published()
    {
        Assert.Equal(160, StandingPopulation.Mean(8, 20));
        Assert.Equal(8, StandingPopulation.ArrivalsPerDay(160, 20));
    }

    /// <summary>140 released once a week, daily survival 0.9. Computed with R 4.2.2.</summary>
    [Fact]
    public void AfterRegularReleases_equals_R()
    {
        var survival = AdultSurvival.FromDaily(0.9);
        double[] first = [140, 126, 113.4, 102.06, 91.854, 82.6686, 74.4017];
        for (var day = 0; day < 7; day++) Close.To(first[day], 140 * survival[day], 5e-5);
        var days = Enumerable.Range(0, 7).Select(day => StandingPopulation.AfterRegularReleases(140, 7, survival, day)).ToList();
        Close.To(268.3518653, days[0], 5e-8);
        Close.To(128.3518653, StandingPopulation.AfterRegularReleases(140, 7, survival, 7), 5e-8);
        Close.To(200, days.Average(), 1e-9);
        Close.To(StandingPopulation.Mean(20, survival.MeanDaysCounted), days.Average(), 1e-9);
    }

    /// <summary>Half-life of 0.9 a day: 6.578813479 days; computed with R 4.2.2.</summary>
    [Fact]
    public void Half_life_of_geometric_survival_equals_R() => Close.To(6.578813479, Math.Log(0.5) / Math.Log(0.9), 5e-10);

    /// <summary>
    /// Weibull (t/14)^1.8: mean 12.45001425 and median 11.42083182, so the count straight after release sums to half a day more.
    /// Computed with R 4.2.2; the parameters are invented.
    /// </summary>
    [Fact]
    public void Weibull_mean_and_median_equal_R()
    {
        Close.To(12.45001425, 14 * Math.Exp(SpecialFunctions.LogGamma(1 + 1 / 1.8)), 5e-9);
        Close.To(11.42083182, 14 * Math.Pow(Math.Log(2), 1 / 1.8), 5e-9);
        Close.To(11.95007945, AdultSurvival.FromWeibull(14, 1.8).MeanDaysCounted - 1, 5e-9);
    }

    /// <summary>Gompertz with risk 0.02 and growth 0.12. Computed with R 4.2.2; parameters invented.</summary>
    [Fact]
    public void Gompertz_equals_R()
    {
        var survival = AdultSurvival.FromGompertz(0.02, 0.12);
        Close.To(0.8030048733, survival[7], 5e-11);
        Close.To(0.4830705055, survival[14], 5e-11);
        Close.To(0.1488574547, survival[21], 5e-11);
        Close.To(14.03331713, survival.MeanDaysCounted, 5e-9);
        Close.To(13.67266749, Math.Log(1 + Math.Log(2) * 0.12 / 0.02) / 0.12, 5e-9);
        // The mean 13.53165067 = e^(a/b)·E1(a/b)/b, by the trapezoidal rule with small steps.
        const double Step = 0.001;
        var mean = Step * (Enumerable.Range(1, 60_000).Sum(i => Math.Exp(-(0.02 / 0.12) * (Math.Exp(0.12 * i * Step) - 1))) + 0.5);
        Close.To(13.53165067, mean, 1e-6);
    }

    /// <summary>Cohorts of 60, 50, 55, 40 on days 0, 7, 14, 21, seen on day 24. Computed with R 4.2.2.</summary>
    [Fact]
    public void Now_equals_R()
    {
        var now = StandingPopulation.Now([new(60, 24), new(50, 17), new(55, 10), new(40, 3)], AdultSurvival.FromWeibull(14, 1.8));
        Close.To(85.83956236, now.Mean, 5e-9);
        Close.To(28.83589384, now.Variance, 5e-9);
    }

    [Fact]
    public void Impossible_arguments_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => StandingPopulation.Mean(-1, 5));
        Assert.Throws<ArgumentOutOfRangeException>(() => StandingPopulation.ArrivalsPerDay(5, 0));
        Assert.Throws<ArgumentException>(() => StandingPopulation.AfterRegularReleases(5, 7, AdultSurvival.FromDaily(1), 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => StandingPopulation.AfterRegularReleases(5, 0, AdultSurvival.FromDaily(0.9), 0));
    }
}
