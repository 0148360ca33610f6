using Lepidary.App.Orders;
using Lepidary.App.Words;
using Lepidary.Planning;

namespace Lepidary.App.Weeks;

/// <summary>Says beside a proposal what the weeks ahead are likely to offer: what to order now, what can wait, what a rare offer is worth.</summary>
internal sealed class AheadWords(ProposalMemory memory)
{
    /// <summary>Below this chance an offer is called rare; at or above its opposite, something may wait.</summary>
    private const double Rare = 0.5;

    /// <summary>Rare offers that are priced: each is a plan of its own.</summary>
    private const int Priced = 2;

    /// <summary>Seconds: where the order itself took longer, the keeper does not wait for their price too.</summary>
    private const double Quickly = 4;

    /// <summary>A chance that changes less is not worth a word.</summary>
    private const double Noticed = 0.05;

    /// <summary>A plan without one line, to half a hundredth.</summary>
    private static readonly PlanSettings Quick = new() { Seconds = 2, Gap = 0.005 };

    /// <summary>In sentences; empty where nothing is known of later lists or there is no plan.</summary>
    /// <param name="problem">What was planned.</param>
    /// <param name="ahead">The weeks ahead.</param>
    /// <param name="outcome">What came of it.</param>
    /// <param name="cancellation">Stops the search.</param>
    public async Task<IReadOnlyList<string>> Of(PlanProblem problem, Ahead ahead, PlanOutcome outcome, CancellationToken cancellation)
    {
        if (outcome.Plan is not { } plan || problem.LaterArrivals.Count == 0)
        {
            return [];
        }

        var said = new List<string>
        {
            $"Boxes of later orders can come from {DayWords.Short(problem.LaterArrivals[0])} on. What is short after that counts only as far as the lists to come are unlikely to have it.",
        };
        var rare = plan.Lines.Where(line => line.Taxon is { } taxon && ahead.Outlooks.TryGetValue(taxon, out var outlook) && outlook.WeeklyChance < Rare)
            .GroupBy(line => line.Taxon!).OrderBy(taxon => ahead.Outlooks[taxon.Key].WeeklyChance).ToList();
        foreach (var (taxon, index) in rare.Select((taxon, index) => (taxon, index)))
        {
            var chance = $"{taxon.Key} is a rare offer: {ChanceWords.Picture(ahead.Outlooks[taxon.Key].WeeklyChance)} that anybody lists it next week.";
            said.Add(index < Priced && outcome.Seconds < Quickly && await Without(problem, taxon.Select(line => line.Offer), cancellation) is { } without ? $"{chance} {Worth(problem, plan, without)}" : chance);
        }

        var unmet = plan.Aims.Where(aim => aim.DaysMet < aim.Days.Count).Select(aim => aim.Aim).ToHashSet(StringComparer.Ordinal);
        var ordered = plan.Lines.Select(line => line.Taxon).OfType<string>().ToHashSet(StringComparer.Ordinal);
        var onOffer = problem.Offers.Where(offer => !offer.SoldOut).Select(offer => offer.Taxon).OfType<string>().ToHashSet(StringComparer.Ordinal);
        foreach (var taxon in Wished(problem, unmet).Where(taxon => !ordered.Contains(taxon) && ahead.Outlooks.ContainsKey(taxon)))
        {
            var (chance, price) = (ahead.Outlooks[taxon].WeeklyChance, MoneyWords.Sum(ahead.Outlooks[taxon].LandedPrice, problem.Currency));
            if (!onOffer.Contains(taxon))
            {
                said.Add($"Nobody has {taxon} this week; {ChanceWords.Picture(chance)} that somebody does next week, at about {price} landed.");
            }
            else if (chance >= 1 - Rare)
            {
                said.Add($"{taxon} can wait: {ChanceWords.Picture(chance)} that somebody lists it next week, at about {price} landed.");
            }
        }

        return said;
    }

    private static IEnumerable<string> Wished(PlanProblem problem, HashSet<string> unmet) => problem.Aims.Where(aim => unmet.Contains(aim.Id)).Select(aim => aim switch
    {
        BreedingAim breeding => breeding.Taxon,
        DisplayAim { Of.Kind: AimOfKind.Taxon } display => display.Of.Name,
        _ => "",
    }).Where(name => name.Contains(' ', StringComparison.Ordinal)).Distinct(StringComparer.Ordinal);

    /// <summary>What a rare offer is worth: the wish that suffers most without it, and the money that it takes.</summary>
    private static string Worth(PlanProblem problem, Plan plan, Plan without)
    {
        var others = without.Aims.ToDictionary(aim => aim.Aim, StringComparer.Ordinal);
        var most = plan.Aims.Where(aim => aim.Days.Count > 0 && others.ContainsKey(aim.Aim))
            .SelectMany(aim => aim.Days.Zip(others[aim.Aim].Days, (now, other) => (aim, now, other)))
            .OrderByDescending(item => item.now.With - item.other.With).FirstOrDefault();
        var saved = plan.Total - without.Total;
        var money = saved > 0 ? $"; it would save {MoneyWords.Sum(saved, problem.Currency)}" : "";
        return most.aim is null || most.now.With - most.other.With < Noticed
            ? $"To go without would change little{money}."
            : $"Without it {most.aim.Words}: {ChanceWords.Picture(most.other.With)} instead of {ChanceWords.Picture(most.now.With)}{(most.aim.Days.Count > 1 ? $" on {DayWords.Short(most.now.Day)}" : "")}{money}.";
    }

    /// <summary>The best order without the taxa of some lines; null where the keeper has settled one of them, or none was found in time.</summary>
    private async Task<Plan?> Without(PlanProblem problem, IEnumerable<string> offers, CancellationToken cancellation)
    {
        var lines = offers.ToHashSet(StringComparer.Ordinal);
        if (problem.Rules.Any(rule => lines.Contains(rule.Offer)))
        {
            return null;
        }

        var taxa = problem.Offers.Where(offer => lines.Contains(offer.Id)).Select(offer => offer.Taxon).ToHashSet(StringComparer.Ordinal);
        return (await memory.Begin(
            problem with
            {
                Rules = [.. problem.Rules, .. problem.Offers.Where(offer => taxa.Contains(offer.Taxon) && !problem.Rules.Any(rule => rule.Offer == offer.Id)).Select(offer => new LineRule(offer.Id, LineRuleKind.Forbidden))],
                Settings = problem.Settings with { Seconds = Math.Min(problem.Settings.Seconds, Quick.Seconds), Gap = Math.Max(problem.Settings.Gap, Quick.Gap) },
            }).Outcome.WaitAsync(cancellation)).Plan;
    }
}
