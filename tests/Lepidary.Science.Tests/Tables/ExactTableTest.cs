using Lepidary.Science.Tables;

namespace Lepidary.Science.Tests.Tables;

public class ExactTableTest
{
    /// <summary>Ways are put together where their logarithms agree to eleven places.</summary>
    private const double Keyed = 5e-11;

    /// <summary>Agresti's job satisfaction, 4×4: the table of R's help page of fisher.test, typed from memory; computed with R 4.2.2, which documents 0.7827.</summary>
    [Fact]
    public void Job_satisfaction_equals_R()
    {
        var table = new[,] { { 1, 3, 10, 6 }, { 2, 3, 10, 7 }, { 1, 6, 14, 12 }, { 0, 1, 9, 11 } };
        Close.To(0.782684939, ExactTable.Of(table)!.P, 5.1e-10);
    }

    /// <summary>On two rows and two columns it is the test of one odds ratio: tea, convictions, an invented table (sources there).</summary>
    [Fact]
    public void Two_by_two_equals_ExactOdds()
    {
        var cell = Gen.Int[0, 9];
        Close.To(0.4857142857, ExactTable.Of(new[,] { { 3, 1 }, { 1, 3 } })!.P, 5.1e-11);
        Close.To(0.0005367241, ExactTable.Of(new[,] { { 2, 15 }, { 10, 3 } })!.P, 5.1e-11);
        Gen.Select(cell, cell, cell, cell).Holds((a, b, c, d) => Close.To(ExactOdds.Of(new TwoByTwo(a, b, c, d)).PTwoSided, ExactTable.Of(new[,] { { a, b }, { c, d } })!.P, Keyed));
    }

    /// <summary>
    /// By hand: 1, 0, 0 / 0, 1, 0 / 0, 0, 1: the six tables of these margins are equally likely: 1. And 2, 0, 0 / 0, 1, 1: of 4!/(2!·2!) = 6 ways to choose the row of two, one leaves
    /// it to the first column; as unlikely is only 0, 1, 1 / 2, 0, 0: 1/6 each, so 1/3.
    /// </summary>
    [Fact]
    public void Of_by_hand()
    {
        Close.To(1, ExactTable.Of(new[,] { { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } })!.P, Keyed);
        Close.To(1.0 / 3, ExactTable.Of(new[,] { { 2, 0, 0 }, { 0, 1, 1 } })!.P, Keyed);
        Assert.Equal(1, ExactTable.Of(new[,] { { 4, 0 }, { 7, 0 } })!.P);
    }

    /// <summary>A second way: each animal gets one of the outcomes in every possible order; orders are counted, not chances reckoned.</summary>
    [Fact]
    public void Of_equals_counted_orders()
    {
        var cell = Gen.Int[0, 2];
        Gen.Select(cell, cell, cell).Array[3].Holds(rows =>
        {
            var table = new int[3, 3];
            for (var i = 0; i < 3; i++) (table[i, 0], table[i, 1], table[i, 2]) = rows[i];
            var (owner, outcomes) = (new List<int>(), new List<int>());
            for (var i = 0; i < 3; i++)
                for (var j = 0; j < 3; j++)
                    for (var k = 0; k < table[i, j]; k++) (owner, outcomes) = ([.. owner, i], [.. outcomes, j]);
            if (outcomes.Count is 0 or > 8) return;
            var orders = new Dictionary<string, int>(StringComparer.Ordinal);
            var (all, names) = (0, new int[9]);
            Order(0);
            var seen = orders[Name(outcomes)];
            Close.To(orders.Values.Where(count => count <= seen).Sum() / (double)all, ExactTable.Of(table)!.P, 1e-10);

            void Order(int at)
            {
                if (at == outcomes.Count)
                {
                    all++;
                    var name = Name(outcomes);
                    orders[name] = orders.GetValueOrDefault(name) + 1;
                    return;
                }
                for (var other = at; other < outcomes.Count; other++)
                {
                    (outcomes[at], outcomes[other]) = (outcomes[other], outcomes[at]);
                    Order(at + 1);
                    (outcomes[at], outcomes[other]) = (outcomes[other], outcomes[at]);
                }
            }

            string Name(List<int> order)
            {
                Array.Clear(names);
                for (var k = 0; k < order.Count; k++) names[(3 * owner[k]) + order[k]]++;
                return string.Join(',', names);
            }
        }, times: 12);
    }

    [Fact]
    public void Large_counts_are_left_to_others_and_impossible_ones_refused()
    {
        Assert.Null(ExactTable.Of(new[,] { { 400, 300, 200, 100 }, { 300, 400, 100, 200 }, { 350, 350, 150, 150 }, { 200, 200, 300, 300 } }));
        Assert.Throws<ArgumentException>(() => ExactTable.Of(new[,] { { 1, -1 }, { 1, 2 } }));
        Assert.Throws<ArgumentException>(() => ExactTable.Of(new[,] { { 1, 1 } }));
    }
}
