using Lepidary.Science.Inspection;

namespace Lepidary.Science.Tests.Inspection;

public sealed class WeighedCountTest
{
    private static readonly CountedPortion[] Tens = [new(10, 12.3), new(10, 11.9), new(10, 12.6), new(10, 12.0)];

    private static readonly CountedPortion[] Uneven = [new(20, 31.0), new(15, 22.1), new(25, 38.9)];

    /// <summary>Computed with R 4.2.2: the roots of (R - N·m)² = t²s²(N + N²/G) by uniroot are 479.418 and 522.354, 489.200 and 511.268, 181.240 and 212.219.</summary>
    [Fact]
    public void Of_equals_R()
    {
        Assert.Equal(new HeapCount(500, 480, 522), WeighedCount.Of(Tens, 610));
        Assert.Equal(new HeapCount(500, 490, 511), WeighedCount.Of(Tens, 610, 0.8));
        Assert.Equal(new HeapCount(196, 182, 212), WeighedCount.Of(Uneven, 300));
    }

    /// <summary>By hand: portions that weigh just the same leave no doubt; 30 g at 1 g each are 30.</summary>
    [Fact]
    public void Portions_alike_leave_no_doubt() => Assert.Equal(new HeapCount(30, 30, 30), WeighedCount.Of([new(5, 5), new(10, 10)], 30));

    /// <summary>qt and pt of R 4.2.2; the library MathNet.Numerics says the same.</summary>
    [Theory]
    [InlineData(1, 12.7062047362, 0.625665916378)]
    [InlineData(2, 4.30265272975, 0.727606875109)]
    [InlineData(3, 3.18244630528, 0.769416134755)]
    [InlineData(4, 2.7764451052, 0.792)]
    [InlineData(9, 2.2621571628, 0.832149343943)]
    [InlineData(30, 2.0422724563, 0.855934070871)]
    public void StudentT_equals_R(int freedom, double quantile, double within)
    {
        Close.To(quantile, StudentT.TwoSided(0.95, freedom), 1e-10);
        Close.To(within, StudentT.Within(1.5, freedom), 1e-11);
        Close.To(MathNet.Numerics.Distributions.StudentT.InvCDF(0, 1, freedom, 0.995), StudentT.TwoSided(0.99, freedom), 1e-8);
    }

    /// <summary>
    /// 20,000 heaps of 400 pupae whose weights are normal with a standard deviation of 18 % of the mean, four portions of 12 counted: the limits hold the truth
    /// in 95 of 100, within four standard errors of the simulation (0.0015).
    /// </summary>
    [Fact]
    public void Limits_hold_the_truth_as_often_as_they_say()
    {
        const int Heaps = 20_000;
        var random = new Random(20261130);
        var held = 0;
        for (var heap = 0; heap < Heaps; heap++)
        {
            var portions = Enumerable.Range(0, 4).Select(_ => new CountedPortion(12, Sum(12))).ToArray();
            if (WeighedCount.Of(portions, Sum(400)) is { From: <= 400, To: >= 400 }) held++;
        }

        Assert.InRange((double)held / Heaps, 0.944, 0.956);

        // A sum of normal weights is normal.
        double Sum(int pupae) => 1.3 * pupae + 0.18 * 1.3 * Math.Sqrt(pupae) * Normal();
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
    }

    [Fact]
    public void Portions_that_tell_nothing_give_no_limits() => Assert.Null(WeighedCount.Of([new(1, 1), new(1, 9)], 300));

    [Fact]
    public void Impossible_weights_are_refused()
    {
        Assert.Throws<ArgumentException>(() => WeighedCount.Of([new(10, 12)], 300));
        Assert.Throws<ArgumentException>(() => WeighedCount.Of([new(10, 12), new(0, 12)], 300));
        Assert.Throws<ArgumentException>(() => WeighedCount.Of([new(10, 12), new(10, double.NaN)], 300));
        Assert.Throws<ArgumentOutOfRangeException>(() => WeighedCount.Of(Tens, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => WeighedCount.Of(Tens, 300, 1));
    }
}
