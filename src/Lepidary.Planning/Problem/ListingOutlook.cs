namespace Lepidary.Planning;

/// <summary>
/// What later weeks' lists are likely to offer of a taxon, from the lists seen. Plain data: whoever reads the book makes it, the plan's look-ahead takes
/// it.
/// </summary>
/// <param name="Taxon">Accepted binomial.</param>
/// <param name="Suppliers">Everybody who has listed it, at least one; names are unique.</param>
public sealed record ListingOutlook(string Taxon, IReadOnlyList<SupplierOutlook> Suppliers)
{
    /// <summary>Chance that somebody has it next week, 0 … 1: suppliers list it independently of each other.</summary>
    public double WeeklyChance => ChanceIn(1);

    /// <summary>What a pupa will probably cost, landed, house currency: the suppliers' middle prices weighed by their chances.</summary>
    public decimal LandedPrice
    {
        get
        {
            var weight = Suppliers.Sum(supplier => supplier.ChanceIn(1));
            return weight <= 0
                ? Suppliers.Min(supplier => supplier.Landed.Middle)
                : Suppliers.Sum(supplier => supplier.Landed.Middle * (decimal)(supplier.ChanceIn(1) / weight));
        }
    }

    /// <summary>The same as <see cref="PlanTaxon.Later"/> takes it.</summary>
    public LaterOffers Later => new(WeeklyChance, LandedPrice);

    /// <summary>Chance that somebody has it in a week, 0 … 1.</summary>
    /// <param name="week">1 for next week, at least 1.</param>
    public double ChanceIn(int week) => 1 - Suppliers.Aggregate(1.0, (none, supplier) => none * (1 - supplier.ChanceIn(week)));
}

/// <summary>What one supplier's later lists are likely to offer of a taxon.</summary>
public sealed record SupplierOutlook
{
    /// <summary>Name.</summary>
    public required string Supplier { get; init; }

    /// <summary>Lists of theirs on which it was to be had, as plainly counted.</summary>
    public required int Listed { get; init; }

    /// <summary>Lists of theirs that tell whether it was.</summary>
    public required int Lists { get; init; }

    /// <summary>Chance that their list comes in a week, 0 … 1.</summary>
    public double ListChance { get; init; } = 1;

    /// <summary>Chance that it is on their next list, on the one after that, …; at least one; the last holds for all later ones. 0 … 1.</summary>
    public required IReadOnlyList<double> OnList { get; init; }

    /// <summary>8 of 10 such chances for the next list lie between these; 0 … 1.</summary>
    public required (double From, double To) OnNextList { get; init; }

    /// <summary>Price of a pupa, landed (goods, tax, its share of carriage and charges), house currency.</summary>
    public required PriceOutlook Landed { get; init; }

    /// <summary>Chance that they have it in a week, 0 … 1.</summary>
    /// <param name="week">1 for next week, at least 1.</param>
    public double ChanceIn(int week)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(week, 1);
        return ListChance * OnList[Math.Min(week, OnList.Count) - 1];
    }
}

/// <summary>A price that is not known yet.</summary>
/// <param name="Low">1 of 10 is below.</param>
/// <param name="Middle">Half are below; above 0.</param>
/// <param name="High">1 of 10 is above.</param>
public sealed record PriceOutlook(decimal Low, decimal Middle, decimal High);
