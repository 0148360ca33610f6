using Lepidary.Science.Verification;

namespace Lepidary.Science.Tests.Verification;

public class ScoresTest
{
    /// <summary>2, 4, 4, 7, 9. Computed with R 4.2.2 and scoringRules 1.1.1.</summary>
    [Theory]
    [InlineData(0, 3.84, 3.5)]
    [InlineData(4, 0.64, 0.3)]
    [InlineData(5, 0.84, 0.5)]
    [InlineData(8, 1.84, 1.5)]
    [InlineData(12, 5.44, 5.1)]
    public void Crps_of_ensemble_equals_R(double happened, double plain, double fair)
    {
        Close.To(plain, Scores.Crps([2.0, 4, 4, 7, 9], happened), 1e-14);
        Close.To(fair, Scores.Crps([9.0, 4, 2, 7, 4], happened, fair: true), 1e-14);
    }

    /// <summary>By hand: 0.1, 0.4, 0.3, 0.2 on 0…3 and 2 came: 0.1² + 0.5² + (0.8-1)² = 0.30. A point at 7 and 10 came: 3.</summary>
    [Fact]
    public void Crps_by_hand()
    {
        Close.To(0.30, Scores.Crps(CountDistribution.FromMasses([0.1, 0.4, 0.3, 0.2]), 2), 1e-15);
        Assert.Equal(3, Scores.Crps(CountDistribution.Certain(7), 10));
        Assert.Equal(7, Scores.Crps(CountDistribution.Certain(7), 0));
        Assert.Equal(0, Scores.Crps(CountDistribution.Certain(7), 7));
    }

    /// <summary>Binomial, Poisson and negative binomial. Computed with R 4.2.2 (scoringRules where it has them, and the sum).</summary>
    [Fact]
    public void Crps_of_counts_equals_R()
    {
        var binomial = CountDistribution.Binomial(10, 0.3);
        Close.To([2.196646141, 0.3173234556, 2.221310252], [Scores.Crps(binomial, 0), Scores.Crps(binomial, 3), Scores.Crps(binomial, 6)], 5.1e-10);
        var poisson = Infinite(k => 5.0 / (k + 1), Math.Exp(-5));
        Close.To([3.754519907, 0.5091936049, 2.862551223], [Scores.Crps(poisson, 0), Scores.Crps(poisson, 5), Scores.Crps(poisson, 9)], 5.1e-10);
        Close.To(0.4404932851, poisson.AtMost(4), 5.1e-11);
        Close.To(0.6159606548, poisson.AtMost(5), 5.1e-11);
        var negative = Infinite(k => (3.0 + k) / (k + 1) * 5 / 8, Math.Pow(3.0 / 8, 3));
        Close.To([3.034867342, 0.8511868076, 5.306871983], [Scores.Crps(negative, 0), Scores.Crps(negative, 5), Scores.Crps(negative, 12)], 5.1e-10);
    }

    /// <summary>Normal forecasts. Computed with R 4.2.2, scoringRules and the closed form.</summary>
    [Fact]
    public void CrpsNormal_equals_R()
    {
        Close.To(0.2336949773, Scores.CrpsNormal(0, 1, 0), 5.1e-11);
        Close.To(0.6024413576, Scores.CrpsNormal(0, 1, 1), 5.1e-11);
        Close.To(0.994424004, Scores.CrpsNormal(0, 1, -1.5), 5.1e-10);
        Close.To(3.426390559, Scores.CrpsNormal(20, 3, 25), 5.1e-10);
    }

    /// <summary>Beta-binomial, n = 20, Beta(18, 2). Computed with R 4.2.2.</summary>
    [Fact]
    public void Scores_of_beta_binomial_equal_R()
    {
        var forecast = CountDistribution.BetaBinomial(20, 18, 2);
        Close.To([5.032287237, 0.4367293513, 1.014691929], [Scores.Crps(forecast, 12), Scores.Crps(forecast, 18), Scores.Crps(forecast, 20)], 5.1e-10);
        Close.To([4.994284014, 1.621990379, 1.466337069], [Scores.Log(forecast, 12), Scores.Log(forecast, 18), Scores.Log(forecast, 20)], 5.1e-10);
        Close.To([0.008698581, 0.420997921, 0.884615385], [Scores.Pit(forecast, 12), Scores.Pit(forecast, 18), Scores.Pit(forecast, 20)], 5.1e-10);
        Assert.Equal(double.PositiveInfinity, Scores.Log(forecast, 21));
    }

    /// <summary>4…12 at 90 %: 14 came → 8 + 20·2 = 48; 8 came → 8.</summary>
    [Fact]
    public void Interval_by_hand()
    {
        Close.To(48, Scores.Interval(4, 12, 0.9, 14), 1e-12);
        Close.To(48, Scores.Interval(4, 12, 0.9, 2), 1e-12);
        Close.To(8, Scores.Interval(4, 12, 0.9, 8), 1e-12);
    }

    /// <summary>Propriety: the true distribution has the smallest expected score.</summary>
    [Fact]
    public void Honest_forecast_has_the_smallest_expected_score()
    {
        Gen.Select(Gen.Double[0.05, 0.95], Gen.Double[0.05, 0.95], Gen.Int[1, 25]).Holds((truth, said, n) =>
        {
            var (honest, other) = (CountDistribution.Binomial(n, truth), CountDistribution.Binomial(n, said));
            double Expected(Func<CountDistribution, int, double> score, CountDistribution forecast) =>
                Enumerable.Range(0, n + 1).Sum(y => honest[y] * score(forecast, y));
            Assert.True(Expected(Scores.Crps, honest) <= Expected(Scores.Crps, other) + 1e-12);
            Assert.True(Expected(Scores.Log, honest) <= Expected(Scores.Log, other) + 1e-12);
        });
    }

    [Fact]
    public void Crps_of_counts_equals_that_of_their_ensemble()
    {
        // Masses of twentieths as twenty values: two formulas, one score.
        double[] values = [0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 2, 3, 3, 3, 4, 4, 4, 5, 6, 9];
        var masses = new double[10];
        foreach (var value in values) masses[(int)value] += 1.0 / values.Length;
        for (var y = 0; y < 12; y++) Close.To(Scores.Crps(values, y), Scores.Crps(CountDistribution.FromMasses(masses), y), 1e-12);
    }

    [Fact]
    public void Impossible_arguments_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Scores.Crps(CountDistribution.Certain(1), -1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Scores.Crps([], 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Scores.Crps([1.0], 1, fair: true));
        Assert.Throws<ArgumentOutOfRangeException>(() => Scores.CrpsNormal(0, 0, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Scores.Interval(5, 4, 0.9, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Scores.Pit(CountDistribution.Certain(1), 1, 1.5));
    }

    /// <summary>A count without an end, cut where nothing is left.</summary>
    private static CountDistribution Infinite(Func<int, double> ratio, double first)
    {
        var masses = new List<double> { first };
        while (masses.Count < 200) masses.Add(masses[^1] * ratio(masses.Count - 1));
        return CountDistribution.FromMasses(masses.ToArray());
    }
}
