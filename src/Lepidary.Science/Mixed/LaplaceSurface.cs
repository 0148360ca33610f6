using Lepidary.Science.Numerics;

namespace Lepidary.Science.Mixed;

/// <summary>
/// Minus twice the logarithm of the likelihood, by Laplace's approximation, of the logarithms of the standard deviations and of the fixed effects, with its gradient. With
/// u the standardised effects (b = σ·u), f(u) = -Σ ln P(y|u) + u'u/2, û its minimum and H its second derivative there: 2·f(û) + ln|H|.
/// </summary>
/// <remarks>
/// The gradient is exact for the approximation: ln|H| moves with the parameters directly and through û, for which the third derivative of the likelihood and those entries
/// of H⁻¹ are needed that meet in a row. The tests hold it against differences.
/// </remarks>
internal sealed class LaplaceSurface
{
    private const int MostSteps = 60;
    private readonly MixedDesign design;
    private readonly MixedPrior? prior;
    private readonly int width;
    private readonly int[] order;        // of the terms: finest first
    private readonly int[] offsets;      // of each term (as given) in u
    private readonly int[] index;        // row by ordered term: its column
    private readonly int[] position;     // row by pair of ordered terms: its entry in the matrix
    private readonly double[] eta, weight, residual, right, trial;
    private readonly double constant;

    public LaplaceSurface(MixedDesign design, MixedPrior? prior)
    {
        (this.design, this.prior, width) = (design, prior, design.Terms.Count);
        order = [.. Enumerable.Range(0, width).OrderByDescending(t => design.Terms[t].Levels)];
        offsets = new int[width];
        var size = 0;
        foreach (var t in order)
        {
            offsets[t] = size;
            size += design.Terms[t].Levels;
        }
        index = new int[design.Rows * width];
        for (var a = 0; a < width; a++)
        {
            var term = design.Terms[order[a]];
            for (var i = 0; i < design.Rows; i++) index[i * width + a] = offsets[order[a]] + term.Level[i];
        }
        Matrix = new CliqueFactor(size, width, index);
        position = new int[design.Rows * width * (width + 1) / 2];
        var at = 0;
        for (var i = 0; i < design.Rows; i++)
            for (var a = 0; a < width; a++)
                for (var b = a; b < width; b++)
                    position[at++] = Matrix.Position(index[i * width + a], index[i * width + b]);
        (Effects, right, trial) = (new double[size], new double[size], new double[size]);
        (eta, weight, residual) = (new double[design.Rows], new double[design.Rows], new double[design.Rows]);
        for (var i = 0; i < design.Rows; i++)
        {
            var (y, n) = (design.Successes[i], design.Trials[i]);
            constant += SpecialFunctions.LogGamma(n + 1) - SpecialFunctions.LogGamma(y + 1) - SpecialFunctions.LogGamma(n - y + 1);
        }
    }

    /// <summary>Number of parameters: first the terms', as given, then the fixed effects'.</summary>
    public int Parameters => width + design.FixedEffects;

    /// <summary>The standardised effects û of the last point; the next search starts there.</summary>
    public double[] Effects { get; }

    /// <summary>H at the last point, factored.</summary>
    public CliqueFactor Matrix { get; }

    /// <summary>Where a term's effects begin.</summary>
    public int Offset(int term) => offsets[term];

    /// <summary>Minus twice the log likelihood without the prior, at the last point.</summary>
    public double Deviance { get; private set; }

    /// <summary>The value at a point, infinite where it cannot be reckoned, and its gradient if wanted.</summary>
    public double At(double[] point, double[]? gradient)
    {
        Span<double> scale = stackalloc double[width];
        for (var a = 0; a < width; a++) scale[a] = Math.Exp(point[order[a]]);
        var log = Centre(point, scale, out var half);
        if (double.IsNaN(log)) return double.PositiveInfinity;
        Deviance = 2 * (half - constant) + log;
        if (gradient is not null) Gradient(scale, gradient);
        return Deviance + Prior(point, gradient);
    }

    /// <summary>What the counts tell of the fixed effects, given the standard deviations: X'WX - C'H⁻¹C; and H⁻¹C, a column a fixed effect, for predictions.</summary>
    public (double[,] Information, double[][] Cross) FixedInformation(double[] point)
    {
        var (p, crosses) = (design.FixedEffects, new double[design.FixedEffects][]);
        var information = new double[p, p];
        var raw = new double[p][];
        for (var k = 0; k < p; k++)
        {
            raw[k] = new double[Matrix.Size];
            for (var i = 0; i < design.Rows; i++)
            {
                var wx = weight[i] * design.X[i][k];
                for (var a = 0; a < width; a++) raw[k][index[i * width + a]] += wx * Math.Exp(point[order[a]]);
                for (var l = 0; l < p; l++) information[k, l] += wx * design.X[i][l];
            }
            crosses[k] = [.. raw[k]];
            Matrix.Solve(crosses[k]);
        }
        for (var k = 0; k < p; k++)
            for (var l = 0; l < p; l++)
                for (var c = 0; c < Matrix.Size; c++) information[k, l] -= raw[k][c] * crosses[l][c];
        for (var k = 0; k < p; k++)
            if (prior is not null && double.IsFinite(prior.FixedDeviation[k])) information[k, k] += 1 / (prior.FixedDeviation[k] * prior.FixedDeviation[k]);
        return (information, crosses);
    }

