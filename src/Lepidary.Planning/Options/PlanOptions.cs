using System.Globalization;

namespace Lepidary.Planning;

/// <summary>Another order that a keeper may want to see beside the proposal.</summary>
/// <param name="Name">What it is: <c>one supplier only</c>.</param>
/// <param name="Sentence">How it differs from the proposal, in a sentence.</param>
/// <param name="Outcome">The order.</param>
public sealed record PlanOption(string Name, string Sentence, PlanOutcome Outcome);

/// <summary>What it costs to wish for more or less.</summary>
/// <param name="Aim">Id of the aim.</param>
/// <param name="From">Number wished now.</param>
/// <param name="To">Number wished instead.</param>
/// <param name="Dearer">Landed cost more than the proposal's, house currency; below 0 when less.</param>
/// <param name="Sentence">The same in a sentence.</param>
/// <param name="Outcome">The order for the other number.</param>
public sealed record WishPrice(string Aim, int From, int To, decimal Dearer, string Sentence, PlanOutcome Outcome);

/// <summary>What some more money would bring.</summary>
/// <param name="More">How much more, house currency.</param>
/// <param name="Spent">How much of it the order would take.</param>
/// <param name="Sentence">What it would bring, in a sentence.</param>
/// <param name="Outcome">The order with the larger budget.</param>
public sealed record MoneyWorth(decimal More, decimal Spent, string Sentence, PlanOutcome Outcome);

/// <summary>Orders beside the proposal: the nearest alternatives, and the price of the last unit of each wish.</summary>
public static class PlanOptions
{
    // What a butterfly short counts for when the keeper would rather save, or rather show.
    private const decimal Thrifty = 1 / 4m;
    private const decimal Generous = 10;
    private const int ShortSearch = 2;

    /// <summary>
    /// One supplier only, a cheaper one (a butterfly short counts a quarter), the best show for the budget (it counts tenfold): each where it differs from the proposal. Options are planned to half a
    /// hundredth, which is quicker.
    /// </summary>
    /// <param name="problem">The problem.</param>
    /// <param name="proposal">Its outcome; without a plan there are no options.</param>
    /// <param name="cancel">Ends the search; the options so far are kept.</param>
    public static IReadOnlyList<PlanOption> Of(PlanProblem problem, PlanOutcome proposal, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(problem);
        ArgumentNullException.ThrowIfNull(proposal);
        if (proposal.Plan is not { } plan)
            return [];
        var quick = Quick(problem);
        var options = new List<PlanOption>();
        void Add(string name, PlanOutcome? outcome)
        {
            if (outcome?.Plan is { } other && !Same(plan, other))
                options.Add(new(name, Difference(problem, plan, other), outcome));
        }

        var used = plan.Orders.Select(o => o.Supplier).Distinct().ToList();
        if (used.Count > 1)
        {
            var alone = used.Select(only => Planner.Propose(
                    quick with { Suppliers = [.. problem.Suppliers.Select(s => s.Name == only ? s : s with { Avoided = true })] }, cancel: cancel))
                .Where(o => o.Plan is not null).ToList();
            Add("one supplier only", alone.MinBy(o => o.Objective));
        }

        PlanProblem Worth(decimal factor) => quick with { Settings = quick.Settings with { WorthOfOneShort = Model.ModelBuilder.WorthOf(problem) * factor } };
        // A search that stops within its gap may come out dearer by a little.
        if (Planner.Propose(Worth(Thrifty), cancel: cancel) is { Plan: { } thrifty } cheaper && thrifty.Total < plan.Total)
            Add("a cheaper one", cheaper);
        Add("the best show for the budget", Planner.Propose(Worth(Generous), cancel: cancel));
        return options;
    }

