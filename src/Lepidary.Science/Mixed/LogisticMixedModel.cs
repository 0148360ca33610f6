using Lepidary.Science.Numerics;

namespace Lepidary.Science.Mixed;

/// <summary>What a model expects of a row: the logit's mean and variance.</summary>
/// <param name="Logit">Mean of the logit.</param>
/// <param name="Variance">Its variance: of the fixed effects and of the levels named; a new level adds its term's whole variance.</param>
public readonly record struct LogitForecast(double Logit, double Variance);

/// <summary>
/// Shares that depend on known quantities and on groups of which each has an effect of its own: logit p = xβ + Σ bₜ, bₜ ~ N(0, σₜ²), y ~ binomial(n, p). Groups may
/// cross (species by supplier) or nest (lots in both). Fitted by Laplace's approximation of the likelihood; a thin group's effect is drawn towards 0.
/// </summary>
/// <remarks>
/// Sources: Breslow and Clayton 1993, J. Am. Stat. Assoc. 88, 9-25; Bates, Maechler, Bolker and Walker 2015, J. Stat. Softw. 67(1), for the standardised effects; both from memory.
/// docs/science/mixed-model.md has the formulas and a case by hand.
/// </remarks>
public sealed class LogisticMixedModel
{
    /// <summary>The likelihood's last digits that a further step may still win.</summary>
    private const double Tolerance = 1e-8;

    private readonly MixedDesign design;
    private readonly MixedPrior? prior;
    private readonly LaplaceSurface surface;
    private readonly QuasiNewton found;
    private readonly Lazy<double[,]> covariance;
    private readonly double[,] fixedCovariance;
    private readonly double[][] cross;

    private LogisticMixedModel(MixedDesign design, MixedPrior? prior, LaplaceSurface surface, QuasiNewton found)
    {
        (this.design, this.prior, this.surface, this.found) = (design, prior, surface, found);
        var terms = design.Terms.Count;
        Deviations = [.. found.At.Take(terms).Select(Math.Exp)];
        FixedEffects = [.. found.At.Skip(terms)];
        surface.At(found.At, null);
        Deviance = surface.Deviance;
        Effects = [.. design.Terms.Select((term, t) => (IReadOnlyList<double>)
            [.. Enumerable.Range(0, term.Levels).Select(level => Deviations[t] * surface.Effects[surface.Offset(t) + level])])];
        (var information, cross) = surface.FixedInformation(found.At);
        fixedCovariance = Inverted(information);
        covariance = new(Covariance);
    }

    /// <summary>β, logit.</summary>
    public IReadOnlyList<double> FixedEffects { get; }

    /// <summary>Standard errors of β, from the curvature of the likelihood in β and the deviations together.</summary>
    public IReadOnlyList<double> FixedErrors =>
        [.. Enumerable.Range(design.Terms.Count, design.FixedEffects).Select(k => Math.Sqrt(covariance.Value[k, k]))];

    /// <summary>σ of each term, logit.</summary>
    public IReadOnlyList<double> Deviations { get; }

    /// <summary>Standard error of the logarithm of each σ; very large where the counts do not tell σ from 0.</summary>
    public IReadOnlyList<double> LogDeviationErrors =>
        [.. Enumerable.Range(0, design.Terms.Count).Select(t => Math.Sqrt(covariance.Value[t, t]))];

    /// <summary>The most likely effect of each level, by term, logit.</summary>
    public IReadOnlyList<IReadOnlyList<double>> Effects { get; }

    /// <summary>-2·ln of the likelihood, the binomial constants included.</summary>
    public double Deviance { get; }

    /// <summary>False when the search ended before a further step would win nothing.</summary>
    public bool Converged => found.Converged;

    /// <summary>Likelihoods reckoned on the way.</summary>
    public int Evaluations => found.Evaluations;

    /// <summary>Fits a model.</summary>
    /// <param name="design">The data.</param>
    /// <param name="prior">Null for the likelihood alone.</param>
    /// <param name="near">A model of nearly the same data, from which the search starts: the book before this round. Terms and fixed effects as in <paramref name="design"/>.</param>
    /// <exception cref="ArgumentException">The prior or the model before does not fit the design, or a fixed effect is a sum of others.</exception>
    public static LogisticMixedModel Fit(MixedDesign design, MixedPrior? prior = null, LogisticMixedModel? near = null)
    {
        ArgumentNullException.ThrowIfNull(design);
        var (terms, p) = (design.Terms.Count, design.FixedEffects);
        if (prior is not null && (prior.DeviationMedian.Count != terms || prior.FixedMean.Count != p || prior.FixedDeviation.Count != p))
            throw new ArgumentException("The prior has one entry for each term and each fixed effect.", nameof(prior));
        if (near is not null && (near.design.Terms.Count != terms || near.design.FixedEffects != p))
            throw new ArgumentException("The model before has other terms or fixed effects.", nameof(near));
        var surface = new LaplaceSurface(design, prior);
        double[] start;
        double[,] inverse;
        if (near is null) (start, inverse) = Beginning(design, prior, surface);
        else
        {
            (start, inverse) = (near.found.At, near.found.Inverse);
            for (var t = 0; t < terms; t++)
            {
                var kept = Math.Min(design.Terms[t].Levels, near.design.Terms[t].Levels);
                Array.Copy(near.surface.Effects, near.surface.Offset(t), surface.Effects, surface.Offset(t), kept);
            }
        }
        return new(design, prior, surface, QuasiNewton.Minimise(surface.At, start, inverse, Tolerance));
    }

