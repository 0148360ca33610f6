using Lepidary.Planning.Model;
using Lepidary.Science.Counts;
using Lepidary.Science.Flying;
using Lepidary.Science.Pairing;

namespace Lepidary.Planning.Report;

/// <summary>
/// The exact odds of an order: full distributions, summed over species for groups and totals. Lots of the order are independent of
/// each other and of what hangs.
/// </summary>
internal sealed class Odds
{
    private const double Rounding = 1e-9;

    private readonly PlanProblem problem;
    private readonly IReadOnlyList<PlanLine> lines;
    private readonly int days;
    private readonly Dictionary<string, PlanTaxon> taxa;
    private readonly Dictionary<string, PlanOffer> offers;
    private readonly Dictionary<string, IReadOnlyList<CountDistribution>> own = [];
    private readonly Dictionary<PlanLine, CountDistribution[]> lots = [];
    private readonly Dictionary<(string Taxon, int Day), CountDistribution> byTaxon = [];
    private readonly Dictionary<(Aim Aim, int Day, bool Ordered), CountDistribution> counts = [];
    private readonly Dictionary<(Aim Aim, int Day), (double Mean, double Variance)> moments = [];
    private readonly Dictionary<(Aim Aim, int Day), PartialSums> sums = [];
    private readonly Dictionary<DayAim, List<string>> members = new(ReferenceEqualityComparer.Instance);
    private readonly Dictionary<(string Taxon, DateOnly Arrives), double[]> flies = [];

    public Odds(PlanProblem problem, IReadOnlyList<PlanLine> lines)
    {
        this.problem = problem;
        this.lines = lines;
        days = problem.HorizonDays + 1;
        taxa = problem.Taxa.ToDictionary(t => t.Name);
        offers = problem.Offers.ToDictionary(o => o.Id);
        foreach (var taxon in problem.Taxa)
            own[taxon.Name] = FlyingForecast.Of(taxon.Stock, days);
    }

    /// <summary>An aim's odds by day, with the order less one line, and without any.</summary>
    public AimOdds Of(Aim aim, PlanLine? less = null)
    {
        if (aim is BreedingAim breeding)
        {
            var (with, day) = Best(breeding, true, less);
            var (without, _) = Best(breeding, false, null);
            return new(aim.Id, aim.Words, breeding.Pairs, aim.Sure, [
                new(problem.OrderDay.AddDays(day), with, without, Counted(breeding, day, true, less).Mean / 2,
                    Counted(breeding, day, false, null).Mean / 2, with >= (aim.Sure ?? 0.5) - Rounding)]);
        }

        var wish = (DayAim)aim;
        return new(aim.Id, aim.Words, wish.AtLeast, aim.Sure, [.. ModelBuilder.DaysOf(problem, wish).Select(day =>
        {
            var with = Count(wish, day, true, less);
            var without = Count(wish, day, false, null);
            return new AimDay(
                problem.OrderDay.AddDays(day), with.AtLeast(wish.AtLeast), without.AtLeast(wish.AtLeast), with.Mean, without.Mean,
                aim.Sure is { } sure ? with.AtLeast(wish.AtLeast) >= sure - Rounding : with.Mean >= wish.AtLeast - Rounding);
        })]);
    }

    /// <summary>Taxa that an aim counts.</summary>
    public int Breadth(Aim aim) => aim is DayAim wish ? Members(wish).Count : 1;

    /// <summary>
    /// About what an aim would lose without a line: on all its days, and on the worst of them. Exact for one taxon, by the normal
    /// distribution for a group; good enough to find the aim that a line matters most to.
    /// </summary>
    public (double Sum, double Worst) Loss(Aim aim, AimOdds odds, PlanLine line)
    {
        var (sum, worst) = (0.0, 0.0);
        void Add(double with, double without, double lostMean)
        {
            var lost = Math.Max(0, with - without);
            sum += lost + (0.01 * lostMean / odds.Wanted);
            worst = Math.Max(worst, lost);
        }

        if (aim is not DayAim wish || Members(wish).Count <= 1)
        {
            foreach (var (w, o) in odds.Days.Zip(Of(aim, line).Days))
                Add(w.With, o.With, w.MeanWith - o.MeanWith);
            return (sum, worst);
        }

        foreach (var day in ModelBuilder.DaysOf(problem, wish))
        {
            if (!moments.TryGetValue((wish, day), out var now))
                moments[(wish, day)] = now = Moments(Count(wish, day, true, null));
            var (mean, variance) = now;
            var (lostMean, lostVariance) = wish is VarietyAim
                ? (TaxonDay(line.Taxon, day, true, line)[0] - TaxonDay(line.Taxon, day, true, null)[0], 0)
                : Moments(Part(line, line.Taxon is null ? Members(wish) : null, day));
            double Chance(double m, double v) => Normal.Below((m - wish.AtLeast + 0.5) / Math.Sqrt(Math.Max(0.05, v)));
            Add(Chance(mean, variance), Chance(mean - lostMean, variance - lostVariance), lostMean);
        }

        return (sum, worst);
    }

