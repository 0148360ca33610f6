using Lepidary.Science.Emergence;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Tests.Emergence;

public class EmergenceRateTest
{
    [Fact]
    public void Forecast_equals_fine_grid_over_the_mean()
    {
        var rate = new EmergenceRate(0.8, 20, 30);
        foreach (var pupae in new[] { 1, 5, 25, 60 })
        {
            // Equal steps of the mean, weighted by the beta density, in place of the nodes.
            var slow = new double[pupae + 1];
            const int Steps = 4000;
            for (var i = 0; i < Steps; i++)
            {
                var mean = (i + 0.5) / Steps;
                var weight = Math.Exp(15 * Math.Log(mean) + 3 * Math.Log(1 - mean) - SpecialFunctions.LogBeta(16, 4)) / Steps;
                var part = CountDistribution.BetaBinomial(pupae, 30 * mean, 30 * (1 - mean));
                for (var k = 0; k <= pupae; k++) slow[k] += weight * part[k];
            }
            Close.To(CountDistribution.FromMasses(slow), rate.Forecast(pupae), 1e-10);
        }
    }

    /// <summary>By hand: 8 of 10 worth 20; a lot of 11 with concentration 19 tells as much as 11/1.5 pupae, of which 3/1.5 emerged: (16 + 2)/(20 + 22/3).</summary>
    [Fact]
    public void Learnt_mean_by_hand_and_near_the_whole_posterior()
    {
        Close.To(18 / (20 + 22 / 3.0), new EmergenceRate(0.8, 20, 19).LearntMean([(3, 11)]), 1e-15);
        var rate = EmergenceRate.FromTable(0.8);
        (int, int)[] lots = [(7, 10), (5, 10), (9, 12), (6, 8)];
        Close.To(rate.Learn(lots).Mean, rate.LearntMean(lots), 0.01);
        Close.To(0.8, rate.LearntMean([]), 1e-15);
        Assert.Throws<ArgumentException>(() => rate.LearntMean([(3, 2)]));
    }

    /// <summary>
    /// By hand, 2 pupae, mean 0.8 worth 20: E(μ²) = 16·17/(20·21). Alike lots: both emerge with that chance. Lots of concentration 30:
    /// both with (30·E(μ²) + E(μ))/31.
    /// </summary>
    [Fact]
    public void Forecast_by_hand()
    {
        const double Square = 16 * 17 / 420.0;
        Close.To(Square, new EmergenceRate(0.8, 20, double.PositiveInfinity).Forecast(2)[2], 1e-15);
        Close.To((30 * Square + 0.8) / 31, new EmergenceRate(0.8, 20, 30).Forecast(2)[2], 1e-9);
    }

    [Fact]
    public void Forecast_limits_are_binomial_and_beta_binomial()
    {
        Close.To(CountDistribution.Binomial(30, 0.8), EmergenceRate.Known(0.8).Forecast(30), 1e-15);
        Close.To(CountDistribution.Binomial(30, 0.8), new EmergenceRate(0.8, 1e9, 1e9).Forecast(30), 1e-7);
        Close.To(CountDistribution.BetaBinomial(30, 16, 4), new EmergenceRate(0.8, 20, double.PositiveInfinity).Forecast(30), 1e-15);
        Close.To(CountDistribution.BetaBinomial(30, 16, 4), new EmergenceRate(0.8, double.PositiveInfinity, 20).Forecast(30), 1e-15);
        Close.To(CountDistribution.BetaBinomial(30, 16, 4), new EmergenceRate(0.8, 1e8, 20).Forecast(30), 1e-6);
        Assert.Equal(1, new EmergenceRate(1, 20, 30).Forecast(7)[7]);
        Assert.Equal(1, new EmergenceRate(0, 20, 30).Forecast(7)[0]);
        Assert.Equal(1, EmergenceRate.Usual.Forecast(0)[0]);
    }

    [Fact]
    public void Forecast_mean_is_the_rate_and_uncertainty_widens_it()
    {
        Gen.Select(Gen.Double[0.05, 0.95], Gen.Double[1, 100], Gen.Double[1, 100], Gen.Int[2, 120]).Holds((mean, certainty, lots, n) =>
        {
            var counts = new EmergenceRate(mean, certainty, lots).Forecast(n);
            Close.To(n * mean, counts.Mean, 1e-9 * n);
            // Law of total variance, twice: unknown mean, lot around it, binomial within.
            var unknown = mean * (1 - mean) / (certainty + 1);
            var within = mean * (1 - mean) - unknown;
            Close.To(n * within * (1 + (n - 1) / (lots + 1)) + n * n * unknown, counts.Variance, 1e-8 * n * n);
        }, seed: 1);
    }

    /// <summary>"Usually 8 of 10, 75 to 100 of 100": common practice, no source. Nine boxes of 40 in ten fall in 55-100 %.</summary>
    [Fact]
    public void Usual_is_eight_of_ten_common_practice()
    {
        Assert.Equal(0.8, EmergenceRate.Usual.Mean);
        var box = EmergenceRate.Usual.Forecast(40);
        Close.To(32, box.Mean, 1e-10);
        Assert.InRange(box.Interval(0.5).From / 40.0, 0.7, 0.8);
        Assert.InRange(box.AtLeast(22), 0.9, 1);
    }

