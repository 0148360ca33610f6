using Lepidary.Science.Numerics;
using Known = MathNet.Numerics.SpecialFunctions;

namespace Lepidary.Science.Tests.Numerics;

public class SpecialFunctionsTest
{
    [Fact]
    public void LogGamma_equals_MathNet()
    {
        Gen.Double[-6, 6].Select(log => Math.Pow(10, log)).Holds(x =>
            Close.To(Known.GammaLn(x), SpecialFunctions.LogGamma(x), 1e-12 * Math.Max(1, Math.Abs(Known.GammaLn(x)))), seed: 1);
    }

    [Fact]
    public void LogGamma_of_whole_and_half_numbers()
    {
        var logFactorial = 0.0;
        for (var n = 1; n < 100; n++)
        {
            Close.To(logFactorial, SpecialFunctions.LogGamma(n), 1e-12);
            logFactorial += Math.Log(n);
        }
        Close.To(Math.Log(Math.PI) / 2, SpecialFunctions.LogGamma(0.5), 1e-14);
    }

    [Fact]
    public void BetaCumulative_equals_MathNet()
    {
        Gen.Select(Gen.Double[0, 1], Gen.Double[0.05, 500], Gen.Double[0.05, 500]).Holds((x, a, b) =>
            Close.To(Known.BetaRegularized(a, b, x), SpecialFunctions.BetaCumulative(x, a, b), 1e-11), seed: 2);
    }

    [Fact]
    public void BetaCumulative_equals_binomial_tail()
    {
        // I_p(k, n-k+1) = P(Bin(n, p) >= k): a second way with no special function in it.
        foreach (var (n, k, p) in new[] { (10, 3, 0.2), (50, 40, 0.8), (200, 5, 0.01) })
            Close.To(CountDistribution.Binomial(n, p).AtLeast(k), SpecialFunctions.BetaCumulative(p, k, n - k + 1), 1e-12);
    }

    [Fact]
    public void BetaQuantile_inverts_BetaCumulative()
    {
        Gen.Select(Gen.Double[0.001, 0.999], Gen.Double[0.5, 200], Gen.Double[0.5, 200]).Holds((p, a, b) =>
            Close.To(p, SpecialFunctions.BetaCumulative(SpecialFunctions.BetaQuantile(p, a, b), a, b), 1e-11), seed: 3);
    }

    [Fact]
    public void GammaCumulative_equals_MathNet()
    {
        Gen.Select(Gen.Double[0.05, 200], Gen.Double[0.001, 400]).Holds((a, x) =>
            Close.To(Known.GammaLowerRegularized(a, x), SpecialFunctions.GammaCumulative(a, x), 1e-11), seed: 4);
    }

    /// <summary>z of 95 %; tail values against MathNet.</summary>
    [Fact]
    public void NormalQuantile_known_values()
    {
        Close.To(1.959963984540054, SpecialFunctions.NormalQuantile(0.975), 1e-12);
        Close.To(-1.959963984540054, SpecialFunctions.NormalQuantile(0.025), 1e-12);
        foreach (var p in new[] { 1e-10, 0.001, 0.2, 0.5, 0.7, 0.9999 })
            Close.To(MathNet.Numerics.Distributions.Normal.InvCDF(0, 1, p), SpecialFunctions.NormalQuantile(p), 1e-8);
        foreach (var z in new[] { -6.0, -1, 0, 0.3, 5 })
            Close.To(MathNet.Numerics.Distributions.Normal.CDF(0, 1, z), SpecialFunctions.NormalCumulative(z), 1e-14);
    }

    [Fact]
    public void Arguments_out_of_range_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => SpecialFunctions.LogGamma(0));
        Assert.Throws<ArgumentOutOfRangeException>(() => SpecialFunctions.LogGamma(double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => SpecialFunctions.BetaCumulative(1.1, 1, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => SpecialFunctions.BetaCumulative(0.5, 0, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => SpecialFunctions.NormalQuantile(1));
        Assert.Throws<ArgumentOutOfRangeException>(() => SpecialFunctions.GammaCumulative(1, -1));
    }
}
