using Lepidary.Science.Groups;

namespace Lepidary.Science.Tests.Groups;

public class BetaBinomialFitTest
{
    /// <summary>
    /// Rat tumours, the 71st is the experiment at hand: Tarone 1982, Biometrics 38:215-220, from BDA3 p. 102; read in a public example notebook.
    /// </summary>
    internal static readonly (int, int)[] RatTumours = Pairs(
        "0,0,0,0,0,0,0,0,0,0,0,0,0,0,1,1,1,1,1,1,1,1,2,2,2,2,2,2,2,2,2,1,5,2,5,3,2,7,7,3,3,2,9,10,4,4,4,4,4,4,4,10,4,4,4,5,11,12,5,5,6,5,6,6,6,6,16,15,15,9,4",
        "20,20,20,20,20,20,20,19,19,19,19,18,18,17,20,20,20,20,19,19,18,18,25,24,23,20,20,20,20,20,20,10,49,19,46,27,17,49,47,20,20,13,48,50,20,20,20,20,20,20,20,48,19,19,19,22,46,49,20,20,23,19,22,20,20,20,52,46,47,24,14");

    /// <summary>Weil 1970, pups that lived to 21 days of those alive at 4; Williams 1975, Biometrics 31:949-952; read in R's aod::rats.</summary>
    private static readonly (int, int)[] Control =
        Pairs("13,12,9,9,8,8,12,11,9,9,8,11,4,5,7,7", "13,12,9,9,8,8,13,12,10,10,9,13,5,7,10,10");

    private static readonly (int, int)[] Treated =
        Pairs("12,11,10,9,10,9,9,8,8,4,7,4,5,3,3,0", "12,11,10,9,11,10,10,9,9,5,9,7,10,6,10,7");

    /// <summary>Efron and Morris 1975: hits of 45 at bat; read in a public data file.</summary>
    internal static readonly int[] Hits = [18, 17, 16, 15, 14, 14, 13, 12, 11, 11, 10, 10, 10, 10, 10, 9, 8, 7];

    /// <summary>Computed with R 4.2.2 (optim and nlm), and VGAM 1.1-7, 2026-11-30; recipe in bench/peers/betabinomial.R.</summary>
    [Theory]
    [InlineData(71, 2.341614, 14.114804, 0.14229186, 16.456418, -156.5689299, -730.3384545, -171.9046285, 30.6713972)]
    [InlineData(70, 2.304783, 14.079808, 0.14066772, 16.384591, -154.1402497, -721.0010195, -169.6435819, 31.0066644)]
    public void MaximumLikelihood_of_rat_tumours_equals_R(
        int groups, double alpha, double beta, double mean, double concentration, double log, double kernel, double binomial, double ratio)
    {
        var fit = BetaBinomialFit.MaximumLikelihood(RatTumours[..groups]);
        // R's optimisers stop at a slope of about 1e-5: the shapes agree to six digits, the likelihood to all printed.
        Close.To(alpha, fit.Alpha, 3e-6);
        Close.To(beta, fit.Beta, 2e-5);
        Close.To(mean, fit.Mean, 5e-8);
        Close.To(concentration, fit.Concentration, 2e-5);
        Close.To(log, fit.LogLikelihood, 6e-8);
        Close.To(kernel, fit.LogKernel, 6e-8);
        Close.To(binomial, fit.BinomialLogLikelihood, 6e-8);
        Close.To(ratio, fit.LikelihoodRatio, 2e-7);
        Close.To(groups == 71 ? 0.05728552 : 0.05752220, fit.Correlation, 1e-7);
        var (tumours, rats) = (RatTumours[..groups].Sum(pair => pair.Item1), RatTumours[..groups].Sum(pair => pair.Item2));
        Assert.Equal(groups == 71 ? (267, 1739) : (263, 1725), (tumours, rats));
        Close.To(groups == 71 ? 0.153536515 : 0.152463768, (double)tumours / rats, 5.1e-10);
    }

    /// <summary>VGAM's own digits (1.1-7, betabinomialff) where it stops.</summary>
    [Fact]
    public void MaximumLikelihood_of_rat_tumours_equals_VGAM()
    {
        var fit = BetaBinomialFit.MaximumLikelihood(RatTumours);
        Close.To(2.3416134, fit.Alpha, 3e-6);
        Close.To(14.1147993, fit.Beta, 2e-5);
    }

