namespace Lepidary.Planning.Model;

/// <summary>
/// One face of a group's shortage on a day: short ≥ Right - MeanFactor·mean + VarianceFactor·variance, mean and variance of the
/// whole count, own stock included. The shortage is the largest of its faces and 0.
/// </summary>
internal readonly record struct Plane(double Right, double MeanFactor, double VarianceFactor)
{
    /// <summary>Height of the face.</summary>
    public double At(double mean, double variance) => Right - MeanFactor * mean + VarianceFactor * variance;
}

/// <summary>Faces of the shortage of a count that is near normal.</summary>
internal static class Planes
{
    // Where the faces touch, in deviations of the wanted number above the mean.
    private static readonly double[] Touch = [-2, -1.4, -0.9, -0.5, -0.1, 0.3, 0.8, 1.5, 2.6];

    /// <summary>
    /// Shortage against the number that can be relied on with chance <paramref name="sure"/>: wanted - (mean + 1/2 - z·deviation).
    /// The deviation is replaced by its tangent at <paramref name="variance"/>, which lies above it everywhere: what the model calls
    /// met is met.
    /// </summary>
    public static Plane Sure(int wanted, double sure, double variance, double mostVarianceFactor)
    {
        var z = Normal.Quantile(sure);
        var deviation = Math.Sqrt(Math.Max(variance, 0.25));
        var slope = Math.Min(mostVarianceFactor, z / (2 * deviation));
        return new(wanted - 0.5 + z * deviation / 2, 1, slope);
    }

    /// <summary>Faces of the expected shortage E(wanted - count)+ of a normal count, touching at the given variance.</summary>
    public static Plane[] Expected(int wanted, double variance, double mostVarianceFactor)
    {
        var deviation = Math.Sqrt(Math.Max(variance, 0.25));
        var faces = new List<Plane>();
        foreach (var u in Touch)
        {
            var (below, density) = (Normal.Below(u), Normal.Density(u));
            var mean = wanted - u * deviation;
            var height = deviation * (u * below + density);
            // The slope along the variance is left out where it would reward spread more than a butterfly.
            var slope = Math.Min(density / (2 * deviation), mostVarianceFactor * below);
            faces.Add(new(height + below * mean - slope * deviation * deviation, below, slope));
        }

        faces.Add(new(wanted, 1, 0));
        return [.. faces];
    }
}

/// <summary>The normal distribution.</summary>
internal static class Normal
{
    /// <summary>Density at u.</summary>
    public static double Density(double u) => Math.Exp(-0.5 * u * u) / Math.Sqrt(2 * Math.PI);

    /// <summary>P(Z ≤ u), absolute error below 1e-13: series inside, continued fraction outside.</summary>
    public static double Below(double u)
    {
        if (u > 0)
            return 1 - Below(-u);
        if (u < -38)
            return 0;
        if (u > -3)
        {
            var term = u;
            var sum = u;
            for (var k = 1; Math.Abs(term) > 1e-17 && k < 200; k++)
            {
                term *= u * u / (2 * k + 1);
                sum += term;
            }

            return 0.5 + sum * Density(u);
        }

        var x = -u;
        var fraction = 0.0;
        for (var k = 80; k >= 1; k--)
            fraction = k / (x + fraction);
        return Density(u) / (x + fraction);
    }

    /// <summary>The u with P(Z ≤ u) = chance, by bisection on <see cref="Below"/>.</summary>
    public static double Quantile(double chance)
    {
        var (low, high) = (-40.0, 40.0);
        for (var step = 0; step < 90; step++)
        {
            var middle = (low + high) / 2;
            if (Below(middle) < chance)
                low = middle;
            else
                high = middle;
        }

        return (low + high) / 2;
    }
}
