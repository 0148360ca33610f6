using CsCheck;
using Lepidary.Planning.Tests.Instances;
using Lepidary.Science.Emergence;
using Xunit;

namespace Lepidary.Planning.Tests;

public class PlannerTests
{
    private const double Same = 1e-4;

    private static readonly Gen<int> Seed = Gen.Int[1, 100_000];

    private static PlanOutcome Propose(PlanProblem problem) => Planner.Propose(problem, cancel: TestContext.Current.CancellationToken);

    private static double Objective(PlanProblem problem)
    {
        var outcome = Propose(problem);
        return outcome.Plan is null ? double.PositiveInfinity : outcome.Objective;
    }

    private static bool NoBetter(double tighter, double looser) => double.IsPositiveInfinity(tighter) || tighter >= looser - (Same * (1 + Math.Abs(looser)));

    [Fact]
    public void Propose_moreBudget_isNeverWorse() => Seed.Sample(
        seed =>
        {
            var problem = Tiny.Random(seed) with { Budget = 20 };
            return NoBetter(Objective(problem), Objective(problem with { Budget = 35 })) && NoBetter(Objective(problem with { Budget = 35 }), Objective(problem with { Budget = null }));
        }, iter: 60, seed: "0000KdbYNe2Q1");

    [Fact]
    public void Propose_lineForbidden_isNeverBetter() => Seed.Sample(
        seed =>
        {
            var problem = Tiny.Random(seed) with { Rules = [] };
            return problem.Offers.Count == 0
                || NoBetter(Objective(problem with { Rules = [new(problem.Offers[seed % problem.Offers.Count].Id, LineRuleKind.Forbidden)] }), Objective(problem));
        }, iter: 60, seed: "0000KdbYNe2Q1");

    [Fact]
    public void Propose_higherAim_isNeverCheaper() => Seed.Sample(
        seed =>
        {
            // The worth of one short must not move with the aim, so it is fixed.
            var problem = Tiny.Random(seed);
            problem = problem with { Settings = problem.Settings with { WorthOfOneShort = 2 }, Aims = [.. problem.Aims.Where(a => a.Id == "a")] };
            var higher = problem with { Aims = [.. problem.Aims.Select(a => a is DisplayAim d ? d with { AtLeast = d.AtLeast + 1 } : a)] };
            return NoBetter(Objective(higher), Objective(problem));
        }, iter: 60, seed: "0000KdbYNe2Q1");

    [Fact]
    public void Propose_inputInAnotherOrder_givesTheSameOrder() => Seed.Sample(
        seed =>
        {
            var problem = Tiny.Random(seed);
            var turned = problem with
            {
                Suppliers = [.. problem.Suppliers.Reverse()],
                Offers = [.. problem.Offers.Reverse()],
                Taxa = [.. problem.Taxa.Reverse()],
                Aims = [.. problem.Aims.Reverse()],
            };
            var (one, other) = (Propose(problem), Propose(turned));
            return one.Status == other.Status && Lines(one) == Lines(other);
        }, iter: 60, seed: "0000KdbYNe2Q1");

    [Fact]
    public void Propose_sameSeedTwice_givesTheSameOrder()
    {
        var problem = PlannedWeek.Public();
        problem = problem with { Settings = problem.Settings with { Nodes = 3, Seconds = 600 } };
        var (one, other) = (Propose(problem), Propose(problem));
        Assert.Equal(Lines(one), Lines(other));
        Assert.Equal(one.Objective, other.Objective);
        Assert.Equal(one.Bound, other.Bound);
    }

