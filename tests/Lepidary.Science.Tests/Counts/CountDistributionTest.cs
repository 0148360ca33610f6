namespace Lepidary.Science.Tests.Counts;

public class CountDistributionTest
{
    private static readonly Gen<CountDistribution> Any = Gen.OneOf(
        Gen.Select(Gen.Int[0, 60], Gen.Double[0, 1], CountDistribution.Binomial),
        Gen.Select(Gen.Int[0, 60], Gen.Double[0.05, 30], Gen.Double[0.05, 30], CountDistribution.BetaBinomial),
        Gen.Int[0, 20].Select(CountDistribution.Certain),
        Gen.Double[0, 1].Array[1, 30].Select(chances => CountDistribution.PoissonBinomial(chances)));

    [Fact]
    public void Any_distribution_sums_to_one()
    {
        Any.Holds(counts =>
        {
            var sum = 0.0;
            foreach (var mass in counts.Masses)
            {
                Assert.True(mass >= 0);
                sum += mass;
            }
            Close.To(1, sum, Close.Rounding);
        }, seed: 1);
    }

    [Fact]
    public void Plus_order_is_irrelevant()
    {
        Gen.Select(Any, Any, Any).Holds((a, b, c) =>
        {
            Close.To(a.Plus(b), b.Plus(a), 1e-14);
            Close.To(a.Plus(b).Plus(c), c.Plus(a).Plus(b), 1e-14);
            Close.To(a.Plus(b).Plus(c), CountDistribution.Sum([b, c, a]), 1e-14);
        }, seed: 2);
    }

    [Fact]
    public void Plus_adds_mean_and_variance()
    {
        Gen.Select(Any, Any).Holds((a, b) =>
        {
            Close.To(a.Mean + b.Mean, a.Plus(b).Mean, 1e-10);
            Close.To(a.Variance + b.Variance, a.Plus(b).Variance, 1e-9);
        }, seed: 3);
    }

    [Fact]
    public void Plus_equals_double_loop()
    {
        Gen.Select(Any, Any).Holds((a, b) =>
        {
            var expected = new double[a.Max + b.Max + 1];
            for (var i = 0; i <= a.Max; i++)
                for (var k = 0; k <= b.Max; k++)
                    expected[i + k] += a[i] * b[k];
            Close.To(CountDistribution.FromMasses(expected), a.Plus(b), 1e-14);
        }, seed: 4);
    }

    [Fact]
    public void Thin_composes_and_thins_binomials_to_binomials()
    {
        Gen.Select(Any, Gen.Double[0, 1], Gen.Double[0, 1]).Holds((counts, p, q) =>
            Close.To(counts.Thin(p * q), counts.Thin(p).Thin(q), 1e-13), seed: 5);
        Gen.Select(Gen.Int[0, 90], Gen.Double[0, 1], Gen.Double[0, 1]).Holds((n, p, q) =>
            Close.To(CountDistribution.Binomial(n, p * q), CountDistribution.Binomial(n, p).Thin(q), 1e-13), seed: 6);
    }

    [Fact]
    public void More_animals_never_lower_the_odds()
    {
        Gen.Select(Any, Gen.Double[0, 1], Gen.Int[0, 80]).Holds((counts, p, target) =>
        {
            var more = counts.Plus(CountDistribution.Binomial(1, p));
            Assert.True(more.AtLeast(target) >= counts.AtLeast(target) - 1e-14);
            Assert.True(more.Shortfall(target) <= counts.Shortfall(target) + 1e-12);
        }, seed: 7);
    }

    [Theory]
    [InlineData(0, 0.3)]
    [InlineData(1, 0.3)]
    [InlineData(20, 0.8)]
    [InlineData(400, 0.003)]
    [InlineData(5000, 0.97)]
    public void Binomial_equals_MathNet(int n, double p)
    {
        var counts = CountDistribution.Binomial(n, p);
        // MathNet works through log-gamma and loses digits with n; the tolerance is its error, not ours.
        for (var k = 0; k <= n; k++)
            Close.To(MathNet.Numerics.Distributions.Binomial.PMF(p, n, k), counts[k], 1e-11);
    }

    /// <summary>n = 20, Beta(18, 2). Computed with R 4.2.2.</summary>
    [Fact]
    public void BetaBinomial_equals_R()
    {
        var counts = CountDistribution.BetaBinomial(20, 18, 2);
        Close.To(18, counts.Mean, Close.Rounding);
        Close.To(3.428571429, counts.Variance, 1e-9);
        Close.To(0.006776571, counts[12], 5e-10);
        Close.To(0.197505198, counts[18], 5e-10);
        Close.To(0.230769231, counts[20], 5e-10);
        Close.To(0.012086867, counts.AtMost(12), 5e-10);
        Close.To(0.519750520, counts.AtMost(18), 5e-10);
        Assert.Equal([14, 18, 20], new[] { 0.05, 0.5, 0.95 }.Select(counts.Quantile));
    }