    /// <summary>Groups pulled towards the mean. Computed with R 4.2.2.</summary>
    [Fact]
    public void Shrunken_rat_tumours_equal_R()
    {
        var fit = BetaBinomialFit.MaximumLikelihood(RatTumours);
        Close.To(0.20821931, fit.Shrunken(4, 14), 1e-7);
        Close.To(0.06423051, fit.Shrunken(0, 20), 1e-7);
        Close.To(0.26793126, fit.Shrunken(16, 52), 1e-7);
        Close.To(0.28034153, fit.Shrunken(9, 24), 1e-7);
        var (from, to) = fit.Interval(4, 14);
        Close.To(0.08621635, from, 1e-7);
        Close.To(0.36635201, to, 1e-7);
    }

    /// <summary>
    /// Fit by moments. Computed with R 4.2.2; BDA3 prints 0.136, 0.103, (1.4, 8.6) and for 4/14 mean 0.223, SD 0.083 (from memory).
    /// </summary>
    [Fact]
    public void Moments_of_rat_tumours_equal_R()
    {
        var fit = BetaBinomialFit.Moments([.. RatTumours[..70].Select(pair => (double)pair.Item1 / pair.Item2)]);
        Close.To(0.13600654, fit.Mean, 5.1e-9);
        // M = m(1-m)/s² - 1, so s is what the fit was made from.
        Close.To(0.10349227, Math.Sqrt(fit.Mean * (1 - fit.Mean) / (1 + fit.Concentration)), 5.1e-9);
        Close.To(9.97120728, fit.Concentration, 5.1e-9);
        Close.To(1.35614939, fit.Alpha, 5.1e-9);
        Close.To(8.61505789, fit.Beta, 5.1e-9);
        Close.To(0.22344095, fit.Shrunken(4, 14), 5.1e-9);
        Close.To(0.08335830, fit.Deviation(4, 14), 5.1e-9);
    }

    /// <summary>Rat litters. Computed with R 4.2.2; Williams' printed θ of 0.021 and 0.465 (from memory) is 1/M.</summary>
    [Fact]
    public void MaximumLikelihood_of_litters_equals_R()
    {
        var control = BetaBinomialFit.MaximumLikelihood(Control);
        Close.To(0.89797596, control.Mean, 2e-7);
        Close.To(48.513659, control.Concentration, 2e-3);
        Close.To(43.564099, control.Alpha, 2e-3);
        Close.To(4.949559, control.Beta, 3e-4);
        Close.To(-21.2535280, control.LogLikelihood, 6e-8);
        Close.To(-21.3632501, control.BinomialLogLikelihood, 6e-8);
        Close.To(0.2194441, control.LikelihoodRatio, 2e-7);
        Close.To(0.0206, 1 / control.Concentration, 5e-5);
        var treated = BetaBinomialFit.MaximumLikelihood(Treated);
        Close.To(1.591195, treated.Alpha, 3e-6);
        Close.To(0.559049, treated.Beta, 3e-6);
        Close.To(0.74000675, treated.Mean, 1e-6);
        Close.To(2.150244, treated.Concentration, 5e-6);
        Close.To(-31.5316890, treated.LogLikelihood, 6e-8);
        Close.To(-44.3112969, treated.BinomialLogLikelihood, 6e-8);
        Close.To(25.5592158, treated.LikelihoodRatio, 2e-7);
        Close.To(0.4651, 1 / treated.Concentration, 5e-5);
    }

    /// <summary>Baseball, almost on the boundary: the surface is flat, so only the likelihood is held tightly. Computed with R 4.2.2.</summary>
    [Fact]
    public void MaximumLikelihood_near_the_boundary_equals_R()
    {
        var fit = BetaBinomialFit.MaximumLikelihood([.. Hits.Select(hits => (hits, 45))]);
        Close.To(-45.3438963, fit.LogLikelihood, 1e-6);
        Close.To(-45.3579333, fit.BinomialLogLikelihood, 1e-6);
        Close.To(0.0280741, fit.LikelihoodRatio, 2e-6);
        Close.To(793.24, fit.Concentration, 8);
        Close.To([210.551, 582.687], [fit.Alpha, fit.Beta], 6);
        Close.To(0.265432099, Hits.Sum() / 810.0, 5.1e-10);
        Close.To(0.272657, fit.Shrunken(18, 45), 2e-5);
        Close.To(0.259534, fit.Shrunken(7, 45), 2e-5);
    }

