namespace Lepidary.Science.Groups;

/// <summary>
/// Full Bayes for the same model: α and β with the prior (α+β)^(-5/2), on a grid of x = ln(α/β) by z = ln(α+β) (Gelman et al., Bayesian Data Analysis,
/// section 5.3). It says what the plug-in fit leaves out: how little the counts tell of α and β themselves.
/// </summary>
/// <param name="groups">Successes and trials of each; 0 ≤ Successes ≤ Trials.</param>
public sealed class BetaBinomialGrid(IReadOnlyCollection<(int Successes, int Trials)> groups)
{
    private readonly LotLikelihood likelihood = new(groups);

    /// <summary>Logarithm of the posterior density of (x, z), up to a constant: prior, likelihood and the Jacobian αβ.</summary>
    public double LogDensity(double x, double z)
    {
        var (alpha, beta) = Shapes(x, z);
        return Math.Log(alpha) + Math.Log(beta) - 2.5 * z + likelihood.Log(alpha, beta);
    }

    /// <summary>Posterior means of α and β over a rectangle of the grid; what lies outside is left out.</summary>
    /// <param name="xRange">From and to of x.</param>
    /// <param name="zRange">From and to of z.</param>
    /// <param name="step">Above 0.</param>
    public (double Alpha, double Beta) Means((double From, double To) xRange, (double From, double To) zRange, double step)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(step);
        var (nx, nz) = ((int)Math.Round((xRange.To - xRange.From) / step), (int)Math.Round((zRange.To - zRange.From) / step));
        // Two passes: the top first, so that nothing over- or underflows.
        var logs = new double[nx + 1, nz + 1];
        var top = double.NegativeInfinity;
        for (var i = 0; i <= nx; i++)
            for (var j = 0; j <= nz; j++)
                top = Math.Max(top, logs[i, j] = LogDensity(xRange.From + i * step, zRange.From + j * step));
        var (sum, alphaSum, betaSum) = (0.0, 0.0, 0.0);
        for (var i = 0; i <= nx; i++)
        {
            for (var j = 0; j <= nz; j++)
            {
                var weight = Math.Exp(logs[i, j] - top);
                var (alpha, beta) = Shapes(xRange.From + i * step, zRange.From + j * step);
                sum += weight;
                alphaSum += weight * alpha;
                betaSum += weight * beta;
            }
        }
        return (alphaSum / sum, betaSum / sum);
    }

    private static (double Alpha, double Beta) Shapes(double x, double z)
    {
        var total = Math.Exp(z);
        return (total / (1 + Math.Exp(-x)), total / (1 + Math.Exp(x)));
    }
}
