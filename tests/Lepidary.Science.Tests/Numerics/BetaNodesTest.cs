using Lepidary.Science.Numerics;

namespace Lepidary.Science.Tests.Numerics;

public class BetaNodesTest
{
    /// <summary>Mixing binomials of n animals over Beta(a, b) must give the beta-binomial: the sharpest chances there are.</summary>
    [Fact]
    public void Of_mixes_binomials_to_beta_binomials()
    {
        Gen.Select(Gen.Double[0.02, 0.98], Gen.Double[0, 3].Select(log => Math.Pow(10, log)), Gen.Int[1, 400]).Holds((mean, certainty, n) =>
        {
            var nodes = BetaNodes.Of(mean, certainty, n);
            var mixed = CountDistribution.Mixture(nodes.Weights, [.. nodes.At.Select(at => CountDistribution.Binomial(n, at))]);
            Close.To(CountDistribution.BetaBinomial(n, mean * certainty, (1 - mean) * certainty), mixed, 1e-9);
        }, seed: 1);
    }

    [Fact]
    public void Of_uses_few_nodes()
    {
        Assert.InRange(BetaNodes.Of(0.8, 20, 150).At.Length, 20, 60);
        Assert.InRange(BetaNodes.Of(0.8, 20, 400).At.Length, 30, 90);
        Assert.InRange(BetaNodes.Of(0.8, 0.2, 10).At.Length, 5, 60);
    }

    [Fact]
    public void Of_a_known_mean_is_one_node()
    {
        Assert.Equal([0.8], BetaNodes.Of(0.8, double.PositiveInfinity, 9).At);
        Assert.Equal([1.0], BetaNodes.Of(1, 20, 9).At);
    }
}