    /// <summary>What is expected of a row, before its own random variation.</summary>
    /// <param name="x">Fixed effects of the row.</param>
    /// <param name="levels">Its level of each term; null or -1 for a new level.</param>
    /// <param name="offset">Known part of its logit.</param>
    /// <exception cref="ArgumentException">Lengths do not fit the design.</exception>
    /// <remarks>The deviations are taken as found: their own uncertainty is not in the variance.</remarks>
    public LogitForecast Forecast(IReadOnlyList<double> x, IReadOnlyList<int?> levels, double offset = 0)
    {
        ArgumentNullException.ThrowIfNull(x);
        ArgumentNullException.ThrowIfNull(levels);
        if (x.Count != design.FixedEffects || levels.Count != design.Terms.Count)
            throw new ArgumentException("A row has one value for each fixed effect and one level for each term.", nameof(x));
        var (logit, variance) = (offset, 0.0);
        var row = new double[surface.Matrix.Size];
        for (var t = 0; t < levels.Count; t++)
        {
            if (levels[t] is not { } level || level < 0)
            {
                variance += Deviations[t] * Deviations[t];
                continue;
            }
            logit += Effects[t][level];
            row[surface.Offset(t) + level] = Deviations[t];
        }
        var solved = (double[])row.Clone();
        surface.Matrix.Solve(solved);
        var left = new double[x.Count];
        for (var c = 0; c < row.Length; c++) variance += row[c] * solved[c];
        for (var k = 0; k < x.Count; k++)
        {
            logit += x[k] * FixedEffects[k];
            left[k] = x[k];
            for (var c = 0; c < row.Length; c++) left[k] -= row[c] * cross[k][c];
        }
        for (var k = 0; k < x.Count; k++)
            for (var l = 0; l < x.Count; l++) variance += left[k] * fixedCovariance[k, l] * left[l];
        return new(logit, variance);
    }

    /// <summary>The search begins where the effects explain a part of what is seen, with the curvature that the counts give there.</summary>
    private static (double[] At, double[,] Inverse) Beginning(MixedDesign design, MixedPrior? prior, LaplaceSurface surface)
    {
        const double deviation = 0.5;
        var (terms, p) = (design.Terms.Count, design.FixedEffects);
        var start = new double[terms + p];
        for (var t = 0; t < terms; t++) start[t] = Math.Log(prior?.DeviationMedian[t] ?? deviation);
        for (var k = 0; k < p; k++) start[terms + k] = prior?.FixedMean[k] ?? 0;
        surface.At(start, null);
        var inverse = new double[terms + p, terms + p];
        var (information, _) = surface.FixedInformation(start);
        var beta = Inverted(information);
        // The value is twice the negative log likelihood: its curvature is twice the information. A deviation is known from the number of its levels.
        for (var k = 0; k < p; k++)
            for (var l = 0; l < p; l++) inverse[terms + k, terms + l] = beta[k, l] / 2;
        for (var t = 0; t < terms; t++) inverse[t, t] = 1.0 / (2 * Math.Max(2, design.Terms[t].Levels));
        return (start, inverse);
    }

    /// <summary>Inverse of half the curvature at the optimum, by central differences of the gradient.</summary>
    private double[,] Covariance()
    {
        var n = found.At.Length;
        var half = new double[n, n];
        // A surface of its own: forecasts may be asked for at the same time.
        var apart = new LaplaceSurface(design, prior);
        surface.Effects.CopyTo(apart.Effects, 0);
        for (var k = 0; k < n; k++)
        {
            const double step = 1e-4;
            var (up, down, above, below) = ((double[])found.At.Clone(), (double[])found.At.Clone(), new double[n], new double[n]);
            up[k] += step;
            down[k] -= step;
            apart.At(up, above);
            apart.At(down, below);
            for (var l = 0; l < n; l++)
            {
                var curvature = (above[l] - below[l]) / (2 * step) / 2;
                half[k, l] += curvature / 2;
                half[l, k] += curvature / 2;
            }
        }
        // A deviation at 0 leaves the likelihood flat in its logarithm; the others' errors must not suffer.
        for (var t = 0; t < design.Terms.Count; t++) half[t, t] = Math.Max(half[t, t], 1e-8);
        return Inverted(half);
    }

    private static double[,] Inverted(double[,] matrix)
    {
        var n = matrix.GetLength(0);
        var inverse = new double[n, n];
        for (var k = 0; k < n; k++)
        {
            var unit = new double[n];
            unit[k] = 1;
            var column = LinearAlgebra.Solve((double[,])matrix.Clone(), unit);
            for (var l = 0; l < n; l++) inverse[l, k] = column[l];
        }
        return inverse;
    }
}
