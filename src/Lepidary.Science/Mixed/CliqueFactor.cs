namespace Lepidary.Science.Mixed;

/// <summary>
/// A symmetric positive definite matrix of fixed sparsity, its factor L·D·Lᵀ and those entries of its inverse that lie in the pattern. The pattern is the union of
/// cliques, one for each row of the data: the effects that meet in that row. Columns are eliminated in their order, so the effects of the finest kind (lots) come
/// first: each of them meets few others, and elimination fills little.
/// </summary>
/// <remarks>
/// Elimination by columns, each spreading to its first neighbour (the tree of elimination); the inverse by Takahashi's recursion from the last column to the first.
/// Both from memory; the tests hold them against dense algebra.
/// </remarks>
internal sealed class CliqueFactor
{
    private readonly int[] start;      // column j: its diagonal at start[j], what lies below it up to start[j + 1]
    private readonly int[] row;
    private readonly int[] pairStart;  // pairs of rows below the diagonal of a column: where their entry lies
    private readonly int[] pair;

    /// <summary>Finds the pattern of the factor.</summary>
    /// <param name="size">Number of columns.</param>
    /// <param name="width">Columns in each clique.</param>
    /// <param name="cliques">The cliques one after the other, each ascending.</param>
    public CliqueFactor(int size, int width, int[] cliques)
    {
        Size = size;
        var below = new List<int>[size];
        for (var j = 0; j < size; j++) below[j] = [];
        for (var c = 0; c < cliques.Length; c += width)
            for (var a = 0; a < width; a++)
                for (var b = a + 1; b < width; b++)
                    below[cliques[c + a]].Add(cliques[c + b]);
        start = new int[size + 1];
        pairStart = new int[size + 1];
        var rows = new List<int>();
        for (var j = 0; j < size; j++)
        {
            below[j].Sort();
            start[j] = rows.Count;
            rows.Add(j);
            foreach (var i in below[j])
                if (rows[^1] != i) rows.Add(i);
            var count = rows.Count - start[j] - 1;
            pairStart[j + 1] = pairStart[j] + count * (count - 1) / 2;
            if (count > 1) below[rows[start[j] + 1]].AddRange(rows[(start[j] + 2)..]);
            below[j].Clear();
        }
        start[size] = rows.Count;
        row = [.. rows];
        pair = new int[pairStart[size]];
        for (var j = 0; j < size; j++)
        {
            var at = pairStart[j];
            for (var a = start[j] + 1; a < start[j + 1]; a++)
                for (var b = a + 1; b < start[j + 1]; b++)
                    pair[at++] = Position(row[a], row[b]);
        }
        Values = new double[row.Length];
        Inverse = new double[row.Length];
    }

    /// <summary>Number of columns.</summary>
    public int Size { get; }

    /// <summary>The matrix's entries on and below the diagonal; after <see cref="Factor"/> those of L, with D on the diagonal.</summary>
    public double[] Values { get; }

    /// <summary>The inverse's entries at the same positions, after <see cref="Invert"/>.</summary>
    public double[] Inverse { get; }

    /// <summary>Where the entry of two columns lies.</summary>
    /// <param name="first">The lower index, or the same for the diagonal.</param>
    /// <param name="second">The higher index.</param>
    public int Position(int first, int second) => first == second
        ? start[first]
        : Array.BinarySearch(row, start[first] + 1, start[first + 1] - start[first] - 1, second);

    /// <summary>Where a column's diagonal lies.</summary>
    public int Diagonal(int column) => start[column];

    /// <summary>Factors what stands in <see cref="Values"/>, in place.</summary>
    /// <returns>The logarithm of the determinant; NaN when the matrix is not positive definite.</returns>
    public double Factor()
    {
        var log = 0.0;
        var values = Values;
        for (var j = 0; j < Size; j++)
        {
            var d = values[start[j]];
            if (!(d > 0)) return double.NaN;
            log += Math.Log(d);
            var (from, to, at) = (start[j] + 1, start[j + 1], pairStart[j]);
            for (var a = from; a < to; a++)
            {
                var scaled = values[a] / d;
                values[start[row[a]]] -= scaled * values[a];
                for (var b = a + 1; b < to; b++) values[pair[at++]] -= scaled * values[b];
                values[a] = scaled;
            }
        }
        return log;
    }

    /// <summary>Solves with the factor; the right side is overwritten by the solution.</summary>
    public void Solve(double[] right)
    {
        for (var j = 0; j < Size; j++)
        {
            var value = right[j];
            if (value == 0) continue;
            for (var a = start[j] + 1; a < start[j + 1]; a++) right[row[a]] -= Values[a] * value;
        }
        for (var j = Size - 1; j >= 0; j--)
        {
            var value = right[j] / Values[start[j]];
            for (var a = start[j] + 1; a < start[j + 1]; a++) value -= Values[a] * right[row[a]];
            right[j] = value;
        }
    }

    /// <summary>The entries of the inverse within the pattern.</summary>
    public void Invert()
    {
        var z = Inverse;
        for (var j = Size - 1; j >= 0; j--)
        {
            var (from, to, at) = (start[j] + 1, start[j + 1], pairStart[j]);
            for (var a = from; a < to; a++) z[a] = 0;
            for (var a = from; a < to; a++)
            {
                z[a] -= Values[a] * z[start[row[a]]];
                for (var b = a + 1; b < to; b++)
                {
                    var shared = z[pair[at++]];
                    z[a] -= Values[b] * shared;
                    z[b] -= Values[a] * shared;
                }
            }
            var diagonal = 1 / Values[start[j]];
            for (var a = from; a < to; a++) diagonal -= Values[a] * z[a];
            z[start[j]] = diagonal;
        }
    }
}