    [Fact]
    public async Task Propose_sameSeedWhileTheMachineIsBusy_givesTheSameOrder()
    {
        // Without a limit of nodes: the search ends by its gap, and goes the same way however much else runs.
        var problem = PlannedWeek.Public() with { Settings = PlannedWeek.Public().Settings with { Gap = 0.01, Seconds = 600 } };
        var quiet = Propose(problem);
        using var end = new CancellationTokenSource();
        var busy = Enumerable.Range(0, 2).Select(_ => Task.Run(
            () =>
            {
                while (!end.IsCancellationRequested)
                    Thread.SpinWait(1000);
            }, TestContext.Current.CancellationToken)).ToArray();
        var loaded = Propose(problem);
        await end.CancelAsync();
        await Task.WhenAll(busy);
        Assert.Equal(PlanStatus.Proven, quiet.Status);
        Assert.Equal((quiet.Nodes, quiet.Objective, quiet.Bound, Lines(quiet)), (loaded.Nodes, loaded.Objective, loaded.Bound, Lines(loaded)));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    public void Propose_fewNodes_endsThereWithAnOrder(int nodes)
    {
        foreach (var problem in Enumerable.Range(1, 20).Select(seed => Tiny.Random(seed)).Append(PlannedWeek.Public()))
        {
            var outcome = Propose(problem with { Settings = problem.Settings with { Nodes = nodes, Seconds = 600 } });
            Assert.True(outcome.Nodes <= nodes);
            if (outcome.Plan is not { } plan)
                continue;
            Assert.Empty(PlanChecker.Check(problem, plan));
            Assert.True(outcome.Bound <= outcome.Objective + Same);
            Assert.True(outcome.Status == PlanStatus.Proven || outcome.Nodes == nodes);
        }
    }

    [Fact]
    public void Propose_noTime_keepsWhatThereIsAndSaysSo()
    {
        var problem = PlannedWeek.Public();
        var outcome = Propose(problem with { Settings = problem.Settings with { Seconds = 0 } });
        Assert.Equal(PlanStatus.TimeRanOut, outcome.Status);
        Assert.NotNull(outcome.Plan);
        Assert.Empty(PlanChecker.Check(problem, outcome.Plan));
    }

    [Fact]
    public void Propose_anyWeek_hasAnOrderBeforeAnythingIsProven()
    {
        var told = new List<PlanProgress>();
        var outcome = Planner.Propose(PlannedWeek.Public(), new Told(told.Add), TestContext.Current.CancellationToken);
        var first = told.First(p => p.Plan.Lines.Count > 0);
        Assert.True(double.IsNegativeInfinity(first.Bound));
        // Most of what there is to gain over ordering nothing is in it already.
        Assert.True(outcome.NothingOrdered - first.Objective > 0.8 * (outcome.NothingOrdered - outcome.Objective));
    }

    [Fact]
    public void Propose_cancelledAtTheFirstBetterOrder_keepsIt()
    {
        var problem = PlannedWeek.Public();
        using var cancel = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        var told = new List<PlanProgress>();
        var outcome = Planner.Propose(problem, new Told(p =>
        {
            told.Add(p);
            if (p.Plan.Lines.Count > 0)
                cancel.Cancel();
        }), cancel.Token);
        Assert.Equal(PlanStatus.Feasible, outcome.Status);
        Assert.NotEmpty(outcome.Plan!.Lines);
        Assert.True(outcome.Objective <= told[^1].Objective + Same);
        Assert.Empty(PlanChecker.Check(problem, outcome.Plan));
        // Nobody knows yet whether more would pay, and nothing may say so.
        Assert.DoesNotContain(outcome.Plan!.LeftOut, left => left.Sentence.Contains("More would cost more", StringComparison.Ordinal));
        Assert.Contains(outcome.Plan.LeftOut, left => left.Sentence.EndsWith("The search was ended before it was known whether more would pay.", StringComparison.Ordinal));
    }

    [Fact]
    public void Propose_progress_onlyGetsBetter()
    {
        var told = new List<PlanProgress>();
        var outcome = Planner.Propose(PlannedWeek.Public(), new Told(told.Add), TestContext.Current.CancellationToken);
        Assert.True(told.Count > 1);
        Assert.All(told.Zip(told.Skip(1)), pair => Assert.True(pair.Second.Objective < pair.First.Objective || pair.Second.Bound > pair.First.Bound));
        Assert.All(told.Zip(told.Skip(1)), pair => Assert.True(pair.Second.Objective <= pair.First.Objective && pair.Second.Bound >= pair.First.Bound));
        Assert.Equal(1, told[0].Gap);
        Assert.Contains(told, t => t.Gap is > 0 and < 0.2);
        Assert.All(told, t => Assert.True(t.Bound <= outcome.Objective + 1e-6));
        Assert.Equal(outcome.Objective, told[^1].Objective, 1e-6);
        Assert.Equal(outcome.Plan!.Total, told[^1].Plan.Total);
    }

    [Fact]
    public void Propose_nothingOfferedNothingWanted_isProvenEmpty()
    {
        var outcome = Propose(new() { OrderDay = Tiny.Day, Currency = "GBP", Suppliers = [], Offers = [], Taxa = [] });
        Assert.Equal(PlanStatus.Proven, outcome.Status);
        Assert.Empty(outcome.Plan!.Lines);
        Assert.Equal(0, outcome.Objective);
        Assert.Equal(0, outcome.Gap);
    }

    [Fact]
    public void Propose_aimThatCanBeAfforded_isMetOnItsDays()
    {
        var (problem, _) = PlanCheckerTests.Week();
        var plan = Propose(problem with { Aims = [.. problem.Aims.Cast<DayAim>().Select(a => a with { To = Tiny.Day.AddDays(14) })] }).Plan!;
        Assert.All(plan.Aims, aim => Assert.Equal(aim.Days.Count, aim.DaysMet));
        Assert.All(plan.Aims.SelectMany(a => a.Days), day => Assert.True(day.Without < day.With));
        Assert.Empty(plan.LeftOut);
        Assert.All(plan.Lines, line => Assert.NotEmpty(line.Reason));
    }

    [Fact]
    public void Propose_breedingAim_reachesItsSureness()
    {
        var (problem, _) = PlanCheckerTests.Week();
        problem = problem with { Aims = [new BreedingAim { Id = "pair", Words = "a pair of memnon", Taxon = "Papilio memnon", Pairs = 1, Sure = 0.95 }] };
        var plan = Propose(problem).Plan!;
        Assert.True(plan.Aims.Single().Days.Single().With >= 0.95);
        // One pupa fewer would not have done: the order is the smallest that is sure enough.
        var less = problem with { Rules = [.. plan.Lines.Select(l => new LineRule(l.Offer, LineRuleKind.AtMost, l.Pupae - 1)), .. problem.Offers.Where(o => plan.Lines.All(l => l.Offer != o.Id)).Select(o => new LineRule(o.Id, LineRuleKind.Forbidden))] };
        Assert.True(Propose(less).Plan!.Aims.Single().Days.Single().With < 0.95);
    }

    [Fact]
    public void Propose_badInput_saysEverythingAtOnce()
    {
        var (problem, _) = PlanCheckerTests.Week();
        var outcome = Propose(problem with
        {
            HorizonDays = 0,
            Budget = -1,
            Offers = [.. problem.Offers, problem.Offers[0], problem.Offers[0] with { Id = "x", Supplier = "Nobody", Price = -2, Pack = 0, Taxon = "Nomen nudum" }],
        });
        Assert.Equal(PlanStatus.BadInput, outcome.Status);
        Assert.Null(outcome.Plan);
        foreach (var part in new[] { "looks 0 days", "budget is -1", "q1 is there 2 times", "no supplier", "costs -2", "packs of 0", "no taxon" })
            Assert.Contains(outcome.Problems, p => p.Contains(part, StringComparison.Ordinal));
    }

    public static TheoryData<string, string> ClashNames => new()
    {
        { "over budget", "too much" },
        { "not kept", "may not keep it because it is on the house's list" },
        { "sold out", "it is sold out" },
        { "too few", "only 60 are there" },
        { "packs", "packs of 5" },
        { "cage", "only 3 are free" },
        { "minimum order", "minimum order of Quillfeather Pupae" },
        { "both", "both forbidden and wanted" },
    };

    [Theory]
    [MemberData(nameof(ClashNames))]
    public void Propose_wishesThatClash_areNamedInASentence(string clash, string expected)
    {
        var (problem, _) = PlanCheckerTests.Week();
        LineRule Fix(int pupae) => new("q1", LineRuleKind.Fixed, pupae);
        problem = clash switch
        {
            "over budget" => problem with { Rules = [Fix(60)], Budget = 100 },
            "not kept" => problem with { Rules = [Fix(20)], Taxa = [.. problem.Taxa.Select(t => t with { KeepNot = "it is on the house's list of taxa not to keep" })] },
            "sold out" => problem with { Rules = [Fix(20)], Offers = [.. problem.Offers.Select(o => o with { SoldOut = true })] },
            "too few" => problem with { Rules = [Fix(65)] },
            "packs" => problem with { Rules = [Fix(7)] },
            "cage" => problem with { Rules = [Fix(20)], CagePlaces = 3 },
            "minimum order" => problem with { Rules = [Fix(5), new("q2", LineRuleKind.Forbidden)] },
            _ => problem with { Rules = [Fix(20), new("q1", LineRuleKind.Forbidden)] },
        };
        var outcome = Propose(problem);
        Assert.Equal(PlanStatus.Infeasible, outcome.Status);
        Assert.Null(outcome.Plan);
        Assert.Contains(outcome.Problems, p => p.Contains(expected, StringComparison.Ordinal));
    }

    [Fact]
    public void Propose_fixedLines_overBudget_namesTheAmount()
    {
        var (problem, _) = PlanCheckerTests.Week();
        // 60 at 2.90 EUR and 24 EUR carriage, 20 % tax on both, at 0.86: 204.34; the budget is 170.14.
        var outcome = Propose(problem with { Rules = [new("q1", LineRuleKind.Fixed, 60)], Budget = 170.14m });
        Assert.Equal("The fixed lines cost 204.34 GBP landed; the budget is 170.14. That is 34.20 too much.", Assert.Single(outcome.Problems));
    }

    public static TheoryData<string, LeftOutKind> LeftOutNames => new()
    {
        { "no list", LeftOutKind.OnNoList },
        { "sold out", LeftOutKind.SoldOut },
        { "budget", LeftOutKind.OverBudget },
        { "own stock", LeftOutKind.OwnStockServes },
        { "not kept", LeftOutKind.NotToBeKept },
        { "no room", LeftOutKind.NoRoom },
        { "not worth it", LeftOutKind.NotWorthIt },
        { "too late", LeftOutKind.TooLate },
        { "forbidden", LeftOutKind.Forbidden },
    };

    [Theory]
    [MemberData(nameof(LeftOutNames))]
    public void Propose_wishLeftOut_saysWhy(string name, LeftOutKind expected)
    {
        var (problem, _) = PlanCheckerTests.Week();
        problem = problem with { Aims = [problem.Aims[0]] };
        problem = name switch
        {
            "no list" => problem with { Offers = [problem.Offers[1]] },
            "sold out" => problem with { Offers = [.. problem.Offers.Select(o => o with { SoldOut = o.Id == "q1" })] },
            "budget" => problem with { Budget = 40 },
            "own stock" => problem with { Taxa = [problem.Taxa[0] with { Stock = problem.Taxa[0].Stock with { Lots = [new(60, 0, EmergenceRate.Known(0.9), EmergenceTiming.FromWindow(5, 12), "own")] } }, problem.Taxa[1]] },
            "not kept" => problem with { Taxa = [problem.Taxa[0] with { KeepNot = "it is on the house's list of taxa not to keep" }, problem.Taxa[1]] },
            "no room" => problem with { CagePlaces = 23 },
            "not worth it" => problem with { Settings = problem.Settings with { WorthOfOneShort = 0.01m } },
            "too late" => problem with { Suppliers = [.. problem.Suppliers.Select(s => s with { Arrives = [Tiny.Day.AddDays(20)] })] },
            _ => problem with { Rules = [new("q1", LineRuleKind.Forbidden)] },
        };
        var outcome = Propose(problem);
        var left = Assert.Single(outcome.Plan!.LeftOut);
        Assert.Equal(expected, left.Kind);
        Assert.StartsWith("8 blue", left.Sentence, StringComparison.Ordinal);
        Assert.EndsWith(".", left.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Propose_severalFaults_inABudgetedWeek_neverPassTheBudget()
    {
        var problem = PlannedWeek.Public() with { Budget = 150 };
        var plan = Propose(problem with { Settings = problem.Settings with { Gap = 0.01 } }).Plan!;
        Assert.True(plan.Total <= 150.02m);
        Assert.Empty(PlanChecker.Check(problem, plan));
    }

    private static string Lines(PlanOutcome outcome) => outcome.Plan is null ? "none"
        : string.Join(";", outcome.Plan.Lines.Select(l => $"{l.Offer} {l.Arrives:O} {l.Pupae}").Order(StringComparer.Ordinal));

    private sealed class Told(Action<PlanProgress> tell) : IProgress<PlanProgress>
    {
        public void Report(PlanProgress value) => tell(value);
    }
}
