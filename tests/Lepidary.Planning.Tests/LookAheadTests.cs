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

    /// <summary>By hand: 1 - (1 - 0.6)(1 - 0.5 · 0.4) = 0.68; (0.6 · 3 + 0.2 · 5) / 0.8 = 3.50.</summary>
    [Fact]
    public void Later_ofTwoSuppliers_isTheChanceOfEitherAtThePriceWeighedByChance()
    {
        static SupplierOutlook Of(string name, double listChance, decimal price, params double[] onList) =>
            new() { Supplier = name, Listed = 3, Lists = 6, ListChance = listChance, OnList = onList, OnNextList = (0.2, 0.8), Landed = new(price - 1, price, price + 1) };
        var outlook = new ListingOutlook("Morpho helenor", [Of("Quillfeather Pupae", 1, 3, 0.6, 0.5), Of("Brackenfold", 0.5, 5, 0.4)]);

        Assert.Equal(0.68, outlook.Later.WeeklyChance, 1e-12);
        Assert.Equal(3.5m, decimal.Round(outlook.Later.LandedPrice, 10));
        Assert.Equal(1 - (0.5 * 0.8), outlook.ChanceIn(7), 1e-12);
    }

    [Fact]
    public void Later_whereNobodyListsItAnyMore_hasTheLowestPriceAndNoChance()
    {
        var gone = new SupplierOutlook { Supplier = "Brackenfold", Listed = 0, Lists = 6, ListChance = 0, OnList = [0.4], OnNextList = (0, 1), Landed = new(4, 5, 6) };

        Assert.Equal(new(0, 5), new ListingOutlook("Morpho helenor", [gone, gone with { Supplier = "Mosswell", Landed = new(6, 7, 8) }]).Later);
    }
}
