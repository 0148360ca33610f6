using Lepidary.App.Host;
using Lepidary.App.Lists;
using Lepidary.App.Odds;
using Lepidary.App.Weeks;
using Lepidary.Book;
using Lepidary.Planning;
using Lepidary.Taxa;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Orders;

/// <summary>A proposal with what it was made from.</summary>
internal sealed record Proposed(PlanningInput Input, PlanningTask Task, ProposalReport Report);

/// <summary>A question to the planner that is being answered.</summary>
internal sealed record Begun(PlanningInput Input, PlanningTask Task, OrderSearch Search)
{
    /// <summary>The answer, once the search is done.</summary>
    /// <param name="check">Reckon it again by arithmetic of its own.</param>
    /// <param name="cancellation">Leaves the search running.</param>
    public async Task<Proposed> Done(bool check, CancellationToken cancellation)
    {
        var outcome = await Search.Outcome.WaitAsync(cancellation);
        return new Proposed(Input, Task, ProposalReport.Of(Input, Task, outcome, check ? Search.Check : null) with { Ahead = AheadWords.Of(Search, Input.Ahead) });
    }
}

/// <summary>Plans from the book: its house, its stock, what its lots have taught, and the lists of this week.</summary>
internal sealed class ProposeFromBook(BookContext book, HouseDay day, CurrentLists lists, OddsBook odds, SeenLists seen, WeeksAhead ahead, ProposalMemory memory, SettledToday settledToday, MixesSeen mixes)
{
    /// <param name="rules">What the keeper settled about lines, as <see cref="LineRules"/> writes it.</param>
    /// <param name="settings">How long and how near.</param>
    /// <param name="cancellation">Leaves the search running for whoever asks the same.</param>
    public async Task<Checked<Proposed>> Propose(IReadOnlyList<string> rules, PlanSettings settings, CancellationToken cancellation)
    {
        var begun = await Begin(rules, settings, cancellation);
        return begun.IsGood ? await begun.Value.Done(check: false, cancellation) : begun.Problems.ToArray();
    }

    /// <summary>Sets the search going, or finds the one that is, and doesn't wait for it.</summary>
    /// <param name="rules">What the keeper settled about lines, as <see cref="LineRules"/> writes it.</param>
    /// <param name="settings">How long and how near.</param>
    /// <param name="cancellation">Leaves it unasked.</param>
    public async Task<Checked<Begun>> Begin(IReadOnlyList<string> rules, PlanSettings settings, CancellationToken cancellation)
    {
        var problems = new List<Problem>();
        var read = LineRules.Read(rules, problems);
        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var house = await day.House(cancellation);
        var onOffer = await lists.OnOffer(house, day.Today, cancellation);
        var known = onOffer.SelectMany(from => from.List.Offers.Select(offer => PlanningDesk.OfferId(from, offer))).ToHashSet(StringComparer.Ordinal);
        var settled = await settledToday.Read(
            onOffer.SelectMany(from => from.List.Offers.Where(PlanningDesk.IsOrderable).Select(offer => (Supplier: from.Terms.Supplier!.Name, Id: PlanningDesk.OfferId(from, offer)))).ToLookup(offer => offer.Supplier, offer => offer.Id),
            cancellation);
        var weeks = await seen.Of(house, day.Today, cancellation);
        var input = new PlanningInput
        {
            House = house,
            Stock = await odds.Stock(house.Id, day.Today, cancellation, settled.Orders),
            Settled = settled.Lines,
            Mixes = await mixes.Of(house.Id, day.Today, cancellation),
            SeasonSpent = await Spent(house, cancellation),
            Lists = onOffer,
            OrderDay = day.Today,
            // A rule about a line of last week's list has nothing to say this week.
            Rules = [.. read.Where(rule => known.Contains(rule.Offer) || LineRules.IsNothingElse(rule))],
            Learned = await odds.Learned(house.Id, day.Today, cancellation),
            Settings = settings,
            Weeks = weeks,
            Ahead = await ahead.Of(house, weeks, onOffer, day.Today, cancellation),
        };
        var task = PlanningDesk.Lay(input, TaxonTable.Shipped);
        if (!task.IsGood)
        {
            return task.Problems.ToArray();
        }

        return new Begun(input, task.Value, memory.Begin(task.Value.Problem));
    }

    /// <summary>What the season's orders before today have cost, landed; those that came to nothing are not paid, and an answered one stands for what was asked.</summary>
    private async Task<decimal> Spent(Book.House house, CancellationToken cancellation)
    {
        if (!house.IsInSeason(day.Today))
        {
            return 0;
        }

        var orders = await book.Orders.AsNoTracking().Where(order => order.HouseId == house.Id && order.OnDay >= house.SeasonFrom && order.OnDay < day.Today)
            .Select(order => new { order.Id, order.Landed }).ToListAsync(cancellation);
        var ids = orders.Select(order => order.Id).ToHashSet();
        var states = await OrderStates.ReadAsync(book, ids, null, cancellation);
        return orders.Where(order => states.GetValueOrDefault(order.Id) is OrderState.Sent or OrderState.Confirmed && !ids.Contains(AnswerOrder.Answered(order.Id))).Sum(order => order.Landed);
    }
}
