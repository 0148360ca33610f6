using Lepidary.Science.Charts;

namespace Lepidary.Science.Tests.Charts;

public class CusumTest
{
    /// <summary>NIST/SEMATECH e-Handbook 6.3.2.3: data, k and h from memory; the sums computed with R 4.2.2.</summary>
    [Fact]
    public void Nist_example()
    {
        double[] data =
        [
            324.925, 324.675, 324.725, 324.350, 325.350, 325.225, 324.125, 324.525, 325.225, 324.600, 324.625, 325.150, 328.325, 327.250, 327.825, 328.500, 326.675,
            327.775, 326.875, 328.350,
        ];
        var sums = Cusum.Of(data, 325, 0.3175);
        Close.To(
            [0, 0, 0, 0, 0.0325, 0, 0, 0, 0, 0, 0, 0, 3.0075, 4.9400, 7.4475, 10.6300, 11.9875, 14.4450, 16.0025, 19.0350],
            [.. sums.Select(sum => sum.High)],
            1e-10);
        Close.To(
            [0, 0.0075, 0, 0.3325, 0, 0, 0.5575, 0.7150, 0.1725, 0.2550, 0.3125, 0, 0, 0, 0, 0, 0, 0, 0, 0],
            [.. sums.Select(sum => sum.Low)],
            1e-10);
        Assert.Equal(13, Cusum.FirstSignal(sums, 4.1959));
    }

    /// <summary>Montgomery's Table 9.1 (values read), target 10, k = 0.5: signals at 29. Computed with R 4.2.2.</summary>
    [Fact]
    public void Montgomery_equals_R()
    {
        var sums = Cusum.Of(EwmaTest.Montgomery, 10, 0.5);
        Close.To(
            [
                0, 0, 0, 1.16, 2.82, 2.50, 0.04, 1.00, 0, 0, 0, 0.97, 0.98, 0, 0, 0, 0.12, 0, 0, 0.34, 0.74, 0, 1.79, 2.79, 2.89, 3.47, 3.35, 4.47, 5.28, 5.30,
            ],
            [.. sums.Select(sum => sum.High)],
            1e-10);
        Close.To(
            [0.05, 1.56, 1.77, 0, 0, 0, 1.46, 0, 0.30, 0, 0.47, 0, 0, 0.10, 0, 0.13, 0, 0, 0.98, 0, 0, 0.17, 0],
            [.. sums.Take(23).Select(sum => sum.Low)],
            1e-10);
        Assert.Equal(28, Cusum.FirstSignal(sums, 5));
        Assert.Null(Cusum.FirstSignal(sums, 6));
    }

    /// <summary>Mean run lengths. Computed with R's spc 0.6.7.</summary>
    [Fact]
    public void Mean_run_lengths_equal_R()
    {
        Close.To(167.6837888, Cusum.TwoSidedMeanRunLength(0.5, 4), 1e-5);
        Close.To(465.443506, Cusum.TwoSidedMeanRunLength(0.5, 5), 1e-4);
        Close.To(930.8870121, Cusum.MeanRunLength(0.5, 5), 1e-4);
        Close.To(10.37596992, Cusum.TwoSidedMeanRunLength(0.5, 5, 1), 1e-6);
    }

    /// <summary>A slow second implementation: the largest sum of any run that ends here, or none.</summary>
    [Fact]
    public void Of_equals_the_largest_of_all_runs()
    {
        var random = new Random(3);
        var values = Enumerable.Range(0, 60).Select(_ => 10 + (4 * random.NextDouble())).ToArray();
        var chart = Cusum.Of(values, 12, 0.3).ToList();
        for (var end = 0; end < values.Length; end++)
        {
            double Largest(int sign) => Enumerable.Range(0, end + 1).Max(start => Math.Max(0, values[start..(end + 1)].Sum(value => (sign * (value - 12)) - 0.3)));
            var (above, below) = chart[end];
            Close.To(Largest(1), above, 1e-12);
            Close.To(Largest(-1), below, 1e-12);
        }
    }

    /// <summary>By hand: target 0, k = 1: 3, 0, -4 gives 2, 1, 0 above and 0, 0, 3 below.</summary>
    [Fact]
    public void Of_by_hand()
    {
        Assert.Equal([new(2, 0), new(1, 0), new(0, 3)], Cusum.Of([3, 0, -4], 0, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Cusum.Of([1], 0, -1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Cusum.MeanRunLength(0.5, 21));
    }
}
