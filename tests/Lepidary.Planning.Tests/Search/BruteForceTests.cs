using System.Diagnostics;
using Lepidary.Planning.Model;
using Lepidary.Planning.Report;
using Lepidary.Planning.Search;
using Lepidary.Planning.Tests.Instances;
using Xunit;

namespace Lepidary.Planning.Tests.Search;

public class BruteForceTests
{
    public static TheoryData<int> Seeds => [.. Enumerable.Range(1, 150)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Propose_tinyProblem_isAsGoodAsTryingEveryOrder(int seed)
    {
        var problem = Tiny.Random(seed);
        var outcome = Planner.Propose(problem, cancel: TestContext.Current.CancellationToken);
        Assert.NotEqual(PlanStatus.BadInput, outcome.Status);
        if (Clashes.Plain(problem).Count > 0)
        {
            Assert.Equal(PlanStatus.Infeasible, outcome.Status);
            return;
        }

        var best = Best(ModelBuilder.Build(problem));
        if (double.IsInfinity(best))
        {
            Assert.Equal(PlanStatus.Infeasible, outcome.Status);
            return;
        }

        Assert.Equal(PlanStatus.Proven, outcome.Status);
        Assert.Equal(best, outcome.Objective, 1e-5 * (1 + Math.Abs(best)));
        Assert.True(outcome.Bound <= best + (1e-5 * (1 + Math.Abs(best))), $"bound {outcome.Bound} above {best}");
        Assert.True(outcome.Bound >= best - (1e-4 * (1 + Math.Abs(best))), $"bound {outcome.Bound} below {best}");
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Propose_tinyProblemWithEveryTerm_isAsGoodAsTryingEveryOrderAndPassesTheChecker(int seed)
    {
        var problem = Tiny.Full(seed + 5000);
        var outcome = Planner.Propose(problem, cancel: TestContext.Current.CancellationToken);
        Assert.NotEqual(PlanStatus.BadInput, outcome.Status);
        if (Clashes.Plain(problem).Count > 0)
        {
            Assert.Equal(PlanStatus.Infeasible, outcome.Status);
            return;
        }

        var best = Best(ModelBuilder.Build(problem));
        if (double.IsInfinity(best))
        {
            Assert.Equal(PlanStatus.Infeasible, outcome.Status);
            return;
        }

        Assert.Equal(PlanStatus.Proven, outcome.Status);
        Assert.Equal(best, outcome.Objective, 1e-5 * (1 + Math.Abs(best)));
        Assert.Empty(PlanChecker.Check(problem, outcome.Plan!));
        foreach (var line in outcome.Plan!.Lines.Where(l => l.Gain is not null))
            Assert.True(line.Gain >= -0.01m, $"{line.Offer} would better be left out by {-line.Gain}");
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Run_branchingToTheEnd_isAsGoodAsTryingEveryOrder(int seed)
    {
        var problem = Tiny.Random(seed + 1000);
        if (Clashes.Plain(problem).Count > 0)
            return;
        var model = ModelBuilder.Build(problem);
        using var search = new BranchAndPrice(model, Stopwatch.StartNew(), mostListed: 0, cancel: TestContext.Current.CancellationToken);
        var found = search.Run();
        var best = Best(model);
        Assert.Equal(double.IsInfinity(best), found.Infeasible);
        if (found.Infeasible)
            return;
        Assert.Equal(best, found.Objective, 1e-5 * (1 + Math.Abs(best)));
        Assert.Equal(best, model.Objective(found.Pupae), 1e-5 * (1 + Math.Abs(best)));
    }

    internal static double Best(PlanModel model)
    {
        var pupae = model.Items.Select(i => i.Choices[0]).ToArray();
        var place = new int[pupae.Length];
        var best = double.PositiveInfinity;
        while (true)
        {
            best = Math.Min(best, model.Objective(pupae));
            var at = 0;
            while (at < place.Length && place[at] + 1 == model.Items[at].Choices.Length)
            {
                place[at] = 0;
                pupae[at] = model.Items[at].Choices[0];
                at++;
            }

            if (at == place.Length)
                return best;
            pupae[at] = model.Items[at].Choices[++place[at]];
        }
    }
}
