using Lepidary.Science.Inspection;
using Lepidary.Science.Tables;

namespace Lepidary.Science.Tests.Inspection;

public class PartialInspectionTest
{
    /// <summary>Computed with R 4.2.2.</summary>
    [Fact]
    public void AcceptanceChance_equals_R()
    {
        Close.To(
            [0.960752, 0.789247, 0.564069, 0.218645, 0.034886],
            [.. new[] { 10, 20, 30, 50, 80 }.Select(bad => PartialInspection.AcceptanceChance(1000, bad, 80, 2))],
            5.1e-7);
        // The binomial approximation of the same plan, to show what it is worth.
        Close.To(
            [0.953447, 0.784419, 0.568123, 0.230621, 0.040378],
            [.. new[] { 0.01, 0.02, 0.03, 0.05, 0.08 }.Select(share => CountDistribution.Binomial(80, share).AtMost(2))],
            5.1e-7);
        Close.To(
            [0.8, 0.636735, 0.504082, 0.396830, 0.310563],
            [.. Enumerable.Range(1, 5).Select(bad => PartialInspection.AcceptanceChance(50, bad, 10, 0))],
            5.1e-7);
    }

    /// <summary>Where the binomial plan n = 80, c = 2 accepts with 0.95 and 0.10. Computed with R 4.2.2.</summary>
    [Fact]
    public void Operating_curve_of_the_binomial_plan_equals_R()
    {
        Close.To(0.95, CountDistribution.Binomial(80, 0.01029780).AtMost(2), 1e-6);
        Close.To(0.10, CountDistribution.Binomial(80, 0.06515967).AtMost(2), 1e-6);
    }

    /// <summary>Computed with R 4.2.2.</summary>
    [Fact]
    public void Hypergeometric_equals_R()
    {
        Close.To([0.3193094, 0.4201440, 0.2073438, 0.0478486, 0.0051483, 0.0002059], Hypergeometric.Of(100, 5, 20).Masses, 5.1e-8);
        Close.To([0.1936920, 0.4402090, 0.2934727, 0.0677245, 0.0048375, 0.0000645], Hypergeometric.Of(20, 5, 5).Masses, 5.1e-8);
    }

    [Fact]
    public void Hypergeometric_mean_and_symmetry()
    {
        Gen.Select(Gen.Int[1, 300], Gen.Double[0, 1], Gen.Double[0, 1]).Holds((lot, badShare, sampleShare) =>
        {
            var (bad, sample) = ((int)(badShare * lot), (int)(sampleShare * lot));
            var counts = Hypergeometric.Of(lot, bad, sample);
            Close.To((double)bad * sample / lot, counts.Mean, 1e-9);
            Close.To(counts, Hypergeometric.Of(lot, sample, bad), 1e-12);
        });
    }

    /// <summary>Smallest samples that show a bad one with 95 %. Computed with R 4.2.2.</summary>
    [Theory]
    [InlineData(100, 1, 96)]
    [InlineData(100, 5, 45)]
    [InlineData(100, 10, 25)]
    [InlineData(500, 25, 56)]
    [InlineData(1000, 10, 258)]
    public void SampleToSeeOne_equals_R(int lot, int bad, int sample)
    {
        // One bad of 100: 95 looked at give 0.95 exactly, which is enough here; the printed 96 asks for more than 0.95, or is rounding.
        var expected = (lot, bad) == (100, 1) ? 95 : sample;
        Assert.Equal(expected, PartialInspection.SampleToSeeOne(lot, bad, 0.95));
        Assert.Equal(sample, PartialInspection.SampleToSeeOne(lot, bad, 0.95 + 1e-9));
    }

    /// <summary>100 in the box, 20 looked at, 1 bad. Computed with R 4.2.2.</summary>
    [Fact]
    public void RemainingBad_and_limits_equal_R()
    {
        var left = PartialInspection.RemainingBad(100, 20, 1);
        Close.To(7.272727273, left.Mean, 5.1e-10);
        Close.To(29.32087675, left.Variance, 5.1e-9);
        Close.To(0.04158415842, left[0], 5.1e-12);
        Assert.Equal(19, 1 + left.Quantile(0.95));
        Assert.Equal((1, 22), PartialInspection.BadLimits(100, 20, 1));
        // Nothing found: up to 12 bad ones leave a chance of 0.05 or more of seeing none.
        Assert.True(Hypergeometric.Of(100, 12, 20)[0] >= 0.05 && Hypergeometric.Of(100, 13, 20)[0] < 0.05);
    }

    /// <summary>A second way: Bayes' rule over every number of bad ones in the box.</summary>
    [Fact]
    public void RemainingBad_equals_direct_posterior()
    {
        var weights = Enumerable.Range(0, 101).Select(bad => Hypergeometric.Of(100, bad, 20)[1]).ToArray();
        var left = PartialInspection.RemainingBad(100, 20, 1);
        for (var more = 0; more <= 80; more++) Close.To(weights[more + 1] / weights.Sum(), left[more], 1e-12);
    }

    /// <summary>By hand: 2 of 4 bad, 2 looked at: none with 1/6.</summary>
    [Fact]
    public void AcceptanceChance_by_hand()
    {
        Close.To(1.0 / 6, PartialInspection.AcceptanceChance(4, 2, 2, 0), 1e-15);
        Assert.Equal((2, 2), PartialInspection.BadLimits(4, 4, 2));
        Assert.Equal(1, PartialInspection.SampleToSeeOne(4, 4, 1));
        Assert.Equal(3, PartialInspection.SampleToSeeOne(4, 2, 1));
    }

    /// <summary>Every box of up to 30 pupae, every number looked at, every number of bad ones: the chance that the limits hold the truth, summed over all that can be seen.</summary>
    [Theory]
    [InlineData(0.95)]
    [InlineData(0.8)]
    public void BadLimits_hold_the_truth_at_least_as_often_as_they_say(double level)
    {
        for (var lot = 1; lot <= 30; lot++)
        {
            for (var sample = 0; sample <= lot; sample++)
            {
                var limits = Enumerable.Range(0, sample + 1).Select(found => PartialInspection.BadLimits(lot, sample, found, level)).ToArray();
                for (var bad = 0; bad <= lot; bad++)
                {
                    var seen = Hypergeometric.Of(lot, bad, sample);
                    var held = Enumerable.Range(0, sample + 1).Where(found => limits[found].From <= bad && bad <= limits[found].To).Sum(found => seen[found]);
                    Assert.True(held >= level - 1e-9, $"{bad} bad of {lot}, {sample} looked at: held with {held}");
                }
            }
        }
    }

    [Fact]
    public void Impossible_boxes_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => PartialInspection.AcceptanceChance(4, 5, 2, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => PartialInspection.AcceptanceChance(4, 2, 5, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => PartialInspection.AcceptanceChance(4, 2, 2, -1));
        Assert.Throws<ArgumentOutOfRangeException>(() => PartialInspection.SampleToSeeOne(4, 0, 0.95));
        Assert.Throws<ArgumentOutOfRangeException>(() => PartialInspection.RemainingBad(4, 2, 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => PartialInspection.BadLimits(4, 2, 3));
    }
}
