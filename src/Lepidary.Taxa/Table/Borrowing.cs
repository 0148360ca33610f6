using System.Collections.Concurrent;

namespace Lepidary.Taxa.Table;

/// <summary>
/// Life histories for taxa that have none of their own: the median of the nearest relatives that do, from genus, then tribe, subfamily, family
/// and at last the whole table. Each figure looks for its own relatives, and says which and how many.
/// </summary>
internal sealed class Borrowing(IReadOnlyList<Taxon> withOwnLife)
{
    private readonly ConcurrentDictionary<(string Genus, string Tribe, string Subfamily, string Family), Kin> kins = new();

    /// <summary>The chance that a pupa emerges whole, before a book knows better.</summary>
    public static Sourced<double> UsualEmergenceRate { get; } =
        new(0.8, "8 of 10, usual among keepers; common practice, no source", Confidence.CommonPractice);

    /// <summary>The share of females among the emerged, before a book knows better.</summary>
    public static Sourced<double> UsualFemaleShare { get; } =
        new(0.5, "half, the default expectation with ZW sex chromosomes; no figure of this species", Confidence.CommonPractice);

    /// <summary>A borrowed life for a taxon; its own wingspan stays where the table has one.</summary>
    public LifeHistory For(string genus, string tribe, string subfamily, string family, string region, Sourced<WholeRange>? ownWingspan)
    {
        var kin = kins.GetOrAdd((genus, tribe, subfamily, family), key => Gather(key.Genus, key.Tribe, key.Subfamily, key.Family));
        return kin.Life with
        {
            WingspanMm = ownWingspan ?? kin.Life.WingspanMm,
            CanRest = kin.RestingRegions.Contains(Season(region)),
        };
    }

    /// <summary>Food, flight layer and hours that all the nearest relatives share; empty where they differ.</summary>
    public IReadOnlyList<string> SharedHabits(string genus, string tribe, string subfamily, string family) =>
        kins.GetOrAdd((genus, tribe, subfamily, family), key => Gather(key.Genus, key.Tribe, key.Subfamily, key.Family)).Habits;

    // Palearctic species have no rows of their own yet; their winters are those of the Nearctic.
    private static string Season(string region) => region is "Palearctic" ? "Nearctic" : region;

    private Kin Gather(string genus, string tribe, string subfamily, string family)
    {
        (string Rank, Func<Taxon, bool> Holds)[] ranks =
        [
            ($"the genus {genus}", t => t.Genus == genus),
            ($"the tribe {tribe}", t => tribe.Length > 0 && t.Tribe == tribe),
            ($"the subfamily {subfamily}", t => subfamily.Length > 0 && t.Subfamily == subfamily),
            ($"the family {family}", t => family.Length > 0 && t.Family == family),
            ("the whole table", _ => true),
        ];
        var groups = ranks.Select(r => (r.Rank, Members: withOwnLife.Where(r.Holds).ToList())).Where(g => g.Members.Count > 0).ToList();
        var (_, nearest) = groups[0];
        var inFamily = groups.Where(g => g.Rank != "the whole table").ToList();
        var inTribe = groups.Where(g => g.Rank.StartsWith("the genus", StringComparison.Ordinal) || g.Rank.StartsWith("the tribe", StringComparison.Ordinal)).ToList();

        var life = new LifeHistory
        {
            DaysToEmergence = Borrow<WholeRange>(groups, t => t.Life.DaysToEmergence.Value, MiddleRange)!,
            AdultLifeDays = Borrow<double>(groups, t => t.Life.AdultLifeDays.Value, Median)!,
            AdultLifeDaysMax = Borrow<double>(groups, t => t.Life.AdultLifeDaysMax.Value, Median)!,
            EmergenceRate = UsualEmergenceRate,
            FemaleShare = UsualFemaleShare,
            WingspanMm = Borrow(inTribe, t => t.Life.WingspanMm?.Value, MiddleRange),
            PupalDays = Borrow(inFamily, t => t.Life.PupalDays?.Value, Median),
            EggToAdultDays = Borrow(inTribe, t => t.Life.EggToAdultDays?.Value, Median),
            FoodPlants = BorrowFoodPlants(inTribe),
        };
        string[] habits = ["nectar", "pollen", "fruit", "none", "canopy", "day", "dusk", "night"];
        var nearEnough = groups[0].Rank != "the whole table";
        return new Kin(
            life,
            nearest.Where(t => t.Life.CanRest).Select(t => Season(t.Region)).ToHashSet(StringComparer.Ordinal),
            nearEnough ? [.. habits.Where(h => nearest.All(t => t.Tags.Contains(h)))] : []);
    }

    private static Sourced<T>? Borrow<T>(List<(string Rank, List<Taxon> Members)> groups, Func<Taxon, T?> figure, Func<List<T>, T> middle)
        where T : struct
    {
        foreach (var (rank, members) in groups)
        {
            var figures = members.Select(figure).OfType<T>().ToList();
            if (figures.Count > 0)
                return new Sourced<T>(middle(figures), $"median of {figures.Count} species of {rank}", Confidence.Borrowed);
        }

        return null;
    }

    private static Sourced<IReadOnlyList<string>> BorrowFoodPlants(List<(string Rank, List<Taxon> Members)> groups)
    {
        foreach (var (rank, members) in groups)
        {
            var plants = members.SelectMany(t => t.Life.FoodPlants.Value).CountBy(p => p).OrderByDescending(p => p.Value).Take(6).Select(p => p.Key).ToList();
            if (plants.Count > 0)
                return new Sourced<IReadOnlyList<string>>(plants, $"most named by {members.Count} species of {rank}", Confidence.Borrowed);
        }

        return new Sourced<IReadOnlyList<string>>([], "no near relative in the table", Confidence.Borrowed);
    }

    private static double Median(List<double> figures)
    {
        figures.Sort();
        var half = figures.Count / 2;
        return figures.Count % 2 == 1 ? figures[half] : (figures[half - 1] + figures[half]) / 2;
    }

    private static WholeRange MiddleRange(List<WholeRange> ranges) => new(
        (int)Math.Floor(Median([.. ranges.Select(r => (double)r.From)])),
        (int)Math.Ceiling(Median([.. ranges.Select(r => (double)r.To)])));

    private sealed record Kin(LifeHistory Life, HashSet<string> RestingRegions, IReadOnlyList<string> Habits);
}
