using Lepidary.Planning.Model;
using Lepidary.Science.Counts;
using Lepidary.Science.Flying;
using Lepidary.Science.Pairing;

namespace Lepidary.Planning.Report;

/// <summary>The exact odds of an order: full distributions, summed over species for groups and totals.</summary>
internal sealed class Odds
{
    private readonly PlanProblem problem;
    private readonly int days;
    private readonly Dictionary<string, PlanTaxon> taxa;
    private readonly Dictionary<string, IReadOnlyList<CountDistribution>> own = [];
    private readonly Dictionary<(string Offer, DateOnly Arrives, int Pupae), CountDistribution[]> lots = [];

    public Odds(PlanProblem problem)
    {
        this.problem = problem;
        days = problem.HorizonDays + 1;
        taxa = problem.Taxa.ToDictionary(t => t.Name);
        foreach (var taxon in problem.Taxa)
            own[taxon.Name] = FlyingForecast.Of(taxon.Stock, days);
    }

    /// <summary>An aim's odds by day with these lines and without any.</summary>
    public AimOdds Of(Aim aim, IReadOnlyList<PlanLine> lines)
    {
        if (aim is BreedingAim breeding)
        {
            var (with, day) = Best(breeding, lines);
            var (without, _) = Best(breeding, []);
            return new(aim.Id, aim.Words, breeding.Pairs, aim.Sure, [
                new(problem.OrderDay.AddDays(day), with, without, TaxonDay(breeding.Taxon, day, lines).Mean / 2,
                    own[breeding.Taxon][day].Mean / 2, with >= (aim.Sure ?? 0.5) - Rounding)]);
        }

        var wish = (DayAim)aim;
        return new(aim.Id, aim.Words, wish.AtLeast, aim.Sure, [.. ModelBuilder.DaysOf(problem, wish).Select(day =>
        {
            var with = Count(wish, day, lines);
            var without = Count(wish, day, []);
            return new AimDay(
                problem.OrderDay.AddDays(day), with.AtLeast(wish.AtLeast), without.AtLeast(wish.AtLeast), with.Mean, without.Mean,
                aim.Sure is { } sure ? with.AtLeast(wish.AtLeast) >= sure - Rounding : with.Mean >= wish.AtLeast - Rounding);
        })]);
    }

    /// <summary>What flies of each taxon with these lines.</summary>
    public IReadOnlyList<TaxonForecast> Forecast(IReadOnlyList<PlanLine> lines)
    {
        var bought = lines.SelectMany(l => problem.Offers.First(o => o.Id == l.Offer) is var offer && offer.Taxon is { } t
            ? [t] : offer.Mix.Where(m => m.Share > 0).Select(m => m.Taxon)).ToHashSet();
        return [.. problem.Taxa.Where(t => bought.Contains(t.Name) || own[t.Name].Any(d => d.Max > 0))
            .OrderBy(t => t.Name, StringComparer.Ordinal)
            .Select(t => new TaxonForecast(t.Name, [.. Enumerable.Range(0, days).Select(day =>
            {
                var with = TaxonDay(t.Name, day, lines, withMixes: true);
                return new ForecastDay(
                    problem.OrderDay.AddDays(day), own[t.Name][day].Mean, with.Mean, with.Quantile(0.1), with.Quantile(0.9));
            })]))];
    }

    /// <summary>The count that an aim is about, on a day.</summary>
    public CountDistribution Count(DayAim wish, int day, IReadOnlyList<PlanLine> lines)
    {
        var members = problem.Taxa.Where(t => wish.Of.Counts(t.Taxon)).Select(t => t.Name).Order(StringComparer.Ordinal).ToList();
        if (wish is VarietyAim)
            return CountDistribution.PoissonBinomial(members.Select(name => 1 - TaxonDay(name, day, lines)[0]));
        var parts = members.Select(name => TaxonDay(name, day, lines)).Where(d => d.Max > 0).ToList();
        // A mix says nothing about one taxon: the supplier may leave it out.
        if (members.Count > 1)
            parts.AddRange(lines.Where(l => l.Taxon is null).Select(l => MixDay(l, members, day)).Where(d => d.Max > 0));
        return CountDistribution.Sum(parts);
    }

    private const double Rounding = 1e-9;

    private (double Chance, int Day) Best(BreedingAim aim, IReadOnlyList<PlanLine> lines)
    {
        var best = (Chance: 0.0, Day: 0);
        for (var day = 0; day < days; day++)
        {
            var chance = Pairs.Chance(TaxonDay(aim.Taxon, day, lines), aim.Pairs, taxa[aim.Taxon].FemaleShare);
            if (chance > best.Chance)
                best = (chance, day);
        }

        return best;
    }

    private CountDistribution TaxonDay(string name, int day, IReadOnlyList<PlanLine> lines, bool withMixes = false)
    {
        var sum = own[name][day];
        foreach (var line in lines)
        {
            if (line.Taxon == name)
                sum = sum.Plus(Lot(line)[day]);
            else if (withMixes && line.Taxon is null)
                sum = sum.Plus(MixDay(line, [name], day));
        }

        return sum;
    }

    private CountDistribution[] Lot(PlanLine line)
    {
        var key = (line.Offer, line.Arrives, line.Pupae);
        if (lots.TryGetValue(key, out var known))
            return known;
        var taxon = taxa[line.Taxon!];
        var emerged = taxon.RateFrom(line.Supplier).Forecast(line.Pupae);
        var flies = Flies(taxon, line.Arrives);
        return lots[key] = [.. flies.Select(emerged.Thin)];
    }

    private double[] Flies(PlanTaxon taxon, DateOnly arrives)
    {
        var from = arrives.DayNumber - problem.OrderDay.DayNumber;
        var flies = new double[days];
        PupaOdds.Flying(1, taxon.Timing, taxon.Stock.Survival, days - from).CopyTo(flies, from);
        return flies;
    }

    // How many of a mix are of these taxa and fly. Their common chance is the sum over taxa of share · rate · flying; its spread is that
    // of the rates. The beta distribution with that mean and spread stands for it.
    private CountDistribution MixDay(PlanLine line, IReadOnlyCollection<string> members, int day)
    {
        var (mean, spread) = (0.0, 0.0);
        foreach (var part in problem.Offers.First(o => o.Id == line.Offer).Mix.Where(m => members.Contains(m.Taxon)))
        {
            var rate = taxa[part.Taxon].RateFrom(line.Supplier);
            var flies = part.Share * Flies(taxa[part.Taxon], line.Arrives)[day];
            mean += flies * rate.Mean;
            spread += flies * flies * (ModelBuilder.SquaredMean(rate) - (rate.Mean * rate.Mean));
        }

        if (spread <= 1e-12 || mean is <= 0 or >= 1)
            return CountDistribution.Binomial(line.Pupae, Math.Min(1, mean));
        var concentration = (mean * (1 - mean) / spread) - 1;
        return CountDistribution.BetaBinomial(line.Pupae, mean * concentration, (1 - mean) * concentration);
    }
}