    /// <summary>The 90 % interval above covers 1-F(13). Computed with R 4.2.2.</summary>
    [Fact]
    public void Interval_covers_at_least_its_level()
    {
        var interval = CountDistribution.BetaBinomial(20, 18, 2).Interval(0.9);
        Assert.Equal((14, 20), (interval.From, interval.To));
        Close.To(0.974012474, interval.Chance, 5e-10);
        Close.To(0.025987526, CountDistribution.BetaBinomial(20, 18, 2).AtMost(13), 5e-10);
        Gen.Select(Any, Gen.Double[0.01, 0.99]).Holds((counts, level) =>
            Assert.True(counts.Interval(level).Chance >= level - 1e-11), seed: 8);
    }

    [Fact]
    public void PoissonBinomial_groups_equal_chances()
    {
        double[] chances = [0.2, 0.9, 0.2, 0.5, 0.2];
        var byOne = chances.Aggregate(CountDistribution.Certain(0), (sum, p) => sum.Plus(CountDistribution.Binomial(1, p)));
        Close.To(byOne, CountDistribution.PoissonBinomial(chances), 1e-15);
        Close.To(byOne, CountDistribution.PoissonBinomial([(2, 0.2), (1, 0.9), (1, 0.5), (1, 0.2)]), 1e-15);
    }

    [Fact]
    public void Shortfall_by_hand()
    {
        // 0, 1, 2 with 1/4, 1/2, 1/4: of 2 wanted, 2, 1, 0 are missing.
        Close.To(1, CountDistribution.Binomial(2, 0.5).Shortfall(2), 1e-15);
        Close.To(8, CountDistribution.Certain(2).Shortfall(10), 1e-15);
        Assert.Equal(0, CountDistribution.Certain(2).Shortfall(2));
    }

    [Fact]
    public void Mixture_weighs_its_parts()
    {
        var mixed = CountDistribution.Mixture([0.25, 0.75], [CountDistribution.Certain(0), CountDistribution.Certain(3)]);
        Assert.Equal([0.25, 0, 0, 0.75], mixed.Masses.ToArray());
        Assert.Throws<ArgumentException>(() => CountDistribution.Mixture([0.5], [mixed, mixed]));
        Assert.Throws<ArgumentException>(() => CountDistribution.Mixture([0.5, 0.4], [mixed, mixed]));
        Assert.Throws<ArgumentException>(() => CountDistribution.Mixture([1.5, -0.5], [mixed, mixed]));
    }

    [Fact]
    public void Sum_of_many_species_equals_normal_moments()
    {
        var total = CountDistribution.Sum(Enumerable.Range(0, 150).Select(_ => CountDistribution.BetaBinomial(400, 8, 2)));
        Close.To(150 * 320, total.Mean, 1e-6);
        Close.To(150 * 400 * 0.16 * (410.0 / 11), total.Variance, 1e-3);
        Close.To(1, total.AtMost(total.Max - 1) + total[total.Max], 1e-11);
    }

    [Fact]
    public void FromMasses_refuses_what_is_no_distribution()
    {
        Assert.Throws<ArgumentException>(() => CountDistribution.FromMasses([]));
        Assert.Throws<ArgumentException>(() => CountDistribution.FromMasses([0.5, 0.4]));
        Assert.Throws<ArgumentException>(() => CountDistribution.FromMasses([1.5, -0.5]));
        Assert.Throws<ArgumentException>(() => CountDistribution.FromMasses([double.NaN, 1]));
        Assert.Equal(1, CountDistribution.FromMasses([0.5, 0.5, 0]).Max);
    }

    [Fact]
    public void Arguments_out_of_range_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => CountDistribution.Certain(-1));
        Assert.Throws<ArgumentOutOfRangeException>(() => CountDistribution.Binomial(-1, 0.5));
        Assert.Throws<ArgumentOutOfRangeException>(() => CountDistribution.Binomial(1, double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => CountDistribution.Binomial(1, 1.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => CountDistribution.BetaBinomial(1, 0, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => CountDistribution.Certain(1).Thin(-0.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => CountDistribution.Certain(1).Quantile(1.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => CountDistribution.Certain(1).Interval(1));
    }
}
