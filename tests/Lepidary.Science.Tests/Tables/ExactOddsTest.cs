using Lepidary.Science.Tables;

namespace Lepidary.Science.Tests.Tables;

public class ExactOddsTest
{
    /// <summary>
    /// R finds odds ratios and limits (their inverse above 1) with uniroot's default tolerance, the fourth root of the machine's epsilon; printed digits beyond
    /// it are R's own noise.
    /// </summary>
    private const double RootOfR = 1.3e-4;

    /// <summary>Fisher 1935, the lady tasting tea; Agresti 1990 p. 61, R's fisher.test. By hand the null is 1, 16, 36, 16, 1 of 70.</summary>
    [Fact]
    public void Tea_equals_R()
    {
        var tea = ExactOdds.Of(new TwoByTwo(3, 1, 1, 3));
        Close.To([1 / 70.0, 16 / 70.0, 36 / 70.0, 16 / 70.0, 1 / 70.0], tea.Chances.ToArray(), 1e-15);
        Close.To(0.2428571429, tea.PGreater, 5.1e-11);
        Close.To(0.4857142857, tea.PTwoSided, 5.1e-11);
        Close.To(6.408308867, tea.OddsRatio, RootOfR);
        // The equation it solves, written out: the expected number right is 3.
        var w = tea.OddsRatio;
        Close.To(3, w * (16 + w * (72 + w * (48 + 4 * w))) / (1 + w * (16 + w * (36 + w * (16 + w)))), 1e-12);
        var (from, to) = tea.Interval();
        Close.To(0.2117329153, from, RootOfR);
        Close.To(1 / 621.9337505, 1 / to, RootOfR);
        // Its ends, written out: three or more right at the lower one, three or fewer at the upper one, have a chance of 0.025.
        static double All(double w) => 1 + w * (16 + w * (36 + w * (16 + w)));
        Close.To(0.025, Math.Pow(from, 3) * (16 + from) / All(from), 1e-12);
        Close.To(0.025, 1 - Math.Pow(to, 4) / All(to), 1e-12);
    }

    /// <summary>Fisher 1962, convictions of twins; R's fisher.test.</summary>
    [Fact]
    public void Convictions_equal_R()
    {
        var convictions = ExactOdds.Of(new TwoByTwo(2, 15, 10, 3));
        Close.To(0.0004651809, convictions.PLess, 5.1e-11);
        Close.To(0.0005367241, convictions.PTwoSided, 5.1e-11);
        Close.To(0.0469366088, convictions.OddsRatio, RootOfR);
        var (from, to) = convictions.Interval();
        Close.To(0.0033257640, from, RootOfR);
        Close.To(0.3631822715, to, RootOfR);
    }

    /// <summary>3, 9 / 7, 1: invented; computed with R 4.2.2.</summary>
    [Fact]
    public void Invented_table_equals_R()
    {
        var table = ExactOdds.Of(new TwoByTwo(3, 9, 7, 1));
        Close.To(0.01976661, table.PTwoSided, 5.1e-9);
        Close.To(0.0578842115, table.OddsRatio, RootOfR);
        var (from, to) = table.Interval();
        Close.To(0.0009621944, from, RootOfR);
        Close.To(0.7209145117, to, RootOfR);
    }

    /// <summary>Stratified, computed with R 4.2.2 (mantelhaen.test, exact).</summary>
    [Fact]
    public void Strata_equal_R()
    {
        var admissions = ExactOdds.Of(MantelHaenszelTest.Admissions);
        Close.To(0.2277625, admissions.PTwoSided, 5.1e-8);
        Close.To(0.9050761936, admissions.OddsRatio, RootOfR);
        var rabbits = ExactOdds.Of(MantelHaenszelTest.Rabbits);
        Close.To(0.0399449, rabbits.PTwoSided, 5.1e-8);
        Close.To(1 / 10.36102408, 1 / rabbits.OddsRatio, RootOfR);
        var (from, to) = rabbits.Interval();
        Close.To(1 / 1.07740143, 1 / from, RootOfR);
        Close.To(1 / 529.83739902, 1 / to, RootOfR);
    }

    /// <summary>A second way: every table with the margins, by factorials.</summary>
    [Fact]
    public void Chances_equal_enumeration_by_choices()
    {
        static double Choose(int n, int k)
        {
            var ways = 1.0;
            for (var i = 1; i <= k; i++) ways *= (double)(n - k + i) / i;
            return ways;
        }
        var cell = Gen.Int[0, 12];
        Gen.Select(cell, cell, cell, cell).Holds((a, b, c, d) =>
        {
            var exact = ExactOdds.Of(new TwoByTwo(a, b, c, d));
            var least = Math.Max(0, a - d);
            for (var s = 0; s < exact.Chances.Count; s++)
                Close.To(
                    Choose(a + b, least + s) * Choose(c + d, a + c - least - s) / Choose(a + b + c + d, a + c), exact.Chances[s], 1e-12);
        });
    }

    [Fact]
    public void Ends_are_zero_and_infinite()
    {
        var none = ExactOdds.Of(new TwoByTwo(0, 5, 3, 2));
        Assert.Equal(0, none.OddsRatio);
        Assert.Equal(0, none.Interval().From);
        var all = ExactOdds.Of(new TwoByTwo(5, 0, 2, 3));
        Assert.Equal(double.PositiveInfinity, all.OddsRatio);
        Assert.Equal(double.PositiveInfinity, all.Interval().To);
        Assert.Equal(1, ExactOdds.Of(new TwoByTwo(2, 0, 5, 0)).PTwoSided);
        Assert.Throws<ArgumentOutOfRangeException>(() => ExactOdds.Of(new TwoByTwo(-1, 0, 5, 0)));
    }
}
