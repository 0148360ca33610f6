using System.Globalization;
using Lepidary.Planning.Model;

namespace Lepidary.Planning;

/// <summary>What to make of an offer when later lists are considered.</summary>
public enum NowOrLaterKind
{
    /// <summary>Ordered, and worth it although later lists may have it.</summary>
    Now,

    /// <summary>Ordered, and hardly ever listed: who waits will probably not have it.</summary>
    Rare,

    /// <summary>Not ordered, though it would be if this were the last list: later is as good.</summary>
    Wait,
}

/// <summary>One taxon on this week's lists, now against later.</summary>
/// <param name="Taxon">Accepted binomial.</param>
/// <param name="Kind">What the plan makes of it.</param>
/// <param name="Pupae">Pupae that the plan orders of it.</param>
/// <param name="ListedLater">Chance that somebody has it for at least one of the later arrivals, 0 … 1.</param>
/// <param name="PriceNow">Landed goods price of a pupa in the cheapest line of this week, house currency.</param>
/// <param name="PriceLater">What it will probably cost, landed, house currency.</param>
/// <param name="WorthNow">
/// What this week is better for ordering it now instead of waiting, its cost taken off, house currency: what would be short without
/// it as far as no later order is likely to mend that, and what mending would cost. 0 where it is not ordered; null where the order
/// cannot do without it.
/// </param>
/// <param name="WorthAsLast">The same if there were no later lists: what the offer would be worth as the last of its kind.</param>
/// <param name="ButterflyNow">Landed cost of one that emerges, this order's carriage and charges shared out by goods, house currency: of what is ordered, or of the cheapest line.</param>
/// <param name="ButterflyLater">What one that emerges will probably cost, house currency.</param>
/// <param name="Sentence">How often it is listed and what a butterfly costs, in a sentence.</param>
public sealed record NowOrLater(
    string Taxon, NowOrLaterKind Kind, int Pupae, double ListedLater, decimal PriceNow, decimal PriceLater, decimal? WorthNow, decimal? WorthAsLast, decimal ButterflyNow,
    decimal ButterflyLater, string Sentence)
{
    private const double RarelyListed = 0.25;

    /// <summary>
    /// Every taxon that is ordered, or would be if there were no later lists, and of which later lists are foretold; the most worth first.
    /// </summary>
    /// <param name="problem">The problem, with <see cref="PlanProblem.LaterArrivals"/> and <see cref="PlanTaxon.Later"/>.</param>
    /// <param name="plan">A plan for it.</param>
    public static IReadOnlyList<NowOrLater> Of(PlanProblem problem, Plan plan)
    {
        ArgumentNullException.ThrowIfNull(problem);
        ArgumentNullException.ThrowIfNull(plan);
        problem = Settlement.Of(problem);
        var model = ModelBuilder.Build(problem);
        var last = ModelBuilder.Build(problem with { LaterArrivals = [] });
        var pupae = Planner.PupaeOf(model, plan);
        var found = new List<NowOrLater>();
        foreach (var taxon in problem.Taxa.Where(t => t.Later is not null))
        {
            var items = model.Items.Where(i => i.Offer.Taxon == taxon.Name && !i.IsSettled).ToList();
            if (items.Any(i => pupae[i.Index] > 0) || items.Any(i => WouldBeOrdered(last, i, pupae)))
                found.Add(Of(taxon, items, model, last, pupae, plan));
        }

        return [.. found.OrderByDescending(f => f.WorthNow).ThenBy(f => f.Taxon, StringComparer.Ordinal)];
    }

    private static NowOrLater Of(PlanTaxon taxon, List<Item> items, PlanModel model, PlanModel last, int[] pupae, Plan plan)
    {
        var later = taxon.Later!;
        var never = Math.Pow(1 - later.WeeklyChance, model.Problem.LaterArrivals.Count);
        var here = (decimal)items.Min(i => (double)Item.PriceAt(i.Offer, i.Choices[^1]) * i.Slot.GoodsFactor);
        var ordered = items.Sum(i => pupae[i.Index]);
        var (now, asLast) = (Worth(model, items, pupae), Worth(last, items, pupae));
        var kind = ordered == 0 ? NowOrLaterKind.Wait : later.WeeklyChance < RarelyListed ? NowOrLaterKind.Rare : NowOrLaterKind.Now;
        var butterfly = (decimal)items.Where(i => ordered == 0 || pupae[i.Index] > 0).OrderBy(i => plan.Lines.Any(l => l.Supplier == i.Offer.Supplier) ? 0 : 1)
            .GroupBy(i => plan.Lines.Any(l => l.Supplier == i.Offer.Supplier)).First().Min(i => Butterfly(i, pupae[i.Index], plan));
        var butterflyLater = (decimal)((double)later.LandedPrice / Math.Max(1e-6, taxon.UsualRate.Mean));
        var currency = model.Problem.Currency;
        var often = Words($"{Math.Round(later.WeeklyChance * 10):0} of 10 weeks");
        if (later.WeeklyChance is > 0 and < 0.1)
            often = Words($"{Math.Max(1, Math.Round(later.WeeklyChance * 100)):0} of 100 weeks");
        var sentence = kind switch
        {
            not NowOrLaterKind.Wait when now is null => Words($"Listed in {often}; the order cannot do without it."),
            NowOrLaterKind.Rare => Words($"Listed in {often} only: who waits will probably not have it. A butterfly costs about {butterfly:0.00} {currency} now."),
            NowOrLaterKind.Now => Words($"Listed in {often}. A butterfly costs about {butterfly:0.00} {currency} now and {butterflyLater:0.00} later, and flies a week later."),
            // Without a box of any of its suppliers nobody knows its share of the carriage, and goods alone would look cheap beside what is landed.
            _ when !items.Any(i => plan.Lines.Any(l => l.Supplier == i.Offer.Supplier)) => Words($"Can wait: listed in {often}."),
            _ => Words($"Can wait: listed in {often}. A butterfly costs about {butterflyLater:0.00} {currency} then, {butterfly:0.00} now."),
        };
        return new(taxon.Name, kind, ordered, 1 - never, Math.Round(here, 4), later.LandedPrice, now, asLast, Math.Round(butterfly, 4), Math.Round(butterflyLater, 4), sentence);
    }

    // Goods with tax and what carriage and charges are to the goods of its box, for one that emerges. A box that is not ordered has no share yet.
    private static double Butterfly(Item item, int pupae, Plan plan)
    {
        var lines = plan.Lines.Where(l => l.Supplier == item.Offer.Supplier && l.Arrives == item.Slot.Arrives).ToList();
        var goods = lines.Sum(l => (double)l.Goods) * item.Slot.GoodsFactor;
        var share = goods > 0 ? (double)lines.Sum(l => l.Landed) / goods : 1;
        return (double)Item.PriceAt(item.Offer, pupae > 0 ? pupae : item.Choices[^1]) * item.Slot.GoodsFactor * share / Math.Max(1e-6, item.Rate.Mean);
    }

    private static bool WouldBeOrdered(PlanModel last, Item item, int[] pupae)
    {
        var with = (int[])pupae.Clone();
        foreach (var number in item.Choices.Where(c => c > pupae[item.Index]))
        {
            with[item.Index] = number;
            if (last.Objective(with) < last.Objective(pupae) - PlanModel.Tolerance)
                return true;
        }

        return false;
    }

    // The rest of the order stays as it is.
    private static decimal? Worth(PlanModel model, List<Item> items, int[] pupae)
    {
        var without = (int[])pupae.Clone();
        foreach (var item in items)
            without[item.Index] = item.Choices[0];
        var worth = model.Objective(without) - model.Objective(pupae);
        return double.IsFinite(worth) ? Math.Round((decimal)worth, 2) : null;
    }

    private static string Words(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
