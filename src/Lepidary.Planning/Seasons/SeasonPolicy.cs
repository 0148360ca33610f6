namespace Lepidary.Planning.Seasons;

/// <summary>What a keeper knows on an order day of a season.</summary>
/// <param name="Problem">
/// The house on that day: this week's offers, what hangs and flies, the aims on the open days that are left, and what later lists are likely to hold.
/// </param>
/// <param name="Week">From 0.</param>
/// <param name="LastDay">Last day of the season.</param>
public sealed record SeasonWeek(PlanProblem Problem, int Week, DateOnly LastDay);

/// <summary>One line of an order.</summary>
/// <param name="Offer">Id of the offer.</param>
/// <param name="Pupae">At least 1.</param>
/// <param name="Arrives">Day on which it arrives, or null for the supplier's first.</param>
public sealed record OrderedLine(string Offer, int Pupae, DateOnly? Arrives = null);

/// <summary>A way of ordering.</summary>
public abstract class SeasonPolicy
{
    /// <summary>Short name.</summary>
    public abstract string Name { get; }

    /// <summary>What is ordered in a week; within every limit of the lists and terms.</summary>
    /// <param name="week">What is known.</param>
    /// <param name="cancel">Ends the search for it.</param>
    public abstract IReadOnlyList<OrderedLine> Order(SeasonWeek week, CancellationToken cancel);
}

/// <summary>Orders nothing: what the season costs without any order.</summary>
public sealed class OrderNothing : SeasonPolicy
{
    /// <inheritdoc/>
    public override string Name => "nothing";

    /// <inheritdoc/>
    public override IReadOnlyList<OrderedLine> Order(SeasonWeek week, CancellationToken cancel) => [];
}

/// <summary>Orders what it was told, by week; for a past season what was really ordered.</summary>
public sealed class OrderAsTold(string name, IReadOnlyList<IReadOnlyList<OrderedLine>> weeks) : SeasonPolicy
{
    /// <inheritdoc/>
    public override string Name => name;

    /// <inheritdoc/>
    public override IReadOnlyList<OrderedLine> Order(SeasonWeek week, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(week);
        return week.Week < weeks.Count ? weeks[week.Week] : [];
    }
}

/// <summary>The planner, week by week.</summary>
/// <param name="name">Short name.</param>
/// <param name="days">Days ahead on which wishes count.</param>
/// <param name="weeksAhead">Later order weeks that it reckons with; 0 plans as if this were the last order.</param>
/// <param name="settings">How long and how near it searches; what a missing butterfly is worth stays the house's.</param>
public sealed class OrderByPlan(string name, int days, int weeksAhead, PlanSettings settings) : SeasonPolicy
{
    /// <summary>Plans each week as if it were the last.</summary>
    /// <param name="settings">How long and how near it searches.</param>
    public static OrderByPlan Myopic(PlanSettings settings) => new("this week's plan", 18, 0, settings);

    /// <summary>Plans with the lists of later weeks in mind.</summary>
    /// <param name="settings">How long and how near it searches.</param>
    public static OrderByPlan LookAhead(PlanSettings settings) => new("the plan that looks ahead", 28, 4, settings);

    /// <inheritdoc/>
    public override string Name => name;

    /// <summary>Told of each week's search: how near it came and what it took.</summary>
    public Action<PlanOutcome>? Planned { get; set; }

    /// <inheritdoc/>
    public override IReadOnlyList<OrderedLine> Order(SeasonWeek week, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(week);
        var problem = Problem(week);
        var (outcome, lines) = Planner.Order(problem, cancel);
        Planned?.Invoke(outcome);
        cancel.ThrowIfCancellationRequested();
        if (outcome.Status == PlanStatus.BadInput)
            throw new InvalidOperationException(string.Join(" ", outcome.Problems));
        return lines;
    }

    internal PlanProblem Problem(SeasonWeek week)
    {
        var problem = week.Problem;
        var last = problem.OrderDay.AddDays(days);
        if (last > week.LastDay)
            last = week.LastDay;
        var arrives = problem.Suppliers.SelectMany(s => s.Arrives).DefaultIfEmpty(problem.OrderDay.AddDays(2)).Min();
        return problem with
        {
            HorizonDays = Math.Max(1, last.DayNumber - problem.OrderDay.DayNumber),
            Aims = [.. problem.Aims.Where(a => a is not DayAim d || (d.From ?? problem.OrderDay) <= last)
                .Select(a => a is DayAim d ? d with { To = d.To is { } to && to < last ? to : last } : a)],
            LaterArrivals = [.. Enumerable.Range(1, weeksAhead).Select(w => arrives.AddDays(7 * w)).Where(d => d <= week.LastDay)],
            Taxa = weeksAhead > 0 ? problem.Taxa : [.. problem.Taxa.Select(t => t with { Later = null })],
            Settings = settings with { WorthOfOneShort = problem.Settings.WorthOfOneShort },
        };
    }
}
