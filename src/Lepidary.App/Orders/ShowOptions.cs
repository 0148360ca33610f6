using System.Globalization;
using Lepidary.App.Host;
using Lepidary.App.Words;
using Lepidary.Planning;

namespace Lepidary.App.Orders;

/// <summary>One order among several, worded.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Difference">How it differs from the proposal; empty for the proposal.</param>
/// <param name="Take">The address that makes it the proposal; null for the proposal.</param>
internal sealed record OptionRow(string Name, string Landed, int Pupae, string From, string Met, string Difference, string? Take);

/// <summary>A wish's chance on its worst day, with each of the orders.</summary>
internal sealed record OptionWish(string Words, IReadOnlyList<double?> Chances);

/// <summary>What the last one of a wish costs, and the wish raised.</summary>
/// <param name="Last">What one less would save; a dash where it changes nothing or saves nothing.</param>
internal sealed record RaisedWish(string Words, string Last, int From, int To, string Dearer, string Sentence);

internal sealed record OptionsView
{
    public required string Headline { get; init; }

    public required string Lead { get; init; }

    public IReadOnlyList<OptionRow> Orders { get; init; } = [];

    public IReadOnlyList<OptionWish> Wishes { get; init; } = [];

    public string Money { get; init; } = "";

    public IReadOnlyList<RaisedWish> Raised { get; init; } = [];

    /// <summary>How far the reckoning is, in words; empty once it is done.</summary>
    public string StillReckoning { get; init; } = "";

    /// <summary>The order's own page, with what the keeper settled.</summary>
    public string Back { get; init; } = "/order";
}

/// <summary>What else could I order, and what would a wish more cost?</summary>
internal sealed class ShowOptions(ProposeFromBook propose, OptionsMemory memory, HouseDay day)
{
    /// <param name="rules">What the keeper settled about lines.</param>
    /// <param name="patience">How long to wait; then what is reckoned is shown.</param>
    /// <param name="cancellation">Leaves the reckoning running.</param>
    public async Task<OptionsView> Show(IReadOnlyList<string> rules, TimeSpan patience, CancellationToken cancellation)
    {
        var back = "/order" + (rules.Count == 0 ? "" : "?" + string.Join('&', rules.Select(Line)));
        var begun = await propose.Begin(rules, ShowOrder.OnThePage, cancellation);
        if (!begun.IsGood)
        {
            return new OptionsView { Headline = "The order can't be made yet", Lead = string.Join(' ', begun.Problems), Back = back };
        }

        var reckoning = memory.Begin(begun.Value.Search);
        await Task.WhenAny(reckoning.Work, Task.Delay(patience, cancellation));
        cancellation.ThrowIfCancellationRequested();
        var done = reckoning.Work.IsCompleted;
        if (done)
        {
            await reckoning.Work;
        }

        if (!begun.Value.Search.Outcome.IsCompleted || begun.Value.Search.Outcome.Result.Plan is not { } plan)
        {
            return done
                ? new OptionsView { Headline = "There is no order to set others beside", Lead = "The page Order says why.", Back = back }
                : new OptionsView { Headline = "Looking for an order", Lead = "Others are set beside it once it is found.", StillReckoning = "The order itself is still looked for.", Back = back };
        }

        var others = reckoning.Others;
        var (prices, aims) = (reckoning.Prices, begun.Value.Task.Problem.Aims);
        Plan[] plans = [plan, .. others?.Select(other => other.Outcome.Plan!) ?? []];
        return new OptionsView
        {
            Headline = others is null ? "Other orders are being reckoned" : others.Count switch { 0 => "No other order is worth a look", 1 => "One other order", var many => $"{many} other orders" },
            Lead = others is { Count: 0 } ? "One supplier only, a cheaper order and the best show for the budget all come to the proposal itself." : "Each beside the proposal, on the same lists, wishes and budget.",
            Orders = [Row("the proposal", "", plan, null), .. others?.Select(other => Row(other.Name, other.Sentence, other.Outcome.Plan!, Take(other.Outcome.Plan!))) ?? []],
            Wishes = [.. plan.Aims.Select(aim => new OptionWish(aim.Words, [.. plans.Select(one => Worst(one, aim.Aim))]))],
            Money = reckoning.Money?.Sentence ?? "",
            Raised = [.. prices.Select(price => Raised(price, reckoning.LastUnit(price.Aim), aims.Single(aim => aim.Id == price.Aim)))],
            StillReckoning = done ? "" : others is null ? "Other orders are still looked for." : $"{prices.Count} of {aims.Count} wishes are reckoned.",
            Back = back,
        };
    }

    private static double? Worst(Plan plan, string aim) =>
        plan.Aims.Single(odds => odds.Aim == aim).Days is { Count: > 0 } days ? days.Min(one => one.With) : null;

    private static string Take(Plan plan) =>
        "/order?" + string.Join('&', plan.Lines.GroupBy(line => line.Offer).Select(line => $"{line.Key}={line.Sum(one => one.Pupae)}").Append(LineRules.NothingElse).Select(Line));

    private static string Line(string rule) => "line=" + Uri.EscapeDataString(rule);

    private OptionRow Row(string name, string difference, Plan plan, string? take) => new(
        name,
        MoneyWords.Sum(plan.Total, day.Currency),
        plan.Lines.Sum(line => line.Pupae),
        plan.Orders.Count == 0 ? "nobody" : string.Join(", ", plan.Orders.Select(order => order.Supplier).Distinct()),
        $"{plan.Aims.Count(aim => aim.DaysMet == aim.Days.Count)} of {plan.Aims.Count}",
        difference,
        take);

    private static RaisedWish Raised(WishPrice price, WishPrice? last, Aim aim) => new(
        aim.Words,
        last is { Dearer: < 0 } ? MoneyWords.Plain(-last.Dearer) : "–",
        price.From,
        price.To,
        price.Dearer.ToString("+0.00;\u22120.00;0.00", CultureInfo.InvariantCulture),
        Met(price, aim.Id));

    private static string Met(WishPrice price, string aim) =>
        price.Outcome.Plan!.Aims.Single(odds => odds.Aim == aim) is var odds && odds.Days.Count == 1
            ? ChanceWords.Picture(odds.Days[0].With)
            : $"{odds.DaysMet} of {odds.Days.Count} days";
}
