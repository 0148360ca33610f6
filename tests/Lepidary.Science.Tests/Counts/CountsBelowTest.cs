namespace Lepidary.Science.Tests.Counts;

public class CountsBelowTest
{
    [Fact]
    public void AddBinomial_equals_full_distribution_below_target()
    {
        var group = Gen.Select(Gen.Int[0, 120], Gen.Frequency((8, Gen.Double[0, 1]), (1, Gen.Const(0.0)), (1, Gen.Const(1.0))));
        Gen.Select(Gen.Int[1, 300], group.Array[0, 10]).Holds((target, groups) =>
        {
            var full = CountDistribution.PoissonBinomial(groups);
            var below = new double[target];
            CountsBelow.Start(below);
            foreach (var (n, p) in groups) CountsBelow.AddBinomial(below, n, p);
            for (var k = 0; k < target; k++) Close.To(full[k], below[k], 1e-13);
            Close.To(full.AtMost(target - 1), CountsBelow.Chance(below), 1e-12);
            Close.To(full.Shortfall(target), CountsBelow.Shortfall(below), 1e-10);
        }, seed: 1);
    }

    [Fact]
    public void Start_from_what_is_there()
    {
        var there = CountDistribution.BetaBinomial(30, 8, 2);
        var below = new double[25];
        CountsBelow.Start(there, below);
        CountsBelow.AddBinomial(below, 40, 0.3);
        var full = there.Plus(CountDistribution.Binomial(40, 0.3));
        for (var k = 0; k < 25; k++) Close.To(full[k], below[k], 1e-14);
    }

    [Fact]
    public void Add_any_masses_equals_full_distribution()
    {
        var there = CountDistribution.BetaBinomial(60, 3, 2);
        var more = CountDistribution.BetaBinomial(20, 8, 2);
        foreach (var target in new[] { 1, 7, 32, 33, 81, 300 })
        {
            var below = new double[target];
            CountsBelow.Start(there, below);
            CountsBelow.Add(below, more.Masses);
            for (var k = 0; k < target; k++) Close.To(there.Plus(more)[k], below[k], 1e-14);
        }
    }

    [Fact]
    public void AddBinomial_with_vanishing_start_is_still_exact()
    {
        // 0.001^200 is no double: the masses below 180 are as good as none, those near 200 are not.
        var below = new double[201];
        CountsBelow.Start(below);
        CountsBelow.AddBinomial(below, 200, 0.999);
        var full = CountDistribution.Binomial(200, 0.999);
        for (var k = 0; k <= 200; k++) Close.To(full[k], below[k], 1e-13);
    }

    [Fact]
    public void Hot_path_allocates_nothing()
    {
        var below = new double[25];
        CountsBelow.Start(below);
        CountsBelow.AddBinomial(below, 10, 0.1);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i < 100; i++) CountsBelow.AddBinomial(below, 40, 0.2);
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    [Fact]
    public void Impossible_arguments_are_refused()
    {
        var below = new double[3];
        Assert.Throws<ArgumentOutOfRangeException>(() => CountsBelow.AddBinomial(below, -1, 0.5));
        Assert.Throws<ArgumentOutOfRangeException>(() => CountsBelow.AddBinomial(below, 1, 1.5));
    }
}
