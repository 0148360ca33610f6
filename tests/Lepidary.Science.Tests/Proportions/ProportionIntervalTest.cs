using Lepidary.Science.Proportions;

namespace Lepidary.Science.Tests.Proportions;

public class ProportionIntervalTest
{
    /// <summary>
    /// Computed with R 4.2.2: prop.test without correction, binom.test, and the printed formulas. The four pairs
    /// 81/263, 15/148, 0/20, 1/29 are those of Newcombe 1998, Table I; of the printed table only Wilson's 0.2553-0.3662 for 81/263 was
    /// seen quoted, the rest of it could not be opened.
    /// </summary>
    public static readonly TheoryData<int, int, double[]> At95 = new()
    {
        // x, n, then lower and upper of: Wilson, Wilson corrected, Clopper-Pearson, mid-P, Jeffreys.
        { 81, 263, [0.25528852, 0.36620958, 0.253509, 0.368176, 0.25273675, 0.36762192, 0.254402, 0.365773, 0.25452193, 0.36564750] },
        { 15, 148, [0.06238640, 0.16048724, 0.059778, 0.164450, 0.05784401, 0.16165049, 0.060064, 0.158122, 0.06044852, 0.15764314] },
        { 0, 20, [0, 0.16112516, 0, 0.200453, 0, 0.16843347, 0, 0.139108, 0.00002425, 0.11663898] },
        { 1, 29, [0.00611321, 0.17175522, 0.001803, 0.196282, 0.00087265, 0.17764430, 0.001725, 0.158537, 0.00374617, 0.15007769] },
        { 29, 29, [0.883030, 1, 0.854384, 1, 0.880555, 1, 0.901855, 1, 0.917714, 0.999983] },
        { 7, 50, [0.06950833, 0.26186194, 0.062770, 0.273564, 0.05819170, 0.26739600, 0.063343, 0.257405, 0.06487170, 0.25532503] },
        { 0, 10, [0, 0.277533, 0, 0.344537, 0, 0.308497, 0, 0.258866, 0.000048, 0.217196] },
        { 10, 10, [0.72246720, 1, 0.655463, 1, 0.69150289, 1, 0.741134, 1, 0.78280373, 0.99995211] },
        { 0, 1, [0, 0.793451, 0, 0.945379, 0, 0.975000, 0, 0.950000, 0.000386, 0.853254] },
        { 23, 60, [0.270883, 0.509824, 0.263528, 0.518099, 0.260707, 0.517885, 0.267147, 0.510539, 0.268146, 0.509476] },
    };

    private static readonly Func<int, int, double, ProportionInterval>[] Methods =
    [
        ProportionInterval.Wilson, ProportionInterval.WilsonCorrected, ProportionInterval.ClopperPearson,
        ProportionInterval.MidP, ProportionInterval.Jeffreys,
    ];

    [Theory]
    [MemberData(nameof(At95))]
    public void All_methods_equal_R_at_95_percent(int x, int n, double[] expected)
    {
        // Six printed digits, so half a unit of the sixth.
        for (var m = 0; m < Methods.Length; m++)
        {
            Close.To(expected[2 * m], Methods[m](x, n, 0.95).From, 5.1e-7);
            Close.To(expected[2 * m + 1], Methods[m](x, n, 0.95).To, 5.1e-7);
        }
    }

    /// <summary>15/148 at other levels; computed with R 4.2.2.</summary>
    [Theory]
    [InlineData(0.80, 0.073809, 0.137645, 0.070495, 0.140781, 0.073373, 0.136977)]
    [InlineData(0.90, 0.067443, 0.149573, 0.063518, 0.151768, 0.066250, 0.147853)]
    [InlineData(0.99, 0.053645, 0.183267, 0.047745, 0.181878, 0.050098, 0.177704)]
    public void Methods_equal_R_at_other_levels(
        double level, double wilsonFrom, double wilsonTo, double exactFrom, double exactTo, double jeffreysFrom, double jeffreysTo)
    {
        Close.To([wilsonFrom, wilsonTo], Ends(ProportionInterval.Wilson(15, 148, level)), 5.1e-7);
        Close.To([exactFrom, exactTo], Ends(ProportionInterval.ClopperPearson(15, 148, level)), 5.1e-7);
        Close.To([jeffreysFrom, jeffreysTo], Ends(ProportionInterval.Jeffreys(15, 148, level)), 5.1e-7);
    }

    [Fact]
    public void All_methods_mirror_successes_and_failures()
    {
        Gen.Select(Gen.Int[1, 80], Gen.Double[0, 1], Gen.Double[0.5, 0.995]).Holds((n, share, level) =>
        {
            var x = (int)Math.Round(share * n);
            foreach (var method in Methods)
            {
                var (one, other) = (method(x, n, level), method(n - x, n, level));
                Close.To([one.From, one.To], [1 - other.To, 1 - other.From], 1e-9);
            }
        });
    }

    /// <summary>The exact interval covers at its level whatever the true share: counted over every outcome.</summary>
    [Fact]
    public void ClopperPearson_covers_at_every_share()
    {
        foreach (var p in Enumerable.Range(1, 99).Select(i => i / 100.0))
        {
            var counts = CountDistribution.Binomial(25, p);
            var covered = Enumerable.Range(0, 26).Where(x =>
            {
                var interval = ProportionInterval.ClopperPearson(x, 25);
                return interval.From <= p && p <= interval.To;
            }).Sum(x => counts[x]);
            Assert.True(covered >= 0.95, $"{covered} at {p}");
        }
    }

    [Fact]
    public void Impossible_counts_are_refused()
    {
        foreach (var method in Methods)
        {
            Assert.Throws<ArgumentOutOfRangeException>(() => method(0, 0, 0.95));
            Assert.Throws<ArgumentOutOfRangeException>(() => method(-1, 5, 0.95));
            Assert.Throws<ArgumentOutOfRangeException>(() => method(6, 5, 0.95));
            Assert.Throws<ArgumentOutOfRangeException>(() => method(1, 5, 1));
        }
    }

    private static double[] Ends(ProportionInterval interval) => [interval.From, interval.To];
}
