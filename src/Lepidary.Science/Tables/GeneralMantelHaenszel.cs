using Lepidary.Science.Numerics;

namespace Lepidary.Science.Tables;

/// <summary>
/// The same comparison for more than two groups or outcomes: several suppliers by emerged, crippled, dead, within species. No order of rows or columns
/// is used (Agresti 1990, section 7.5; from memory).
/// </summary>
/// <param name="ChiSquared">The statistic.</param>
/// <param name="Degrees">(rows-1)·(columns-1).</param>
/// <param name="P">Chance of a statistic as large or larger when rows do not matter in any stratum.</param>
public sealed record GeneralMantelHaenszel(double ChiSquared, int Degrees, double P)
{
    /// <summary>The test.</summary>
    /// <param name="strata">Tables [row, column] of counts at least 0, all of one shape, 2×2 or larger.</param>
    /// <exception cref="ArgumentException">Shapes differ, a count is below 0, or a row or column carries no information of its own.</exception>
    public static GeneralMantelHaenszel Of(IReadOnlyList<int[,]> strata)
    {
        ArgumentNullException.ThrowIfNull(strata);
        var (rows, columns) = strata.Count == 0 ? (0, 0) : (strata[0].GetLength(0), strata[0].GetLength(1));
        if (rows < 2 || columns < 2 || strata.Any(table => table.GetLength(0) != rows || table.GetLength(1) != columns))
            throw new ArgumentException("At least one table; all of one shape, 2×2 or larger.", nameof(strata));
        var (free, width) = ((rows - 1) * (columns - 1), columns - 1);
        var (difference, variance) = (new double[free], new double[free, free]);
        foreach (var table in strata)
        {
            var (row, column, n) = (new double[rows], new double[columns], 0.0);
            for (var i = 0; i < rows; i++)
            {
                for (var j = 0; j < columns; j++)
                {
                    if (table[i, j] < 0) throw new ArgumentException("A count below 0.", nameof(strata));
                    row[i] += table[i, j];
                    column[j] += table[i, j];
                    n += table[i, j];
                }
            }
            if (n < 2) continue;
            for (var one = 0; one < free; one++)
            {
                var (i, j) = (one / width, one % width);
                difference[one] += table[i, j] - row[i] * column[j] / n;
                for (var other = 0; other < free; other++)
                {
                    var (k, l) = (other / width, other % width);
                    variance[one, other] += row[i] * ((i == k ? n : 0) - row[k]) * column[j] * ((j == l ? n : 0) - column[l]) / (n * n * (n - 1));
                }
            }
        }
        var chiSquared = LinearAlgebra.QuadraticForm(variance, difference, free);
        return new(chiSquared, free, SpecialFunctions.ChiSquaredTail(chiSquared, free));
    }
}
