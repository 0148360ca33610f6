namespace Lepidary.Science.Counts;

/// <summary>Distributions that are given by the ratio of neighbouring masses.</summary>
internal static class Recurrence
{
    private const double Huge = 1e200;

    /// <summary>
    /// Fills the masses from their ratios and scales them to sum 1. Starting near the mode keeps rounding near 1e-15; when a
    /// value grows beyond 1e200 all are scaled down, so that any start is safe.
    /// </summary>
    /// <param name="masses">Receives the masses.</param>
    /// <param name="start">Where to begin; a count with a positive mass.</param>
    /// <param name="ratio">Mass of k+1 over mass of k; 0 ends the support.</param>
    /// <returns>Logarithm of (sum of the masses / mass at <paramref name="start"/>).</returns>
    public static double Fill<TRatio>(Span<double> masses, int start, TRatio ratio)
        where TRatio : struct, IRatio
    {
        masses.Clear();
        masses[start] = 1;
        var logScale = 0.0;
        for (var k = start; k < masses.Length - 1; k++)
        {
            masses[k + 1] = masses[k] * ratio.Of(k);
            if (masses[k + 1] > Huge)
            {
                foreach (ref var mass in masses[..(k + 2)]) mass /= Huge;
                logScale += Math.Log(Huge);
            }
        }
        for (var k = start; k > 0; k--)
        {
            var down = ratio.Of(k - 1);
            if (down <= 0) break;
            masses[k - 1] = masses[k] / down;
            if (masses[k - 1] > Huge)
            {
                foreach (ref var mass in masses) mass /= Huge;
                logScale += Math.Log(Huge);
            }
        }
        var sum = 0.0;
        foreach (var mass in masses) sum += mass;
        foreach (ref var mass in masses) mass /= sum;
        return Math.Log(sum) + logScale;
    }
}

/// <summary>Ratio of neighbouring masses; a struct, so that the loop is compiled for it.</summary>
internal interface IRatio
{
    /// <summary>Mass of <paramref name="k"/>+1 over mass of <paramref name="k"/>.</summary>
    double Of(int k);
}

/// <summary>Binomial: of n animals, each with odds p/(1-p).</summary>
internal readonly struct BinomialRatio(int n, double odds) : IRatio
{
    public double Of(int k) => odds * (n - k) / (k + 1);
}

/// <summary>
/// Beta-binomial whose animals, when counted, are each weighted by <c>tilt</c>: mass ∝ C(n,k)·tilt^k·B(a+k, b+n-k).
/// With tilt 1 it is the beta-binomial itself.
/// </summary>
internal readonly struct BetaBinomialRatio(int n, double a, double b, double tilt = 1) : IRatio
{
    public double Of(int k) => tilt * (n - k) / (k + 1) * ((a + k) / (b + (n - k - 1)));
}
