using Lepidary.Planning.Tests.Instances;
using Xunit;

namespace Lepidary.Planning.Tests;

public class PlanOptionsTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static (PlanProblem Problem, PlanOutcome Proposal) Week()
    {
        var problem = PlannedWeek.Public();
        problem = problem with { Budget = 400 };
        return (problem, Planner.Propose(problem, cancel: Cancel));
    }

    [Fact]
    public void Of_publicWeek_showsOneSupplierCheaperAndBestShow()
    {
        var (problem, proposal) = Week();
        var options = PlanOptions.Of(problem, proposal, Cancel);
        var single = Assert.Single(options, o => o.Name == "one supplier only").Outcome.Plan!;
        Assert.Single(single.Orders.Select(o => o.Supplier).Distinct());
        Assert.True(proposal.Plan!.Orders.Count > 1);
        var cheaper = Assert.Single(options, o => o.Name == "a cheaper one").Outcome.Plan!;
        Assert.True(cheaper.Total < proposal.Plan.Total);
        Assert.All(options, o => Assert.Empty(PlanChecker.Check(problem, o.Outcome.Plan!)));
        Assert.All(options, o => Assert.EndsWith(".", o.Sentence, StringComparison.Ordinal));
    }

    [Fact]
    public void Of_noPlan_isNone() =>
        Assert.Empty(PlanOptions.Of(PlannedWeek.Public(), new PlanOutcome { Status = PlanStatus.Infeasible }, Cancel));

    [Fact]
    public void PriceOf_morePairs_isDearer()
    {
        var (problem, _) = PlanCheckerTests.Week();
        problem = problem with { Aims = [new BreedingAim { Id = "pair", Words = "a pair", Taxon = "Papilio memnon", Pairs = 1, Sure = 0.9 }], Settings = problem.Settings with { Gap = 0 } };
        var proposal = Planner.Propose(problem, cancel: Cancel);
        var price = PlanOptions.PriceOf(problem, proposal, "pair", 2, Cancel)!;
        Assert.True(price.Dearer > 0);
        Assert.Equal((1, 2), (price.From, price.To));
        Assert.Equal(price.Outcome.Plan!.Total - proposal.Plan!.Total, price.Dearer);
        Assert.Contains("2 instead of 1", price.Sentence, StringComparison.Ordinal);
        Assert.True(price.Outcome.Plan.Aims[0].Days[0].With >= 0.9);
    }

    [Fact]
    public void LastUnits_ofEachWish_tellWhatOneLessSaves()
    {
        var (problem, _) = PlanCheckerTests.Week();
        problem = problem with { Aims = [.. problem.Aims, new BreedingAim { Id = "pair", Words = "a pair", Taxon = "Papilio memnon", Pairs = 1, Sure = 0.99 }] };
        var proposal = Planner.Propose(problem, cancel: Cancel);
        var prices = PlanOptions.LastUnits(problem, proposal, Cancel);
        Assert.Equal(problem.Aims.Select(a => a.Id), prices.Select(p => p.Aim));
        var blue = prices[0];
        Assert.Equal((8, 7), (blue.From, blue.To));
        Assert.True(blue.Dearer < 0);
        Assert.Equal(blue.Outcome.Plan!.Total - proposal.Plan!.Total, blue.Dearer);
        Assert.StartsWith("8 blue: one less saves ", blue.Sentence, StringComparison.Ordinal);
        Assert.Equal(0, prices[2].To);
        Assert.StartsWith("a pair: giving the wish up ", prices[2].Sentence, StringComparison.Ordinal);
        Assert.All(prices, p => Assert.True(p.Outcome.Objective <= proposal.Objective + 1e-6));
    }

    [Fact]
    public void WorthOf_moreBudget_bringsMore()
    {
        var (problem, proposal) = Week();
        var worth = PlanOptions.WorthOf(problem, proposal, 100, Cancel)!;
        Assert.True(worth.Outcome.Objective < proposal.Objective);
        Assert.InRange(worth.Spent, 0, 100.01m);
        Assert.StartsWith("100.00 GBP more would bring ", worth.Sentence, StringComparison.Ordinal);
        var free = problem with { Budget = null };
        var unbound = Planner.Propose(free, cancel: Cancel);
        var more = PlanOptions.WorthOf(free, unbound, 10, Cancel)!;
        Assert.InRange(more.Spent, 0, 10.01m);
        Assert.StartsWith("10.00 GBP more would bring ", more.Sentence, StringComparison.Ordinal);
        Assert.Null(PlanOptions.WorthOf(free, new() { Status = PlanStatus.Infeasible }, 10, Cancel));
    }
}