    /// <summary>What another number for one aim would cost.</summary>
    /// <param name="problem">The problem.</param>
    /// <param name="proposal">Its outcome, with a plan.</param>
    /// <param name="aim">Id of the aim.</param>
    /// <param name="number">The other number: butterflies, species or pairs; at least 1.</param>
    /// <param name="cancel">Ends the search.</param>
    /// <returns>The price, or null when there is no order for it.</returns>
    public static WishPrice? PriceOf(PlanProblem problem, PlanOutcome proposal, string aim, int number, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(problem);
        ArgumentNullException.ThrowIfNull(proposal);
        ArgumentOutOfRangeException.ThrowIfLessThan(number, 1);
        var wish = problem.Aims.Single(a => a.Id == aim);
        var now = wish is BreedingAim breeding ? breeding.Pairs : ((DayAim)wish).AtLeast;
        if (proposal.Plan is not { } before || Planner.Improve(Quick(WithNumber(problem, aim, number)), before, cancel) is not { Plan: { } plan } outcome)
            return null;
        var dearer = plan.Total - before.Total;
        var met = plan.Aims.Single(a => a.Aim == aim);
        var was = before.Aims.Single(a => a.Aim == aim);
        var sentence = string.Create(CultureInfo.InvariantCulture, $"{number} instead of {now} ({wish.Words}): {Money(dearer, problem)}, and met on {met.DaysMet} of {met.Days.Count} days ({was.DaysMet} now).");
        return new(aim, now, number, dearer, sentence, outcome);
    }

    /// <summary>
    /// What the last unit of each wish costs: for every aim in turn the order for one less of it, found from the proposal, so that the
    /// difference is that unit's and not the search's.
    /// </summary>
    /// <param name="problem">The problem.</param>
    /// <param name="proposal">Its outcome; without a plan there are no prices.</param>
    /// <param name="cancel">Ends the search; the prices so far are kept.</param>
    /// <returns>One price for each aim, in their order; <see cref="WishPrice.To"/> is one less than wished now, 0 where the wish is given up.</returns>
    public static IReadOnlyList<WishPrice> LastUnits(PlanProblem problem, PlanOutcome proposal, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(problem);
        ArgumentNullException.ThrowIfNull(proposal);
        return [.. problem.Aims.TakeWhile(_ => !cancel.IsCancellationRequested).Select(aim => LastUnitOf(problem, proposal, aim.Id, cancel)).OfType<WishPrice>()];
    }

    /// <summary>What the last unit of one wish costs, as in <see cref="LastUnits"/>.</summary>
    /// <param name="problem">The problem.</param>
    /// <param name="proposal">Its outcome.</param>
    /// <param name="aim">Id of the aim.</param>
    /// <param name="cancel">Ends the search.</param>
    /// <returns>The price, or null without a plan.</returns>
    public static WishPrice? LastUnitOf(PlanProblem problem, PlanOutcome proposal, string aim, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(problem);
        ArgumentNullException.ThrowIfNull(proposal);
        var wish = problem.Aims.Single(a => a.Id == aim);
        var number = wish is BreedingAim breeding ? breeding.Pairs : ((DayAim)wish).AtLeast;
        if (proposal.Plan is not { } before || Planner.Improve(Short(WithNumber(problem, aim, number - 1)), before, cancel) is not { Plan: { } plan } outcome)
            return null;
        var saved = before.Total - plan.Total;
        var what = number == 1 ? $"{wish.Words}: giving the wish up" : Invariant($"{wish.Words}: one less");
        var sentence = Same(before, plan) ? $"{what} changes nothing in the order."
            : saved > 0 ? Invariant($"{what} saves {saved:0.00} {problem.Currency}.")
            : $"{what} saves nothing; the money goes to other wishes.";
        return new(aim, number, number - 1, -saved, sentence, outcome);
    }

