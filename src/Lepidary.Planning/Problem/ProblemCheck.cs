using System.Globalization;

namespace Lepidary.Planning;

/// <summary>Finds everything that is wrong with a problem before any of it is used.</summary>
internal static class ProblemCheck
{
    /// <summary>One sentence for each fault; none when the problem can be planned.</summary>
    public static List<string> Of(PlanProblem problem)
    {
        var faults = new List<string>();
        void Need(bool good, FormattableString otherwise)
        {
            if (!good)
                faults.Add(otherwise.ToString(CultureInfo.InvariantCulture));
        }

        void NeedUnique(IEnumerable<string> keys, string what)
        {
            foreach (var twice in keys.GroupBy(k => k).Where(g => g.Count() > 1))
                Need(false, $"{what} {twice.Key} is there {twice.Count()} times; each may be there once.");
        }

        Need(problem.HorizonDays is >= 1 and <= 120, $"The plan looks {problem.HorizonDays} days ahead; 1 to 120 can be planned.");
        Need(problem.Budget is null or >= 0, $"The budget is {problem.Budget}; it cannot be below 0.");
        Need(problem.SeasonBudget is null or >= 0, $"The season has {problem.SeasonBudget} left; it cannot be below 0.");
        foreach (var (day, places) in problem.CagePlacesOn)
            Need(places >= 0, $"On {day:yyyy-MM-dd} the cages have {places} places; that cannot be below 0.");
        Need(problem.CagePlaces is null or >= 0, $"The cages have {problem.CagePlaces} places; that cannot be below 0.");
        Need(problem.FlyingCeiling is null or >= 0, $"The ceiling is {problem.FlyingCeiling} flying; it cannot be below 0.");
        Need(problem.Settings.Gap is >= 0 and < 1, $"The gap is {problem.Settings.Gap}; a share from 0 to below 1 is wanted.");
        Need(problem.Settings.Seconds >= 0, $"The search is given {problem.Settings.Seconds} seconds; that cannot be below 0.");
        Need(problem.Settings.MostOfALine >= 1, $"The most of a line is {problem.Settings.MostOfALine}; at least 1 is wanted.");
        Need(problem.Settings.WorthOfOneShort is null or > 0, $"One butterfly short is worth {problem.Settings.WorthOfOneShort}; above 0 is wanted.");
        NeedUnique(problem.Suppliers.Select(s => s.Name), "Supplier");
        NeedUnique(problem.Offers.Select(o => o.Id), "Offer");
        NeedUnique(problem.Taxa.Select(t => t.Name), "Taxon");
        NeedUnique(problem.Aims.Select(a => a.Id), "Aim");

        var suppliers = problem.Suppliers.Select(s => s.Name).ToHashSet();
        var taxa = problem.Taxa.Select(t => t.Name).ToHashSet();
        var offers = problem.Offers.Select(o => o.Id).ToHashSet();
        foreach (var s in problem.Suppliers)
        {
            Need(s.Rate > 0, $"{s.Name}: one of its currency is worth {s.Rate} here; above 0 is wanted.");
            Need(s.TaxRate is >= 0 and <= 1, $"{s.Name}: tax is {s.TaxRate}; a share from 0 to 1 is wanted.");
            Need(s.FavouredBy > -1, $"{s.Name}: favoured by {s.FavouredBy}; above -1 is wanted.");
            Need(s.MinimumPupae >= 0 && s.MinimumGoods >= 0, $"{s.Name}: the minimum order is below 0.");
            Need(s.CarriageBy != CarriageBy.Grams || s.GramsPerPupa > 0, $"{s.Name}: carriage by weight needs the weight of a pupa.");
            NeedUnique(s.Carriage.Select(c => c.From.ToString(CultureInfo.InvariantCulture)), $"{s.Name}: carriage from");
            foreach (var step in s.Carriage)
                Need(step.From >= 0 && step.Cost >= 0, $"{s.Name}: carriage of {step.Cost} from {step.From}; neither can be below 0.");
            foreach (var charge in s.Charges)
                Need(charge.Amount >= 0 && charge.BoxPupae >= 1, $"{s.Name}: {charge.Name} of {charge.Amount} for a box of {charge.BoxPupae}.");
        }

        foreach (var o in problem.Offers)
        {
            Need(suppliers.Contains(o.Supplier), $"Offer {o.Id} is of {o.Supplier}, which is no supplier of this problem.");
            Need(o.Price >= 0, $"Offer {o.Id} costs {o.Price}; a price cannot be below 0.");
            Need(o.Pack >= 1, $"Offer {o.Id} comes in packs of {o.Pack}; at least 1 is wanted.");
            Need(o.Minimum >= 0 && (o.Available ?? 0) >= 0, $"Offer {o.Id}: minimum {o.Minimum}, available {o.Available}; neither can be below 0.");
            Need(o.Taxon is null || taxa.Contains(o.Taxon), $"Offer {o.Id} is of {o.Taxon}, which is no taxon of this problem.");
            Need(o.MixCertainty > 0, $"Offer {o.Id}: its make-up is known from {o.MixCertainty} pupae; above 0 is wanted.");
            foreach (var day in o.Arrives.Where(d => problem.Suppliers.All(s => s.Name != o.Supplier || !s.Arrives.Contains(d))))
                Need(false, $"Offer {o.Id} arrives on {day:yyyy-MM-dd}, when no box of {o.Supplier} does.");
            Need(o.Taxon is null || o.Mix.Count == 0, $"Offer {o.Id} is both of one taxon and a mix.");
            NeedUnique(o.Mix.Select(m => m.Taxon), $"Offer {o.Id}: taxon of the mix");
            foreach (var part in o.Mix)
            {
                Need(taxa.Contains(part.Taxon), $"Offer {o.Id} mixes in {part.Taxon}, which is no taxon of this problem.");
                Need(part.Share is >= 0 and <= 1, $"Offer {o.Id}: a share of {part.Share} of {part.Taxon}; 0 to 1 is wanted.");
            }

            Need(o.Mix.Sum(m => m.Share) <= 1 + 1e-9, $"Offer {o.Id}: the shares of the mix sum to more than 1.");
            for (var i = 0; i < o.Breaks.Count; i++)
            {
                var before = i == 0 ? 1 : o.Breaks[i - 1].From;
                Need(o.Breaks[i].From > before && o.Breaks[i].Price >= 0, $"Offer {o.Id}: a price of {o.Breaks[i].Price} from {o.Breaks[i].From}, after {before}.");
            }
        }

        foreach (var t in problem.Taxa)
        {
            Need(t.FemaleShare is >= 0 and <= 1, $"{t.Name}: a share of females of {t.FemaleShare}; 0 to 1 is wanted.");
            Need(t.Later is null or { WeeklyChance: >= 0 and <= 1, LandedPrice: > 0 }, $"{t.Name}: listed later with a chance of {t.Later?.WeeklyChance} at {t.Later?.LandedPrice}; 0 to 1, and a price above 0, are wanted.");
            Need(t.MostPupae is null or >= 0, $"{t.Name}: at most {t.MostPupae} pupae; that cannot be below 0.");
        }

        foreach (var a in problem.Aims)
        {
            Need(a.Sure is null or (>= 0.5 and <= 0.999), $"Aim {a.Words}: {a.Sure} sure; 0.5 to 0.999 can be planned.");
            Need(a.Importance is >= 1 and <= 5, $"Aim {a.Words}: importance {a.Importance}; 1 to 5 is wanted.");
            Need(a is not DayAim { AtLeast: < 1 }, $"Aim {a.Words}: at least 1 is wanted.");
            Need(a is not DayAim d || d.From is null || d.To is null || d.From <= d.To, $"Aim {a.Words}: it ends before it begins.");
            Need(a is not BreedingAim { Pairs: < 1 or > 50 }, $"Aim {a.Words}: 1 to 50 pairs can be planned.");
            Need(a is not DayAim { Of: { Kind: AimOfKind.Selector, Selector: null } }, $"Aim {a.Words} has a selector that selects nothing.");
            Need(a is not BreedingAim b || taxa.Contains(b.Taxon), $"Aim {a.Words} is for {(a as BreedingAim)?.Taxon}, which is no taxon of this problem.");
        }

        foreach (var r in problem.Rules)
        {
            Need(offers.Contains(r.Offer), $"A rule is about offer {r.Offer}, which is not there.");
            Need(r.Pupae >= 0, $"A rule wants {r.Pupae} pupae of offer {r.Offer}; that cannot be below 0.");
        }

        NeedUnique(problem.Settled.Select(s => string.Create(CultureInfo.InvariantCulture, $"{s.Offer} on {s.Arrives:yyyy-MM-dd}{(s.Instead is null ? "" : " as " + s.Instead)}")), "Settled line");
        foreach (var s in problem.Settled)
        {
            Need(offers.Contains(s.Offer), $"A settled line is about offer {s.Offer}, which is not there.");
            Need(s.Pupae >= 0, $"Settled: {s.Pupae} pupae of offer {s.Offer}; that cannot be below 0.");
            Need(s.UnitPrice is null or >= 0, $"Settled: offer {s.Offer} at {s.UnitPrice}; a price cannot be below 0.");
            Need(s.Instead is null || taxa.Contains(s.Instead), $"Settled: {s.Instead} comes instead of offer {s.Offer}, and is no taxon of this problem.");
            Need(
                s.Pupae == 0 || (s.Arrives >= problem.OrderDay && s.Arrives <= problem.OrderDay.AddDays(problem.HorizonDays)),
                $"Settled: offer {s.Offer} arrives on {s.Arrives:yyyy-MM-dd}, which is not within the plan; what has arrived belongs to the stock.");
        }

        return faults;
    }
}
