namespace Lepidary.Science.Numerics;

/// <summary>Gauss-Legendre quadrature: exact for polynomials up to degree 2n-1. Newton's method on the Legendre polynomial.</summary>
internal static class GaussLegendre
{
    /// <summary>Nodes and weights on an interval.</summary>
    public static (double[] Nodes, double[] Weights) On(double from, double to, int count)
    {
        var (nodes, weights) = (new double[count], new double[count]);
        for (var i = 0; i < count; i++)
        {
            var x = Math.Cos(Math.PI * (i + 0.75) / (count + 0.5));
            var slope = 0.0;
            for (var step = 0; step < 100; step++)
            {
                var (p, before) = (1.0, 0.0);
                for (var k = 1; k <= count; k++) (p, before) = (((2 * k - 1) * x * p - (k - 1) * before) / k, p);
                slope = count * (x * p - before) / (x * x - 1);
                var change = p / slope;
                x -= change;
                if (Math.Abs(change) < 1e-16) break;
            }
            nodes[i] = from + (to - from) * (1 + x) / 2;
            weights[i] = (to - from) / ((1 - x * x) * slope * slope);
        }
        return (nodes, weights);
    }
}
