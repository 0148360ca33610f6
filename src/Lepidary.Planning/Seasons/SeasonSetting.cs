using Lepidary.Planning.Model;
using Lepidary.Science.Emergence;

namespace Lepidary.Planning.Seasons;

/// <summary>
/// A house and its suppliers over some weeks: what a season is drawn from. Day 0 is the order day of the first week; one order day every seven days.
/// </summary>
public sealed record SeasonSetting
{
    /// <summary>
    /// The house as in the first week: suppliers with the days on which a box of that week arrives, taxa with their odds and stock, aims, budget a week, places,
    /// ceiling, and what a missing butterfly is worth. Its offers count for nothing: <see cref="Lines"/> tell what is listed.
    /// <see cref="PlanProblem.OpenDays"/> must cover the season, or be null for every day.
    /// </summary>
    public required PlanProblem House { get; init; }

    /// <summary>Order weeks, 1 … 104.</summary>
    public required int Weeks { get; init; }

    /// <summary>What may be listed in a week. Ids are unique.</summary>
    public IReadOnlyList<SeasonLine> Lines { get; init; } = [];

    /// <summary>Days at the start that are not scored, at least 0.</summary>
    public int DaysBefore { get; init; } = 14;

    /// <summary>Most that all orders of the season may cost together, landed, or null.</summary>
    public decimal? Budget { get; init; }

    /// <summary>
    /// Weeks that were: by week the problem as it stood then, of which offers, suppliers' terms, odds and rules are taken; its stock is not. Null: lists are drawn.
    /// </summary>
    public IReadOnlyList<PlanProblem>? Replayed { get; init; }

    /// <summary>Days of the season, the last week's included.</summary>
    public int Days => Weeks * 7;

    /// <summary>What later lists are likely to offer, from <see cref="Lines"/>; empty for a taxon that none of them names.</summary>
    public IReadOnlyDictionary<string, LaterOffers> Later()
    {
        var factor = House.Suppliers.ToDictionary(s => s.Name, s => (decimal)ModelBuilder.LandedFactor(s, true));
        return Lines.Where(line => line.Chance > 0 && factor.ContainsKey(line.Supplier)).GroupBy(line => line.Taxon).ToDictionary(
            lines => lines.Key,
            lines =>
            {
                var weight = lines.Sum(line => line.Chance);
                return new LaterOffers(
                    1 - lines.Aggregate(1.0, (none, line) => none * (1 - line.Chance)),
                    lines.Sum(line => line.Price.Middle * factor[line.Supplier] * (decimal)(line.Chance / weight)));
            });
    }

    /// <summary>The same with another budget a week.</summary>
    public SeasonSetting WithWeeklyBudget(decimal? budget) => this with
    {
        House = House with { Budget = budget },
        Replayed = Replayed is null ? null : [.. Replayed.Select(week => week with { Budget = budget })],
    };

    /// <summary>The same without a supplier.</summary>
    public SeasonSetting Without(string supplier) => this with
    {
        House = House with { Suppliers = [.. House.Suppliers.Where(s => s.Name != supplier)] },
        Lines = [.. Lines.Where(line => line.Supplier != supplier)],
        Replayed = Replayed is null ? null : [.. Replayed.Select(week => week with
        {
            Suppliers = [.. week.Suppliers.Where(s => s.Name != supplier)],
            Offers = [.. week.Offers.Where(o => o.Supplier != supplier)],
            Rules = [.. week.Rules.Where(r => week.Offers.Any(o => o.Id == r.Offer && o.Supplier != supplier))],
        })],
    };

    /// <summary>The same in a house where pupae take longer or less: every wait times a factor. Life on the wing stays as it is.</summary>
    /// <param name="factor">Above 0; 1.2 is a fifth longer.</param>
    public SeasonSetting WithSlowerPupae(double factor)
    {
        PlanProblem Slower(PlanProblem week) => week with
        {
            Taxa = [.. week.Taxa.Select(t => t with
            {
                Timing = Stretched(t.Timing, factor),
                Stock = t.Stock with { Lots = [.. t.Stock.Lots.Select(lot => lot with { Timing = Stretched(lot.Timing, factor) })] },
            })],
        };
        return this with { House = Slower(House), Replayed = Replayed is null ? null : [.. Replayed.Select(Slower)] };
    }

    /// <summary>The same with the number of each display and variety aim times a factor, rounded up.</summary>
    /// <param name="factor">Above 0.</param>
    public SeasonSetting WithAims(double factor)
    {
        PlanProblem Other(PlanProblem week) => week with
        {
            Aims = [.. week.Aims.Select(a => a is DayAim d ? d with { AtLeast = Math.Max(1, (int)Math.Ceiling((d.AtLeast * factor) - 1e-9)) } : a)],
        };
        return this with { House = Other(House), Replayed = Replayed is null ? null : [.. Replayed.Select(Other)] };
    }

