namespace Lepidary.Science.Listing;

/// <summary>
/// What a price will be on the next list, from the prices seen. The guess is either the last price or the usual one, whichever would have erred less on the
/// lists seen, all taxa of the supplier together; how far off it may be is how far off it was.
/// </summary>
public sealed class PriceForecast
{
    /// <summary>Prices that make a usual one.</summary>
    public const int FewestForUsual = 3;

    /// <summary>Errors that a spread is read from; below, <see cref="AssumedSpread"/> holds.</summary>
    public const int FewestErrors = 10;

    /// <summary>ln 1.2: one price in five lies more than a fifth off. A choice of this project, no source.</summary>
    public static double AssumedSpread { get; } = Math.Log(1.2);

    private readonly (double Low, double High) spread;

    /// <summary>Learns from one supplier's prices.</summary>
    /// <param name="histories">A taxon's prices, oldest first, each above 0, all in one currency.</param>
    public PriceForecast(IEnumerable<IReadOnlyList<decimal>> histories)
    {
        ArgumentNullException.ThrowIfNull(histories);
        var (byLast, byUsual) = (new List<double>(), new List<double>());
        foreach (var history in histories)
        {
            for (var i = FewestForUsual; i < history.Count; i++)
            {
                byLast.Add(Math.Log((double)(history[i] / history[i - 1])));
                byUsual.Add(Math.Log((double)(history[i] / Middle(history.Take(i)))));
            }
        }

        UsesUsual = byUsual.Sum(Math.Abs) < byLast.Sum(Math.Abs);
        Errors = byLast.Count;
        var errors = (UsesUsual ? byUsual : byLast).Order().ToList();
        spread = errors.Count < FewestErrors
            ? (-AssumedSpread, AssumedSpread)
            : (Math.Min(0, Quantile(errors, 0.1)), Math.Max(0, Quantile(errors, 0.9)));
    }

    /// <summary>True where the usual price foretold the next better than the last one.</summary>
    public bool UsesUsual { get; }

    /// <summary>Steps from one list to the next that it was learnt from.</summary>
    public int Errors { get; }

    /// <summary>The next price: 8 of 10 lie between Low and High.</summary>
    /// <param name="history">The taxon's prices, oldest first, at least one.</param>
    public (decimal Low, decimal Middle, decimal High) Next(IReadOnlyList<decimal> history)
    {
        ArgumentNullException.ThrowIfNull(history);
        ArgumentOutOfRangeException.ThrowIfZero(history.Count, nameof(history));
        var middle = UsesUsual && history.Count >= FewestForUsual ? Middle(history) : history[^1];
        return (middle * (decimal)Math.Exp(spread.Low), middle, middle * (decimal)Math.Exp(spread.High));
    }

    /// <summary>The usual price: the middle one of those seen, null below <see cref="FewestForUsual"/>.</summary>
    public static decimal? Usual(IReadOnlyCollection<decimal> prices)
    {
        ArgumentNullException.ThrowIfNull(prices);
        return prices.Count < FewestForUsual ? null : Middle(prices);
    }

    private static decimal Middle(IEnumerable<decimal> prices)
    {
        var all = prices.Order().ToList();
        return (all[(all.Count - 1) / 2] + all[all.Count / 2]) / 2;
    }

    private static double Quantile(List<double> ascending, double p)
    {
        var at = p * (ascending.Count - 1);
        var below = (int)at;
        return below + 1 < ascending.Count ? ascending[below] + ((at - below) * (ascending[below + 1] - ascending[below])) : ascending[below];
    }
}