    /// <summary>Six groups of 5/10 differ less than chance: no finite maximum. Limits computed with R 4.2.2.</summary>
    [Fact]
    public void MaximumLikelihood_on_the_boundary_pools()
    {
        (int, int)[] groups = [.. Enumerable.Repeat((5, 10), 6)];
        var fit = BetaBinomialFit.MaximumLikelihood(groups);
        Assert.Equal(double.PositiveInfinity, fit.Concentration);
        Assert.Equal(0.5, fit.Mean);
        Close.To(-8.4122563, fit.LogLikelihood, 5.1e-8);
        Assert.Equal(0, fit.LikelihoodRatio);
        Assert.Equal(0.5, fit.Shrunken(9, 10));
        Assert.Equal((0.5, 0.5), fit.Interval(9, 10));
        // It rises to that limit for ever.
        var likelihood = new LotLikelihood(groups);
        foreach (var (m, log) in new[] { (1.0, -16.8245126), (10, -10.5664819), (100, -8.6995504), (1e3, -8.4421222), (1e4, -8.4152550), (1e6, -8.4122863) })
            Close.To(log, likelihood.Log(m / 2, m / 2) + likelihood.LogWays, 6e-8);
    }

    [Fact]
    public void MaximumLikelihood_of_one_sided_groups_pools()
    {
        Assert.Equal(1, BetaBinomialFit.MaximumLikelihood([(5, 5), (3, 3)]).Mean);
        Assert.Equal(0, BetaBinomialFit.MaximumLikelihood([(0, 5), (0, 3)]).Mean);
        Assert.Equal(double.PositiveInfinity, BetaBinomialFit.MaximumLikelihood([(0, 5)]).Concentration);
    }

    /// <summary>No point around the fit is better: random books, a grid around each.</summary>
    [Fact]
    public void MaximumLikelihood_is_a_maximum()
    {
        Gen.Select(Gen.Int[0, 30], Gen.Double[0, 1]).Array[2, 30].Holds(cases =>
        {
            (int, int)[] groups = [.. cases.Select(one => ((int)Math.Round(one.Item1 * one.Item2), one.Item1))];
            if (groups.Sum(group => group.Item2) == 0) return;
            var fit = BetaBinomialFit.MaximumLikelihood(groups);
            var likelihood = new LotLikelihood(groups);
            foreach (var mean in new[] { fit.Mean * 0.98, fit.Mean, 1 - (1 - fit.Mean) * 0.98 })
            {
                foreach (var concentration in new[] { 0.01, 1, 100, 1e5, fit.Concentration * 0.98, fit.Concentration * 1.02 })
                {
                    if (mean is <= 0 or >= 1 || double.IsInfinity(concentration)) continue;
                    Assert.True(likelihood.Log(mean * concentration, (1 - mean) * concentration) <= fit.LogKernel + 1e-7);
                }
            }
        });
    }

    /// <summary>By hand: α = β = 1, 3 of 4: (1+3)/(2+4) = 2/3.</summary>
    [Fact]
    public void Shrunken_by_hand() => Close.To(2.0 / 3, new BetaBinomialFit(0.5, 2).Shrunken(3, 4), 1e-15);

    [Fact]
    public void Impossible_groups_are_refused()
    {
        Assert.Throws<ArgumentException>(() => BetaBinomialFit.MaximumLikelihood([]));
        Assert.Throws<ArgumentException>(() => BetaBinomialFit.MaximumLikelihood([(0, 0)]));
        Assert.Throws<ArgumentException>(() => BetaBinomialFit.MaximumLikelihood([(6, 5)]));
        Assert.Throws<ArgumentException>(() => BetaBinomialFit.Moments([0.0, 1, 0, 1]));
        Assert.Throws<ArgumentOutOfRangeException>(() => BetaBinomialFit.Moments([0.5]));
        Assert.Throws<ArgumentOutOfRangeException>(() => new BetaBinomialFit(0.5, 2).Shrunken(5, 4));
    }

    private static (int, int)[] Pairs(string successes, string trials) =>
        [.. Numbers(successes).Zip(Numbers(trials))];

    private static IEnumerable<int> Numbers(string text) =>
        text.Split(',').Select(part => int.Parse(part, System.Globalization.CultureInfo.InvariantCulture));
}
