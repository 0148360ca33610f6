using System.Globalization;
using Lepidary.Planning.Solver;
using Xunit;

namespace Lepidary.Planning.Tests.Solver;

/// <summary>Published optima through the planner's solver layer (not its branch and price, whose model is another one).</summary>
public class PublishedOptimaTests
{
    private const double Infinity = double.PositiveInfinity;

    // OR-Library (Beasley 1990), uncapacitated warehouse location; tolerance: the published digits.
    [Theory]
    [InlineData("cap71", 932615.750)]
    [InlineData("cap72", 977799.400)]
    [InlineData("cap73", 1010641.450)]
    [InlineData("cap74", 1034976.975)]
    [InlineData("cap101", 796648.4375)]
    [InlineData("cap102", 854704.200)]
    [InlineData("cap103", 893782.1125)]
    [InlineData("cap104", 928941.750)]
    [InlineData("cap131", 793439.5625)]
    [InlineData("cap132", 851495.325)]
    [InlineData("cap133", 893076.7125)]
    [InlineData("cap134", 928941.750)]
    public void SolveWhole_warehouseLocation_reachesPublishedOptimum(string name, double published)
    {
        var numbers = new Queue<double>(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "OrLibrary", name + ".txt"))
            .Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)
            .Select(word => double.TryParse(word, CultureInfo.InvariantCulture, out var n) ? n : double.NaN));
        var (warehouses, customers) = ((int)numbers.Dequeue(), (int)numbers.Dequeue());
        using var program = new LinearProgram(1);
        var rows = new SparseLines();
        for (var c = 0; c < customers; c++)
            rows.Begin(1, 1);
        for (var i = 0; i < warehouses * customers; i++)
            rows.Begin(double.NegativeInfinity, 0);
        program.AddRows(rows);
        int Served(int w, int c) => customers + (w * customers) + c;

        var columns = new SparseLines();
        for (var w = 0; w < warehouses; w++)
        {
            numbers.Dequeue();
            columns.Begin(0, 1, numbers.Dequeue());
            for (var c = 0; c < customers; c++)
                columns.Add(Served(w, c), -1);
        }

        for (var c = 0; c < customers; c++)
        {
            numbers.Dequeue();
            for (var w = 0; w < warehouses; w++)
            {
                columns.Begin(0, Infinity, numbers.Dequeue());
                columns.Add(c, 1);
                columns.Add(Served(w, c), 1);
            }
        }

        program.AddColumns(columns);
        program.MakeWhole(0, warehouses);
        var end = program.SolveWhole(0, 60, null, TestContext.Current.CancellationToken);
        Assert.Equal(SolveEnd.Optimal, end);
        Assert.Equal(published, program.Objective, 0.001);
    }

    // Wagner and Whitin 1958, "Dynamic version of the economic lot size model", Management Science 5: twelve months, optimum 864.
    // The data and the optimum are from memory of the paper and agree with public copies of the data.
    [Fact]
    public void SolveWhole_wagnerWhitin_is864()
    {
        int[] demand = [69, 29, 36, 61, 61, 26, 34, 67, 45, 67, 79, 56];
        double[] setup = [85, 102, 102, 101, 98, 114, 105, 86, 119, 110, 98, 114];
        var months = demand.Length;
        using var program = new LinearProgram(1);
        var rows = new SparseLines();
        for (var m = 0; m < months; m++)
            rows.Begin(1, 1);
        for (var i = 0; i < months * months; i++)
            rows.Begin(double.NegativeInfinity, 0);
        program.AddRows(rows);
        var columns = new SparseLines();
        for (var made = 0; made < months; made++)
        {
            columns.Begin(0, 1, setup[made]);
            for (var m = 0; m < months; m++)
                columns.Add(months + (made * months) + m, -1);
        }

        for (var made = 0; made < months; made++)
        {
            for (var m = made; m < months; m++)
            {
                columns.Begin(0, Infinity, demand[m] * (m - made));
                columns.Add(m, 1);
                columns.Add(months + (made * months) + m, 1);
            }
        }

        program.AddColumns(columns);
        program.MakeWhole(0, months);
        Assert.Equal(SolveEnd.Optimal, program.SolveWhole(0, 60, null, TestContext.Current.CancellationToken));
        Assert.Equal(864, program.Objective, 1e-6);
    }

    [Fact]
    public void SolveLinear_noSolution_saysInfeasible()
    {
        using var program = new LinearProgram(1);
        var rows = new SparseLines();
        rows.Begin(2, Infinity);
        program.AddRows(rows);
        var columns = new SparseLines();
        columns.Begin(0, 1, 1);
        columns.Add(0, 1);
        program.AddColumns(columns);
        Assert.Equal(SolveEnd.Infeasible, program.SolveLinear(10, TestContext.Current.CancellationToken));
    }
}
