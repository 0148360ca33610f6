using Lepidary.Science.Charts;

namespace Lepidary.Science.Tests.Charts;

public class EwmaTest
{
    /// <summary>Montgomery's Table 9.1, all 30 values; read on a program's help page.</summary>
    internal static readonly double[] Montgomery =
    [
        9.45, 7.99, 9.29, 11.66, 12.16, 10.18, 8.04, 11.46, 9.20, 10.34, 9.03, 11.47, 10.51, 9.40, 10.08, 9.37, 10.62, 10.31, 8.52, 10.84, 10.90, 9.33, 12.29,
        11.50, 10.60, 11.08, 10.38, 11.62, 11.31, 10.52,
    ];

    /// <summary>
    /// NIST/SEMATECH e-Handbook 6.3.2.4: data and limits read in a note that quotes them; it prints 52.5884 and 47.4115, the latter cut off. More digits computed with R.
    /// </summary>
    [Fact]
    public void Nist_example()
    {
        double[] data =
        [
            52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1,
        ];
        double[] expected =
        [
            50.6000, 49.5200, 50.5640, 50.1848, 50.1594, 49.2116, 49.7481, 49.8537, 50.2576, 50.3303, 50.1112, 49.3578, 49.5205, 50.0543, 49.3780, 49.9246, 50.7272,
            51.2291, 51.9403, 51.9882,
        ];
        var steady = Ewma.Of(data, 50, 2.0539, 0.3, steady: true);
        Close.To(expected, [.. steady.Select(point => point.Average)], 5.1e-5);
        Close.To(52.58843174, steady[0].Upper, 5.1e-9);
        Close.To(47.41156826, steady[0].Lower, 5.1e-9);
        Assert.DoesNotContain(steady, point => point.IsOut);
        Close.To(
            [51.8485, 52.2564, 52.4314, 52.5127, 52.5516, 52.5705],
            [.. Ewma.Of(data, 50, 2.0539, 0.3).Take(6).Select(point => point.Upper)],
            5.1e-5);
    }

    /// <summary>Montgomery, λ = 0.1, width 2.7: signals at 29 and 30. Computed with R 4.2.2.</summary>
    [Fact]
    public void Montgomery_equals_R()
    {
        var chart = Ewma.Of(Montgomery, 10, 1, 0.1, 2.7);
        Close.To([9.945, 9.7495, 9.70355, 9.8992, 10.12528, 10.13075, 9.92167], [.. chart.Take(7).Select(point => point.Average)], 5.1e-6);
        Close.To([10.57314, 10.64682, 10.63414], [.. chart.Skip(27).Select(point => point.Average)], 5.1e-6);
        Close.To([10.27, 10.3632, 10.4240], [.. chart.Take(3).Select(point => point.Upper)], 5.1e-5);
        Assert.Equal([28, 29], chart.Index().Where(one => one.Item.IsOut).Select(one => one.Index));
    }

    /// <summary>λ = 0.1, width 2.703. Computed with R's spc 0.6.7. With λ = 1 every value stands alone: 1/(2·Φ(-3)).</summary>
    [Fact]
    public void MeanRunLength_equals_R()
    {
        Close.To(371.8877504, Ewma.MeanRunLength(0.1, 2.703), 1e-4);
        Close.To(370.3983474, Ewma.MeanRunLength(1, 3), 1e-4);
        Assert.True(Ewma.MeanRunLength(0.1, 2.703, 1) < 15);
    }

    /// <summary>A slow second implementation: every weight of every value written out, and the limit from the sum of their squares.</summary>
    [Fact]
    public void Of_equals_the_weights_written_out()
    {
        var random = new Random(3);
        var values = Enumerable.Range(0, 40).Select(_ => 10 + (4 * random.NextDouble())).ToArray();
        var chart = Ewma.Of(values, 12, 1.5, 0.2).ToList();
        for (var end = 0; end < values.Length; end++)
        {
            var weights = Enumerable.Range(0, end + 1).Select(index => 0.2 * Math.Pow(0.8, end - index)).ToArray();
            Close.To((Math.Pow(0.8, end + 1) * 12) + weights.Zip(values, (weight, value) => weight * value).Sum(), chart[end].Average, 1e-12);
            Close.To(12 + (3 * 1.5 * Math.Sqrt(weights.Sum(weight => weight * weight))), chart[end].Upper, 1e-12);
        }
    }

    /// <summary>By hand: target 0, λ = ½: 4, 4 gives 2, 3; first limit 3·1·√(⅓·¾) = 1.5.</summary>
    [Fact]
    public void Of_by_hand()
    {
        var chart = Ewma.Of([4, 4], 0, 1, 0.5);
        Close.To([2, 3], [.. chart.Select(point => point.Average)], 1e-15);
        Close.To(1.5, chart[0].Upper, 1e-15);
        Assert.True(chart[0].IsOut);
        Assert.Throws<ArgumentOutOfRangeException>(() => Ewma.Of([1], 0, 1, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => Ewma.Of([double.NaN], 0, 1, 0.5));
    }
}
