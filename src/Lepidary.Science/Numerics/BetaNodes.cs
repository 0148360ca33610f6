using Lepidary.Science.Ground;

namespace Lepidary.Science.Numerics;

/// <summary>
/// Nodes and weights that stand for a Beta(a, b) distribution: the expectation of any polynomial up to degree 2m-1 is exact
/// with m nodes (Gauss-Jacobi quadrature). Chances of a beta-binomial of n animals are polynomials of degree n in the mean
/// rate, so n/2+1 nodes mix them without error.
/// </summary>
/// <remarks>Golub and Welsch 1969, Math. Comp. 23:221-230 (from memory): nodes are the eigenvalues of the Jacobi matrix, weights
/// the squared first components of its eigenvectors; implicit QL, first components only.</remarks>
internal sealed class BetaNodes
{
    private BetaNodes(double[] at, double[] weights) => (At, Weights) = (at, weights);

    /// <summary>The nodes, ascending, inside 0…1.</summary>
    public double[] At { get; }

    /// <summary>The weight of each node; they sum to 1.</summary>
    public double[] Weights { get; }

    /// <summary>A value known for certain.</summary>
    public static BetaNodes Certain(double value) => new([value], [1]);

    /// <summary>Nodes of Beta(mean·certainty, (1-mean)·certainty).</summary>
    /// <param name="mean">0…1; at 0 and 1 there is one node.</param>
    /// <param name="certainty">Above 0; +infinity gives one node.</param>
    /// <param name="count">How many nodes, at least 1.</param>
    public static BetaNodes Of(double mean, double certainty, int count) =>
        mean is <= 0 or >= 1 || double.IsPositiveInfinity(certainty)
            ? Certain(mean)
            : OfShapes(mean * certainty, (1 - mean) * certainty, count);

    private static BetaNodes OfShapes(double a, double b, int count)
    {
        Guard.FinitePositive(a);
        Guard.FinitePositive(b);
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 1);
        // The three-term recurrence of the Jacobi polynomials, weight (1-x)^(b-1) (1+x)^(a-1) on -1…1.
        var diagonal = new double[count];
        var off = new double[count];
        diagonal[0] = (a - b) / (a + b);
        for (var k = 1; k < count; k++)
        {
            var s = 2 * k + a + b - 2;
            diagonal[k] = (a - b) * (a + b - 2) / (s * (s + 2));
            off[k - 1] = k == 1
                ? Math.Sqrt(4 * a * b / ((a + b) * (a + b) * (a + b + 1)))
                : Math.Sqrt(4 * k * (k + b - 1) * (k + a - 1) * (k + a + b - 2) / (s * s * (s + 1) * (s - 1)));
        }
        var first = new double[count];
        first[0] = 1;
        Diagonalise(diagonal, off, first);
        var at = Array.ConvertAll(diagonal, x => Math.Clamp((1 + x) / 2, 0, 1));
        var weights = Array.ConvertAll(first, z => z * z);
        Array.Sort(at, weights);
        return new(at, weights);
    }

    /// <summary>Implicit QL with shifts on a symmetric tridiagonal matrix; follows one row of the rotations.</summary>
    private static void Diagonalise(double[] d, double[] e, double[] z)
    {
        var n = d.Length;
        for (var l = 0; l < n; l++)
        {
            for (var sweep = 0; ; sweep++)
            {
                var m = l;
                while (m < n - 1 && Math.Abs(e[m]) > 1e-17 * (Math.Abs(d[m]) + Math.Abs(d[m + 1]))) m++;
                if (m == l) break;
                if (sweep == 200) throw new ArithmeticException("The Jacobi matrix did not become diagonal.");
                var g = (d[l + 1] - d[l]) / (2 * e[l]);
                var r = Math.Sqrt(g * g + 1);
                g = d[m] - d[l] + e[l] / (g + (g >= 0 ? r : -r));
                var (s, c, p) = (1.0, 1.0, 0.0);
                var i = m - 1;
                for (; i >= l; i--)
                {
                    var f = s * e[i];
                    var b = c * e[i];
                    r = Math.Sqrt(f * f + g * g);
                    e[i + 1] = r;
                    if (r == 0)
                    {
                        d[i + 1] -= p;
                        e[m] = 0;
                        break;
                    }
                    s = f / r;
                    c = g / r;
                    g = d[i + 1] - p;
                    r = (d[i] - g) * s + 2 * c * b;
                    p = s * r;
                    d[i + 1] = g + p;
                    g = c * r - b;
                    (z[i + 1], z[i]) = (s * z[i] + c * z[i + 1], c * z[i] - s * z[i + 1]);
                }
                if (r == 0 && i >= l) continue;
                d[l] -= p;
                e[l] = g;
                e[m] = 0;
            }
        }
    }
}
