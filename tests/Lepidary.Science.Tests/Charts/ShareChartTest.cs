using Lepidary.Science.Charts;

namespace Lepidary.Science.Tests.Charts;

public class ShareChartTest
{
    /// <summary>
    /// R's qcc::orangejuice, trial samples 1…30 of 50 (Montgomery); read in the package. NIST's wafer example has the same shares (30 values from memory, mean
    /// agrees with a page that was read).
    /// </summary>
    internal static readonly int[] OrangeJuice =
        [12, 15, 8, 10, 4, 7, 16, 9, 14, 10, 5, 6, 17, 12, 22, 8, 10, 5, 13, 11, 20, 18, 24, 15, 9, 12, 7, 13, 9, 6];

    /// <summary>Its samples 31…54, after an adjustment; read in the package.</summary>
    internal static readonly int[] Adjusted = [9, 6, 12, 5, 6, 4, 6, 3, 7, 6, 2, 4, 3, 6, 5, 4, 8, 5, 6, 7, 5, 6, 3, 5];

    /// <summary>Computed with R 4.2.2.</summary>
    [Fact]
    public void Orange_juice_equals_R()
    {
        var chart = ShareChart.Of([.. OrangeJuice.Select(bad => (bad, 50))]);
        Close.To(0.2313333, chart.Centre, 5.1e-8);
        Close.To(0.4102391, chart.Points[0].Upper, 5.1e-8);
        Close.To(0.0524275, chart.Points[0].Lower, 5.1e-8);
        Assert.Equal([15, 23], Out(chart));
        var without = ShareChart.Of([.. OrangeJuice.Where((_, i) => i is not (14 or 22)).Select(bad => (bad, 50))]);
        Close.To(0.215, without.Centre, 1e-15);
        Close.To(0.3892972, without.Points[0].Upper, 5.1e-8);
        Close.To(0.0407028, without.Points[0].Lower, 5.1e-8);
        // Sample 21 is out now; without sample 15 it is the 20th.
        Assert.Equal([20], Out(without));
        Assert.Equal((347, 301), (OrangeJuice.Sum(), OrangeJuice.Where((_, i) => i is not (14 or 22)).Sum()));
        Close.To(0.1108333, 133.0 / 1200, 5.1e-8);
        Close.To(133.0 / 1200, ShareChart.Of([.. Adjusted.Select(bad => (bad, 50))]).Centre, 1e-15);
    }

    private static int[] Out(ShareChart chart) => [.. chart.Points.Index().Where(one => one.Item.IsOut).Select(one => one.Index + 1)];

    /// <summary>Exact limits for the same chart, chances 0.00135 and 0.99865 of a binomial of 50: 4 and 21. Computed with R 4.2.2.</summary>
    [Fact]
    public void Exact_limits_equal_R()
    {
        var counts = CountDistribution.Binomial(50, 347 / 1500.0);
        Assert.Equal((4, 21), (counts.Quantile(0.00135), counts.Quantile(0.99865)));
    }

    /// <summary>Montgomery's purchase orders, sizes differ: data from memory, total and limits computed with R 4.2.2.</summary>
    [Fact]
    public void Purchase_orders_equal_R()
    {
        int[] sizes = [100, 80, 80, 100, 110, 110, 100, 100, 90, 90, 110, 120, 120, 120, 110, 80, 80, 80, 90, 100, 100, 100, 100, 90, 90];
        int[] bad = [12, 8, 6, 9, 10, 12, 11, 16, 10, 6, 20, 15, 9, 8, 6, 8, 10, 7, 5, 8, 5, 8, 10, 6, 9];
        var chart = ShareChart.Of([.. bad.Zip(sizes)]);
        Close.To(0.09551020, chart.Centre, 5.1e-9);
        Close.To([0, 0.19409342], [chart.Points[1].Lower, chart.Points[1].Upper], 5.1e-9);
        Close.To([0.00733469, 0.18368571], [chart.Points[0].Lower, chart.Points[0].Upper], 5.1e-9);
        Close.To([0.01501734, 0.17600306], [chart.Points[11].Lower, chart.Points[11].Upper], 5.1e-9);
        Assert.Equal([11], Out(chart));
        Assert.Equal((234, 2450), (bad.Sum(), sizes.Sum()));
        Close.To(0.18181818, chart.Points[10].Share, 5.1e-9);
        Close.To(0.17958225, chart.Points[10].Upper, 5.1e-9);
        Close.To(3.07978615, chart.Points[10].Z, 5.1e-9);
        Close.To(0.96567403, chart.Dispersion, 5.1e-9);
    }

    /// <summary>By hand: 1 of 4 and 3 of 4: centre ½, error ¼, limits 0 and 1 (cut), z -1 and 1.</summary>
    [Fact]
    public void Of_by_hand()
    {
        var chart = ShareChart.Of([(1, 4), (3, 4)]);
        Assert.Equal(new ShareChartPoint(0.25, 0, 1, -1), chart.Points[0]);
        Assert.Equal(1, chart.Points[1].Z);
        Close.To(2 / 1.128, chart.Dispersion, 1e-15);
    }

    [Fact]
    public void Impossible_samples_are_refused()
    {
        Assert.Throws<ArgumentException>(() => ShareChart.Of([]));
        Assert.Throws<ArgumentException>(() => ShareChart.Of([(3, 2)]));
        Assert.Throws<ArgumentOutOfRangeException>(() => ShareChart.Of([(1, 2)], 1.5, 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => ShareChart.Of([(1, 2)], 0));
    }
}
