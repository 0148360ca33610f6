using System.Globalization;
using Lepidary.App.Words;
using Lepidary.Planning;

namespace Lepidary.App.Orders;

/// <summary>A wish in one week, worded: means on its worst day.</summary>
internal sealed record AheadWish(string Words, int Wanted, string Firm, string Likely, string Day, bool Short);

/// <summary>A later order that is likely, worded.</summary>
internal sealed record AheadOrder(string Taxon, string Box, double Chance, int Pupae, string Each, string From, string For);

/// <summary>One week, worded.</summary>
/// <param name="Cost">What the likely orders cost on average; empty where there is none.</param>
internal sealed record AheadWeek(string Days, IReadOnlyList<AheadWish> Wishes, IReadOnlyList<AheadOrder> Orders, string Cost);

/// <summary>What is firm of one taxon, week by week.</summary>
internal sealed record FirmRow(string Taxon, IReadOnlyList<string> Weeks);

/// <summary>One offer, now or later.</summary>
internal sealed record NowOrLaterRow(string Taxon, string What, int Pupae, double ListedLater, string Words);

internal sealed record AheadView
{
    public required string Headline { get; init; }

    public required string Lead { get; init; }

    public IReadOnlyList<NowOrLaterRow> Offers { get; init; } = [];

    public IReadOnlyList<AheadWeek> Weeks { get; init; } = [];

    public IReadOnlyList<FirmRow> Firm { get; init; } = [];

    /// <summary>True where a later order is likely in any of the weeks.</summary>
    public bool HasLikely { get; init; }

    /// <summary>True while the order itself is still looked for.</summary>
    public bool Searching { get; init; }

    /// <summary>The order's own page, with what the keeper settled.</summary>
    public string Back { get; init; } = "/order";
}

/// <summary>What will the next four weeks bring, and what of this week's offers can wait?</summary>
internal sealed class ShowAhead(ProposeFromBook propose)
{
    /// <param name="rules">What the keeper settled about lines.</param>
    /// <param name="patience">How long to wait for the order.</param>
    /// <param name="cancellation">Leaves the search running.</param>
    public async Task<AheadView> Show(IReadOnlyList<string> rules, TimeSpan patience, CancellationToken cancellation)
    {
        var back = "/order" + (rules.Count == 0 ? "" : "?" + string.Join('&', rules.Select(rule => "line=" + Uri.EscapeDataString(rule))));
        var begun = await propose.Begin(rules, ShowOrder.OnThePage, cancellation);
        if (!begun.IsGood)
        {
            return new AheadView { Headline = "The weeks ahead can't be sketched yet", Lead = string.Join(' ', begun.Problems), Back = back };
        }

        var (input, task, search) = (begun.Value.Input, begun.Value.Task, begun.Value.Search);
        await Task.WhenAny(search.Outcome, Task.Delay(patience, cancellation));
        cancellation.ThrowIfCancellationRequested();
        if (!search.Outcome.IsCompleted)
        {
            return new AheadView { Headline = "Looking for an order", Lead = "The weeks after it are sketched once it is found.", Searching = true, Back = back };
        }

        if (search.Outcome.Result.Plan is not { } plan)
        {
            return new AheadView { Headline = "There is no order to look ahead from", Lead = "The page Order says why.", Back = back };
        }

        var sketch = PlanSketch.Of(task.Problem, plan, outlooks: [.. input.Ahead.Outlooks.Values]);
        var likely = sketch.Weeks.Sum(week => week.Likely.Count);
        var weeks = sketch.Weeks.Select(week => Week(week, task.Problem.Currency)).ToList();
        var lacking = weeks.SelectMany(week => week.Wishes).Where(wish => wish.Short).Select(wish => wish.Words).Distinct(StringComparer.Ordinal).Count();
        return new AheadView
        {
            Headline = $"The next {(sketch.Weeks.Count == 4 ? "four" : sketch.Weeks.Count.ToString(CultureInfo.InvariantCulture))} weeks",
            Lead = task.Problem.LaterArrivals.Count == 0 ? "Nothing is known of later lists yet: only what is firm is shown."
                : likely == 0 && lacking == 0 ? "With this order, no wish of these weeks is likely to need another."
                : likely == 0 ? $"{(lacking == 1 ? "One wish stays" : $"{lacking} wishes stay")} short, and no later list is likely to have what is lacking."
                : $"Firm is what hangs, flies, comes or stands on this order. {(likely == 1 ? "One later order is" : $"{likely} later lines are")} likely; each counts by the chance that somebody lists it. All are means: a sketch, not a plan.",
            Offers = [.. search.NowOrLater.Select(offer => Offer(offer, task.Problem, plan))],
            Weeks = weeks,
            HasLikely = likely > 0,
            Firm = Firm(sketch),
            Back = back,
        };
    }

    private static NowOrLaterRow Offer(NowOrLater offer, PlanProblem problem, Plan plan) => new(
        offer.Taxon,
        offer.Kind switch
        {
            NowOrLaterKind.Now => "order now",
            NowOrLaterKind.Rare => "rare: order now",
            NowOrLaterKind.Wait => "can wait",
            _ => throw new InvalidOperationException($"Now or later {offer.Kind}."),
        },
        offer.Pupae,
        offer.ListedLater,
        offer.Kind == NowOrLaterKind.Wait ? offer.Sentence : Words(offer, problem, plan));

    /// <summary>How often it is listed, what a butterfly costs now and then, and what the order would be without it.</summary>
    public static string Words(NowOrLater offer, PlanProblem problem, Plan plan) =>
        $"{ChanceWords.Picture(problem.Taxa.Single(taxon => taxon.Name == offer.Taxon).Later!.WeeklyChance)} weeks have it; a butterfly costs about {MoneyWords.Sum(offer.ButterflyNow, problem.Currency)} now, {MoneyWords.Sum(offer.ButterflyLater, problem.Currency)} later. {plan.Lines.Where(line => line.Taxon == offer.Taxon && !line.Settled).MaxBy(line => line.Pupae)?.Reason}".TrimEnd();

    private static AheadWeek Week(SketchWeek week, string currency) => new(
        $"{DayWords.Short(week.From)} to {DayWords.Short(week.To)}",
        [.. week.Aims.Select(aim => new AheadWish(aim.Words, aim.Wanted, Mean(aim.Firm), Mean(aim.Likely), DayWords.Short(aim.Day), aim.Likely < aim.Wanted - 0.5))],
        [
            .. week.Likely.Select(order => new AheadOrder(
                order.Taxon, DayWords.Short(order.Arrives), order.Chance, order.Pupae, MoneyWords.Plain(order.UnitPrice), order.Suppliers.Count > 0 ? string.Join(", ", order.Suppliers) : "somebody", order.For)),
        ],
        week.Likely.Count == 0 ? "" : MoneyWords.Sum(week.Likely.Sum(order => order.ExpectedCost), currency));

    private static IReadOnlyList<FirmRow> Firm(PlanSketch sketch)
    {
        var byWeek = sketch.Weeks.Select(week => week.Firm.ToDictionary(firm => firm.Taxon, StringComparer.Ordinal)).ToList();
        return
        [
            .. byWeek.SelectMany(week => week.Keys).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)
                .Select(taxon => new FirmRow(taxon, [.. byWeek.Select(week => week.TryGetValue(taxon, out var firm) ? Mean(firm.Flies) + (firm.Arrives > 0 ? $", {firm.Arrives} come" : "") : "–")])),
        ];
    }

    private static string Mean(double number) => number.ToString(number < 9.95 ? "0.0" : "0", CultureInfo.InvariantCulture);
}