    /// <summary>Finds û by Newton's steps, halved where they go uphill, and leaves H there factored. Gives ln|H|.</summary>
    private double Centre(double[] point, ReadOnlySpan<double> scale, out double half)
    {
        half = Value(Effects, point, scale);
        if (!double.IsFinite(half))
        {
            Array.Clear(Effects);
            half = Value(Effects, point, scale);
        }
        for (var step = 0; step < MostSteps; step++)
        {
            var log = Assemble(scale);
            if (double.IsNaN(log)) return double.NaN;
            Matrix.Solve(right);
            // The right side was -f'(u): its product with the step is the decrement, twice what the step can win.
            var decrement = 0.0;
            for (var c = 0; c < right.Length; c++) decrement += right[c] * trial[c];
            if (decrement < 1e-16) return log;
            var (length, better) = (1.0, false);
            for (var halving = 0; halving < 30 && !better; halving++, length /= 2)
            {
                for (var c = 0; c < right.Length; c++) trial[c] = Effects[c] + length * right[c];
                var value = Value(trial, point, scale);
                better = value <= half + 1e-12 * Math.Abs(half);
                if (better) half = value;
            }
            if (!better) return double.NaN;
            trial.CopyTo(Effects, 0);
        }
        return double.NaN;
    }

    /// <summary>f(u); leaves the logits.</summary>
    private double Value(double[] u, double[] point, ReadOnlySpan<double> scale)
    {
        var sum = 0.0;
        foreach (var value in u) sum += value * value;
        sum /= 2;
        var p = design.FixedEffects;
        for (var i = 0; i < design.Rows; i++)
        {
            var logit = design.Offset[i];
            var x = design.X[i];
            for (var k = 0; k < p; k++) logit += x[k] * point[width + k];
            for (var a = 0; a < width; a++) logit += scale[a] * u[index[i * width + a]];
            eta[i] = logit;
            var e = Math.Exp(-Math.Abs(logit));
            // ln(1 + exp(η)) without overflow.
            sum += design.Trials[i] * (Math.Max(logit, 0) + Math.Log(1 + e)) - design.Successes[i] * logit;
            // The chance without a second exponential; kept where the weight will stand.
            weight[i] = logit >= 0 ? 1 / (1 + e) : e / (1 + e);
        }
        return sum;
    }

    /// <summary>H and -f' from the chances that the last value left; factors H.</summary>
    private double Assemble(ReadOnlySpan<double> scale)
    {
        Array.Clear(Matrix.Values);
        for (var c = 0; c < right.Length; c++)
        {
            Matrix.Values[Matrix.Diagonal(c)] = 1;
            right[c] = -Effects[c];
        }
        var at = 0;
        for (var i = 0; i < design.Rows; i++)
        {
            var chance = weight[i];
            residual[i] = design.Successes[i] - design.Trials[i] * chance;
            var w = design.Trials[i] * chance * (1 - chance);
            weight[i] = w;
            for (var a = 0; a < width; a++)
            {
                right[index[i * width + a]] += residual[i] * scale[a];
                for (var b = a; b < width; b++) Matrix.Values[position[at++]] += w * scale[a] * scale[b];
            }
        }
        right.CopyTo(trial, 0);
        return Matrix.Factor();
    }

    private void Gradient(ReadOnlySpan<double> scale, double[] gradient)
    {
        Array.Clear(gradient);
        Matrix.Invert();
        var z = new double[Matrix.Size];
        var leverage = new double[design.Rows];
        Span<double> meets = stackalloc double[width];
        var at = 0;
        for (var i = 0; i < design.Rows; i++)
        {
            meets.Clear();
            for (var a = 0; a < width; a++)
                for (var b = a; b < width; b++)
                {
                    var inverse = Matrix.Inverse[position[at++]];
                    meets[a] += scale[b] * inverse;
                    if (a != b) meets[b] += scale[a] * inverse;
                }
            var h = 0.0;
            for (var a = 0; a < width; a++) h += scale[a] * meets[a];
            // How the weight n·p(1-p) moves with the logit: itself times 1-2p.
            leverage[i] = h * weight[i] * Skew(eta[i]);
            for (var a = 0; a < width; a++)
            {
                var column = index[i * width + a];
                z[column] += leverage[i] * scale[a];
                gradient[order[a]] += leverage[i] * Effects[column] + 2 * weight[i] * meets[a] - 2 * residual[i] * Effects[column];
            }
        }
        Matrix.Solve(z);
        for (var i = 0; i < design.Rows; i++)
        {
            var moved = 0.0;
            for (var a = 0; a < width; a++) moved += scale[a] * z[index[i * width + a]];
            moved *= weight[i];
            for (var a = 0; a < width; a++)
            {
                var column = index[i * width + a];
                gradient[order[a]] += residual[i] * z[column] - moved * Effects[column];
            }
            var along = leverage[i] - moved - 2 * residual[i];
            for (var k = 0; k < design.FixedEffects; k++) gradient[width + k] += along * design.X[i][k];
        }
        // The parameter is the logarithm of the deviation.
        for (var a = 0; a < width; a++) gradient[order[a]] *= scale[a];
    }

    /// <summary>1 - 2p.</summary>
    private static double Skew(double logit) => -Math.Tanh(logit / 2);

    private double Prior(double[] point, double[]? gradient)
    {
        if (prior is null) return 0;
        var sum = 0.0;
        for (var t = 0; t < width; t++)
        {
            var away = (point[t] - Math.Log(prior.DeviationMedian[t])) / prior.LogSpread;
            sum += away * away;
            if (gradient is not null) gradient[t] += 2 * away / prior.LogSpread;
        }
        for (var k = 0; k < design.FixedEffects; k++)
        {
            if (double.IsPositiveInfinity(prior.FixedDeviation[k])) continue;
            var away = (point[width + k] - prior.FixedMean[k]) / prior.FixedDeviation[k];
            sum += away * away;
            if (gradient is not null) gradient[width + k] += 2 * away / prior.FixedDeviation[k];
        }
        return sum;
    }
}