    /// <summary>Every wait times a factor; a day between two whole days is shared out between them, so that the mean is met.</summary>
    internal static EmergenceTiming Stretched(EmergenceTiming timing, double factor)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(factor);
        var chances = new double[(int)Math.Ceiling(timing.LastDay * factor) + 1];
        for (var day = 0; day <= timing.LastDay; day++)
        {
            var at = day * factor;
            var whole = (int)at;
            chances[whole] += timing[day] * (1 - (at - whole));
            if (at > whole)
                chances[whole + 1] += timing[day] * (at - whole);
        }

        return EmergenceTiming.FromChances(chances);
    }

    /// <summary>One sentence for each fault; none when a season can be played.</summary>
    public IReadOnlyList<string> Faults()
    {
        var faults = new List<string>();
        void Need(bool good, string otherwise)
        {
            if (!good)
                faults.Add(otherwise);
        }

        Need(Weeks is >= 1 and <= 104, FormattableString.Invariant($"A season of {Weeks} weeks; 1 to 104 can be played."));
        Need(DaysBefore >= 0 && DaysBefore < Weeks * 7, FormattableString.Invariant($"{DaysBefore} days before the scoring of a season of {Weeks * 7}; fewer are wanted."));
        Need(Budget is null or >= 0, FormattableString.Invariant($"The season's budget is {Budget}; it cannot be below 0."));
        Need(Replayed is null || Replayed.Count == Weeks, FormattableString.Invariant($"{Replayed?.Count} weeks to replay in a season of {Weeks}."));
        var suppliers = House.Suppliers.Select(s => s.Name).ToHashSet();
        var taxa = House.Taxa.Select(t => t.Name).ToHashSet();
        foreach (var line in Lines)
        {
            Need(suppliers.Contains(line.Supplier), $"Line {line.Id} is of {line.Supplier}, which is no supplier of this house.");
            Need(taxa.Contains(line.Taxon), $"Line {line.Id} is of {line.Taxon}, which is no taxon of this house.");
            Need(line.Chance is >= 0 and <= 1, FormattableString.Invariant($"Line {line.Id} is listed with a chance of {line.Chance}; 0 to 1 is wanted."));
            Need(line.Price.Low > 0 && line.Price.Low <= line.Price.Middle && line.Price.Middle <= line.Price.High, FormattableString.Invariant($"Line {line.Id} costs {line.Price.Low}, {line.Price.Middle}, {line.Price.High}; above 0 and ascending is wanted."));
            Need(line.Pack >= 1 && line.Minimum >= 0 && line.AvailableFrom >= 0 && line.AvailableTo >= line.AvailableFrom, FormattableString.Invariant($"Line {line.Id}: pack {line.Pack}, minimum {line.Minimum}, available {line.AvailableFrom} to {line.AvailableTo}."));
        }

        foreach (var id in Lines.GroupBy(l => l.Id).Where(g => g.Count() > 1))
            Need(false, FormattableString.Invariant($"Line {id.Key} is there {id.Count()} times; each may be there once."));
        foreach (var week in Replayed ?? [])
        {
            foreach (var name in week.Offers.SelectMany(o => o.Mix.Select(m => m.Taxon).Append(o.Taxon)).OfType<string>().Where(name => !taxa.Contains(name)).Distinct())
                Need(false, $"A replayed list offers {name}, which is no taxon of this house.");
        }

        faults.AddRange(ProblemCheck.Of(House with { Offers = [], Rules = [] }));
        return faults;
    }
}

/// <summary>A line that a supplier lists in some weeks.</summary>
public sealed record SeasonLine
{
    /// <summary>Key; the week's number is put behind it for the offer's id.</summary>
    public required string Id { get; init; }

    /// <summary>Name of the supplier.</summary>
    public required string Supplier { get; init; }

    /// <summary>Accepted binomial.</summary>
    public required string Taxon { get; init; }

    /// <summary>Chance that it is listed in a week, 0 … 1, independent of other weeks and lines.</summary>
    public required double Chance { get; init; }

    /// <summary>Price of a pupa as printed, supplier's currency.</summary>
    public required PriceOutlook Price { get; init; }

    /// <summary>Pupae a pack.</summary>
    public int Pack { get; init; } = 1;

    /// <summary>Fewest pupae, or 0.</summary>
    public int Minimum { get; init; }

    /// <summary>Fewest that are on hand in a week.</summary>
    public int AvailableFrom { get; init; } = 100;

    /// <summary>Most that are on hand in a week.</summary>
    public int AvailableTo { get; init; } = 100;
}
