using Lepidary.Science.Costs;
using Lepidary.Science.Emergence;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Tests.Costs;

public class CostOddsTest
{
    /// <summary>By hand: 4 for a pupa, 8 of 10 emerge, counted on 10 days: 5 for a butterfly, 0.50 for a day.</summary>
    [Fact]
    public void Cost_by_hand()
    {
        var rate = EmergenceRate.Known(0.8);
        Assert.Equal(new UncertainCost(5, 5, 5), CostOdds.OfAButterfly(4, rate));
        var day = CostOdds.OfAButterflyDay(4, rate, 10, 0);
        Assert.Equal((0.5, 0.5, 0.5), (day.Low, day.Middle, day.High));
        // Life known to a factor alone: e^(±1.2816·0.2).
        var unsure = CostOdds.OfAButterflyDay(4, rate, 10, 0.2);
        Close.To(0.5 * Math.Exp(1.2815516 * 0.2), unsure.High, 1e-7);
        Close.To(0.5 * Math.Exp(-1.2815516 * 0.2), unsure.Low, 1e-7);
    }

    /// <summary>A rate between evenly likely 0 and 1 (Beta(1, 1)): its 1st and 9th tenth are 0.1 and 0.9.</summary>
    [Fact]
    public void Cost_of_an_unknown_rate_has_the_ends_of_the_rate()
    {
        var cost = CostOdds.OfAButterfly(1, new EmergenceRate(0.5, 2, double.PositiveInfinity));
        Close.To(1 / 0.9, cost.Low, 1e-9);
        Close.To(2, cost.Middle, 1e-12);
        Close.To(10, cost.High, 1e-7);
    }

    /// <summary>Draws of rate and life: 8 of 10 costs of a day lie within.</summary>
    [Fact]
    public void Cost_of_a_day_covers_as_it_says()
    {
        var random = new Random(11);
        var rate = EmergenceRate.FromTable(0.8);
        var cost = CostOdds.OfAButterflyDay(3, rate, 12, 0.25);
        var within = Enumerable.Range(0, 4000).Count(_ =>
        {
            var mean = SpecialFunctions.BetaQuantile(random.NextDouble(), rate.Mean * rate.Certainty, (1 - rate.Mean) * rate.Certainty);
            var days = 12 * Math.Exp(0.25 * SpecialFunctions.NormalQuantile(Math.Max(1e-12, random.NextDouble())));
            var drawn = 3 / (mean * days);
            return drawn >= cost.Low && drawn <= cost.High;
        });
        Close.To(0.8, within / 4000.0, 0.03);
    }
}
