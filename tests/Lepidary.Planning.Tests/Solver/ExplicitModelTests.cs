using Lepidary.Planning.Model;
using Lepidary.Planning.Report;
using Lepidary.Planning.Search;
using Lepidary.Planning.Tests.Instances;
using Xunit;

namespace Lepidary.Planning.Tests.Solver;

public sealed class ExplicitModelTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("lepidary-planning-").FullName;

    public static TheoryData<int> Seeds => [.. Enumerable.Range(401, 40).Where(IsPlanned).Take(12)];

    public void Dispose() => Directory.Delete(folder, true);

    [Theory]
    [MemberData(nameof(Seeds))]
    public void WriteWhole_smallProblem_hasTheSameOptimumInOtherSolvers(int seed)
    {
        var problem = Tiny.Random(seed);
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
    private static bool IsPlanned(int seed)
    {
        var problem = Tiny.Random(seed);
        return Clashes.Plain(problem).Count == 0 && problem.Offers.Count > 3 && problem.Aims.Count > 2
            && Planner.Propose(problem).Plan is { Lines.Count: > 1 };
    }
}
