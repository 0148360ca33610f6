namespace Lepidary.Science.Tables;

/// <summary>
/// A table of two groups by two outcomes; a stratum of a stratified comparison. Rows: this supplier and the other; columns: emerged and not.
/// </summary>
/// <param name="A">First row, first column.</param>
/// <param name="B">First row, second column.</param>
/// <param name="C">Second row, first column.</param>
/// <param name="D">Second row, second column.</param>
public readonly record struct TwoByTwo(int A, int B, int C, int D)
{
    /// <summary>All counts.</summary>
    public int Total => A + B + C + D;

    /// <summary>First row.</summary>
    public int Row => A + B;

    /// <summary>First column.</summary>
    public int Column => A + C;

    /// <summary>Expected A when rows do not matter.</summary>
    public double Expected => Total == 0 ? 0 : (double)Row * Column / Total;

    /// <summary>Variance of A given the margins.</summary>
    public double Variance => Total < 2 ? 0
        : (double)Row * (Total - Row) * Column * (Total - Column) / ((double)Total * Total * (Total - 1));

    /// <summary>Odds ratio A·D/(B·C); infinite or NaN where a cell of the denominator is empty.</summary>
    public double OddsRatio => (double)A * D / ((double)B * C);

    /// <summary>Pearson's χ² without a correction, 1 degree of freedom; NaN where a margin is empty.</summary>
    public double PearsonChiSquared
    {
        get
        {
            var cross = (double)A * D - (double)B * C;
            return Total * cross * cross / ((double)Row * (Total - Row) * Column * (Total - Column));
        }
    }

    internal static IReadOnlyList<TwoByTwo> Check(IEnumerable<TwoByTwo> strata)
    {
        ArgumentNullException.ThrowIfNull(strata);
        IReadOnlyList<TwoByTwo> list = [.. strata];
        foreach (var (a, b, c, d) in list)
            if (Math.Min(Math.Min(a, b), Math.Min(c, d)) < 0)
                throw new ArgumentOutOfRangeException(nameof(strata), "A count below 0.");
        return list;
    }
}
