using Lepidary.Science.Listing;
using Lepidary.Science.Numerics;
using Lepidary.Science.Tests.Groups;

namespace Lepidary.Science.Tests.Listing;

public class ListingRatesTest
{
    private static readonly ListingPrior Even = new(2, 0);

    /// <summary>By hand: M = 2 known, one taxon listed once of once. E(μ | listed) = 2/3, so (2·2/3 + 1)/(2 + 1) = 7/9; a taxon never seen: 2/3.</summary>
    [Fact]
    public void Of_by_hand()
    {
        var rates = new ListingRates([(1, 1)], Even);
        Close.To(7.0 / 9, rates.Of(1, 1).Mean, 1e-5);
        Close.To(2.0 / 3, rates.Of(0, 0).Mean, 1e-5);
        // One listed, one not: even again, each pulled half way.
        var two = new ListingRates([(1, 1), (0, 1)], Even);
        Close.To(2.0 / 3, two.Of(1, 1).Mean, 1e-5);
        Close.To(1.0 / 3, two.Of(0, 1).Mean, 1e-5);
    }

    /// <summary>
    /// Where all taxa share one rate (M without end) the rule of succession holds, (y+1)/(n+2) (Laplace 1774, from memory), the rate is Beta(y+1, n-y+1), and
    /// a sequence with y of n has the probability y!(n-y)!/(n+1)! (Bayes 1763, from memory).
    /// </summary>
    [Theory]
    [InlineData(0, 1)]
    [InlineData(3, 4)]
    [InlineData(3, 20)]
    public void Of_where_all_share_one_rate_is_the_rule_of_succession(int yes, int of)
    {
        var rates = new ListingRates([(yes, of)], new(1e9, 0));
        var chance = rates.Of(0, 0);
        Close.To((yes + 1.0) / (of + 2), chance.Mean, 1e-5);
        Close.To(of + 2, rates.Of(yes, of).Certainty, of * 2e-4);
        var (from, to) = rates.Of(yes, of).Interval(0.8);
        Close.To(SpecialFunctions.BetaQuantile(0.1, yes + 1, of - yes + 1), from, 1e-4);
        Close.To(SpecialFunctions.BetaQuantile(0.9, yes + 1, of - yes + 1), to, 1e-4);
        Close.To(-SpecialFunctions.LogChoose(of, yes) - Math.Log(of + 1), rates.LogEvidence, 1e-5);
    }

    /// <summary>
    /// Rat tumours (Tarone 1982): with 71 groups the prior of M matters little, and the group at hand, 4 of 14, is near the plug-in 0.2082 that R 4.2.2 with VGAM
    /// 1.1-7 gives. Its deviation exceeds the plug-in's, which takes α and β as known.
    /// </summary>
    [Fact]
    public void Of_rat_tumours_is_near_R()
    {
        var chance = new ListingRates(BetaBinomialFitTest.RatTumours).Of(4, 14);
        Close.To(0.20821931, chance.Mean, 0.01);
        var fit = Science.Groups.BetaBinomialFit.MaximumLikelihood(BetaBinomialFitTest.RatTumours);
        Assert.True(Math.Sqrt(chance.Mean * (1 - chance.Mean) / (chance.Certainty + 1)) > fit.Deviation(4, 14));
    }

    /// <summary>A slow second way: midpoints of μ itself and of ln M, with gamma functions.</summary>
    [Fact]
    public void Of_equals_a_slow_second_way()
    {
        Gen.Select(Gen.Int[0, 12], Gen.Double[0, 1]).Array[1, 12].Holds(drawn =>
        {
            (int Yes, int Of)[] groups = [.. drawn.Select(one => ((int)(one.Item1 * one.Item2), one.Item1))];
            var (sum, first, all) = (0.0, 0.0, 0.0);
            for (var z = -3.95; z < 4; z += 0.1)
            {
                for (var mean = 0.0025; mean < 1; mean += 0.005)
                {
                    var m = 2 * Math.Exp(z * Math.Log(3));
                    var (a, b) = (mean * m, (1 - mean) * m);
                    var prior = Math.Exp(-z * z / 2);
                    var weight = prior * Math.Exp(groups.Sum(group => SpecialFunctions.LogBeta(a + group.Yes, b + group.Of - group.Yes) - SpecialFunctions.LogBeta(a, b)));
                    (all, sum) = (all + prior, sum + weight);
                    first += weight * (a + groups[0].Yes) / (m + groups[0].Of);
                }
            }

            var rates = new ListingRates(groups);
            Close.To(first / sum, rates.Of(groups[0].Yes, groups[0].Of).Mean, 2e-3);
            Close.To(Math.Log(sum / all), rates.LogEvidence, 2e-2);
        }, times: 8);
    }

    /// <summary>Simulated suppliers with known rates: 8 of 10 rates lie within the interval of 80 %.</summary>
    [Fact]
    public void Interval_covers_as_it_says()
    {
        var random = new Random(7);
        var (within, all) = (0, 0);
        for (var book = 0; book < 60; book++)
        {
            // Rates of a Beta(1.2, 0.8) by its quantiles at even draws.
            var rates = Enumerable.Range(0, 20).Select(_ => SpecialFunctions.BetaQuantile(random.NextDouble(), 1.2, 0.8)).ToList();
            var groups = rates.Select(rate => (Yes: Enumerable.Range(0, 10).Count(_ => random.NextDouble() < rate), Of: 10)).ToList();
            var learnt = new ListingRates(groups);
            foreach (var (rate, group) in rates.Zip(groups))
            {
                var (from, to) = learnt.Of(group.Yes, group.Of).Interval(0.8);
                (within, all) = (within + (rate >= from && rate <= to ? 1 : 0), all + 1);
            }
        }

        Close.To(0.8, (double)within / all, 0.035);
    }

    [Fact]
    public void Impossible_groups_are_refused()
    {
        Assert.Throws<ArgumentException>(() => new ListingRates([(2, 1)]));
        Assert.Throws<ArgumentOutOfRangeException>(() => new ListingRates([(1, 1)]).Of(2, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new ListingRates([(1, 1)], new(0, 1)));
    }
}
