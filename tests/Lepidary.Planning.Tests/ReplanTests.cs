using Lepidary.Planning.Model;
using Lepidary.Planning.Tests.Instances;
using Lepidary.Planning.Tests.Search;
using Xunit;

namespace Lepidary.Planning.Tests;

public class ReplanTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public static TheoryData<int> Seeds => [.. Enumerable.Range(2001, 80)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Replan_tinyOrderAnsweredAtRandom_isTheBestAroundTheAnswers(int seed)
    {
        var problem = Tiny.Random(seed);
        if (Planner.Propose(problem, cancel: Cancel).Plan is not { Lines.Count: > 0 } before)
            return;
        var random = new Random(seed);
        var answers = before.Lines.Where(_ => random.Next(4) > 0).SelectMany(l => Answer(l, problem, random)).ToList();
        string[] closed = random.Next(3) == 0 ? [before.Orders[0].Supplier] : [];
        // What the keeper set for a line gives way to what the supplier answers.
        var free = problem with { Rules = [.. problem.Rules.Where(r => closed.Length == 0 && answers.All(a => a.Offer != r.Offer))] };
        var outcome = Planner.Replan(free, before, answers, closed, cancel: Cancel);
        Assert.Equal(PlanStatus.Proven, outcome.Status);
        var after = Planner.After(free, before, answers, closed);
        Assert.Empty(PlanChecker.Check(after, outcome.Plan!));
        Assert.All(answers.Where(a => a.Pupae > 0), a => Assert.Contains(outcome.Plan!.Lines, l => l.Settled && l.Pupae == a.Pupae && l.Arrives == a.Arrives && l.Offer.StartsWith(a.Offer, StringComparison.Ordinal)));
        Assert.All(outcome.Plan!.Lines.Where(l => closed.Contains(l.Supplier)), l => Assert.True(l.Settled));
        var best = BruteForceTests.Best(ModelBuilder.Build(after));
        Assert.Equal(best, outcome.Objective, 1e-5 * (1 + Math.Abs(best)));
    }

    private static IEnumerable<SettledLine> Answer(PlanLine line, PlanProblem problem, Random random)
    {
        var plain = new SettledLine(line.Offer, line.Arrives, line.Pupae);
        switch (random.Next(5))
        {
            case 0:
                yield return plain;
                break;
            case 1:
                yield return plain with { Pupae = line.Pupae / 2 };
                break;
            case 2:
                yield return plain with { Pupae = 0 };
                break;
            case 3:
                yield return plain with { Instead = problem.Taxa.First(t => t.Name != line.Taxon).Name, UnitPrice = 1.25m };
                break;
            default:
                yield return plain with { Pupae = line.Pupae / 2 };
                yield return plain with { Pupae = line.Pupae - (line.Pupae / 2), Instead = problem.Taxa.First(t => t.Name != line.Taxon).Name };
                break;
        }
    }

    private static (PlanProblem Problem, Plan Before, PlanLine Blue) Ordered()
    {
        var (problem, before) = PlanCheckerTests.Week();
        return (problem, before, before.Lines.Single(l => l.Offer == "q1"));
    }

    [Fact]
    public void Replan_shortenedLine_isKeptAndTheRestMakesUpForIt()
    {
        var (problem, before, blue) = Ordered();
        problem = problem with { Offers = [.. problem.Offers, new() { Id = "a2", Supplier = "Amberwing Farm", Taxon = blue.Taxon, Price = 3.4m, Available = 30 }] };
        var outcome = Planner.Replan(problem, before, [new("q1", blue.Arrives, 7)], cancel: Cancel);
        var line = outcome.Plan!.Lines.Single(l => l.Offer == "q1");
        Assert.True(line.Settled);
        Assert.Equal(7, line.Pupae);
        Assert.Equal($"Quillfeather Pupae sends 7 of {blue.Pupae}.", line.Reason);
        Assert.Contains(outcome.Plan.Lines, l => l.Offer == "a2" && l.Pupae > 0);
        Assert.Empty(PlanChecker.Check(Planner.After(problem, before, [new("q1", blue.Arrives, 7)]), outcome.Plan));
    }

    [Fact]
    public void Replan_substitute_comesAsAnotherTaxonAtItsPrice()
    {
        var (problem, before, blue) = Ordered();
        var answer = new SettledLine("q1", blue.Arrives, 12) { Instead = "Papilio memnon", UnitPrice = 2.05m };
        var outcome = Planner.Replan(problem, before, [answer], ["Quillfeather Pupae"], cancel: Cancel);
        var line = outcome.Plan!.Lines.Single(l => l.Supplier == "Quillfeather Pupae");
        Assert.Equal(("Papilio memnon", 12, 2.05m, 24.60m), (line.Taxon, line.Pupae, line.UnitPrice, line.Goods));
        Assert.Equal("Quillfeather Pupae sends it instead of Morpho helenor.", line.Reason);
    }

    [Fact]
    public void Replan_everythingConfirmed_changesNothing()
    {
        var (problem, before, _) = Ordered();
        var outcome = Planner.Replan(problem, before, [.. before.Lines.Select(l => new SettledLine(l.Offer, l.Arrives, l.Pupae))], [.. problem.Suppliers.Select(s => s.Name)], cancel: Cancel);
        Assert.Equal(before.Total, outcome.Plan!.Total);
        Assert.Equal(before.Lines.Select(l => (l.Offer, l.Pupae)), outcome.Plan.Lines.Select(l => (l.Offer, l.Pupae)));
        Assert.All(outcome.Plan.Lines, l => Assert.EndsWith("has confirmed it.", l.Reason, StringComparison.Ordinal));
        Assert.Equal(PlanStatus.Proven, outcome.Status);
    }

    [Fact]
    public void Replan_refused_saysThatTheSupplierDoesNotSendIt()
    {
        var (problem, before, blue) = Ordered();
        var outcome = Planner.Replan(problem, before, [new("q1", blue.Arrives, 0)], cancel: Cancel);
        Assert.DoesNotContain(outcome.Plan!.Lines, l => l.Offer == "q1");
        var left = outcome.Plan.LeftOut.Single(l => l.Aim == "blue");
        Assert.Equal(LeftOutKind.Refused, left.Kind);
        Assert.EndsWith("The supplier does not send it.", left.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Replan_settledOverBudgetPlacesAndLicence_isPlannedAroundAndNoted()
    {
        var (problem, before, blue) = Ordered();
        problem = problem with { Budget = 30, CagePlaces = 5, Taxa = [.. problem.Taxa.Select(t => t with { MostPupae = 4 })] };
        var outcome = Planner.Replan(problem, before, [new("q1", blue.Arrives, 20)], cancel: Cancel);
        Assert.Equal(PlanStatus.Proven, outcome.Status);
        Assert.Equal("q1", Assert.Single(outcome.Plan!.Lines).Offer);
        // 20 at 2.90 and 24 carriage, with 20 % tax, at 0.86.
        Assert.Contains("What is settled costs 84.62 GBP landed; the budget is 30.00. Nothing is added to it that costs more.", outcome.Notes);
        Assert.Contains("Morpho helenor: 20 pupae are settled, but at most 4 may come.", outcome.Notes);
        Assert.Contains(outcome.Notes, n => n.Contains("20 pupae need places, but of 5 only 5 are free", StringComparison.Ordinal));
    }

    [Fact]
    public void Replan_answersThatCannotBe_areNamed()
    {
        var (problem, before, blue) = Ordered();
        var outcome = Planner.Replan(problem, before, [new("zz", blue.Arrives, 3), new("q1", Tiny.Day.AddDays(-3), -1) { Instead = "Nomen nudum", UnitPrice = -2 }], cancel: Cancel);
        Assert.Equal(PlanStatus.BadInput, outcome.Status);
        foreach (var part in new[] { "offer zz, which is not there", "-1 pupae", "at -2", "Nomen nudum comes instead", "belongs to the stock" })
            Assert.Contains(outcome.Problems, p => p.Contains(part, StringComparison.Ordinal));
    }

    [Fact]
    public void Check_planThatForgetsAnAnswer_findsIt()
    {
        var (problem, before, blue) = Ordered();
        var answered = Planner.After(problem, before, [new("q1", blue.Arrives, 7)]);
        Assert.Contains(PlanChecker.Check(answered, before), f => f.Contains("answered with 7", StringComparison.Ordinal));
        Assert.Contains(PlanChecker.Check(answered, before), f => f.Contains("beside what was answered", StringComparison.Ordinal));
    }
}
