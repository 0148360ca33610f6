namespace Lepidary.Science.Tables;

/// <summary>
/// Fisher's test for a table of any shape, all margins fixed (Freeman and Halton 1951, from memory): several suppliers by what came of their pupae, where counts are too small for
/// a χ². Tables are counted, not listed one by one: columns are laid down from the smallest, ways that leave the same rows open are put together, and the two largest columns are
/// looked up in sorted order.
/// </summary>
/// <param name="P">Chance of all tables of these margins that are as unlikely as the observed one or more so.</param>
public sealed record ExactTable(double P)
{
    /// <summary>Tables whose chance is equal to the observed one's up to this factor count as equally unlikely: R's rule.</summary>
    private const double Tie = 1 + 1e-7;

    /// <summary>Ways to lay a column that are still counted; beyond them counts are not small.</summary>
    public const int MostWays = 2_000_000;

    /// <summary>The test.</summary>
    /// <param name="table">Counts [row, column], each at least 0; 2×2 or larger. Rows and columns without any are left out.</param>
    /// <returns>Null where the counts are too large to be counted out: then a χ² does.</returns>
    /// <exception cref="ArgumentException">A count below 0, or fewer than two rows or columns.</exception>
    public static ExactTable? Of(int[,] table)
    {
        ArgumentNullException.ThrowIfNull(table);
        var (rows, columns) = Margins(table);
        // The chance of a table is Π row! · Π column! / (n! · Π cell!).
        var logs = Logs(rows.Sum());
        var margins = rows.Sum(row => logs[row]) + columns.Sum(column => logs[column]) - logs[rows.Sum()];
        var observed = margins;
        foreach (var cell in table) observed -= logs[cell];
        rows = [.. rows.Where(row => row > 0)];
        columns = [.. columns.Where(column => column > 0)];
        if (rows.Length < 2 || columns.Length < 2) return new(1);
        // Fewer columns than rows are fewer steps; the smallest first leave the fewest ways.
        if (columns.Length > rows.Length) (rows, columns) = (columns, rows);
        Array.Sort(columns);
        // What is open in the rows, and by the logarithm of Π 1/cell! so far how many ways lead there.
        var open = new Dictionary<Rows, Dictionary<double, double>> { [new(rows)] = new() { [margins] = 1 } };
        for (var c = 0; c < columns.Length - 2; c++)
        {
            var (next, ways) = (new Dictionary<Rows, Dictionary<double, double>>(), 0);
            foreach (var (left, before) in open)
            {
                foreach (var (rest, log) in Laid(left.Open, columns[c], logs))
                {
                    if (!next.TryGetValue(rest, out var sums)) next[rest] = sums = [];
                    foreach (var (so, count) in before)
                    {
                        var key = Math.Round(so + log, 11);
                        sums[key] = sums.GetValueOrDefault(key) + count;
                        if (++ways > MostWays) return null;
                    }
                }
            }
            open = next;
        }
        var limit = observed + Math.Log(Tie);
        var p = 0.0;
        foreach (var (left, before) in open)
        {
            var last = Laid(left.Open, columns[^2], logs).Take(MostWays + 1).Select(one => one.Log - one.After.Open.Sum(row => logs[row])).Order().ToArray();
            if (last.Length > MostWays) return null;
            var below = new double[last.Length + 1];
            for (var i = 0; i < last.Length; i++) below[i + 1] = below[i] + Math.Exp(last[i]);
            foreach (var (so, count) in before)
            {
                var (from, to) = (0, last.Length);
                while (from < to)
                {
                    var middle = (from + to) / 2;
                    if (so + last[middle] <= limit) from = middle + 1;
                    else to = middle;
                }
                p += count * Math.Exp(so) * below[from];
            }
        }
        return new(Math.Min(1, p));
    }

    private static (int[] Rows, int[] Columns) Margins(int[,] table)
    {
        var (rows, columns) = (new int[table.GetLength(0)], new int[table.GetLength(1)]);
        if (rows.Length < 2 || columns.Length < 2) throw new ArgumentException("A table has two rows and two columns at least.", nameof(table));
        for (var i = 0; i < rows.Length; i++)
        {
            for (var j = 0; j < columns.Length; j++)
            {
                if (table[i, j] < 0) throw new ArgumentException("A count below 0.", nameof(table));
                rows[i] += table[i, j];
                columns[j] += table[i, j];
            }
        }
        return (rows, columns);
    }

    /// <summary>Logarithms of factorials.</summary>
    private static double[] Logs(int most)
    {
        var logs = new double[most + 1];
        for (var k = 2; k <= most; k++) logs[k] = logs[k - 1] + Math.Log(k);
        return logs;
    }

    /// <summary>All ways to lay a column into what is open, each with what it leaves, rows in order, and the logarithm of Π 1/cell!.</summary>
    private static IEnumerable<(Rows After, double Log)> Laid(int[] open, int column, double[] logs)
    {
        var (cells, left) = (new int[open.Length], column);
        // Like a number of one digit a row: the last row takes what is left.
        var room = new int[open.Length];
        for (var i = open.Length - 2; i >= 0; i--) room[i] = room[i + 1] + open[i + 1];
        var row = 0;
        cells[0] = Math.Max(0, left - room[0]) - 1;
        while (row >= 0)
        {
            cells[row]++;
            if (cells[row] > Math.Min(open[row], left))
            {
                row--;
                if (row >= 0) left += cells[row];
                continue;
            }
            if (row < open.Length - 2)
            {
                left -= cells[row];
                row++;
                cells[row] = Math.Max(0, left - room[row]) - 1;
                continue;
            }
            cells[^1] = left - cells[row];
            var (rest, log) = (new int[open.Length], 0.0);
            for (var i = 0; i < open.Length; i++)
            {
                rest[i] = open[i] - cells[i];
                log -= logs[cells[i]];
            }
            yield return (new(rest), log);
        }
    }

    /// <summary>What is open in the rows; the order of rows does not matter.</summary>
    private readonly struct Rows : IEquatable<Rows>
    {
        public Rows(int[] open)
        {
            Open = open;
            Array.Sort(Open);
        }

        public int[] Open { get; }

        public bool Equals(Rows other) => Open.AsSpan().SequenceEqual(other.Open);

        public override bool Equals(object? obj) => obj is Rows other && Equals(other);

        public override int GetHashCode()
        {
            var hash = 17;
            foreach (var row in Open) hash = (hash * 31) + row;
            return hash;
        }
    }
}
