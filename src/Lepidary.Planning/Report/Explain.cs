using System.Globalization;
using Lepidary.Planning.Model;
using Lepidary.Planning.Search;

namespace Lepidary.Planning.Report;

/// <summary>Writes a plan with its odds, a reason for each line, and a reason for each wish that is left out.</summary>
internal sealed class Explain
{
    private readonly PlanModel model;
    private readonly PlanProblem problem;
    private readonly Plan plan;
    private readonly Odds odds;
    private readonly IReadOnlyList<AimOdds> aims;
    private readonly Dictionary<string, PlanOffer> offers;
    private readonly Dictionary<string, PlanTaxon> taxa;
    private readonly Dictionary<string, PlanSupplier> suppliers;

    private bool proven = true;

    private Explain(PlanModel model, Plan plan)
    {
        this.model = model;
        this.plan = plan;
        problem = model.Problem;
        odds = new(problem, plan.Lines);
        offers = problem.Offers.ToDictionary(o => o.Id);
        taxa = problem.Taxa.ToDictionary(t => t.Name);
        suppliers = problem.Suppliers.ToDictionary(s => s.Name);
        aims = [.. problem.Aims.Select(a => odds.Of(a))];
    }

    /// <summary>The plan with everything that a keeper reads.</summary>
    /// <param name="model">The problem.</param>
    /// <param name="pupaeByItem">The order.</param>
    /// <param name="proven">False where the search was ended before: then nobody knows whether more would pay.</param>
    public static Plan Write(PlanModel model, int[] pupaeByItem, bool proven = true)
    {
        var explain = new Explain(model, Money.Of(model, pupaeByItem)) { proven = proven };
        var order = OrderOf(model, pupaeByItem);
        return explain.plan with
        {
            Lines = [.. explain.plan.Lines.Select(explain.WithReason).Select(l => l with { Gain = explain.Gain(l, order) })],
            Aims = explain.aims,
            LeftOut = [.. explain.LeftOut()],
            Forecast = explain.odds.Forecast(),
        };
    }

    private decimal? Gain(PlanLine line, Order order)
    {
        var item = model.Items.Single(i => i.Offer.Id == line.Offer && i.Slot.Arrives == line.Arrives);
        if (item.IsSettled || item.Choices[0] != 0 || !order.Holds)
            return null;
        var block = model.Blocks[item.Block];
        var without = (int[])order.Chosen[block.Index].Pupae.Clone();
        without[item.PlaceInBlock] = 0;
        if (!block.Allows(without))
            return null;
        var chosen = (Column[])order.Chosen.Clone();
        chosen[block.Index] = new(block, without, model.GroupDays);
        var rest = new Order(model, chosen, 1);
        return rest.Holds ? Math.Round((decimal)(rest.Cost - order.Cost), 2) : null;
    }

    private static Order OrderOf(PlanModel model, int[] pupaeByItem) =>
        new(model, [.. model.Blocks.Select(b => new Column(b, [.. b.Items.Select(i => pupaeByItem[i.Index])], model.GroupDays))], 1);

