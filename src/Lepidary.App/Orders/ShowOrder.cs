using Lepidary.App.Host;
using Lepidary.App.Lists;
using Lepidary.App.Odds;
using Lepidary.App.Pictures;
using Lepidary.App.Weeks;
using Lepidary.App.Words;
using Lepidary.Book;
using Lepidary.Planning;
using Lepidary.Science.Flying;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Orders;

/// <summary>One supplier's part of the proposal, worded.</summary>
/// <param name="Settled">True where the supplier was asked already and nothing about it is planned any more.</param>
internal sealed record OrderPart(string Supplier, string Arrives, string MadeUp, string Landed, IReadOnlyList<OrderRow> Rows, bool Settled);

/// <summary>One line of the proposal, worded.</summary>
internal sealed record OrderRow(string Offer, string? Taxon, string? Form, string Text, int Pupae, int Pack, string Each, string Landed, string Reason, string? Settled, IReadOnlyList<string> Notes);

/// <summary>One aim, worded; the chances are those of its worst day.</summary>
internal sealed record AimRow(string Words, double? Sure, double? With, double? Without, string WorstDay, string DaysMet, IReadOnlyList<AimDayRow> Days, bool Met);

internal sealed record AimDayRow(string Day, double With, double Without);

/// <summary>What the keeper settled, with the address that takes it back.</summary>
internal sealed record SettledRow(string Words, string TakeBack);

/// <summary>An order of today that is written already.</summary>
internal sealed record WrittenRow(Guid Id, string Supplier, int Pupae, string Landed, OrderState State);

/// <summary>An offer that the keeper may put on the order.</summary>
internal sealed record OfferChoice(string Offer, string Words);

/// <summary>A search that still runs.</summary>
/// <param name="Key">Names it, to stop it.</param>
/// <param name="Lines">The best order so far, worded.</param>
internal sealed record SearchView(string Key, IReadOnlyList<SearchRow> Lines);

/// <summary>A line of the best order so far.</summary>
internal sealed record SearchRow(int Pupae, string? Taxon, string Supplier);

internal sealed record OrderView
{
    public required string Headline { get; init; }

    public required string Lead { get; init; }

    public IReadOnlyList<string> Problems { get; init; } = [];

    public IReadOnlyList<OrderPart> Parts { get; init; } = [];

    /// <summary>What is still to be written.</summary>
    public IReadOnlyList<OrderPart> New => [.. Parts.Where(part => !part.Settled)];

    /// <summary>What holds only as far as what is settled lets it.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];

    public IReadOnlyList<AimRow> Aims { get; init; } = [];

    public IReadOnlyList<string> LeftOut { get; init; } = [];

    public IReadOnlyList<AheadLine> Ahead { get; init; } = [];

    public IReadOnlyList<SettledRow> Settled { get; init; } = [];

    public IReadOnlyList<WrittenRow> Written { get; init; } = [];

    public IReadOnlyList<OfferChoice> Choices { get; init; } = [];

    public IReadOnlyList<ForecastPoint> Forecast { get; init; } = [];

    public int Unsettled { get; init; }

    public string Proof { get; init; } = "";

    /// <summary>What the independent checker says; empty where there is nothing to check.</summary>
    public string Checked { get; init; } = "";

    /// <summary>The search while it runs; null once it is done.</summary>
    public SearchView? Search { get; init; }

    public IReadOnlyList<string> Rules { get; init; } = [];

    /// <summary>The page of other orders beside this one.</summary>
    public string Otherwise => "/order/otherwise" + (Rules.Count == 0 ? "" : "?" + string.Join('&', Rules.Select(rule => "line=" + Uri.EscapeDataString(rule))));

    /// <summary>The page of the weeks after this order.</summary>
    public string WeeksAhead => Otherwise.Replace("/order/otherwise", "/order/ahead", StringComparison.Ordinal);

    public bool CanWrite => New.Count > 0 && Problems.Count == 0;

    public Guid Key { get; } = BookId.New();
}

/// <summary>What should I order, and what will it do?</summary>
internal sealed class ShowOrder(BookContext book, HouseDay day, ProposeFromBook propose, CurrentLists lists)
{
    /// <summary>How a page searches; what is found until the keeper stops it, or this long, is the proposal.</summary>
    public static PlanSettings OnThePage { get; } = new();

    /// <summary>A page waits this long for a search; then it shows the best order so far and goes on searching.</summary>
    public static TimeSpan Patience { get; } = TimeSpan.FromSeconds(3);

