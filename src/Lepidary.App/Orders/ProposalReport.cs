using Lepidary.App.Weeks;
using Lepidary.Lists;
using Lepidary.Planning;

namespace Lepidary.App.Orders;

/// <summary>A line to order, with what the list printed.</summary>
/// <param name="Notes">What is unusual about the offer against the lists of the weeks before, in words.</param>
internal sealed record ProposedLine(
    string Offer, string Supplier, int Line, string? Sheet, string Text, string? Taxon, string? Form, OfferKind Kind, int Pupae, int Packs, int Pack,
    decimal UnitPrice, decimal Goods, string Currency, decimal Landed, DateOnly Arrives, string Reason, IReadOnlyList<string> Notes, bool Settled);

/// <summary>A line that can't be ordered until the keeper settles something.</summary>
internal sealed record UnsettledLine(string Supplier, int Line, string Text, string Why);

/// <summary>A proposal as commands print it and pages show it: everything worded and rounded, nothing left to compute.</summary>
internal sealed record ProposalReport
{
    public required string House { get; init; }

    public required DateOnly OrderDay { get; init; }

    public required string Currency { get; init; }

    public required PlanStatus Status { get; init; }

    /// <summary>Which wishes clash, or what is wrong; empty when there is a plan.</summary>
    public IReadOnlyList<string> Problems { get; init; } = [];

    /// <summary>What holds only as far as what is settled lets it, one sentence each.</summary>
    public IReadOnlyList<string> SettledNotes { get; init; } = [];

    public decimal? Budget { get; init; }

    public decimal Total { get; init; }

    public int Pupae { get; init; }

    public IReadOnlyList<ProposedLine> Lines { get; init; } = [];

    public IReadOnlyList<SupplierOrder> Orders { get; init; } = [];

    public IReadOnlyList<AimOdds> Aims { get; init; } = [];

    public IReadOnlyList<LeftOut> LeftOut { get; init; } = [];

    /// <summary>What the weeks ahead are likely to offer, in sentences.</summary>
    public IReadOnlyList<AheadLine> Ahead { get; init; } = [];

    public IReadOnlyList<UnsettledLine> NotOrderable { get; init; } = [];

    public IReadOnlyList<TaxonForecast> Forecast { get; init; } = [];

    /// <summary>Landed cost plus what is short, house currency; null without a plan.</summary>
    public double? Objective { get; init; }

    public double? Bound { get; init; }

    public double? Gap { get; init; }

    public int Seed { get; init; }

    public double Seconds { get; init; }

    /// <summary>What the independent checker reckoned again; null where it was not asked.</summary>
    public PlanCheck? Check { get; init; }

    public static ProposalReport Of(PlanningInput input, PlanningTask task, PlanOutcome outcome, PlanCheck? check = null)
    {
        var plan = outcome.Plan;
        return new ProposalReport
        {
            House = input.House.Name,
            OrderDay = input.OrderDay,
            Currency = input.House.Currency,
            Status = outcome.Status,
            Problems = outcome.Problems,
            SettledNotes = outcome.Notes,
            Budget = input.House.Budget,
            Total = plan?.Total ?? 0,
            Pupae = plan?.Lines.Sum(line => line.Pupae) ?? 0,
            Lines = [.. plan?.Lines.Select(line => Line(line, input, task)) ?? []],
            Orders = plan?.Orders ?? [],
            Aims = plan?.Aims ?? [],
            LeftOut = plan?.LeftOut ?? [],
            NotOrderable = [.. task.NotOrderable.Select(item => new UnsettledLine(item.Supplier, item.Offer.Line, item.Offer.Text, item.Why))],
            Forecast = plan?.Forecast ?? [],
            Objective = Finite(outcome.Objective),
            Bound = Finite(outcome.Bound),
            Gap = plan is null ? null : Finite(outcome.Gap),
            Seed = outcome.Seed,
            Seconds = outcome.Seconds,
            Check = check,
        };
    }

    private static ProposedLine Line(PlanLine line, PlanningInput input, PlanningTask task)
    {
        // What comes instead of a line stands under that line's offer, with a name of its own after it.
        var (from, offer) = task.Offers.TryGetValue(line.Offer, out var own) ? own
            : task.Offers[task.Problem.Settled.First(settled => settled.Instead == line.Taxon && line.Offer.StartsWith(settled.Offer + " ", StringComparison.Ordinal)).Offer];
        return new ProposedLine(
            line.Offer, line.Supplier, offer.Line, offer.Sheet, offer.Text, line.Taxon, line.Taxon == offer.Taxon ? offer.Form : null, offer.Kind, line.Pupae, line.Packs, offer.Pack,
            line.UnitPrice, line.Goods, from.Terms.Currency, line.Landed, line.Arrives, line.Reason, Notes(input, from, offer), line.Settled);
    }

    private static IReadOnlyList<string> Notes(PlanningInput input, ListOnOffer from, Offer offer) =>
        offer.Taxon is not null && input.Weeks.FirstOrDefault(supplier => supplier.Terms.SupplierId == from.Terms.SupplierId) is { Weeks.Count: > 0 } weeks
            ? weeks.Notes(new(offer.Taxon, offer.Form, offer.Kind == OfferKind.Cocoon, offer.Price, offer.SoldOut), weeks.Weeks[^1].Day, from.List.Currency, from.List.PricesExcludeTax, isThisWeek: true)
            : [];

    private static double? Finite(double value) => double.IsFinite(value) ? value : null;
}
