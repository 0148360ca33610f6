using Lepidary.Planning.Model;
using Lepidary.Planning.Report;
using Lepidary.Planning.Search;
using Lepidary.Planning.Tests.Instances;
using Xunit;

namespace Lepidary.Planning.Tests.Solver;

public sealed class ExplicitModelTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("lepidary-planning-").FullName;

    public static TheoryData<int> Seeds => [.. Enumerable.Range(401, 40).Where(s => IsPlanned(Tiny.Random(s))).Take(12)];

    public static TheoryData<int> FullSeeds => [.. Enumerable.Range(5401, 60).Where(s => IsPlanned(Tiny.Full(s))).Take(8)];

    public void Dispose() => Directory.Delete(folder, true);

    [Theory]
    [MemberData(nameof(Seeds))]
    public void WriteWhole_smallProblem_hasTheSameOptimumInOtherSolvers(int seed)
    {
        Compare(Tiny.Random(seed));
    }

    [Theory]
    [MemberData(nameof(FullSeeds))]
    public void WriteWhole_smallProblemWithEveryTerm_hasTheSameOptimumInOtherSolvers(int seed) => Compare(Tiny.Full(seed));

    private void Compare(PlanProblem problem)
    {
        var outcome = Planner.Propose(problem, cancel: TestContext.Current.CancellationToken);
        Assert.Equal(PlanStatus.Proven, outcome.Status);
        var model = ModelBuilder.Build(problem);
        var file = Path.Combine(folder, "week.mps");
        Master.WriteWhole(model, file);
        var tolerance = 1e-4 * (1 + Math.Abs(outcome.Objective));
        Assert.Equal(outcome.Objective, OtherSolver.Cbc(file) + model.Constant, tolerance);
        Assert.Equal(outcome.Objective, OtherSolver.Glpsol(file) + model.Constant, tolerance);
    }

    // One with an order to be found and more than one line, so that the comparison says something.
    private static bool IsPlanned(PlanProblem problem)
    {
        return Clashes.Plain(problem).Count == 0 && problem.Offers.Count > 3 && problem.Aims.Count > 2
            && Planner.Propose(problem).Plan is { Lines.Count: > 1 };
    }
}
