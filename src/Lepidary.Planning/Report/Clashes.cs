using System.Globalization;
using Lepidary.Planning.Model;
using Lepidary.Planning.Search;

namespace Lepidary.Planning.Report;

/// <summary>Says in plain sentences which wishes clash when no order can keep them all.</summary>
internal static class Clashes
{
    /// <summary>Clashes that can be seen without searching.</summary>
    public static List<string> Plain(PlanProblem problem)
    {
        var found = new List<string>();
        void Say(FormattableString sentence) => found.Add(sentence.ToString(CultureInfo.InvariantCulture));
        var taxa = problem.Taxa.ToDictionary(t => t.Name);
        var suppliers = problem.Suppliers.ToDictionary(s => s.Name);
        var rules = problem.Rules.ToLookup(r => r.Offer);
        var forced = new List<(PlanOffer Offer, int Pupae)>();
        foreach (var offer in problem.Offers.OrderBy(o => o.Id, StringComparer.Ordinal))
        {
            var name = offer.Taxon ?? (offer.Text.Length > 0 ? offer.Text : offer.Id);
            var line = $"{name} from {offer.Supplier}";
            var least = rules[offer.Id].Where(r => r.Kind is LineRuleKind.Fixed or LineRuleKind.AtLeast).Select(r => r.Pupae).DefaultIfEmpty(0).Max();
            var most = rules[offer.Id].Where(r => r.Kind is LineRuleKind.Fixed or LineRuleKind.AtMost).Select(r => r.Pupae).DefaultIfEmpty(int.MaxValue).Min();
            if (least == 0)
                continue;
            var whole = rules[offer.Id].Any(r => r.Kind == LineRuleKind.Fixed) ? least : Packs(Math.Max(least, offer.Minimum), offer.Pack);
            forced.Add((offer, whole));
            if (rules[offer.Id].Any(r => r.Kind == LineRuleKind.Forbidden))
                Say($"{line} is both forbidden and wanted ({least} pupae).");
            if (least > most)
                Say($"{line}: at least {least} and at most {most} pupae cannot both be.");
            if (suppliers[offer.Supplier].Avoided)
                Say($"{line} is wanted ({least} pupae), but {offer.Supplier} is to be avoided.");
            if (ModelBuilder.OrdersClosed(problem, suppliers[offer.Supplier], offer))
                Say($"{line} is wanted ({least} pupae), but orders for it are closed.");
            if (offer.SoldOut)
                Say($"{line} is wanted ({least} pupae), but it is sold out.");
            if (ModelBuilder.WhyNotKept(problem, taxa, offer) is { } why)
                Say($"{line} is wanted ({least} pupae), but the house may not keep it because {why}.");
            if (offer.Available < whole)
                Say($"{line}: {whole} pupae are wanted, but only {offer.Available} are there.");
            if (whole % offer.Pack != 0)
                Say($"{line}: {whole} pupae are fixed, but it comes in packs of {offer.Pack}.");
            if (whole < offer.Minimum)
                Say($"{line}: {whole} pupae are fixed, but the list sells no fewer than {offer.Minimum}.");
            if (whole > most && least <= most)
                Say($"{line}: whole packs make {whole} pupae, but at most {most} are wanted.");
            if (!DaysOf(problem, suppliers[offer.Supplier], offer).Any())
                Say($"{line} is wanted ({least} pupae), but no delivery of {offer.Supplier} arrives within the plan.");
        }

        if (found.Count > 0)
            return found;
        foreach (var taxon in problem.Taxa.Where(t => t.MostPupae is not null))
        {
            var wanted = forced.Where(f => f.Offer.Taxon == taxon.Name).Sum(f => f.Pupae);
            if (wanted > taxon.MostPupae)
                Say($"{taxon.Name}: {wanted} pupae are fixed, but at most {taxon.MostPupae} may come.");
        }

        if (problem.Spendable is { } budget)
        {
            var cost = forced.GroupBy(f => f.Offer.Supplier).Sum(g => LeastLanded(suppliers[g.Key], [.. g]));
            if (cost > budget + 0.005m)
                Say($"The fixed lines cost {cost:0.00} {problem.Currency} landed; the budget is {budget:0.00}. That is {cost - budget:0.00} too much.");
        }

        if ((problem.CagePlaces is not null || problem.CagePlacesOn.Count > 0) && forced.Count > 0)
        {
            var hanging = ModelBuilder.HangingByDay(problem.Taxa, problem.HorizonDays + 1);
            foreach (var day in forced.GroupBy(f => DaysOf(problem, suppliers[f.Offer.Supplier], f.Offer).ToList() is [var only] ? only : default).Where(g => g.Key != default))
            {
                if (problem.PlacesOn(day.Key) is not { } places)
                    continue;
                var coming = day.Sum(f => f.Pupae);
                var taken = hanging[day.Key.DayNumber - problem.OrderDay.DayNumber];
                if (coming > Math.Max(0, places - taken) + PlanModel.Tolerance)
                    Say($"{coming} fixed pupae arrive on {day.Key:yyyy-MM-dd}, but of {places} hanging places only {Math.Floor(Math.Max(0, places - taken))} are free then.");
            }
        }

        return found;
    }

