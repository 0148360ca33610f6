using System.Diagnostics;
using Lepidary.Planning.Model;
using Lepidary.Planning.Report;
using Lepidary.Planning.Search;

namespace Lepidary.Planning;

/// <summary>Proposes orders.</summary>
public static class Planner
{
    /// <summary>
    /// The order that meets the aims as far as limits and worth allow, at least landed cost, over every combination of lines and numbers.
    /// Minimises landed cost plus what is short, each in the house's currency; docs/planning.md has the formulas.
    /// </summary>
    /// <param name="problem">The problem; nothing of it is changed.</param>
    /// <param name="progress">Told of each better order as it is found.</param>
    /// <param name="cancel">Ends the search; the best order so far is kept.</param>
    /// <returns>The outcome; a problem that is wrong or has no order is an outcome too, never an exception.</returns>
    public static PlanOutcome Propose(PlanProblem problem, IProgress<PlanProgress>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(problem);
        var clock = Stopwatch.StartNew();
        var faults = ProblemCheck.Of(problem);
        if (faults.Count > 0)
            return Without(PlanStatus.BadInput, faults, problem, clock);
        var clashes = Clashes.Plain(problem);
        if (clashes.Count > 0)
            return Without(PlanStatus.Infeasible, clashes, problem, clock);

        var model = ModelBuilder.Build(problem);
        var built = clock.Elapsed.TotalSeconds;
        using var search = new BranchAndPrice(model, clock, progress is null ? null : Tell, cancel: cancel);
        var found = search.Run();
        if (found.Pupae is null && !found.TimeRanOut && !found.Stopped)
            return Without(PlanStatus.Infeasible, Clashes.Hidden(problem), problem, clock);

        var writing = clock.Elapsed.TotalSeconds;
        var plan = found.Pupae is null ? null : Explain.Write(model, found.Pupae);
        var spent = new List<TimeSpent> { new("model", built) };
        spent.AddRange(search.Spent.Select(s => new TimeSpent(s.Key, s.Value)));
        spent.Add(new("odds and reasons", clock.Elapsed.TotalSeconds - writing));
        return new()
        {
            Status = found.TimeRanOut ? PlanStatus.TimeRanOut : found.Stopped ? PlanStatus.Feasible : PlanStatus.Proven,
            Plan = plan,
            Objective = found.Pupae is null ? double.NaN : found.Objective,
            Bound = found.Bound,
            NothingOrdered = Nothing(model),
            Seed = problem.Settings.Seed,
            Seconds = clock.Elapsed.TotalSeconds,
            Nodes = found.Nodes,
            TimeSpent = spent,
            Problems = found.Pupae is null ? ["The search ended before it found an order that keeps every limit."] : [],
        };

        void Tell(int[] pupae, double objective, double bound) =>
            progress.Report(new(Money.Of(model, pupae), objective, bound, clock.Elapsed.TotalSeconds));
    }

    private static double Nothing(PlanModel model)
    {
        var nothing = model.Objective(new int[model.Items.Count]);
        return double.IsInfinity(nothing) ? double.NaN : nothing;
    }

    private static PlanOutcome Without(PlanStatus status, IReadOnlyList<string> why, PlanProblem problem, Stopwatch clock) => new()
    {
        Status = status,
        Problems = why,
        Seed = problem.Settings.Seed,
        Seconds = clock.Elapsed.TotalSeconds,
    };
}