    /// <summary>What flies of each taxon with the order.</summary>
    public IReadOnlyList<TaxonForecast> Forecast()
    {
        var bought = lines.SelectMany(l => offers[l.Offer].Mix.Where(m => m.Share > 0).Select(m => m.Taxon).Append(l.Taxon)).ToHashSet();
        return [.. problem.Taxa.Where(t => bought.Contains(t.Name) || own[t.Name].Any(d => d.Max > 0))
            .OrderBy(t => t.Name, StringComparer.Ordinal)
            .Select(t => new TaxonForecast(t.Name, [.. Enumerable.Range(0, days).Select(day =>
            {
                var with = TaxonDay(t.Name, day, true, null);
                foreach (var mix in lines.Where(l => l.Taxon is null))
                    with = with.Plus(Part(mix, [t.Name], day));
                return new ForecastDay(
                    problem.OrderDay.AddDays(day), own[t.Name][day].Mean, with.Mean, with.Quantile(0.1), with.Quantile(0.9));
            })]))];
    }

    private static (double Mean, double Variance) Moments(CountDistribution count) => (count.Mean, count.Variance);

    private List<string> Members(DayAim wish)
    {
        if (!members.TryGetValue(wish, out var names))
            members[wish] = names = [.. problem.Taxa.Where(t => wish.Of.Counts(t.Taxon)).Select(t => t.Name).Order(StringComparer.Ordinal)];
        return names;
    }

    /// <summary>The count that an aim is about, on a day, with the order.</summary>
    public CountDistribution CountOn(DayAim wish, int day) => Count(wish, day, true, null);

    // The count that an aim is about, on a day.
    private CountDistribution Count(DayAim wish, int day, bool ordered, PlanLine? less)
    {
        if (ordered && less is not null)
            return CountWithout(wish, day, less);
        if (counts.TryGetValue((wish, day, ordered), out var known))
            return known;
        var parts = Members(wish).Select(name => OfMember(wish, name, day, ordered, null));
        if (wish is not VarietyAim && ordered && Members(wish).Count > 1)
            parts = parts.Concat(lines.Where(l => l.Taxon is null).Select(l => Part(l, Members(wish), day)));
        return counts[(wish, day, ordered)] = CountDistribution.Sum(parts.Where(d => d.Max > 0));
    }

    // A house has hundreds of lines and a total hundreds of taxa: all that stays is summed once, not for every line again.
    private CountDistribution CountWithout(DayAim wish, int day, PlanLine less)
    {
        var names = Members(wish);
        // A mix says nothing about one taxon: the supplier may leave it out. Nor about numbers of species.
        var mixes = wish is VarietyAim || names.Count <= 1 ? [] : lines.Where(l => l.Taxon is null).ToList();
        var place = less.Taxon is { } name ? names.BinarySearch(name, StringComparer.Ordinal) : mixes.IndexOf(less) is >= 0 and var mix ? names.Count + mix : -1;
        if (place < 0)
            return Count(wish, day, true, null);
        if (!sums.TryGetValue((wish, day), out var partial))
        {
            sums[(wish, day)] = partial = new([
                .. names.Select(n => OfMember(wish, n, day, true, null)), .. mixes.Select(m => Part(m, names, day))]);
        }

        var rest = partial.Without(place);
        return less.Taxon is null ? rest : rest.Plus(OfMember(wish, less.Taxon, day, true, less));
    }

    // What a taxon adds to an aim's count: how many fly, or whether any does.
    private CountDistribution OfMember(DayAim wish, string name, int day, bool ordered, PlanLine? less)
    {
        var count = TaxonDay(name, day, ordered, less);
        return wish is VarietyAim ? CountDistribution.Binomial(1, Math.Clamp(1 - count[0], 0, 1)) : count;
    }

