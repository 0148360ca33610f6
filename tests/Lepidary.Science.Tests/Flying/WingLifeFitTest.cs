using Lepidary.Science.Flying;

namespace Lepidary.Science.Tests.Flying;

public class WingLifeFitTest
{
    private static readonly AdultSurvival Table = AdultSurvival.FromLife(14, 35);

    /// <summary>One let go; each day lives through half, half of the dead are found: none on day 1, it on day 2: ½·½·½ = 1/8.</summary>
    [Fact]
    public void One_adult_by_hand()
    {
        WingDay[] days = [new(1, 0, null), new(0, 0, null), new(0, 1, null)];
        Close.To(Math.Log(1 / 8.0), WingLifeFit.LogLikelihood(days, AdultSurvival.FromDaily(0.5), 0.3, 0.5), Close.Rounding);
    }

    /// <summary>Mean and variance of a walk's count by the law of total variance: s·E n, s·E n + s²E n²/10 + s²·Var n.</summary>
    [Fact]
    public void Walked_has_the_moments_of_its_parts()
    {
        var flying = CountDistribution.Binomial(40, 0.6);
        var walked = WingLifeFit.Walked(flying, 0.35);
        var square = flying.Variance + (flying.Mean * flying.Mean);
        Close.To(0.35 * flying.Mean, walked.Mean, 1e-7);
        Close.To((0.35 * flying.Mean) + (0.35 * 0.35 * ((square / WingLifeFit.WalkSize) + flying.Variance)), walked.Variance, 1e-5);
        Close.To(CountDistribution.Certain(0), WingLifeFit.Walked(CountDistribution.Certain(0), 0.4), 1e-15);
    }

    /// <summary>A slow second implementation: every history of every adult, one by one, with the same age at the same time.</summary>
    [Fact]
    public void Filter_equals_the_sum_over_all_histories() => Gen.Select(Gen.Int[1, 4], Gen.Int[0, 1], Gen.Int[0, 2], Gen.Int[0, 2]).Holds(
        (released, dead1, dead2, walked) =>
        {
            WingDay[] days = [new(released, 0, null), new(0, dead1, walked), new(0, dead2, null)];
            const double live = 0.6, seen = 0.35, found = 0.45;
            // Each adult: dies before day 1 (found or not), before day 2 (found or not), or lives on.
            var total = 0.0;
            var histories = (int)Math.Pow(5, released);
            for (var code = 0; code < histories; code++)
            {
                var (chance, found1, found2, flying) = (1.0, 0, 0, 0);
                for (var (adult, rest) = (0, code); adult < released; adult++, rest /= 5)
                {
                    var fate = rest % 5;
                    chance *= fate switch { 0 => (1 - live) * found, 1 => (1 - live) * (1 - found), 2 => live * (1 - live) * found, 3 => live * (1 - live) * (1 - found), _ => live * live };
                    (found1, found2, flying) = (found1 + (fate == 0 ? 1 : 0), found2 + (fate == 2 ? 1 : 0), flying + (fate >= 2 ? 1 : 0));
                }
                if (found1 == dead1 && found2 == dead2) total += chance * NegativeBinomial(walked, seen * flying);
            }
            var log = WingLifeFit.LogLikelihood(days, AdultSurvival.FromDaily(live), seen, found);
            if (total > 0) Close.To(Math.Log(total), log, 1e-9);
            else Assert.True(log < -40);
        });

    [Fact]
    public void Moments_agree_with_the_exact_filter()
    {
        var random = new Random(3);
        for (var book = 0; book < 20; book++)
        {
            var days = Draw(random, 60, 1.3, 0.3, 0.25, () => random.Next(6) == 0 ? random.Next(1, 5) : 0);
            double Log(double factor, bool exact) => WingLifeFit.LogLikelihood(days, Table.AtRisk(factor), 0.3, 0.25, exact);
            // What counts is how the likelihood moves with the factor.
            Close.To(Log(1.5, true) - Log(1, true), Log(1.5, false) - Log(1, false), 0.15 + 0.15 * Math.Abs(Log(1.5, true) - Log(1, true)));
        }
    }

    [Theory]
    [InlineData(0.7)]
    [InlineData(1.0)]
    [InlineData(1.8)]
    public void Fit_finds_the_life_that_made_the_counts(double truth)
    {
        var random = new Random(17);
        var logs = new List<double>();
        for (var book = 0; book < 12; book++)
            logs.Add(Math.Log(WingLifeFit.Fit(Draw(random, 365, truth, 0.3, 0.3, () => random.Next(7) == 0 ? random.Next(5, 25) : 0), Table)!.Factor));
        Close.To(Math.Log(truth), logs.Average(), 0.15);
    }

