using Lepidary.Planning.Report;
using Lepidary.Planning.Tests.Instances;
using Xunit;

namespace Lepidary.Planning.Tests.Report;

public sealed class OddsTests
{
    public static TheoryData<int> Seeds => [.. Enumerable.Range(5401, 12)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Of_lessALine_equalsTheOddsOfAnOrderWithoutIt(int seed)
    {
        if (Planner.Propose(Tiny.Full(seed), cancel: TestContext.Current.CancellationToken).Plan is { } plan)
            Compare(Tiny.Full(seed), plan);
    }

    [Fact]
    public void Of_lessALineOfAPublicHouse_equalsTheOddsOfAnOrderWithoutIt()
    {
        var problem = PlannedWeek.Public();
        problem = problem with { Settings = problem.Settings with { Nodes = 1 } };
        var plan = Planner.Propose(problem, cancel: TestContext.Current.CancellationToken).Plan;
        Assert.NotNull(plan);
        Assert.True(plan.Lines.Count > 3);
        Compare(problem, plan with { Lines = [.. plan.Lines.Take(4)] });
    }

    private static void Compare(PlanProblem problem, Plan plan)
    {
        const double rounding = 1e-12;
        var odds = new Odds(problem, plan.Lines);
        foreach (var line in plan.Lines)
        {
            var without = new Odds(problem, [.. plan.Lines.Where(l => l != line)]);
            foreach (var aim in problem.Aims)
            {
                foreach (var (less, direct) in odds.Of(aim, line).Days.Zip(without.Of(aim).Days))
                {
                    Assert.Equal(direct.With, less.With, rounding);
                    Assert.Equal(direct.Without, less.Without, rounding);
                    Assert.Equal(direct.MeanWith, less.MeanWith, 1e-9);
                }
            }
        }
    }
}
