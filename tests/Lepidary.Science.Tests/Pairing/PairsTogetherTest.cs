using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;
using Lepidary.Science.Pairing;

namespace Lepidary.Science.Tests.Pairing;

public class PairsTogetherTest
{
    private static readonly WingLife Males = new(EmergenceTiming.FromWindow(4, 9), AdultSurvival.FromLife(9, 20));
    private static readonly WingLife Females = new(EmergenceTiming.FromWindow(6, 12), AdultSurvival.FromLife(12, 24));

    /// <summary>
    /// By hand: one male and one female for certain... two adults, each sex with chance 1/2, each emerging on day 0 or 1, living exactly
    /// one day. They meet if the sexes differ (1/2) and the days agree (1/2).
    /// </summary>
    [Fact]
    public void Chance_by_hand()
    {
        var life = new WingLife(EmergenceTiming.FromChances([0.5, 0.5]), AdultSurvival.FromCurve([1, 0]));
        Close.To(0.25, PairsTogether.Chance(CountDistribution.Certain(2), life, life), 1e-14);
        Assert.Equal(0, PairsTogether.Chance(CountDistribution.Certain(2), life, life, days: 2));
        // Two days of life: together on a day whenever the sexes differ, on two days when they came together.
        var longer = new WingLife(life.Timing, AdultSurvival.FromCurve([1, 1, 0]));
        Close.To(0.5, PairsTogether.Chance(CountDistribution.Certain(2), longer, longer), 1e-14);
        Close.To(0.25, PairsTogether.Chance(CountDistribution.Certain(2), longer, longer, days: 2), 1e-14);
    }

    [Fact]
    public void Chance_for_those_that_live_for_ever_is_that_of_both_sexes()
    {
        var life = new WingLife(Males.Timing, AdultSurvival.FromDaily(1));
        for (var pupae = 2; pupae < 30; pupae += 3)
            Close.To(
                Pairs.Chance(pupae, 0.8, 1, 0.4),
                PairsTogether.Chance(CountDistribution.Binomial(pupae, 0.8), life, life, 30, 0.4),
                1e-12);
    }

    /// <summary>Every adult drawn on its own and every pair compared. Seeded; four standard errors.</summary>
    [Theory]
    [InlineData(4, 1)]
    [InlineData(4, 5)]
    [InlineData(10, 10)]
    public void Chance_agrees_with_simulated_adults(int pupae, int days)
    {
        const int Runs = 40_000;
        var random = new Random(17);
        var met = 0;
        for (var run = 0; run < Runs; run++)
        {
            var lives = new List<(bool Female, int From, int To)>();
            for (var i = 0; i < pupae; i++)
            {
                if (random.NextDouble() >= 0.8) continue;
                var female = random.NextDouble() < 0.45;
                var (life, u) = (female ? Females : Males, random.NextDouble());
                var from = life.Timing.Quantile(random.NextDouble());
                var age = 0;
                while (life.Survival[age + 1] > u) age++;
                lives.Add((female, from, from + age));
            }
            if (lives.Any(m => !m.Female && lives.Any(f => f.Female && Math.Min(m.To, f.To) - Math.Max(m.From, f.From) + 1 >= days))) met++;
        }
        var chance = PairsTogether.Chance(CountDistribution.Binomial(pupae, 0.8), Males, Females, days, 0.45);
        Close.To(chance, met / (double)Runs, 4 * Math.Sqrt(chance * (1 - chance) / Runs));
    }

    [Fact]
    public void OnBestStretch_agrees_with_simulated_adults()
    {
        const int Runs = 40_000;
        var best = PairsTogether.OnBestStretch(CountDistribution.Binomial(16, 0.8), Males, Females, 3, 4, 0.45);
        var random = new Random(19);
        var found = 0;
        for (var run = 0; run < Runs; run++)
        {
            var flying = new int[2];
            for (var i = 0; i < 16; i++)
            {
                if (random.NextDouble() >= 0.8) continue;
                var female = random.NextDouble() < 0.45;
                var life = female ? Females : Males;
                var from = life.Timing.Quantile(random.NextDouble());
                if (from <= best.Day && random.NextDouble() < life.Survival[best.Day + 3 - from]) flying[female ? 1 : 0]++;
            }
            if (flying[0] >= 3 && flying[1] >= 3) found++;
        }
        Close.To(best.Chance, found / (double)Runs, 4 * Math.Sqrt(best.Chance * (1 - best.Chance) / Runs));
        Assert.InRange(best.Day, 8, 14);
    }

    [Fact]
    public void Chances_are_in_order()
    {
        Gen.Select(Gen.Int[2, 25], Gen.Int[1, 12], Gen.Double[0.1, 0.9]).Holds((pupae, days, share) =>
        {
            var emerged = EmergenceRate.Usual.Forecast(pupae);
            var together = PairsTogether.Chance(emerged, Males, Females, days, share);
            Assert.True(together >= PairsTogether.OnBestStretch(emerged, Males, Females, 1, days, share).Chance - 1e-12);
            Assert.True(together <= Pairs.Chance(emerged, 1, share) + 1e-12);
            Assert.True(together >= PairsTogether.Chance(emerged, Males, Females, days + 1, share) - 1e-12);
            Assert.True(together <= PairsTogether.Chance(EmergenceRate.Usual.Forecast(pupae + 1), Males, Females, days, share) + 1e-11);
        }, times: 30);
    }

    [Fact]
    public void Chance_stands_many_adults()
    {
        Assert.InRange(PairsTogether.Chance(CountDistribution.Certain(PairsTogether.MostAdults), Males, Females), 1 - 1e-9, 1);
        Assert.Throws<ArgumentOutOfRangeException>(
            () => PairsTogether.Chance(CountDistribution.Certain(PairsTogether.MostAdults + 1), Males, Females));
        Assert.Throws<ArgumentOutOfRangeException>(() => PairsTogether.Chance(CountDistribution.Certain(3), Males, Females, 0));
    }

    [Fact]
    public void One_sex_alone_never_meets()
    {
        Assert.Equal(0, PairsTogether.Chance(CountDistribution.Certain(9), Males, Females, 1, 0));
        Assert.Equal(0, PairsTogether.OnBestStretch(CountDistribution.Certain(9), Males, Females, 1, 1, 1).Chance);
    }
}
