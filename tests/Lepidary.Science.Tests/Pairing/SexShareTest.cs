using Lepidary.Science.Numerics;
using Lepidary.Science.Pairing;

namespace Lepidary.Science.Tests.Pairing;

public class SexShareTest
{
    /// <summary>By hand: even, worth 20; 3 males and 17 females: (10+17)/40.</summary>
    [Fact]
    public void Learn_by_hand()
    {
        var learnt = SexShare.FromTable(0.5).Learn(3, 17);
        Close.To(27 / 40.0, learnt.Females, Close.Rounding);
        Close.To(40, learnt.Certainty, Close.Rounding);
    }

    /// <summary>A chance with the share unknown is a beta mixture: of one adult, the mean; of two alike, Σ of the second moments.</summary>
    [Fact]
    public void Expect_mixes_over_the_share()
    {
        var share = new SexShare(0.3, 12);
        Close.To(0.3, share.Expect(females => females, 1), 1e-8);
        var second = 0.3 * ((0.3 * 12) + 1) / 13;
        Close.To(second, share.Expect(females => females * females, 2), 1e-8);
        Close.To(0.4, new SexShare(0.4, double.PositiveInfinity).Expect(females => females, 5), 0);
    }

    /// <summary>A second way: the integral over the share by small steps.</summary>
    [Theory]
    [InlineData(0.3, 12, 14, 2)]
    [InlineData(0.97, 420, 20, 1)]
    [InlineData(0.5, 20, 4, 1)]
    public void Expect_equals_the_integral(double females, double certainty, int pupae, int pairs)
    {
        const int Steps = 40_000;
        var (a, b, sum, all) = (females * certainty, (1 - females) * certainty, 0.0, 0.0);
        var top = Math.Pow(females, a - 1) * Math.Pow(1 - females, b - 1);
        for (var i = 0; i < Steps; i++)
        {
            var share = (i + 0.5) / Steps;
            var weight = Math.Pow(share, a - 1) * Math.Pow(1 - share, b - 1) / top;
            all += weight;
            if (weight > 1e-20) sum += weight * Pairs.Chance(pupae, 0.8, pairs, share);
        }
        Close.To(sum / all, new SexShare(females, certainty).Expect(share => Pairs.Chance(pupae, 0.8, pairs, share), pupae), 1e-8);
    }

    /// <summary>
    /// A species of which a hundredth is male (Hypolimnas bolina with a male-killer in the wild: 100 females a male, Dyson and Hurst 2004, abstract read): a season finds it out, and pairs
    /// become rare. With the share known, 20 pupae at 0.9: 0.165410, computed with R 4.2.2.
    /// </summary>
    [Fact]
    public void Species_far_from_even_is_found_out()
    {
        var learnt = SexShare.FromTable(0.5).Learn(4, 396);
        Assert.InRange(learnt.Females, 0.95, 0.99);
        var chance = learnt.Expect(females => Pairs.Chance(20, 0.9, 1, females), 20);
        Assert.InRange(chance, 0.2, 0.6);
        Close.To(0.165410, Pairs.Chance(20, 0.9, 1, 0.99), 5.1e-7);
        Assert.True(chance < SexShare.FromTable(0.5).Expect(females => Pairs.Chance(20, 0.9, 1, females), 20) - 0.3);
    }

    /// <summary>Shares drawn from the prior, adults from the shares: the 80 % range holds the share 8 times of 10.</summary>
    [Fact]
    public void Range_covers_as_it_says()
    {
        var (random, held) = (new Random(3), 0);
        const int times = 600;
        for (var i = 0; i < times; i++)
        {
            var truth = SpecialFunctions.BetaQuantile(random.NextDouble(), 10, 10);
            var females = CountDistribution.Binomial(40, truth).Quantile(random.NextDouble());
            var learnt = SexShare.FromTable(0.5).Learn(40 - females, females);
            var (a, b) = (learnt.Females * learnt.Certainty, (1 - learnt.Females) * learnt.Certainty);
            held += truth >= SpecialFunctions.BetaQuantile(0.1, a, b) && truth <= SpecialFunctions.BetaQuantile(0.9, a, b) ? 1 : 0;
        }
        // Three standard errors of 600.
        Close.To(0.8, (double)held / times, 0.05);
    }
}
