using Lepidary.Planning.Tests.Instances;
using Lepidary.Science.Emergence;
using Lepidary.Taxa;
using Xunit;

namespace Lepidary.Planning.Tests;

/// <summary>What a list and a house can hold, each term in a small week worked out by hand.</summary>
public class TermsTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static PlanProblem Week() => PlanCheckerTests.Week().Problem;

    private static Plan Plan(PlanProblem problem)
    {
        var plan = Planner.Propose(problem, cancel: Cancel).Plan!;
        Assert.Empty(PlanChecker.Check(problem, plan));
        return plan;
    }

    private static PlanProblem With(PlanProblem problem, string offer, Func<PlanOffer, PlanOffer> change) =>
        problem with { Offers = [.. problem.Offers.Select(o => o.Id == offer ? change(o) : o)] };

    [Theory]
    [InlineData(BreakHolds.ForAll, 25, 72.5, 2.9)]
    [InlineData(BreakHolds.FromThere, 25, 76.3, 3.052)]
    [InlineData(BreakHolds.FromThere, 15, 46.5, 3.1)]
    public void Propose_priceFromANumber_holdsForAllOrFromThere(BreakHolds holds, int pupae, decimal goods, decimal each)
    {
        // From 20 on 2.90: all 25 at 2.90, or 19 at 3.10 and 6 at 2.90.
        var problem = With(Week(), "q1", o => o with { BreaksHold = holds }) with { Rules = [new("q1", LineRuleKind.Fixed, pupae)] };
        var line = Plan(problem).Lines.Single(l => l.Offer == "q1");
        Assert.Equal((goods, each), (line.Goods, line.UnitPrice));
    }

    [Fact]
    public void Propose_lineWithADayOfItsOwn_comesOnThatDayOnly()
    {
        var (first, second) = (Tiny.Day.AddDays(1), Tiny.Day.AddDays(4));
        var problem = Week();
        problem = problem with { Suppliers = [.. problem.Suppliers.Select(s => s.Name == "Quillfeather Pupae" ? s with { Arrives = [first, second] } : s)] };
        problem = With(With(problem, "q1", o => o with { Arrives = [second] }), "q2", o => o with { Arrives = [first] });
        problem = problem with { Rules = [new("q1", LineRuleKind.Fixed, 10), new("q2", LineRuleKind.Fixed, 10)] };
        var plan = Plan(problem);
        Assert.Equal(second, plan.Lines.Single(l => l.Offer == "q1").Arrives);
        Assert.Equal(first, plan.Lines.Single(l => l.Offer == "q2").Arrives);
        // Two deliveries, two carriages.
        Assert.Equal(2, plan.Orders.Count(o => o.Supplier == "Quillfeather Pupae" && o.Carriage == 24));
        Assert.Contains(PlanChecker.Check(With(problem, "q1", o => o with { Arrives = [first] }), plan), f => f.Contains("does not arrive on", StringComparison.Ordinal));
    }

    public static TheoryData<string> Closings => ["supplier's last day", "line's last day", "takes no more", "supplier closed", "nobody there"];

    [Theory]
    [MemberData(nameof(Closings))]
    public void Propose_ordersClosed_leavesTheLineOutAndSaysSo(string closing)
    {
        var problem = Week();
        problem = problem with { Aims = [problem.Aims[0]] };
        PlanProblem Supplier(Func<PlanSupplier, PlanSupplier> change) => problem with { Suppliers = [.. problem.Suppliers.Select(s => s.Name == "Quillfeather Pupae" ? change(s) : s)] };
        var open = Plan(problem);
        var closed = closing switch
        {
            "supplier's last day" => Supplier(s => s with { LastOrderDay = Tiny.Day.AddDays(-1) }),
            "line's last day" => With(problem, "q1", o => o with { LastOrderDay = Tiny.Day.AddDays(-1) }),
            "takes no more" => Supplier(s => s with { TakesNoMore = true }),
            "supplier closed" => Supplier(s => s with { ClosedDays = s.Arrives.ToList() }),
            _ => problem with { NoBoxesOn = [Tiny.Day.AddDays(1)] },
        };
        Assert.Contains(open.Lines, l => l.Offer == "q1");
        var plan = Plan(closed);
        Assert.DoesNotContain(plan.Lines, l => l.Offer == "q1");
        Assert.Equal(LeftOutKind.OrdersClosed, plan.LeftOut.Single(l => l.Aim == "blue").Kind);
        Assert.NotEmpty(PlanChecker.Check(closed, open));
        // On the last day itself it can still be ordered.
        Assert.Contains(Plan(Supplier(s => s with { LastOrderDay = Tiny.Day })).Lines, l => l.Offer == "q1");
    }

    [Fact]
    public void Propose_seasonBudget_bindsBesideTheWeeks()
    {
        var problem = Week();
        var free = Plan(problem);
        var tight = problem with { Budget = free.Total + 50, SeasonBudget = free.Total - 20 };
        var plan = Plan(tight);
        Assert.True(plan.Total <= free.Total - 20);
        Assert.Contains(plan.LeftOut, l => l.Sentence.Contains("What is left for the season goes to what is worth more", StringComparison.Ordinal));
        Assert.Contains(PlanChecker.Check(tight, free), f => f.Contains("the season has", StringComparison.Ordinal));
    }

    [Fact]
    public void Propose_fewerPlacesOnADay_ordersForThem()
    {
        var problem = Week() with { CagePlaces = 200 };
        var free = Plan(problem);
        // Nothing of a lot that came on day 1 has emerged by day 3, so all of it still hangs then.
        var tight = problem with { CagePlacesOn = new Dictionary<DateOnly, int> { [Tiny.Day.AddDays(3)] = 12 } };
        Assert.True(free.Lines.Sum(l => l.Pupae) > 12);
        Assert.True(Plan(tight).Lines.Sum(l => l.Pupae) <= 12);
        Assert.Contains(PlanChecker.Check(tight, free), f => f.Contains("there are 12 places", StringComparison.Ordinal));
        Assert.Empty(PlanChecker.Check(tight with { CagePlacesOn = new Dictionary<DateOnly, int> { [Tiny.Day.AddDays(3)] = 200 } }, free));
    }

    [Fact]
    public void Propose_newBlood_ordersThoughTheHouseHasPlenty()
    {
        var problem = Week();
        PlanProblem Aim(bool fresh) => problem with
        {
            Taxa = [.. problem.Taxa.Select(t => t.Name != "Papilio memnon" ? t : t with { Stock = t.Stock with { Lots = [new(60, 0, EmergenceRate.Known(0.9), EmergenceTiming.FromWindow(5, 12), "own")] } })],
            Aims = [new BreedingAim { Id = "pair", Words = "two pairs", Taxon = "Papilio memnon", Pairs = 2, Sure = 0.9, NewBlood = fresh }],
        };
        Assert.Empty(Plan(Aim(false)).Lines);
        var odds = Plan(Aim(true)).Aims.Single().Days.Single();
        Assert.True(odds is { With: >= 0.9, Without: 0, Met: true });
    }

    [Fact]
    public void Counts_bySelector_picksAtAnyRankAndByTag()
    {
        var table = TaxonTable.Shipped;
        AimOf Of(string text) => AimOf.By(TaxonSelector.Read(text, table).Value);
        var morpho = table.Of("Morpho helenor");
        foreach (var text in new[] { "Morpho peleides", "Morpho", "Nymphalidae", "Morphidae", "tag:blue" })
            Assert.True(Of(text).Counts(morpho), text);
        foreach (var text in new[] { "Papilio", "Papilionidae", "Morpho menelaus" })
            Assert.False(Of(text).Counts(morpho), text);
    }

    [Fact]
    public void Propose_mixThatMayHoldALicensedTaxon_isNotOrdered()
    {
        var problem = Week();
        problem = problem with { Offers = [.. problem.Offers, new() { Id = "mix", Supplier = "Amberwing Farm", Price = 0.1m, Text = "mixed", Mix = [new("Morpho helenor", 0.5), new("Papilio memnon", 0.5)] }] };
        problem = problem with { Aims = [problem.Aims[1]] };
        Assert.Contains(Plan(problem).Lines, l => l.Offer == "mix");
        Assert.DoesNotContain(Plan(problem with { Taxa = [.. problem.Taxa.Select(t => t.Name == "Morpho helenor" ? t with { MostPupae = 50 } : t)] }).Lines, l => l.Offer == "mix");
    }

    [Fact]
    public void Propose_supplierFavouredByLessThanNothing_isLeftForAnotherAtTheSamePrice()
    {
        var problem = Week();
        problem = problem with
        {
            Suppliers = [new() { Name = "A", Currency = "GBP", Arrives = [Tiny.Day.AddDays(1)], FavouredBy = -0.05 }, new() { Name = "B", Currency = "GBP", Arrives = [Tiny.Day.AddDays(1)] }],
            Offers = [new() { Id = "a", Supplier = "A", Taxon = "Papilio memnon", Price = 2 }, new() { Id = "b", Supplier = "B", Taxon = "Papilio memnon", Price = 2.05m }],
        };
        Assert.All(Plan(problem).Lines, l => Assert.Equal("B", l.Supplier));
        Assert.All(Plan(problem with { Suppliers = [.. problem.Suppliers.Select(s => s with { FavouredBy = 0 })] }).Lines, l => Assert.Equal("A", l.Supplier));
    }

    [Fact]
    public void Gain_ofALine_isWhatTheObjectiveLosesWithoutIt()
    {
        var problem = Week();
        var outcome = Planner.Propose(problem, cancel: Cancel);
        var line = outcome.Plan!.Lines.MaxBy(l => l.Gain)!;
        var rest = outcome.Plan.Lines.Where(l => l != line).Select(l => new LineRule(l.Offer, LineRuleKind.Fixed, l.Pupae));
        var none = problem.Offers.Where(o => outcome.Plan.Lines.All(l => l.Offer != o.Id) || o.Id == line.Offer).Select(o => new LineRule(o.Id, LineRuleKind.Forbidden));
        var without = Planner.Propose(problem with { Rules = [.. rest, .. none] }, cancel: Cancel);
        Assert.Equal(without.Objective - outcome.Objective, (double)line.Gain!.Value, 0.01);
        Assert.True(line.Gain > 0);
    }

    [Fact]
    public void Learn_mixCountedOut_addsCountsToShares()
    {
        // By hand: 10 pupae worth of (0.5, 0.3, rest unknown 0.2), then 12, 6 and 2 unknown seen: (5+12, 3+6)/30.
        var (shares, certainty) = MixShare.Learn([new("Morpho helenor", 0.5), new("Papilio memnon", 0.3)], 10, new Dictionary<string, int> { ["Morpho helenor"] = 12, ["Papilio memnon"] = 6, [""] = 2 });
        Assert.Equal(30, certainty);
        Assert.Equal([("Morpho helenor", 17 / 30.0), ("Papilio memnon", 0.3)], shares.Select(s => (s.Taxon, s.Share)));
    }

    [Fact]
    public void Propose_wrongTerms_areAllNamed()
    {
        var problem = With(Week(), "q1", o => o with { MixCertainty = 0, Arrives = [Tiny.Day.AddDays(9)] }) with
        {
            SeasonBudget = -1,
            CagePlacesOn = new Dictionary<DateOnly, int> { [Tiny.Day] = -2 },
        };
        var outcome = Planner.Propose(problem, cancel: Cancel);
        Assert.Equal(PlanStatus.BadInput, outcome.Status);
        foreach (var part in new[] { "season has -1", "have -2 places", "known from 0 pupae", "when no box of Quillfeather Pupae does" })
            Assert.Contains(outcome.Problems, p => p.Contains(part, StringComparison.Ordinal));
    }
}
