using Lepidary.App.Orders;
using Lepidary.App.Words;
using Lepidary.Planning;

namespace Lepidary.App.Weeks;

/// <summary>What is to be said of one taxon, or of the weeks ahead as a whole.</summary>
/// <param name="Taxon">Accepted binomial; null for the whole.</param>
/// <param name="Words">In a sentence, the name left out.</param>
internal sealed record AheadLine(string? Taxon, string Words)
{
    /// <summary>With the name, for a terminal.</summary>
    public override string ToString() => Taxon is null ? Words : $"{Taxon}: {Words}";
}

/// <summary>Says beside a proposal what the weeks ahead are likely to offer: what to order now, what can wait, what a rare offer is worth.</summary>
internal static class AheadWords
{
    /// <summary>At or above this chance something that is wished and not ordered may wait.</summary>
    private const double Likely = 0.5;

    /// <summary>In sentences; empty where nothing is known of later lists or there is no plan.</summary>
    /// <param name="search">What was planned, done.</param>
    /// <param name="ahead">The weeks ahead.</param>
    public static IReadOnlyList<AheadLine> Of(OrderSearch search, Ahead ahead)
    {
        var problem = search.Problem;
        if (search.Outcome.Result.Plan is not { } plan || problem.LaterArrivals.Count == 0)
        {
            return [];
        }

        var said = new List<AheadLine>
        {
            new(null, $"Boxes of later orders can come from {DayWords.Short(problem.LaterArrivals[0])} on. What is short after that counts only as far as the lists to come are unlikely to have it."),
        };
        // Of what can wait, only what somebody wished for by name: whatever else would serve a group is many, and stands with the weeks ahead.
        var named = Wished(problem, [.. problem.Aims.Select(aim => aim.Id)]).ToHashSet(StringComparer.Ordinal);
        said.AddRange(search.NowOrLater.Where(offer => offer.Kind == NowOrLaterKind.Rare || (offer.Kind == NowOrLaterKind.Wait && named.Contains(offer.Taxon)))
            .Select(offer => new AheadLine(offer.Taxon, offer.Kind == NowOrLaterKind.Rare ? "a rare offer. " + ShowAhead.Words(offer, problem, plan) : offer.Sentence)));
        var others = search.NowOrLater.Count(offer => offer.Kind == NowOrLaterKind.Wait && !named.Contains(offer.Taxon));
        if (others > 0)
        {
            said.Add(new(null, $"{(others == 1 ? "One other species" : $"{others} other species")} of this week's lists would serve a group or the number of species, and can wait for later lists."));
        }

        var spoken = said.Select(line => line.Taxon).ToHashSet(StringComparer.Ordinal);
        var unmet = plan.Aims.Where(aim => aim.DaysMet < aim.Days.Count).Select(aim => aim.Aim).ToHashSet(StringComparer.Ordinal);
        var ordered = plan.Lines.Select(line => line.Taxon).OfType<string>().ToHashSet(StringComparer.Ordinal);
        var onOffer = problem.Offers.Where(offer => !offer.SoldOut).Select(offer => offer.Taxon).OfType<string>().ToHashSet(StringComparer.Ordinal);
        foreach (var taxon in Wished(problem, unmet).Where(taxon => !spoken.Contains(taxon) && !ordered.Contains(taxon) && ahead.Outlooks.ContainsKey(taxon)))
        {
            var (chance, price) = (ahead.Outlooks[taxon].WeeklyChance, MoneyWords.Sum(ahead.Outlooks[taxon].LandedPrice, problem.Currency));
            if (!onOffer.Contains(taxon))
            {
                said.Add(new(taxon, $"nobody has it this week; {ChanceWords.Picture(chance)} that somebody does next week, at about {price} landed."));
            }
            else if (chance >= Likely)
            {
                said.Add(new(taxon, $"can wait: {ChanceWords.Picture(chance)} that somebody lists it next week, at about {price} landed."));
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
}
