using Lepidary.Science.Numerics;

namespace Lepidary.Science.Groups;

/// <summary>
/// The beta-binomial likelihood of many lots. A rising factorial is a product over 0, 1, … y-1, so all lots together need only
/// how many of them reach each count: the cost is that of the largest lot, not of the number of lots.
/// </summary>
internal sealed class LotLikelihood
{
    private readonly int[] emergedAbove;
    private readonly int[] lostAbove;
    private readonly int[] doneAbove;

    public LotLikelihood(IReadOnlyCollection<(int Emerged, int Done)> lots)
    {
        foreach (var (emerged, done) in lots)
        {
            if (emerged < 0 || done < emerged)
                throw new ArgumentException($"{emerged} emerged of {done} done is no lot.", nameof(lots));
            LogWays += SpecialFunctions.LogChoose(done, emerged);
            Emerged += emerged;
            Done += done;
        }
        emergedAbove = Above([.. lots.Select(lot => lot.Emerged)]);
        lostAbove = Above([.. lots.Select(lot => lot.Done - lot.Emerged)]);
        doneAbove = Above([.. lots.Select(lot => lot.Done)]);
    }

    /// <summary>Emerged in all.</summary>
    public long Emerged { get; }

    /// <summary>Done (emerged or failed) in all.</summary>
    public long Done { get; }

    /// <summary>Sum of ln C(n, y), which no parameter changes.</summary>
    public double LogWays { get; }

    /// <summary>Sum over lots of ln [B(a+y, b+n-y)/B(a, b)]: without <see cref="LogWays"/>.</summary>
    public double Log(double a, double b) => Rising(emergedAbove, a) + Rising(lostAbove, b) - Rising(doneAbove, a + b);

    /// <summary>Its limit when the lots share one rate exactly: y ln p + (n-y) ln(1-p).</summary>
    public double LogBinomial(double p) =>
        (Emerged == 0 ? 0 : Emerged * Math.Log(p)) + (Done == Emerged ? 0 : (Done - Emerged) * SpecialFunctions.Log1P(-p));

    /// <summary>Gradient and second derivatives of <see cref="Log"/> by a and b: finite sums, no digamma.</summary>
    public (double A, double B, double AA, double AB, double BB) Slopes(double a, double b)
    {
        var (ra, ra2) = Slope(emergedAbove, a);
        var (rb, rb2) = Slope(lostAbove, b);
        var (rn, rn2) = Slope(doneAbove, a + b);
        return (ra - rn, rb - rn, rn2 - ra2, rn2, rn2 - rb2);
    }

    /// <summary>
    /// Slope of the log-likelihood by 1/M where M is infinite and all lots share the pooled rate: above 0, lots differ by more than chance and
    /// the maximum is at a finite M (the score of Tarone 1979, Biometrika 66:585-590; citation from memory).
    /// </summary>
    public double SlopeAtNoSpread()
    {
        var p = (double)Emerged / Done;
        double Pairs(int[] above)
        {
            // Sum over lots of y(y-1)/2, from how many lots reach each count.
            var sum = 0.0;
            for (var i = 1; i < above.Length; i++) sum += (double)i * above[i];
            return sum;
        }
        return (Emerged == 0 ? 0 : Pairs(emergedAbove) / p) + (Emerged == Done ? 0 : Pairs(lostAbove) / (1 - p)) - Pairs(doneAbove);
    }

    /// <summary>Index i: how many of the counts are above i.</summary>
    internal static int[] Above(IReadOnlyCollection<int> counts)
    {
        var above = new int[counts.Count == 0 ? 0 : counts.Max()];
        foreach (var count in counts)
            if (count > 0) above[count - 1]++;
        for (var i = above.Length - 2; i >= 0; i--) above[i] += above[i + 1];
        return above;
    }

    private static (double First, double Second) Slope(int[] above, double start)
    {
        var (first, second) = (0.0, 0.0);
        for (var i = 0; i < above.Length; i++)
        {
            first += above[i] / (start + i);
            second += above[i] / ((start + i) * (start + i));
        }
        return (first, second);
    }

    /// <summary>Σ above[i]·ln(start+i). Where neighbours are equal their logarithms are one logarithm of a product.</summary>
    internal static double Rising(int[] above, double start)
    {
        var (log, product) = (0.0, 1.0);
        for (var i = 0; i < above.Length; i++)
        {
            product *= start + i;
            if (i + 1 < above.Length && above[i + 1] == above[i] && product is > 1e-100 and < 1e200) continue;
            log += above[i] * Math.Log(product);
            product = 1;
        }
        return log;
    }
}
