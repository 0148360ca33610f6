using Lepidary.Science.Numerics;

namespace Lepidary.Science.Tests.Numerics;

public class BetaNodesTest
{
    [Fact]
    public void Of_integrates_powers_exactly_up_to_their_degree()
    {
        Gen.Select(Gen.Double[0.02, 0.98], Gen.Double[0.3, 3000], Gen.Int[1, 40]).Sample((mean, certainty, count) =>
        {
            var nodes = BetaNodes.Of(mean, certainty, count);
            for (var power = 0; power < 2 * count; power++)
            {
                var (sum, exact) = (0.0, 1.0);
                for (var j = 0; j < count; j++) sum += nodes.Weights[j] * Math.Pow(nodes.At[j], power);
                for (var i = 0; i < power; i++) exact *= (mean * certainty + i) / (certainty + i);
                Close.To(exact, sum, 1e-12);
            }
        }, seed: "0000000000001");
    }

    /// <summary>Two nodes of the uniform distribution: 1/2 ± 1/(2√3), by hand.</summary>
    [Fact]
    public void Of_uniform_two_nodes()
    {
        var nodes = BetaNodes.Of(0.5, 2, 2);
        Close.To([0.5 - 0.5 / Math.Sqrt(3), 0.5 + 0.5 / Math.Sqrt(3)], nodes.At, 1e-15);
        Close.To([0.5, 0.5], nodes.Weights, 1e-15);
    }

    [Fact]
    public void Of_a_known_mean_is_one_node()
    {
        Assert.Equal([0.8], BetaNodes.Of(0.8, double.PositiveInfinity, 9).At);
        Assert.Equal([1.0], BetaNodes.Of(1, 20, 9).At);
    }
}