    /// <summary>Limits that what is settled breaks by itself.</summary>
    public static List<string> OfSettled(PlanModel model)
    {
        var problem = model.Problem;
        var found = new List<string>();
        void Say(FormattableString sentence) => found.Add(sentence.ToString(CultureInfo.InvariantCulture));
        var settled = model.Items.Where(i => i.IsSettled).ToList();
        if (settled.Count == 0)
            return found;
        var taxa = problem.Taxa.ToDictionary(t => t.Name);
        foreach (var item in settled)
        {
            if (ModelBuilder.WhyNotKept(problem, taxa, item.Offer) is { } why)
                Say($"{item.Offer.Supplier} sends {item.Offer.Taxon ?? item.Offer.Text} ({item.Choices[0]} pupae), but the house may not keep it because {why}.");
        }

        foreach (var taxon in settled.Where(i => i.Offer.Taxon is not null).GroupBy(i => i.Offer.Taxon!))
        {
            if (taxon.Sum(i => i.Choices[0]) is var pupae && pupae > taxa[taxon.Key].MostPupae)
                Say($"{taxon.Key}: {pupae} pupae are settled, but at most {taxa[taxon.Key].MostPupae} may come.");
        }

        if ((double?)problem.Spendable < model.Budget - 0.005)
            Say($"What is settled costs {model.Budget:0.00} {problem.Currency} landed; the budget is {problem.Spendable:0.00}. Nothing is added to it that costs more.");
        if (problem.CagePlaces is not null || problem.CagePlacesOn.Count > 0)
        {
            var hanging = ModelBuilder.HangingByDay(problem.Taxa, problem.HorizonDays + 1);
            foreach (var day in settled.Select(i => i.Slot).Distinct())
            {
                var coming = settled.Sum(i => i.Hangs[day.ArrivalDay] * i.Choices[0]);
                if (problem.PlacesOn(day.Arrives) is { } places && coming > Math.Max(0, places - hanging[day.ArrivalDay]) + 0.5)
                    Say($"On {day.Arrives:yyyy-MM-dd} {coming:0} pupae need places, but of {places} only {Math.Floor(Math.Max(0, places - hanging[day.ArrivalDay]))} are free.");
            }
        }

        return found;
    }

    /// <summary>Clashes that only show together: finds the limits of which any one, left out, makes an order possible.</summary>
    public static List<string> Hidden(PlanProblem problem)
    {
        var limits = new List<(string Name, PlanProblem Without)>
        {
            ("the budget", problem with { Budget = null }),
            ("what is left for the season", problem with { SeasonBudget = null }),
            ("the hanging places", problem with { CagePlaces = null, CagePlacesOn = new Dictionary<DateOnly, int>() }),
            ("the ceiling on adults flying", problem with { FlyingCeiling = null }),
            ("the numbers that a licence allows", problem with { Taxa = [.. problem.Taxa.Select(t => t with { MostPupae = null })] }),
        };
        limits.AddRange(problem.Suppliers.Where(s => s.MinimumPupae > 1 || s.MinimumGoods > 0).Select(supplier => (
            $"the minimum order of {supplier.Name}",
            problem with { Suppliers = [.. problem.Suppliers.Select(s => s == supplier ? s with { MinimumPupae = 0, MinimumGoods = 0 } : s)] })));
        limits.AddRange(problem.Rules.Where(r => r.Kind is LineRuleKind.Fixed or LineRuleKind.AtLeast).Select(rule => (
            $"the line you set ({problem.Offers.First(o => o.Id == rule.Offer) switch { var o => $"{o.Taxon ?? o.Text} from {o.Supplier}" }}, {rule.Pupae} pupae)",
            problem with { Rules = [.. problem.Rules.Where(r => r != rule)] })));
        var culprits = limits.Where(l => IsPossible(l.Without)).Select(l => l.Name).ToList();
        return culprits.Count == 0
            ? ["No order keeps all limits and all fixed lines, and no single one of them is the cause."]
            : [$"These cannot all be kept together: {string.Join("; ", culprits)}. Easing any one of them would do."];
    }

    private static IEnumerable<DateOnly> DaysOf(PlanProblem problem, PlanSupplier supplier, PlanOffer offer) =>
        supplier.Arrives.Where(d => d >= problem.OrderDay && d <= problem.OrderDay.AddDays(problem.HorizonDays)
            && (offer.Arrives.Count == 0 || offer.Arrives.Contains(d)) && !supplier.ClosedDays.Contains(d) && !problem.NoBoxesOn.Contains(d));

    private static bool IsPossible(PlanProblem problem)
    {
        if (Plain(problem).Count > 0)
            return false;
        var bare = problem with { Aims = [], Settings = problem.Settings with { Gap = 0.99, Nodes = 50, Seconds = 5 } };
        using var search = new BranchAndPrice(ModelBuilder.Build(bare), System.Diagnostics.Stopwatch.StartNew());
        return search.Run().Pupae is not null;
    }

    private static int Packs(int pupae, int pack) => (pupae + pack - 1) / pack * pack;

    private static decimal LeastLanded(PlanSupplier supplier, List<(PlanOffer Offer, int Pupae)> lines)
    {
        // More pupae can be cheaper than these (breaks, falling carriage), so only a lower limit is claimed.
        var goods = lines.Sum(l => l.Pupae * l.Offer.Breaks.Select(b => b.Price).Append(l.Offer.Price).Min());
        var carriage = supplier.Carriage.Where(c => supplier.CarriageBy != CarriageBy.Pupae || c.From >= supplier.Carriage.Where(x => x.From <= lines.Sum(l => l.Pupae)).Select(x => x.From).DefaultIfEmpty(0).Max())
            .Select(c => c.Cost).DefaultIfEmpty(0).Min();
        var charges = supplier.Charges.Where(c => c.Per == PlanChargePer.Order).Sum(c => c.Amount);
        return (goods * (decimal)ModelBuilder.LandedFactor(supplier, true))
            + ((carriage + charges) * (decimal)ModelBuilder.LandedFactor(supplier, supplier.CarriageTaxed));
    }
}
