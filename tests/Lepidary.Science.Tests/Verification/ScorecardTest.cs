using Lepidary.Science.Verification;

namespace Lepidary.Science.Tests.Verification;

public class ScorecardTest
{
    private static Scorecard Score(IEnumerable<PastForecast> past) => Scorecard.Of([.. past], new Random(7).NextDouble);

    /// <summary>
    /// By hand: a half said of 0 or 1 and 1 came: CRPS and Brier (1-0.5)² = 0.25; 0.8 said and 1 came: 0.04; mean 0.145. A rival who says 0.6 each time:
    /// 0.16. Skill 1 - 0.145/0.16.
    /// </summary>
    [Fact]
    public void Of_by_hand()
    {
        var rival = CountDistribution.Binomial(1, 0.6);
        var card = Score([new(CountDistribution.Binomial(1, 0.5), rival, 1, "a"), new(CountDistribution.Binomial(1, 0.8), rival, 1, "b")]);

        Assert.Equal(0.145, card.Crps, 12);
        Assert.Equal(0.145, card.Brier, 12);
        Assert.Equal(0.16, card.RivalCrps, 12);
        Assert.Equal(1 - (0.145 / 0.16), card.Skill!.Value, 12);
        Assert.Empty(card.Coverage);
        Assert.Equal(Sureness.TooFewToTell, card.Verdict);
        // (o-p)(1-2p): 0 and 0.2·(-0.6) = -0.12; p(1-p)(1-2p)²: 0 and 0.16·0.36 = 0.0576 = 0.24².
        Assert.Equal(-0.5, card.Off, 12);
    }

    /// <summary>Forecasts drawn from the truth itself: intervals hold what they promise, the transform is flat, and few are blamed.</summary>
    [Fact]
    public void Of_honest_counts_covers_as_promised_and_is_rarely_blamed()
    {
        var random = new Random(11);
        var (blamed, covered, promised, bars) = (0, new double[3], new double[3], new double[10]);
        const int Books = 200;
        for (var book = 0; book < Books; book++)
        {
            var card = Score(Enumerable.Range(0, 100).Select(i => Draw(random, said => said, i)));
            blamed += card.Verdict is Sureness.OverSure or Sureness.OverCautious ? 1 : 0;
            for (var level = 0; level < 3; level++)
            {
                covered[level] += card.Coverage[level].Covered / Books;
                promised[level] += card.Coverage[level].Promised / Books;
            }

            for (var bar = 0; bar < 10; bar++)
                bars[bar] += card.Pit[bar] / Books;
        }

        for (var level = 0; level < 3; level++)
        {
            // 20,000 draws: a standard error of at most 0.0035.
            Assert.InRange(covered[level], promised[level] - 0.011, promised[level] + 0.011);
            Assert.True(promised[level] >= new[] { 0.5, 0.8, 0.95 }[level]);
        }

        Assert.All(bars, bar => Assert.InRange(bar, 0.092, 0.108));
        // About 1 of 20; of 200 books more than 24 would come once in some thousand times.
        Assert.InRange(blamed, 1, 24);
    }

    [Fact]
    public void Of_forecasts_that_ignore_what_lots_share_is_over_sure()
    {
        var random = new Random(13);
        // Lots differ (beta-binomial, α+β = 4), the forecast takes their pupae as alike.
        var card = Score(Enumerable.Range(0, 150).Select(i => Draw(random, said => CountDistribution.Binomial(said.Max, 0.75), i)));

        Assert.Equal(Sureness.OverSure, card.Verdict);
        Assert.True(card.Coverage[1].Covered < card.Coverage[1].Promised - 0.1);
        Assert.True(card.Pit[0] + card.Pit[9] > 0.3);
        Assert.True(card.Skill < 0);
    }

    [Fact]
    public void Of_forecasts_that_are_too_wide_is_over_cautious()
    {
        var random = new Random(17);

        Assert.Equal(Sureness.OverCautious, Score(Enumerable.Range(0, 150).Select(i => Draw(random, said => CountDistribution.BetaBinomial(said.Max, 0.75, 0.25), i))).Verdict);
    }

    /// <summary>Few groups that happen to lie alike are not surer than their chances promise: twelve misses of a range that holds 9 of 10.</summary>
    [Fact]
    public void Off_is_measured_by_no_less_than_the_promised_spread()
    {
        var said = CountDistribution.Binomial(1, 0.3);
        var alike = Score(Enumerable.Range(0, 12).Select(i => new PastForecast(said, said, i % 4 == 0 ? 1 : 0, $"list {i}")));
        // 3 of 12 came: Σ(o-p)(1-2p) = (3-3.6)·0.4 = -0.24; Σp(1-p)(1-2p)² = 12·0.21·0.16 = 0.4032; the sums' own squares: 3·0.28² + 9·0.12² = 0.3648.
        Assert.Equal(-0.24 / Math.Sqrt(0.4032), alike.Off, 9);
        Assert.Equal(Sureness.AsSaid, alike.Verdict);
    }

    /// <summary>By hand: of 0…3 with 0.1, 0.4, 0.3, 0.2 the chance of two or more is a half; two came: Brier 0.25.</summary>
    [Fact]
    public void Wanted_number_makes_the_chance_that_is_judged()
    {
        var said = CountDistribution.FromMasses([0.1, 0.4, 0.3, 0.2]);
        var card = Score([new(said, said, 2, "a", Wanted: 2)]);
        Assert.Equal(0.25, card.Brier, 12);
        Assert.Equal(0.5, card.Curve.Single().Said, 12);
        Assert.Equal(0.30, card.Crps, 12);
    }

    /// <summary>One list's luck is one outcome, however many taxa were on it: the verdict waits.</summary>
    [Fact]
    public void Verdict_counts_groups_and_not_forecasts()
    {
        var half = CountDistribution.Binomial(1, 0.9);

        Assert.Equal(Sureness.TooFewToTell, Score(Enumerable.Range(0, 500).Select(i => new PastForecast(half, half, 0, $"list {i % 5}"))).Verdict);
        Assert.Equal(Sureness.OverSure, Score(Enumerable.Range(0, 500).Select(i => new PastForecast(half, half, 0, $"list {i % 50}"))).Verdict);
    }

    // The truth is beta-binomial of 6…15 pupae, 3 of 4 emerge, α+β = 4; the rival is the truth.
    private static PastForecast Draw(Random random, Func<CountDistribution, CountDistribution> said, int lot)
    {
        var truth = CountDistribution.BetaBinomial(random.Next(6, 16), 3, 1);
        return new(said(truth), truth, truth.Quantile(random.NextDouble()), $"lot {lot}");
    }
}
