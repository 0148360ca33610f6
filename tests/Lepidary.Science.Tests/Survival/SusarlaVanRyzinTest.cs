using Lepidary.Science.Survival;

namespace Lepidary.Science.Tests.Survival;

public class SusarlaVanRyzinTest
{
    private static readonly double[] Times = [0.8, 1.0, 2.7, 3.1, 5.4, 7.0, 9.2, 12.1];

    /// <summary>
    /// Prior exp(-0.12·u). Computed with R 4.2.2 and an independent grid; the paper's printed table was not found, and that it
    /// uses θ = 0.12 and B = 4, 8, 16 is from memory.
    /// </summary>
    [Theory]
    [InlineData(4, new[] { 0.886155, 0.878973, 0.818703, 0.700914, 0.528206, 0.490292, 0.306024, 0.254748 })]
    [InlineData(8, new[] { 0.891732, 0.880960, 0.792876, 0.699433, 0.528147, 0.474409, 0.317712, 0.249902 })]
    [InlineData(16, new[] { 0.897309, 0.882947, 0.768429, 0.696913, 0.527192, 0.459396, 0.325163, 0.244755 })]
    public void At_equals_R(double weight, double[] expected) =>
        Close.To(expected, Times.Select(time => SusarlaVanRyzin.At(Samples.KaplanMeier1958, weight, Prior, time)).ToArray(), 5.1e-7);

    /// <summary>Kaplan-Meier of the same sample, computed with R 4.2.2: 0.875, 0.700, 0.525, 0.2625 and their errors.</summary>
    [Fact]
    public void Without_weight_it_is_Kaplan_Meier()
    {
        var estimate = KaplanMeier.Of(Samples.KaplanMeier1958);
        Close.To([0.875, 0.7, 0.525, 0.2625], estimate.Steps.Select(step => step.Survival).ToArray(), 1e-15);
        Close.To([0.11692679, 0.18234583, 0.20413690, 0.21182798], estimate.Steps.Select(step => step.Error).ToArray(), 5.1e-9);
        foreach (var step in estimate.Steps)
            Close.To(step.Survival, SusarlaVanRyzin.At(Samples.KaplanMeier1958, 0, Prior, step.Time), 1e-14);
    }

    [Fact]
    public void With_endless_weight_it_is_the_prior()
    {
        foreach (var time in Times) Close.To(Prior(time), SusarlaVanRyzin.At(Samples.KaplanMeier1958, 1e12, Prior, time), 1e-10);
    }

    /// <summary>A second way: the discrete beta process on a fine grid, weights and hazards from the same Dirichlet prior.</summary>
    [Fact]
    public void At_equals_discrete_beta_process_on_a_fine_grid()
    {
        const double Step = 0.01;
        var cells = Enumerable.Range(1, 1210).ToArray();
        var days = DiscreteBetaProcess.Posterior(
            [.. cells.Select(_ => 1 - Math.Exp(-0.12 * Step))],
            [.. cells.Select(cell => 8 * Prior((cell - 1) * Step))],
            [.. cells.Select(cell => (double)Samples.KaplanMeier1958.Count(o => o.Time > (cell - 1) * Step + 1e-9))],
            [.. cells.Select(cell => (double)Samples.KaplanMeier1958.Count(o => o.HasEvent && Math.Abs(o.Time - cell * Step) < 1e-9))]);
        // Within a cell events come before the censored, so the grid is compared where none is censored.
        foreach (var time in new[] { 0.8, 3.1, 5.4, 9.2 })
            Close.To(SusarlaVanRyzin.At(Samples.KaplanMeier1958, 8, Prior, time), days[(int)Math.Round(time / Step) - 1].Survival, 1e-3);
    }

    [Fact]
    public void Impossible_arguments_are_refused()
    {
        Assert.Throws<ArgumentException>(() => SusarlaVanRyzin.At([], 0, Prior, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => SusarlaVanRyzin.At(Samples.SixMp, -1, Prior, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => SusarlaVanRyzin.At(Samples.SixMp, 1, Prior, -1));
    }

    private static double Prior(double time) => Math.Exp(-0.12 * time);
}
