using Lepidary.Science.Groups;

namespace Lepidary.Science.Tests.Groups;

public class BetaBinomialGridTest
{
    /// <summary>
    /// Mode and posterior means of the rat tumours. Computed with R 4.2.2; the public notebook prints (-1.79, 2.74) (read), BDA3 2.4 and 14.3 (from memory).
    /// </summary>
    [Fact]
    public void Rat_tumours_equal_R()
    {
        var grid = new BetaBinomialGrid(BetaBinomialFitTest.RatTumours);
        var (x, z, step) = (-1.785783, 2.741549, 1e-3);
        foreach (var (dx, dz) in new[] { (step, 0.0), (-step, 0.0), (0.0, step), (0.0, -step) })
            Assert.True(grid.LogDensity(x + dx, z + dz) < grid.LogDensity(x, z));
        // The same mode as α and β: z = ln(α+β), x = ln(α/β).
        Close.To([x, z], [Math.Log(2.227231 / 13.283758), Math.Log(2.227231 + 13.283758)], 1e-6);
        // A coarser step than R's 0.005 gives the same means: the integrand is smooth.
        var (alpha, beta) = grid.Means((-2.3, -1.3), (1, 5), 0.02);
        Close.To(2.402562, alpha, 2e-4);
        Close.To(14.319477, beta, 2e-3);
    }
}