    /// <param name="rules">What the keeper settled about lines.</param>
    /// <param name="patience">How long to wait for the search.</param>
    /// <param name="cancellation">Leaves the search running.</param>
    public async Task<OrderView> Show(IReadOnlyList<string> rules, TimeSpan patience, CancellationToken cancellation)
    {
        var written = await Written(cancellation);
        if ((await lists.On(day.Today, cancellation)).Count == 0)
        {
            return new OrderView { Headline = "No list has come this week", Lead = "Hand one in on the page Lists; the order is made from what is on offer.", Written = written, Rules = rules };
        }

        var begun = await propose.Begin(rules, OnThePage, cancellation);
        if (begun.IsGood && !await IsDone(begun.Value.Search, patience, cancellation))
        {
            return Running(begun.Value.Search, rules, written);
        }

        var proposed = begun.IsGood ? await begun.Value.Done(check: true, cancellation) : (Checked<Proposed>)begun.Problems.ToArray();
        if (!proposed.IsGood)
        {
            return new OrderView { Headline = "The order can't be made yet", Lead = "Something needs mending first.", Problems = [.. proposed.Problems.Select(problem => problem.ToString())], Written = written, Rules = rules };
        }

        var (input, task, report) = proposed.Value;
        var settled = input.Rules.ToDictionary(rule => rule.Offer);
        return new OrderView
        {
            Headline = report.Problems.Count > 0 ? "These wishes clash" : report.Lines.Any(line => line.Settled) ? More(report) : report.Lines.Count == 0 ? (report.Status == PlanStatus.Proven ? "Order nothing this week" : "No order yet") : $"Order {report.Pupae} pupae for {MoneyWords.Sum(report.Total, report.Currency)}",
            Lead = report.Problems.Count > 0 ? "No order can satisfy them together. Loosen one."
                : report.Lines.Any(line => line.Settled) ? $"{report.Lines.Where(line => line.Settled).Sum(line => line.Pupae)} pupae are settled with their suppliers; the rest is planned around them."
                : report.Lines.Count == 0 && report.Status != PlanStatus.Proven ? "The search was ended before it had found an order that is worth more than none."
                : report.Lines.Count == 0 ? "What hangs and flies serves, or nothing on the lists is worth it."
                : $"Landed: goods, carriage, charges and tax.{(report.Budget is { } budget ? $" The budget is {MoneyWords.Sum(budget, report.Currency)}." : "")}",
            Problems = report.Problems,
            Notes = report.SettledNotes,
            Parts = [.. report.Orders.Select(order => Part(order, report, settled))],
            Aims = [.. report.Aims.Select(Aim)],
            LeftOut = [.. report.LeftOut.Select(left => left.Sentence)],
            Ahead = report.Ahead,
            Settled = [.. input.Rules.Select(rule => Settled(rule, rules, task))],
            Written = written,
            Choices = [.. task.Offers.Where(item => !item.Value.Offer.SoldOut).Select(item => Choice(item.Key, item.Value))],
            Forecast = Forecast(input, task, report),
            Unsettled = report.NotOrderable.Count,
            Proof = Proof(report),
            Checked = report.Check is { } check ? CheckWords.Of(check) : "",
            Rules = rules,
        };
    }

    private static async Task<bool> IsDone(OrderSearch search, TimeSpan patience, CancellationToken cancellation)
    {
        await Task.WhenAny(search.Outcome, Task.Delay(patience, cancellation));
        cancellation.ThrowIfCancellationRequested();
        return search.Outcome.IsCompleted;
    }

    private static OrderView Running(OrderSearch search, IReadOnlyList<string> rules, IReadOnlyList<WrittenRow> written)
    {
        var best = search.Best;
        return new OrderView
        {
            Headline = best is null ? "Looking for an order" : $"So far: {best.Plan.Lines.Sum(line => line.Pupae)} pupae for {MoneyWords.Sum(best.Plan.Total, search.Problem.Currency)}",
            Lead = best is null ? "None is found yet that keeps every limit." : $"{SearchLine.NotBetterBy(best)} {search.Seconds:0} of at most {search.Problem.Settings.Seconds:0} s.",
            Written = written,
            Rules = rules,
            Search = new SearchView(search.Key, [.. best?.Plan.Lines.Select(line => new SearchRow(line.Pupae, line.Taxon, line.Supplier)) ?? []]),
        };
    }

    private static string Proof(ProposalReport report) => report switch
    {
        { Gap: null } => "",
        { Gap: < 0.0005 } => "Proven: no order is better.",
        { Status: PlanStatus.Proven } => $"Proven: no order is better by more than {report.Gap * 100:0.#} %.",
        _ => $"The best found in {report.Seconds:0} s; a better one could save at most {report.Gap * 100:0.#} %.",
    };

