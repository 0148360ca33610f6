using Lepidary.Planning.Model;
using Lepidary.Planning.Tests.Instances;
using Xunit;

namespace Lepidary.Planning.Tests;

public class LookAheadTests
{
    private static readonly DateOnly Later = Tiny.Day.AddDays(8);

    private static PlanProblem Week(LaterOffers? later)
    {
        var (problem, _) = PlanCheckerTests.Week();
        return problem with
        {
            HorizonDays = 28,
            Taxa = [problem.Taxa[0] with { Later = later }, problem.Taxa[1]],
            LaterArrivals = [Later, Later.AddDays(7)],
            Aims = [new DisplayAim { Id = "blue", Words = "8 blue", Of = AimOf.Taxon("Morpho helenor"), AtLeast = 8, Sure = 0.9, From = Tiny.Day.AddDays(7), To = Tiny.Day.AddDays(26) }],
        };
    }

    [Fact]
    public void Worth_ofADayThatALaterOrderCanMend_isWhatMendingCosts()
    {
        var model = ModelBuilder.Build(Week(new(0.9, 4)));
        var plain = ModelBuilder.Build(Week(null));
        double Worth(PlanModel m, int day) => m.Blocks.Single(b => b.Wishes.Count > 0).Wishes.Single(w => w.Day == day).Worth;
        // The later box comes on day 8: nothing of it can fly on day 7.
        Assert.Equal(Worth(plain, 7), Worth(model, 7), 1e-12);
        // By day 26 nearly all of both later boxes that will emerge have: about 0.1 · 0.1 is the chance that neither week helps.
        var taxon = model.Problem.Taxa[0];
        double Emerged(int days) => taxon.Timing.Chances[..Math.Min(days + 1, taxon.Timing.LastDay + 1)].ToArray().Sum();
        var none = (1 - (0.9 * Emerged(26 - 8))) * (1 - (0.9 * Emerged(26 - 15)));
        Assert.Equal(0.01, none, 1e-3);
        var mending = 4 / (taxon.UsualRate.Mean * taxon.Stock.Survival.MeanDaysCounted);
        Assert.Equal((Worth(plain, 26) * none) + (mending * (1 - none)), Worth(model, 26), 1e-9);
        Assert.True(Worth(model, 14) > Worth(model, 26) && Worth(model, 14) < Worth(plain, 14));
    }

    [Fact]
    public void Propose_rareOffer_ordersMoreThanOneThatComesEveryWeek()
    {
        int Pupae(LaterOffers? later) => Planner.Propose(Week(later), cancel: TestContext.Current.CancellationToken).Plan!.Lines.Sum(l => l.Pupae);
        var (rare, often) = (Pupae(new(0.05, 4)), Pupae(new(0.95, 4)));
        Assert.True(rare > often, $"{rare} of the rare, {often} of the usual");
        Assert.True(Pupae(null) >= rare);
    }

    [Fact]
    public void FromWeeks_countsWeeksAndTakesTheMiddleOfTheLowestPrices()
    {
        var later = LaterOffers.FromWeeks([[3m, 2m], [], [4m], [5m, 6m], []])!;
        Assert.Equal((3 + 0.5) / 6, later.WeeklyChance, 1e-12);
        Assert.Equal(4m, later.LandedPrice);
        Assert.Null(LaterOffers.FromWeeks([[], []]));
    }
}
