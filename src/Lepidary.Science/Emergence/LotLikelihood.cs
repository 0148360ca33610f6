using Lepidary.Science.Numerics;

namespace Lepidary.Science.Emergence;

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
        emergedAbove = Above(lots.Select(lot => lot.Emerged));
        lostAbove = Above(lots.Select(lot => lot.Done - lot.Emerged));
        doneAbove = Above(lots.Select(lot => lot.Done));
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

    /// <summary>Index i: how many of the counts are above i.</summary>
    private static int[] Above(IEnumerable<int> counts)
    {
        var list = counts.ToList();
        var above = new int[list.Count == 0 ? 0 : list.Max()];
        foreach (var count in list)
            if (count > 0) above[count - 1]++;
        for (var i = above.Length - 2; i >= 0; i--) above[i] += above[i + 1];
        return above;
    }

    private static double Rising(int[] above, double start)
    {
        var log = 0.0;
        for (var i = 0; i < above.Length; i++) log += above[i] * Math.Log(start + i);
        return log;
    }
}
