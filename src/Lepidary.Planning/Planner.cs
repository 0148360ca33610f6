using System.Diagnostics;
using Lepidary.Planning.Model;
using Lepidary.Planning.Report;
using Lepidary.Planning.Search;
using Lepidary.Planning.Seasons;

namespace Lepidary.Planning;

/// <summary>Proposes orders.</summary>
public static class Planner
{
    private const double WritingTakes = 6, MostReserved = 0.1;

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
        return Search(Settlement.Of(problem), null, clock, progress, cancel);
    }

    /// <summary>
    /// Plans again after suppliers answered: confirmed, shortened, substituted and refused lines stay as answered, the rest is planned around
    /// them. What is settled is paid and counts in carriage, budget, places and odds; where it breaks a limit by itself, the limit holds
    /// for nothing beyond it and <see cref="PlanOutcome.Notes"/> say so.
    /// </summary>
    /// <param name="problem">The problem as it was planned, with today's stock and day.</param>
    /// <param name="before">The plan that was ordered; the search begins from it.</param>
    /// <param name="settled">The answers. Lines of <paramref name="before"/> without an answer are free to change.</param>
    /// <param name="takeNoMore">Suppliers to whom nothing may be added, or null.</param>
    /// <param name="progress">Told of each better order as it is found.</param>
    /// <param name="cancel">Ends the search; the best order so far is kept.</param>
    /// <returns>The outcome, as of <see cref="Propose"/>.</returns>
    public static PlanOutcome Replan(
        PlanProblem problem, Plan before, IReadOnlyList<SettledLine> settled, IReadOnlyCollection<string>? takeNoMore = null,
        IProgress<PlanProgress>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(problem);
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(settled);
        var clock = Stopwatch.StartNew();
        var again = After(problem, before, settled, takeNoMore);
        var faults = ProblemCheck.Of(again);
        return faults.Count > 0 ? Without(PlanStatus.BadInput, faults, problem, clock) : Search(Settlement.Of(again), before, clock, progress, cancel);
    }

    // The order alone, without its odds and reasons, which nobody reads in a season that is played.
    internal static (PlanOutcome Outcome, IReadOnlyList<OrderedLine> Lines) Order(PlanProblem problem, CancellationToken cancel)
    {
        var clock = Stopwatch.StartNew();
        var faults = ProblemCheck.Of(problem);
        if (faults.Count > 0)
            return (Without(PlanStatus.BadInput, faults, problem, clock), []);
        IReadOnlyList<OrderedLine> lines = [];
        var outcome = Search(Settlement.Of(problem), null, clock, null, cancel, (model, pupae) =>
            lines = [.. model.Items.Where(i => pupae[i.Index] > 0).Select(i => new OrderedLine(i.Offer.Id, pupae[i.Index], i.Slot.Arrives))]);
        return (outcome, lines);
    }

    // A search that begins from an order of nearly the same problem.
    internal static PlanOutcome Improve(PlanProblem problem, Plan before, CancellationToken cancel) => Replan(problem, before, [], cancel: cancel);

    /// <summary>The problem that <see cref="Replan"/> plans, for whoever wants to judge its plan.</summary>
    public static PlanProblem After(PlanProblem problem, Plan before, IReadOnlyList<SettledLine> settled, IReadOnlyCollection<string>? takeNoMore = null)
    {
        ArgumentNullException.ThrowIfNull(problem);
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(settled);
        int? Asked(SettledLine line) => before.Lines.Where(l => l.Offer == line.Offer && l.Arrives == line.Arrives).Select(l => (int?)l.Pupae).FirstOrDefault();
        return problem with
        {
            Settled = [.. problem.Settled, .. settled.Select(s => s.Asked is null ? s with { Asked = Asked(s) } : s)],
            Suppliers = takeNoMore is null ? problem.Suppliers : [.. problem.Suppliers.Select(s => takeNoMore.Contains(s.Name) ? s with { TakesNoMore = true } : s)],
        };
    }

    private static PlanOutcome Search(
        PlanProblem problem, Plan? before, Stopwatch clock, IProgress<PlanProgress>? progress, CancellationToken cancel, Action<PlanModel, int[]>? takesOrder = null)
    {
        var clashes = Clashes.Plain(problem);
        if (clashes.Count > 0)
            return Without(PlanStatus.Infeasible, clashes, problem, clock);

        var model = ModelBuilder.Build(problem);
        var built = clock.Elapsed.TotalSeconds;
        // Odds and reasons take some times what the model took: they end within the limit, too.
        var reserve = takesOrder is null ? Math.Min(MostReserved * problem.Settings.Seconds, WritingTakes * built) : 0;
        using var search = new BranchAndPrice(
            model, clock, progress is null ? null : Tell, start: before is null ? null : PupaeOf(model, before), reserve: reserve, cancel: cancel);
        var found = search.Run();
        if (found.Pupae is null && !found.TimeRanOut && !found.Stopped)
            return Without(PlanStatus.Infeasible, Clashes.Hidden(problem), problem, clock);

        var writing = clock.Elapsed.TotalSeconds;
        if (found.Pupae is not null)
            takesOrder?.Invoke(model, found.Pupae);
        var plan = found.Pupae is null || takesOrder is not null ? null : Explain.Write(model, found.Pupae, !found.TimeRanOut && !found.Stopped);
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
            Notes = Clashes.OfSettled(model),
            Problems = found.Pupae is null ? ["The search ended before it found an order that keeps every limit."] : [],
        };

        void Tell(int[] pupae, double objective, double bound) =>
            progress.Report(new(Money.Of(model, pupae), objective, bound, clock.Elapsed.TotalSeconds));
    }

    internal static int[] PupaeOf(PlanModel model, Plan plan)
    {
        var ordered = plan.Lines.ToDictionary(l => (l.Offer, l.Arrives), l => l.Pupae);
        return [.. model.Items.Select(i => ordered.GetValueOrDefault((i.Offer.Id, i.Slot.Arrives)))];
    }

    private static double Nothing(PlanModel model)
    {
        // What is settled is there anyway.
        var nothing = model.Objective([.. model.Items.Select(i => i.IsSettled ? i.Choices[0] : 0)]);
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