    [Fact]
    public void Learn_with_alike_lots_is_conjugate()
    {
        var learnt = new EmergenceRate(0.8, 20, double.PositiveInfinity).Learn([(9, 10), (15, 20)]);
        Close.To((16 + 24) / 50.0, learnt.Mean, 1e-15);
        Assert.Equal(50, learnt.Certainty);
    }

    [Fact]
    public void Learn_from_nothing_changes_nothing()
    {
        Assert.Equal(EmergenceRate.Usual, EmergenceRate.Usual.Learn([]));
        Assert.Equal(EmergenceRate.Usual, EmergenceRate.Usual.Learn([(0, 0)]));
        Assert.Equal(EmergenceRate.Known(0.7), EmergenceRate.Known(0.7).Learn([(1, 50)]));
    }

    [Fact]
    public void Learn_from_almost_nothing_changes_almost_nothing()
    {
        var learnt = EmergenceRate.Usual.Learn([(4, 5)]);
        Close.To(0.8, learnt.Mean, 0.005);
        Assert.InRange(learnt.Certainty, 20, 26);
        Assert.InRange(learnt.LotConcentration, 12, 35);
    }

    [Fact]
    public void Three_good_boxes_do_not_make_a_supplier_perfect()
    {
        var learnt = EmergenceRate.Usual.Learn([(40, 40), (40, 40), (40, 40)]);
        Assert.InRange(learnt.Mean, 0.85, 0.97);
        // A pooled estimate would call the next 40 all but safe.
        Assert.True(learnt.Forecast(40).AtMost(36) > 0.1);
    }

    [Fact]
    public void Learn_recovers_the_truth_from_many_lots()
    {
        var random = new Random(7);
        var truth = new EmergenceRate(0.65, double.PositiveInfinity, 15);
        var forecast = truth.Forecast(30);
        var lots = Enumerable.Range(0, 400).Select(_ => (forecast.Quantile(random.NextDouble()), 30)).ToList();
        var learnt = EmergenceRate.Usual.Learn(lots);
        Close.To(0.65, learnt.Mean, 4 * learnt.MeanDeviation);
        Assert.InRange(learnt.MeanDeviation, 0.004, 0.012);
        Assert.InRange(learnt.LotConcentration, 11, 20);
    }

    /// <summary>A second way: sums over one fine grid of μ and ln L, each lot by its own beta-binomial mass.</summary>
    [Theory]
    [InlineData(3)]
    [InlineData(12)]
    [InlineData(60)]
    public void Learn_equals_fine_grid(int count)
    {
        var random = new Random(count);
        var lots = Enumerable.Range(0, count).Select(_ =>
        {
            var done = 5 + random.Next(30);
            return (CountDistribution.BetaBinomial(done, 9, 4).Quantile(random.NextDouble()), done);
        }).ToList();
        var learnt = EmergenceRate.Usual.Learn(lots);
        var (sum, first, second, inverse) = (0.0, 0.0, 0.0, 0.0);
        for (var mean = 0.0025; mean < 1; mean += 0.005)
        {
            for (var z = -4.0; z <= 4; z += 0.1)
            {
                var concentration = 30 * Math.Exp(Math.Log(3) * z);
                var log = 15 * Math.Log(mean) + 3 * Math.Log(1 - mean) - z * z / 2;
                foreach (var (emerged, done) in lots)
                    log += SpecialFunctions.LogBeta(mean * concentration + emerged, (1 - mean) * concentration + done - emerged)
                        - SpecialFunctions.LogBeta(mean * concentration, (1 - mean) * concentration);
                // Only ratios matter; the shift keeps the numbers in range.
                var weight = Math.Exp(log + lots.Sum(lot => lot.done) * 0.6);
                sum += weight;
                first += weight * mean;
                second += weight * mean * mean;
                inverse += weight / (1 + concentration);
            }
        }
        Close.To(first / sum, learnt.Mean, 1e-5);
        Close.To(Math.Sqrt(second / sum - first / sum * (first / sum)), learnt.MeanDeviation, 1e-5);
        Close.To(inverse / sum, 1 / (learnt.LotConcentration + 1), 1e-4);
    }

    [Fact]
    public void Learn_order_of_lots_is_irrelevant()
    {
        var one = EmergenceRate.Usual.Learn([(3, 10), (19, 20), (7, 8)]);
        var other = EmergenceRate.Usual.Learn([(7, 8), (3, 10), (19, 20)]);
        Close.To(one.Mean, other.Mean, 1e-12);
        Close.To(one.Certainty, other.Certainty, 1e-8);
    }

    [Fact]
    public void Impossible_values_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new EmergenceRate(1.1, 20, 30));
        Assert.Throws<ArgumentOutOfRangeException>(() => new EmergenceRate(double.NaN, 20, 30));
        Assert.Throws<ArgumentOutOfRangeException>(() => new EmergenceRate(0.8, 0, 30));
        Assert.Throws<ArgumentOutOfRangeException>(() => new EmergenceRate(0.8, 20, double.NaN));
        Assert.Throws<ArgumentException>(() => EmergenceRate.Usual.Learn([(11, 10)]));
        Assert.Throws<ArgumentOutOfRangeException>(() => EmergenceRate.Usual.Forecast(-1));
    }
}