    private static string Words(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private static string OfTen(double chance) => chance switch
    {
        >= 0.995 => "nearly always",
        >= 0.95 => Words($"{Math.Round(chance * 100):0} of 100 times"),
        < 0.005 => "hardly ever",
        < 0.05 => Words($"{Math.Round(chance * 100):0} of 100 times"),
        _ => Words($"{Math.Round(chance * 10):0} of 10 times"),
    };

    private static string Date(DateOnly day) => day.ToString("ddd d MMM", CultureInfo.InvariantCulture);

    private bool Concerns(Aim aim, PlanOffer offer) => aim switch
    {
        BreedingAim breeding => offer.Taxon == breeding.Taxon,
        DayAim wish when offer.Taxon is { } name => wish.Of.Counts(taxa[name].Taxon),
        DisplayAim wish => offer.Mix.Any(m => wish.Of.Counts(taxa[m.Taxon].Taxon)),
        _ => false,
    };

    private PlanLine WithReason(PlanLine line)
    {
        var offer = offers[line.Offer];
        if (line.Settled)
            return Answered(line);
        var set = problem.Rules.FirstOrDefault(r => r.Offer == line.Offer && (r.Kind is LineRuleKind.Fixed or LineRuleKind.AtLeast));
        if (set is not null && (set.Kind == LineRuleKind.Fixed || line.Pupae == set.Pupae))
            return line with { Reason = Words($"You set it to {(set.Kind == LineRuleKind.Fixed ? "" : "at least ")}{set.Pupae}."), ReasonNumber = set.Pupae };
        // The narrowest wish that it makes a difference to is what it was bought for: butterflies for a total are had more cheaply.
        var (aim, best) = (-1, (Tells: false, Breadth: int.MaxValue, Loss: 1e-4));
        for (var a = 0; a < problem.Aims.Count; a++)
        {
            if (!Concerns(problem.Aims[a], offer))
                continue;
            var (sum, worst) = odds.Loss(problem.Aims[a], aims[a], line);
            var here = (Tells: worst >= 0.1, Breadth: odds.Breadth(problem.Aims[a]), Loss: sum * Math.Pow(3, problem.Aims[a].Importance - 1));
            var better = here.Tells != best.Tells ? here.Tells
                : here.Tells && here.Breadth != best.Breadth ? here.Breadth < best.Breadth
                : here.Loss > best.Loss;
            if (better)
                (aim, best) = (a, here);
        }

        if (aim < 0)
            return line with { Reason = Filling(line, offer), ReasonNumber = line.Pupae };
        var (sentence, number) = Effect(aims[aim], odds.Of(problem.Aims[aim], line), problem.Aims[aim] is BreedingAim);
        return line with { Reason = sentence + Price(line, offer, problem.Aims[aim]), ReasonNumber = number };
    }

    private PlanLine Answered(PlanLine line)
    {
        var answer = problem.Settled.First(s => s.Offer == line.Offer && s.Arrives == line.Arrives);
        var ordered = problem.Offers.FirstOrDefault(o => line.Offer.StartsWith(o.Id + " > ", StringComparison.Ordinal));
        var said = ordered is not null ? Words($"{line.Supplier} sends it instead of {ordered.Taxon ?? ordered.Text}.")
            : answer.Asked > line.Pupae ? Words($"{line.Supplier} sends {line.Pupae} of {answer.Asked}.")
            : Words($"{line.Supplier} has confirmed it.");
        return line with { Reason = said, ReasonNumber = line.Pupae };
    }

    private static (string Sentence, double Number) Effect(AimOdds with, AimOdds without, bool breeding)
    {
        var lost = with.DaysMet - without.DaysMet;
        if (breeding)
            return (Words($"For {with.Words}: without it {OfTen(without.Days[0].With)}, with it {OfTen(with.Days[0].With)}."), without.Days[0].With);
        if (lost > 1 && with.Days.Count > 1)
        {
            return (Words($"For {with.Words}: without it the wish is met on {without.DaysMet} of {with.Days.Count} days, with it on {with.DaysMet}."),
                without.DaysMet);
        }

        var worst = Enumerable.Range(0, with.Days.Count).MaxBy(i => with.Days[i].With - without.Days[i].With);
        if (with.Days[worst].With - without.Days[worst].With < 0.05)
        {
            // The odds hardly move, because the wish is far away or all but met: what it adds says more.
            var most = Enumerable.Range(0, with.Days.Count).MaxBy(i => with.Days[i].MeanWith - without.Days[i].MeanWith);
            var (day, added) = (with.Days[most], with.Days[most].MeanWith - without.Days[most].MeanWith);
            return (Words($"For {with.Words} on {Date(day.Day)}: brings {added:0.0} of the {day.MeanWith:0} to be expected."), added);
        }

        return (Words($"For {with.Words} on {Date(with.Days[worst].Day)}: without it {OfTen(without.Days[worst].With)}, with it {OfTen(with.Days[worst].With)}."),
            without.Days[worst].With);
    }

    // The same taxon elsewhere: cheaper here by so much, or dearer and why it is taken all the same.
    private string Price(PlanLine line, PlanOffer offer, Aim aim)
    {
        if (offer.Taxon is null)
            return "";
        double Each(PlanOffer o, int pupae) => (double)Item.PriceAt(o, pupae) * ModelBuilder.LandedFactor(suppliers[o.Supplier], true);
        var others = model.Items.Where(i => i.Offer.Taxon == offer.Taxon && i.Offer.Supplier != offer.Supplier && i.Choices[^1] > 0)
            .Select(i => i.Offer).DistinctBy(o => o.Id).ToList();
        if (others.Count == 0)
            return suppliers.Count > 1 && (aim is BreedingAim or DisplayAim { Of.Kind: AimOfKind.Taxon }) ? " Nobody else has it this week." : "";
        var here = Each(offer, line.Pupae);
        var other = others.MinBy(o => Each(o, line.Pupae))!;
        var there = Each(other, line.Pupae);
        if (there > here + 0.005)
            return Words($" Cheapest by {there - here:0.00} {problem.Currency} each.");
        if (there > here - 0.005)
            return Words($" The same price as at {other.Supplier}.");
        var (rateHere, rateThere) = (taxa[offer.Taxon].RateFrom(offer.Supplier).Mean, taxa[offer.Taxon].RateFrom(other.Supplier).Mean);
        var dearer = Words($" Dearer by {here - there:0.00} {problem.Currency} each than at {other.Supplier}");
        if (plan.Orders.All(o => o.Supplier != other.Supplier))
            return dearer + ", which would be one more delivery to pay.";
        return rateHere > rateThere + 0.02
            ? dearer + Words($", but of ten here {rateHere * 10:0.0} emerge, there {rateThere * 10:0.0}.")
            : dearer + ", but the numbers there do not fit as well.";
    }

    private string Filling(PlanLine line, PlanOffer offer)
    {
        var supplier = suppliers[line.Supplier];
        var order = plan.Orders.First(o => o.Supplier == line.Supplier && o.Arrives == line.Arrives);
        if (order.Pupae - line.Pupae < supplier.MinimumPupae)
            return Words($"Brings the order to {supplier.Name}'s minimum of {supplier.MinimumPupae} pupae.");
        var printed = plan.Lines.Where(l => l.Supplier == line.Supplier && l.Arrives == line.Arrives).Sum(l => l.Goods);
        if (printed - line.Goods < supplier.MinimumGoods)
            return Words($"Brings the order to {supplier.Name}'s minimum of {supplier.MinimumGoods:0.00} {supplier.Currency}.");
        return offer.Taxon is null ? "The cheapest way to more butterflies." : "A little more of what is wanted, for its price.";
    }

    private IEnumerable<LeftOut> LeftOut()
    {
        for (var a = 0; a < problem.Aims.Count; a++)
        {
            var aim = problem.Aims[a];
            var met = aims[a];
            var concerned = problem.Offers.Where(o => Concerns(aim, o)).ToList();
            var ordered = plan.Lines.Any(l => Concerns(aim, offers[l.Offer]));
            if (met.Days.Count == 0)
                continue;
            if (met.DaysMet == met.Days.Count)
            {
                if (!ordered && met.Days.All(d => d.Without >= d.With - 1e-9))
                    yield return new(aim.Words, aim.Id, LeftOutKind.OwnStockServes, Words($"{Capital(aim.Words)}: what flies and hangs serves; nothing need be ordered for it."));
                continue;
            }

            yield return Short(aim, met, concerned, ordered);
        }
    }

    private static string Capital(string words) => words.Length == 0 ? words : char.ToUpperInvariant(words[0]) + words[1..];

    private LeftOut Short(Aim aim, AimOdds met, List<PlanOffer> concerned, bool ordered)
    {
        LeftOut Say(LeftOutKind kind, FormattableString why)
        {
            var missed = met.Days.Count - met.DaysMet;
            var where = aim is BreedingAim ? "not as sure as wished" : Words($"short on {missed} of {met.Days.Count} days");
            return new(aim.Words, aim.Id, kind, $"{Capital(aim.Words)}: {where}. {Words(why)}");
        }

        if (concerned.Count == 0)
            return Say(LeftOutKind.OnNoList, $"No list has it this week.");
        var kept = concerned.Where(o => ModelBuilder.WhyNotKept(problem, taxa, o) is null).ToList();
        if (kept.Count == 0)
        {
            var why = ModelBuilder.WhyNotKept(problem, taxa, concerned[0]);
            return Say(LeftOutKind.NotToBeKept, $"The house may not keep it because {why}.");
        }

        var open = kept.Where(o => !problem.Settled.Any(s => s.Offer == o.Id)).ToList();
        var sent = kept.Where(o => problem.Settled.Any(s => s.Offer == o.Id && s.Pupae > 0)).ToList();
        if (open.Count == 0)
        {
            return sent.Count == 0
                ? Say(LeftOutKind.Refused, $"The supplier does not send it.")
                : Say(LeftOutKind.SoldOut, $"What the supplier sends is all there is.");
        }

        if (open.All(o => ModelBuilder.OrdersClosed(problem, suppliers[o.Supplier], o)))
            return Say(LeftOutKind.OrdersClosed, $"Orders for it are closed at everybody who has it.");
        open = [.. open.Where(o => !ModelBuilder.OrdersClosed(problem, suppliers[o.Supplier], o))];
        kept = open;
        var there = kept.Where(o => !o.SoldOut && (o.Available ?? 1) > 0).ToList();
        if (there.Count == 0)
            return Say(LeftOutKind.SoldOut, $"It is sold out on every list that has it.");
        var wanted = there.Where(o => !suppliers[o.Supplier].Avoided && !problem.Rules.Any(r => r.Offer == o.Id && (r.Kind == LineRuleKind.Forbidden || r is { Kind: LineRuleKind.Fixed or LineRuleKind.AtMost, Pupae: 0 }))).ToList();
        if (wanted.Count == 0)
            return Say(LeftOutKind.Forbidden, $"You forbade every line that has it.");
        var slotsOf = model.Slots.Select(s => s.Supplier.Name).ToHashSet();
        var missing = met.Days.Where(d => !d.Met).Select(d => d.Day.DayNumber - problem.OrderDay.DayNumber).ToList();
        var items = model.Items.Where(i => wanted.Contains(i.Offer)).ToList();
        var inTime = items.Where(i => aim is BreedingAim ? i.Flies.Any(f => f > 0) : missing.Any(d => i.Flies[d] > 0.02)).ToList();
        if (items.Count == 0 && there.Any(o => slotsOf.Contains(o.Supplier)))
        {
            return wanted.Any(o => problem.Spendable is { } b && (double)Item.GoodsOf(o, Math.Max(o.Pack, o.Minimum)) * ModelBuilder.LandedFactor(suppliers[o.Supplier], true) > (double)b)
                ? Say(LeftOutKind.OverBudget, $"Even the smallest pack costs more than the budget.")
                : Say(LeftOutKind.NoRoom, $"There are no hanging places for even the smallest pack.");
        }

        if (items.Count == 0 && wanted.All(o => suppliers[o.Supplier].Arrives.All(d => suppliers[o.Supplier].ClosedDays.Contains(d) || problem.NoBoxesOn.Contains(d))))
            return Say(LeftOutKind.OrdersClosed, $"No box of it can arrive: the days are closed.");
        if (inTime.Count == 0)
            return Say(LeftOutKind.TooLate, $"What is offered comes too late, or has not emerged by then.");
        var pupae = model.Items.ToDictionary(i => i, i => plan.Lines.Where(l => l.Offer == i.Offer.Id && l.Arrives == i.Slot.Arrives).Sum(l => l.Pupae));
        // One step more of the cheapest line that would help: what forbids it?
        var (overBudget, noRoom, noMore) = (false, false, true);
        foreach (var item in inTime)
        {
            var (offer, now) = (item.Offer, pupae[item]);
            var next = now + Math.Max(offer.Pack, now == 0 ? (offer.Minimum + offer.Pack - 1) / offer.Pack * offer.Pack : 0);
            if (next > (offer.Available ?? problem.Settings.MostOfALine)
                || problem.Rules.Any(r => r.Offer == offer.Id && (r.Kind is LineRuleKind.Fixed or LineRuleKind.AtMost) && r.Pupae < next))
            {
                continue;
            }

            noMore = false;
            var (step, landed) = (next - now, (double)(Item.GoodsOf(offer, next) - Item.GoodsOf(offer, now)) * item.Slot.GoodsFactor);
            var bought = plan.Orders.FirstOrDefault(o => o.Supplier == offer.Supplier && o.Arrives == item.Slot.Arrives);
            var carriage = bought is null ? item.Slot.FixedCost(next, (double)Item.GoodsOf(offer, next)) : 0;
            overBudget |= (double)plan.Total + landed + carriage > model.Budget;
            noRoom |= model.Rooms.Any(r => model.Items.Sum(i => r.Takes(i) * pupae[i]) + (r.Takes(item) * step) > r.Room + PlanModel.Tolerance);
        }

        if (noRoom)
            return Say(LeftOutKind.NoRoom, $"There is no room for more in the cages or in the house.");
        if (overBudget)
            return Say(LeftOutKind.OverBudget, $"{(problem.SeasonBudget < problem.Budget || problem.Budget is null ? "What is left for the season" : "The budget")} goes to what is worth more.");
        if (noMore && ordered)
            return Say(LeftOutKind.SoldOut, $"All there is on the lists is ordered.");
        if (!proven)
            return Say(LeftOutKind.NotWorthIt, $"The search was ended before it was known whether more would pay.");
        return Say(LeftOutKind.NotWorthIt, $"More would cost more than the days it would mend are worth by the importance given.");
    }
}