    /// <summary>What some more budget would bring; without a budget, what that much more than the proposal costs would.</summary>
    /// <param name="problem">The problem.</param>
    /// <param name="proposal">Its outcome, with a plan.</param>
    /// <param name="more">How much more, house currency; above 0.</param>
    /// <param name="cancel">Ends the search.</param>
    /// <returns>The worth, or null without a plan.</returns>
    public static MoneyWorth? WorthOf(PlanProblem problem, PlanOutcome proposal, decimal more, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(problem);
        ArgumentNullException.ThrowIfNull(proposal);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(more);
        if (proposal.Plan is not { } before)
            return null;
        // Where no budget binds, the order is as large as it pays: what more would buy is seen by letting butterflies count for more.
        var richer = problem.Spendable is { } budget
            ? problem with { Budget = budget + more, SeasonBudget = null }
            : problem with { Budget = before.Total + more, Settings = problem.Settings with { WorthOfOneShort = Model.ModelBuilder.WorthOf(problem) * Generous } };
        var outcome = Planner.Improve(richer, before, cancel);
        if (outcome.Plan is not { } plan)
            return null;
        var gain = Same(before, plan) || Gains(before, plan) is not { Length: > 0 } found ? "nothing that counts" : found;
        var spent = Math.Max(0, plan.Total - before.Total);
        return new(more, spent, string.Create(CultureInfo.InvariantCulture, $"{more:0.00} {problem.Currency} more would bring {gain}."), outcome);
    }

    // The worth of one short stays what it is.
    private static PlanProblem WithNumber(PlanProblem problem, string aim, int number) => problem with
    {
        Aims = [.. problem.Aims.Where(a => a.Id != aim || number > 0).Select(a => a.Id != aim ? a : a switch
        {
            BreedingAim b => b with { Pairs = number },
            DayAim d => d with { AtLeast = number },
            _ => a,
        })],
        Settings = problem.Settings with { WorthOfOneShort = Model.ModelBuilder.WorthOf(problem) },
    };

    // A few steps are enough to find what one unit changes.
    private static PlanProblem Short(PlanProblem problem) => problem with { Settings = problem.Settings with { Nodes = ShortSearch, Seconds = Math.Min(5, problem.Settings.Seconds) } };

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private static PlanProblem Quick(PlanProblem problem) => problem with
    {
        Settings = problem.Settings with { Gap = Math.Max(0.005, problem.Settings.Gap), Seconds = Math.Min(5, problem.Settings.Seconds) },
    };

    private static bool Same(Plan one, Plan other) =>
        one.Lines.Select(l => (l.Offer, l.Arrives, l.Pupae)).ToHashSet().SetEquals(other.Lines.Select(l => (l.Offer, l.Arrives, l.Pupae)));

    private static string Money(decimal difference, PlanProblem problem) => difference == 0 ? "at the same cost"
        : string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(difference):0.00} {problem.Currency} {(difference > 0 ? "dearer" : "cheaper")}");

    private static string Difference(PlanProblem problem, Plan now, Plan other)
    {
        var (gained, lost) = (Gains(now, other), Gains(other, now));
        var days = gained.Length + lost.Length == 0 ? "the same days are met"
            : gained.Length == 0 ? $"gives up {lost}" : lost.Length == 0 ? $"brings {gained}" : $"brings {gained}; gives up {lost}";
        return string.Create(CultureInfo.InvariantCulture, $"{Capital(Money(other.Total - now.Total, problem))}, {other.Orders.Count} deliver{(other.Orders.Count == 1 ? "y" : "ies")}; {days}.");
    }

    // What one plan has over another: days on which a wish is met; else the largest rise of a chance.
    private static string Gains(Plan before, Plan after)
    {
        var more = before.Aims.Zip(after.Aims).Where(p => p.Second.DaysMet > p.First.DaysMet)
            .Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.Second.DaysMet - p.First.DaysMet} more day{(p.Second.DaysMet - p.First.DaysMet == 1 ? "" : "s")} of {p.Second.Words}")).ToList();
        if (more.Count > 0)
            return string.Join(", ", more);
        var best = before.Aims.Zip(after.Aims).SelectMany(p => p.First.Days.Zip(p.Second.Days, (b, a) => (p.Second.Words, a.Day, Rise: a.With - b.With, a.With)))
            .DefaultIfEmpty().MaxBy(x => x.Rise);
        return best.Rise < 0.01 ? "" : string.Create(CultureInfo.InvariantCulture, $"{best.Rise * 100:0} in a hundred more for {best.Words} on {best.Day:ddd d MMM}");
    }

    private static string Capital(string words) => char.ToUpperInvariant(words[0]) + words[1..];
}
