using Lepidary.Science.Groups;

namespace Lepidary.Science.Tests.Groups;

public class JamesSteinTest
{
    /// <summary>
    /// Efron and Morris 1975, arcsine scale. Computed with R 4.2.2; their printed three decimals (.290 … .239) are from memory.
    /// </summary>
    [Fact]
    public void Baseball_on_the_arcsine_scale_equals_R()
    {
        var shrunken = JamesStein.Shrink([.. BetaBinomialFitTest.Hits.Select(hits => Math.Sqrt(45) * Math.Asin(2 * hits / 45.0 - 1))], 1);
        Close.To(-3.31656314, shrunken.Mean, 2e-8);
        Close.To(18.9627198, shrunken.Spread, 5.1e-8);
        Close.To(0.20897423, shrunken.Factor, 5.1e-9);
        Close.To(
            [0.2901, 0.2858, 0.2815, 0.2771, 0.2726, 0.2726, 0.2681, 0.2636, 0.2589, 0.2589, 0.2541, 0.2541, 0.2541, 0.2541, 0.2541, 0.2492, 0.2440, 0.2387],
            [.. shrunken.Values.Select(x => (Math.Sin(x / Math.Sqrt(45)) + 1) / 2)],
            5.1e-5);
    }

    /// <summary>On the plain scale. Computed with R 4.2.2; Efron 2010, Large-Scale Inference, Table 1.1, prints .294 … .242 (from memory).</summary>
    [Fact]
    public void Baseball_on_the_plain_scale_equals_R()
    {
        var rates = BetaBinomialFitTest.Hits.Select(hits => hits / 45.0).ToList();
        var shrunken = JamesStein.Shrink(rates, rates.Average() * (1 - rates.Average()) / 45);
        Close.To(0.21165342, shrunken.Factor, 5.1e-9);
        Close.To(
            [0.2939, 0.2892, 0.2845, 0.2798, 0.2751, 0.2751, 0.2704, 0.2657, 0.2610, 0.2610, 0.2563, 0.2563, 0.2563, 0.2563, 0.2563, 0.2516, 0.2469, 0.2422],
            [.. shrunken.Values],
            5.1e-5);
    }

    [Fact]
    public void Shrink_by_hand_and_at_its_limits()
    {
        // 0, 0, 4, 4: mean 2, V = 16, factor 1 - 1·σ²/16.
        Close.To([1, 1, 3, 3], JamesStein.Shrink([0, 0, 4, 4], 8).Values.ToArray(), 1e-15);
        Close.To([2, 2, 2, 2], JamesStein.Shrink([0, 0, 4, 4], 99).Values.ToArray(), 1e-15);
        Close.To([3, 3, 3, 3], JamesStein.Shrink([3, 3, 3, 3], 1).Values.ToArray(), 1e-15);
        Assert.Throws<ArgumentOutOfRangeException>(() => JamesStein.Shrink([1, 2, 3], 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => JamesStein.Shrink([1, 2, 3, 4], 0));
    }
}
