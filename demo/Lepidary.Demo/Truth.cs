namespace Lepidary.Demo;

/// <summary>How a species behaves in this invented world. The product never sees it.</summary>
/// <param name="Taxon">Accepted binomial.</param>
/// <param name="Rate">Share of living pupae that emerge whole.</param>
/// <param name="Likeness">How alike the pupae of a lot are: see <see cref="Urn"/>.</param>
/// <param name="Days">Mean days from hanging a bought pupa to emergence.</param>
/// <param name="Sd">Standard deviation of those days within a lot.</param>
/// <param name="Life">Mean days on the wing.</param>
/// <param name="Seen">Chance that a flying adult is counted on a bright day's walk.</param>
/// <param name="Sexed">True where a keeper tells the sexes apart at a glance.</param>
internal sealed record TrueSpecies(
    string Taxon, double Rate, double Likeness, double Days, double Sd, double Life, double Seen, bool Sexed);

/// <summary>How a supplier behaves in this invented world.</summary>
/// <param name="RateShift">Added to the species' rate.</param>
/// <param name="Pace">Factor on the days to emergence: above 1 posts younger pupae.</param>
/// <param name="DeadOnArrival">Share dead in the box.</param>
/// <param name="Damaged">Share damaged in the box.</param>
/// <param name="EmergedInBox">Share that came out on the way.</param>
/// <param name="Parasitised">Share with a parasitoid inside; the lots differ much.</param>
internal sealed record TrueSupplier(
    double RateShift, double Pace, double DeadOnArrival, double Damaged, double EmergedInBox, double Parasitised);

internal static class Truth
{
    /// <summary>The seed of the whole scenario.</summary>
    public const ulong Seed = 20261127;

    /// <summary>Days on which the heater of Cage B dried the air, both ends included.</summary>
    public static readonly (int From, int To) DrySpell = (-24, -22);

    /// <summary>Share of adults that the dry air of <see cref="DrySpell"/> cripples.</summary>
    public const double DryCripples = 0.3;

    /// <summary>Share of the pupae bred here that emerge whole.</summary>
    public const double OwnRate = 0.92;

    /// <summary>Share of dead adults that somebody finds; on closed Mondays more.</summary>
    public const double Found = 0.3;

    /// <summary>As <see cref="Found"/>, on Mondays.</summary>
    public const double FoundOnMonday = 0.5;

    private static readonly Dictionary<string, TrueSpecies> AllSpecies = Table.Read("truth.csv")
        .Select(r => new TrueSpecies(
            r["taxon"], r.Number("rate"), r.Number("spread"), r.Number("days"), r.Number("sd"),
            r.Number("life"), r.Number("seen"), r["sexed"] == "yes"))
        .ToDictionary(s => s.Taxon);

    public static TrueSpecies Of(string taxon) => AllSpecies[taxon];

    public static TrueSupplier Of(Supplier supplier) => supplier.Key switch
    {
        'Q' => new(0.01, 1.0, 0.012, 0.008, 0.004, 0.000),
        'B' => new(0.03, 0.9, 0.010, 0.006, 0.008, 0.000),
        'K' => new(-0.05, 1.1, 0.045, 0.015, 0.010, 0.080),
        _ => throw new ArgumentOutOfRangeException(nameof(supplier), supplier.Key, "No such supplier."),
    };

    /// <summary>Rate of a species from a supplier. One pair misbehaves for a reason that nobody writes on a list.</summary>
    public static double Rate(string taxon, Supplier supplier) =>
        supplier.Key == 'K' && taxon == "Protogoniomorpha parhassus"
            ? 0.38
            : Math.Clamp(Of(taxon).Rate + Of(supplier).RateShift, 0.3, 0.98);
}
