using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text.Json;
using Lepidary.App.Host;
using Lepidary.App.Lists;
using Lepidary.App.Odds;
using Lepidary.App.Weeks;
using Lepidary.Planning;
using Lepidary.Taxa;

namespace Lepidary.App.Orders;

/// <summary>A proposal with what it was made from.</summary>
internal sealed record Proposed(PlanningInput Input, PlanningTask Task, ProposalReport Report);

/// <summary>Plans from the book: its house, its stock, what its lots have taught, and the lists of this week.</summary>
internal sealed class ProposeFromBook(HouseDay day, CurrentLists lists, OddsBook odds, SeenLists seen, ProposalMemory memory)
{
    /// <param name="rules">What the keeper settled about lines, as <see cref="LineRules"/> writes it.</param>
    /// <param name="settings">How long and how near.</param>
    /// <param name="cancellation">Ends the search; the best order so far is kept.</param>
    public async Task<Checked<Proposed>> Propose(IReadOnlyList<string> rules, PlanSettings settings, CancellationToken cancellation)
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
        var input = new PlanningInput
        {
            House = house,
            Stock = await odds.Stock(house.Id, day.Today, cancellation),
            Lists = onOffer,
            OrderDay = day.Today,
            // A rule about a line of last week's list has nothing to say this week.
            Rules = [.. read.Where(rule => known.Contains(rule.Offer))],
            Learned = await odds.Learned(house.Id, day.Today, cancellation),
            Settings = settings,
            Weeks = await seen.Of(house, day.Today, cancellation),
        };
        var task = PlanningDesk.Lay(input, TaxonTable.Shipped);
        if (!task.IsGood)
        {
            return task.Problems.ToArray();
        }

        var outcome = await memory.Solve(task.Value.Problem, cancellation);
        return new Proposed(input, task.Value, ProposalReport.Of(input, task.Value, outcome));
    }
}

/// <summary>
/// Remembers the last outcomes by what was asked, so that a page shown again is not planned again. Forgetting one costs only the time to
/// plan it anew, so several processes need not share it.
/// </summary>
internal sealed class ProposalMemory
{
    private const int Most = 32;

    private readonly ConcurrentDictionary<string, Lazy<Task<PlanOutcome>>> outcomes = new();

    public async Task<PlanOutcome> Solve(PlanProblem problem, CancellationToken cancellation)
    {
        var key = Key(problem);
        if (outcomes.Count > Most)
        {
            outcomes.Clear();
        }

        // One search for all who ask the same: a reader who leaves must not end it for the others.
        var search = outcomes.GetOrAdd(key, _ => new Lazy<Task<PlanOutcome>>(() => Task.Run(() => Planner.Propose(problem, cancel: CancellationToken.None), CancellationToken.None)));
        return await search.Value.WaitAsync(cancellation);
    }

    /// <summary>Everything that the outcome depends on, in few words: what is derived from the same facts is left out.</summary>
    private static string Key(PlanProblem problem)
    {
        var said = JsonSerializer.SerializeToUtf8Bytes(new
        {
            problem.OrderDay,
            problem.HorizonDays,
            problem.Currency,
            problem.Budget,
            problem.CagePlaces,
            problem.FlyingCeiling,
            problem.Suppliers,
            problem.Offers,
            problem.OpenDays,
            problem.Rules,
            problem.Settings,
            Aims = problem.Aims.Cast<object>(),
            Taxa = problem.Taxa.Select(taxon => new
            {
                taxon.Name,
                taxon.KeepNot,
                taxon.FemaleShare,
                taxon.UsualRate,
                taxon.Rates,
                Timing = taxon.Timing.Chances.ToArray(),
                Lots = taxon.Stock.Lots.Select(lot => new { lot.Hanging, lot.DaysHanging, lot.Rate, lot.RateSource, lot.Emerged, lot.Lost, Timing = lot.Timing.MeanDays }),
                taxon.Stock.Flying,
                Life = taxon.Stock.Survival.MeanDaysCounted,
            }),
        }, Plain);
        return Convert.ToHexString(SHA256.HashData(said));
    }

    private static readonly JsonSerializerOptions Plain = new() { NumberHandling = System.Text.Json.Serialization.JsonNumberHandling.AllowNamedFloatingPointLiterals };
}