    /// <summary>Books drawn from the prior: 8 of 10 true factors lie within the 80 % interval.</summary>
    [Fact]
    public void Interval_covers_as_it_says()
    {
        var random = new Random(23);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        double Share() => 1 / (1 + Math.Exp(-(Math.Log(0.3 / 0.7) + 1.2 * Normal())));
        const int books = 120;
        var inside = 0;
        for (var book = 0; book < books; book++)
        {
            var truth = WingLifeFit.PriorDeviation * Normal();
            var fit = WingLifeFit.Fit(Draw(random, 120, Math.Exp(truth), Share(), Share(), () => random.Next(7) == 0 ? random.Next(2, 12) : 0), Table)!;
            inside += Math.Abs(Math.Log(fit.Factor) - truth) <= 1.2815515655446004 * fit.LogFactorDeviation ? 1 : 0;
        }
        TestContext.Current.TestOutputHelper?.WriteLine($"{inside} of {books}");
        Assert.InRange(inside, 0.8 * books - 3 * Math.Sqrt(0.16 * books), 0.8 * books + 3 * Math.Sqrt(0.16 * books));
    }

    [Fact]
    public void More_found_dead_is_a_shorter_life()
    {
        WingDay[] Days(int dead) => [new(20, 0, 6), .. Enumerable.Range(1, 10).Select(day => new WingDay(0, day is 3 or 5 ? dead : 0, null)), new(0, 0, dead > 2 ? 1 : 5)];
        Assert.True(WingLifeFit.Fit(Days(5), Table)!.Factor > WingLifeFit.Fit(Days(0), Table)!.Factor);
    }

    [Fact]
    public void Nothing_counted_is_no_fit()
    {
        Assert.Null(WingLifeFit.Fit([], Table));
        Assert.Null(WingLifeFit.Fit([new(5, 0, null), new(0, 0, null)], Table));
        Assert.Null(WingLifeFit.Fit([new(0, 0, 3)], Table));
        Assert.Throws<ArgumentException>(() => WingLifeFit.Fit([new(-1, 0, 3)], Table));
    }

    /// <summary>More dead than were let go: a wrong count must not break the page.</summary>
    [Fact]
    public void Impossible_counts_still_give_a_curve()
    {
        var fit = WingLifeFit.Fit([new(2, 0, null), new(0, 5, 40), new(0, 1, null)], Table);
        Assert.True(fit is null || double.IsFinite(fit.Factor));
    }

    [Fact]
    public void AtRisk_is_a_power_of_the_curve()
    {
        Close.To(Table[9] * Table[9], Table.AtRisk(2)[9], 1e-12);
        Close.To(Table[200], Table.AtRisk(1)[200], 1e-12);
        Assert.True(Table.AtRisk(2).MeanDaysCounted < Table.MeanDaysCounted);
    }

    private static List<WingDay> Draw(Random random, int length, double factor, double seen, double found, Func<int> release)
    {
        var curve = Table.AtRisk(factor);
        var (ages, days) = (new List<int>(), new List<WingDay>());
        for (var t = 0; t < length; t++)
        {
            var (next, dead) = (new List<int>(), 0);
            foreach (var age in ages)
                if (random.NextDouble() < curve.Daily(age)) next.Add(age + 1);
                else dead += random.NextDouble() < found ? 1 : 0;
            var released = t == 0 ? 3 : release();
            next.AddRange(Enumerable.Repeat(0, released));
            ages = next;
            int? walked = t % 7 == 3 ? Walk(random, seen * ages.Count) : null;
            days.Add(new(released, dead, walked));
        }
        return days;
    }

    /// <summary>A negative binomial draw by its cumulated chances.</summary>
    private static int Walk(Random random, double mean)
    {
        var (u, k) = (random.NextDouble(), 0);
        while (k < 400 && (u -= NegativeBinomial(k, mean)) > 0) k++;
        return k;
    }

    private static double NegativeBinomial(int k, double mean)
    {
        if (mean <= 0) return k == 0 ? 1 : 0;
        var (size, chance) = (WingLifeFit.WalkSize, Math.Pow(WingLifeFit.WalkSize / (WingLifeFit.WalkSize + mean), WingLifeFit.WalkSize));
        for (var i = 0; i < k; i++) chance *= (size + i) / (i + 1) * mean / (size + mean);
        return chance;
    }
}
