using Lepidary.Science.Tables;

namespace Lepidary.Science.Tests.Tables;

public class FairComparisonTest
{
    private static IEnumerable<GroupedLot> Lots(string group, string stratum, int lots, int emerged, int done) =>
        Enumerable.Repeat(new GroupedLot(group, stratum, emerged, done), lots);

    /// <summary>
    /// Berkeley's admissions as two groups by department (Bickel and others 1975, R's UCBAdmissions; read in R): in sum men are admitted far more often, department by
    /// department they are not. Common odds ratio as R 4.2.2 has it.
    /// </summary>
    [Fact]
    public void Admissions_are_not_told_apart_department_by_department()
    {
        var lots = MantelHaenszelTest.Admissions.SelectMany((table, department) => new[]
        {
            new GroupedLot("men", $"{department}", table.A, table.A + table.B), new GroupedLot("women", $"{department}", table.C, table.C + table.D),
        });
        var pair = Assert.Single(FairComparison.Of(lots).Pairs);
        Assert.Equal(("women", "men", 6), (pair.One, pair.Other, pair.Strata));
        Close.To(1 / 0.9046968283, pair.OddsRatio, 1e-9);
        Assert.False(pair.Apart);
    }

    /// <summary>Lots of one share exactly: no more spread than a coin, so the χ² stands as R 4.2.2's mantelhaen.test has it for the same tables.</summary>
    [Fact]
    public void Lots_that_do_not_vary_leave_the_test_as_it_is()
    {
        // Departments D and F, each cell cut in halves of the same share.
        TwoByTwo[] tables = [new(138, 279, 131, 244), new(22, 351, 24, 317)];
        var lots = tables.SelectMany((table, d) => Enumerable.Range(0, 5).SelectMany(_ => new[]
        {
            new GroupedLot("men", $"{d}", table.A, table.Row), new GroupedLot("women", $"{d}", table.C, table.Total - table.Row),
        }));
        var fair = FairComparison.Of(lots);
        Close.To(1, fair.Dispersion, Close.Rounding);
        var plain = MantelHaenszel.Of(tables.Select(table => new TwoByTwo(5 * table.A, 5 * table.B, 5 * table.C, 5 * table.D)));
        Close.To(plain.P(), fair.Pairs[0].P, 1e-12);
    }

    [Fact]
    public void Suppliers_far_apart_are_told_apart_and_those_alike_are_not()
    {
        var lots = new[] { "a", "b", "c" }.SelectMany(kind => Lots("good", kind, 6, 9, 10).Concat(Lots("also good", kind, 6, 9, 10)).Concat(Lots("bad", kind, 6, 5, 10)));
        var pairs = FairComparison.Of(lots).Pairs;
        Assert.Equal(3, pairs.Count);
        Assert.All(pairs, pair => Assert.Equal(pair.Other == "bad", pair.Apart));
        Assert.All(pairs.Where(pair => pair.Apart), pair => Assert.InRange(pair.OddsRatio, 7, 11));
    }

    [Fact]
    public void Suppliers_without_a_common_species_are_not_compared() =>
        Assert.Empty(FairComparison.Of(Lots("x", "a", 5, 9, 10).Concat(Lots("y", "b", 5, 2, 10))).Pairs);

    /// <summary>3 of 3 against 0 of 3: Fisher's two-sided chance is 2/20, whatever the χ² says.</summary>
    [Fact]
    public void Small_counts_ask_the_exact_odds()
    {
        var pair = Assert.Single(FairComparison.Of([new("x", "a", 3, 3), new("y", "a", 0, 3)]).Pairs);
        Assert.True(pair.Exact);
        Assert.True(pair.P >= 0.1 - 1e-12);
        Assert.False(pair.Apart);
    }

    /// <summary>Four suppliers who are alike, species that are not, lots that vary: a pair is told apart in at most 1 of 20 such books.</summary>
    [Fact]
    public void Suppliers_who_are_alike_are_seldom_told_apart()
    {
        var random = new Random(41);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        var wrong = 0;
        const int books = 400;
        for (var book = 0; book < books; book++)
        {
            var species = Enumerable.Range(0, 10).Select(_ => 1.2 + 0.8 * Normal()).ToArray();
            var lots = Enumerable.Range(0, 120).Select(_ =>
            {
                var (kind, supplier) = (random.Next(10), random.Next(4));
                // One supplier sends mostly the difficult half.
                if (supplier == 0 && random.Next(3) > 0) kind = Enumerable.Range(0, 10).OrderBy(i => species[i]).ElementAt(random.Next(5));
                var chance = 1 / (1 + Math.Exp(-(species[kind] + 0.5 * Normal())));
                return new GroupedLot($"s{supplier}", $"k{kind}", Enumerable.Range(0, 10).Count(_ => random.NextDouble() < chance), 10);
            });
            wrong += FairComparison.Of(lots.ToList()).Pairs.Any(pair => pair.Apart) ? 1 : 0;
        }
        TestContext.Current.TestOutputHelper?.WriteLine($"{wrong} of {books}");
        // 1 of 20 and three standard errors.
        Assert.InRange(wrong, 0, 0.05 * books + 3 * Math.Sqrt(0.05 * 0.95 * books));
    }

    [Fact]
    public void Order_of_lots_does_not_matter()
    {
        var lots = Lots("x", "a", 4, 9, 10).Concat(Lots("y", "a", 3, 6, 9)).Concat(Lots("y", "b", 2, 1, 4)).Concat(Lots("x", "b", 2, 3, 4)).ToList();
        Assert.Equal(FairComparison.Of(lots).Pairs, FairComparison.Of(Enumerable.Reverse(lots)).Pairs);
    }

    [Fact]
    public void Impossible_lots_are_refused()
    {
        Assert.Throws<ArgumentException>(() => FairComparison.Of([new("x", "a", 3, 2)]));
        Assert.Throws<ArgumentException>(() => FairComparison.Of([new("x", "a", 0, 0)]));
    }
}
