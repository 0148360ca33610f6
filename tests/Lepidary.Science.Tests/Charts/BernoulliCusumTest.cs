using Lepidary.Science.Charts;

namespace Lepidary.Science.Tests.Charts;

public class BernoulliCusumTest
{
    /// <summary>p₀ = 0.01, p₁ = 0.025. Computed with R 4.2.2; none of these numbers is printed in Reynolds and Stoumbos 1999 as far as is known.</summary>
    [Fact]
    public void Weights_equal_R()
    {
        var chart = new BernoulliCusum(0.01, 0.025);
        Close.To(0.01526747213, -chart.GoodWeight, 5.1e-12);
        Close.To(0.931558204, chart.BadWeight - chart.GoodWeight, 5.1e-10);
        Close.To(0.01638917683, chart.Allowance, 5.1e-12);
        Close.To(61.01587716, 1 / chart.Allowance, 5.1e-9);
    }

    /// <summary>Item by item, p₀ = 0.1, p₁ = 0.25. Computed with R 4.2.2.</summary>
    [Fact]
    public void Items_equal_R()
    {
        var chart = new BernoulliCusum(0.1, 0.25);
        Close.To(0.9162907319, chart.BadWeight, 5.1e-11);
        Close.To(-0.1823215568, chart.GoodWeight, 5.1e-11);
        int[] items = [0, 0, 1, 0, 1, 1, 0, 0, 0, 1, 1, 1];
        Close.To(
            [0, 0, 0.916291, 0.733969, 1.650260, 2.566551, 2.384229, 2.201908, 2.019586, 2.935877, 3.852167, 4.768458],
            [.. chart.Items(items.Select(item => item == 1))],
            5.1e-7);
    }

    /// <summary>Lot by lot on the orange-juice samples. Computed with R 4.2.2.</summary>
    [Fact]
    public void Lots_equal_R()
    {
        var chart = new BernoulliCusum(0.15, 0.30);
        Close.To(0.6931471806, chart.BadWeight, 5.1e-11);
        Close.To(-0.1941560144, chart.GoodWeight, 5.1e-11);
        Close.To(
            [0.93984, 4.54158, 1.93221, 1.09744, 0, 0, 4.48905, 2.76698, 5.48142, 4.64665, 0, 0],
            [.. chart.Lots(ShareChartTest.OrangeJuice.Take(12).Select(bad => (bad, 50)))],
            5.1e-6);
        var adjusted = new BernoulliCusum(0.11, 0.20).Lots(ShareChartTest.Adjusted.Select(bad => (bad, 50)));
        Close.To([1.00953, 0, 3.12287, 1.31462, 0.21081, 0, 0], [.. adjusted.Take(7)], 5.1e-6);
        Close.To(0.30509, adjusted[47 - 31], 5.1e-6);
        Assert.All(adjusted.Skip(17), sum => Assert.Equal(0, sum));
    }

    /// <summary>Exact mean numbers of items to the signal. Computed with R 4.2.2 (Markov chain).</summary>
    [Theory]
    [InlineData(10, 2.0, 304.0513788, 61.63743623, 18.59934234)]
    [InlineData(10, 2.5, 607.6542242, 88.15538894, 23.01587089)]
    [InlineData(10, 3.0, 1283.706566, 122.6271386, 28.08861009)]
    [InlineData(20, 3.0, 234.1086661, 55.67963735, 21.34228731)]
    public void MeanItemsToSignal_equals_R(int steps, double limit, double at5, double at10, double at20)
    {
        Close.To(at5, BernoulliCusum.MeanItemsToSignal(steps, limit, 0.05), 1e-6);
        Close.To(at10, BernoulliCusum.MeanItemsToSignal(steps, limit, 0.10), 1e-7);
        Close.To(at20, BernoulliCusum.MeanItemsToSignal(steps, limit, 0.20), 1e-7);
    }

    /// <summary>By hand: a bad item signals at once (h = 0.5, m = 2, one up from 0): 1/p items on average.</summary>
    [Fact]
    public void MeanItemsToSignal_by_hand() => Close.To(5, BernoulliCusum.MeanItemsToSignal(2, 0.5, 0.2), 1e-12);

    /// <summary>Simulated items agree with the exact mean. Seeded; four standard errors.</summary>
    [Fact]
    public void MeanItemsToSignal_agrees_with_simulation()
    {
        const int Runs = 4000;
        var random = new Random(29);
        var counts = new double[Runs];
        for (var run = 0; run < Runs; run++)
        {
            // In tenths: a bad item adds 9, a good one takes 1 off; the signal is at 20.
            for (var sum = 0; sum < 20; counts[run]++) sum = Math.Max(0, sum + (random.NextDouble() < 0.1 ? 9 : -1));
        }
        var mean = counts.Average();
        var deviation = Math.Sqrt(counts.Sum(count => (count - mean) * (count - mean)) / Runs);
        Close.To(BernoulliCusum.MeanItemsToSignal(10, 2, 0.1), mean, 4 * deviation / Math.Sqrt(Runs));
    }

    [Fact]
    public void MeanLotsToSignal_agrees_with_simulation_and_falls_with_the_share()
    {
        const int Runs = 4000;
        var chart = new BernoulliCusum(0.15, 0.30);
        var counts = CountDistribution.Binomial(40, 0.2);
        var random = new Random(31);
        var lengths = new double[Runs];
        for (var run = 0; run < Runs; run++)
        {
            for (var sum = 0.0; sum < 4; lengths[run]++)
            {
                var bad = counts.Quantile(random.NextDouble());
                sum = Math.Max(0, sum + bad * chart.BadWeight + (40 - bad) * chart.GoodWeight);
            }
        }
        var mean = lengths.Average();
        var deviation = Math.Sqrt(lengths.Sum(length => (length - mean) * (length - mean)) / Runs);
        Close.To(chart.MeanLotsToSignal(40, 4, 0.2), mean, 4 * deviation / Math.Sqrt(Runs) + 0.01 * mean);
        Assert.True(chart.MeanLotsToSignal(40, 4, 0.15) > chart.MeanLotsToSignal(40, 4, 0.2));
        Assert.InRange(chart.MeanLotsToSignal(40, 4, 0.3), 1, 4);
        Assert.Equal(double.PositiveInfinity, chart.MeanLotsToSignal(40, 4, 0));
    }

    [Fact]
    public void Impossible_arguments_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new BernoulliCusum(0.2, 0.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new BernoulliCusum(0, 0.1));
        var chart = new BernoulliCusum(0.1, 0.2);
        Assert.Throws<ArgumentException>(() => chart.Lots([(3, 2)]));
        Assert.Throws<ArgumentOutOfRangeException>(() => chart.Items([true], -1));
        Assert.Throws<ArgumentOutOfRangeException>(() => BernoulliCusum.MeanItemsToSignal(1, 2, 0.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => BernoulliCusum.MeanItemsToSignal(10, 2, 0));
    }
}