    private static OrderPart Part(SupplierOrder order, ProposalReport report, Dictionary<string, LineRule> settled) => new(
        order.Supplier,
        DayWords.Short(order.Arrives),
        $"Goods {MoneyWords.Sum(order.Goods, order.Currency)}, carriage {MoneyWords.Plain(order.Carriage)}, charges {MoneyWords.Plain(order.Charges)}, tax {MoneyWords.Plain(order.Tax)}",
        MoneyWords.Sum(order.TotalInHouse, report.Currency),
        [.. report.Lines.Where(line => line.Supplier == order.Supplier && line.Arrives == order.Arrives).Select(line => new OrderRow(
            line.Offer, line.Taxon, line.Form, line.Text, line.Pupae, line.Pack, MoneyWords.Plain(line.UnitPrice), MoneyWords.Plain(line.Landed), line.Reason,
            settled.TryGetValue(line.Offer, out var rule) ? RuleWords(rule) : null, line.Notes))],
        report.Lines.Any(line => line.Supplier == order.Supplier && line.Arrives == order.Arrives && line.Settled));

    private static string More(ProposalReport report)
    {
        var more = report.Lines.Where(line => !line.Settled).ToList();
        return more.Count == 0 ? "Nothing more to order" : $"Order {more.Sum(line => line.Pupae)} more pupae for {MoneyWords.Sum(more.Sum(line => line.Landed), report.Currency)}";
    }

    private static AimRow Aim(AimOdds aim)
    {
        var worst = aim.Days.MinBy(day => day.With);
        return new AimRow(
            aim.Words,
            aim.Sure,
            worst?.With,
            worst?.Without,
            worst is null ? "" : DayWords.Short(worst.Day),
            aim.Days.Count > 1 ? $"{aim.DaysMet} of {aim.Days.Count} days" : "",
            [.. aim.Days.Select(day => new AimDayRow(DayWords.Short(day.Day), day.With, day.Without))],
            aim.DaysMet == aim.Days.Count);
    }

    private static SettledRow Settled(LineRule rule, IReadOnlyList<string> rules, PlanningTask task)
    {
        var offer = LineRules.IsNothingElse(rule) ? "All else" : task.Offers.TryGetValue(rule.Offer, out var known) ? $"{known.Offer.Taxon ?? known.Offer.Text} from {known.From.Terms.Supplier!.Name}" : rule.Offer;
        var others = rules.Where(text => text != LineRules.Write(rule)).Select(text => "line=" + Uri.EscapeDataString(text));
        return new SettledRow($"{offer}: {RuleWords(rule)}", "/order?" + string.Join('&', others));
    }

    private static string RuleWords(LineRule rule) => rule.Kind switch
    {
        LineRuleKind.Fixed => $"{rule.Pupae}, as you said",
        LineRuleKind.Forbidden => "left out, as you said",
        LineRuleKind.AtLeast => $"at least {rule.Pupae}, as you said",
        LineRuleKind.AtMost => $"at most {rule.Pupae}, as you said",
        _ => throw new InvalidOperationException($"Line rule {rule.Kind}."),
    };

    private static OfferChoice Choice(string id, (ListOnOffer From, Lepidary.Lists.Offer Offer) item) => new(
        id,
        $"{item.Offer.Taxon ?? "mix"}{(item.Offer.Form is null ? "" : " " + item.Offer.Form)}, {item.From.Terms.Supplier!.Name}, {MoneyWords.Sum(item.Offer.Price!.Value, item.From.Terms.Currency)}");

    /// <summary>All that will fly, with the order and without.</summary>
    private static IReadOnlyList<ForecastPoint> Forecast(PlanningInput input, PlanningTask task, ProposalReport report)
    {
        var from = report.OrderDay;
        var days = task.Problem.HorizonDays + 1;
        var without = task.Problem.Taxa.ToDictionary(taxon => taxon.Name, taxon => taxon.Stock, StringComparer.Ordinal);
        var bought = report.Lines.Where(line => line.Taxon is not null).ToLookup(line => line.Taxon!);
        var with = task.Problem.Taxa.ToDictionary(
            taxon => taxon.Name,
            taxon => taxon.Stock with
            {
                Lots = [.. taxon.Stock.Lots, .. bought[taxon.Name].Select(line => new HangingLot(line.Pupae, from.DayNumber - line.Arrives.DayNumber, taxon.RateFrom(line.Supplier), taxon.Timing, line.Supplier))],
            },
            StringComparer.Ordinal);
        return Outlook.Points(Outlook.Of(with, from, days).Total(_ => true), from, input.House.IsOpen, Outlook.Of(without, from, days).Total(_ => true));
    }

    private async Task<IReadOnlyList<WrittenRow>> Written(CancellationToken cancellation)
    {
        var orders = await book.Orders.AsNoTracking().Include(order => order.Supplier).Include(order => order.Lines)
            .Where(order => order.HouseId == day.HouseId && order.OnDay == day.Today).OrderBy(order => order.MadeAt).ToListAsync(cancellation);
        var states = await OrderStates.ReadAsync(book, [.. orders.Select(order => order.Id)], null, cancellation);
        return
        [
            .. orders.Select(order => new WrittenRow(order.Id, order.Supplier!.Name, order.Lines.Sum(line => line.Pupae), MoneyWords.Sum(order.Landed, day.Currency), states.GetValueOrDefault(order.Id, OrderState.Drafted))),
        ];
    }
}