    private (double Chance, int Day) Best(BreedingAim aim, bool ordered, PlanLine? less)
    {
        var best = (Chance: 0.0, Day: 0);
        for (var day = 0; day < days; day++)
        {
            var chance = Pairs.Chance(Counted(aim, day, ordered, less), aim.Pairs, taxa[aim.Taxon].FemaleShare);
            if (chance > best.Chance)
                best = (chance, day);
        }

        return best;
    }

    // For new blood only what is ordered.
    private CountDistribution Counted(BreedingAim aim, int day, bool ordered, PlanLine? less) => !aim.NewBlood
        ? TaxonDay(aim.Taxon, day, ordered, less)
        : CountDistribution.Sum(lines.Where(l => ordered && l.Taxon == aim.Taxon && l != less).Select(l => Part(l, null, day)));

    private CountDistribution TaxonDay(string? name, int day, bool ordered, PlanLine? less)
    {
        if (name is null)
            return CountDistribution.Certain(0);
        if (!ordered)
            return own[name][day];
        if (less?.Taxon != name && byTaxon.TryGetValue((name, day), out var known))
            return known;
        var sum = own[name][day];
        foreach (var line in lines)
        {
            if (line.Taxon == name && line != less)
                sum = sum.Plus(Part(line, null, day));
        }

        if (less?.Taxon != name)
            byTaxon[(name, day)] = sum;
        return sum;
    }

    // How many of a line fly, of some taxa for a mix.
    private CountDistribution Part(PlanLine line, IReadOnlyCollection<string>? members, int day)
    {
        if (line.Taxon is null)
            return MixDay(line, members ?? [], day);
        if (!lots.TryGetValue(line, out var lot))
        {
            var taxon = taxa[line.Taxon];
            var emerged = taxon.RateFrom(line.Supplier).Forecast(line.Pupae);
            lots[line] = lot = [.. Flies(taxon, line.Arrives).Select(emerged.Thin)];
        }

        return lot[day];
    }

    private double[] Flies(PlanTaxon taxon, DateOnly arrives)
    {
        if (flies.TryGetValue((taxon.Name, arrives), out var known))
            return known;
        var from = arrives.DayNumber - problem.OrderDay.DayNumber;
        var byDay = new double[days];
        PupaOdds.Flying(1, taxon.Timing, taxon.Stock.Survival, days - from).CopyTo(byDay, from);
        return flies[(taxon.Name, arrives)] = byDay;
    }

    // How many of a mix are of these taxa and fly. Their common chance is the sum over taxa of share · rate · flying; its spread is that
    // of the rates and of the make-up. It is never more than the most that flies of one taxon; below that the beta distribution with that mean
    // and spread stands for it.
    private CountDistribution MixDay(PlanLine line, IReadOnlyCollection<string> members, int day)
    {
        var parts = offers[line.Offer].Mix.Where(m => members.Contains(m.Taxon))
            .Select(m => (m.Share, taxa[m.Taxon].RateFrom(line.Supplier), Flies: Flies(taxa[m.Taxon], line.Arrives)[day])).ToList();
        var most = parts.Where(p => p.Share > 0).Select(p => p.Flies).DefaultIfEmpty(0).Max();
        if (most <= 0)
            return CountDistribution.Certain(0);
        var (mean, spread) = ModelBuilder.OfPupa(parts.Select(p => (p.Share, p.Item2, p.Flies / most)), offers[line.Offer].MixCertainty);

        if (spread <= 1e-12 || mean is <= 0 or >= 1)
            return CountDistribution.Binomial(line.Pupae, Math.Min(1, mean * most));
        var concentration = (mean * (1 - mean) / spread) - 1;
        return CountDistribution.BetaBinomial(line.Pupae, mean * concentration, (1 - mean) * concentration).Thin(most);
    }

    // Sums of neighbours, of neighbours' neighbours and so on: all but one of them is then a sum of a few.
    private sealed class PartialSums
    {
        private readonly List<CountDistribution[]> levels = [];

        public PartialSums(CountDistribution[] parts)
        {
            levels.Add(parts);
            while (levels[^1] is { Length: > 1 } below)
                levels.Add([.. below.Chunk(2).Select(pair => pair.Length == 1 ? pair[0] : pair[0].Plus(pair[1]))]);
        }

        public CountDistribution Without(int place)
        {
            var rest = CountDistribution.Certain(0);
            foreach (var level in levels)
            {
                var beside = place ^ 1;
                if (beside < level.Length && level[beside].Max > 0)
                    rest = rest.Plus(level[beside]);
                place /= 2;
            }

            return rest;
        }
    }
}
