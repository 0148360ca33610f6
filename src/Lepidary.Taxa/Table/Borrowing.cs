using System.Collections.Concurrent;

namespace Lepidary.Taxa.Table;

/// <summary>
/// Life histories for taxa that have none of their own: the median of the nearest relatives that do, from genus, then tribe, subfamily, family
/// and at last the whole table. Each figure looks for its own relatives, and says which and how many.
/// </summary>
internal sealed class Borrowing
{
    private static readonly string[] habits = ["nectar", "pollen", "fruit", "none", "canopy", "day", "dusk", "night"];

    private const int MostFoodPlants = 6;

    private readonly Dictionary<string, List<Taxon>> genera = new(StringComparer.Ordinal);
    private readonly Dictionary<string, List<Taxon>> tribes = new(StringComparer.Ordinal);
    private readonly Dictionary<string, List<Taxon>> subfamilies = new(StringComparer.Ordinal);
    private readonly Dictionary<string, List<Taxon>> families = new(StringComparer.Ordinal);
    private readonly List<Taxon> all;
    private readonly ConcurrentDictionary<string, Kin> kins = new(StringComparer.Ordinal);

    /// <summary>Borrows from these taxa.</summary>
    public Borrowing(List<Taxon> withOwnLife)
    {
        all = withOwnLife;
        foreach (var taxon in withOwnLife)
        {
            Add(genera, taxon.Genus, taxon);
            Add(tribes, taxon.Tribe, taxon);
            Add(subfamilies, taxon.Subfamily, taxon);
            Add(families, taxon.Family, taxon);
        }
    }

    /// <summary>The chance that a pupa emerges whole, before a book knows better.</summary>
    public static Sourced<double> UsualEmergenceRate { get; } =
        new(0.8, "8 of 10, usual among keepers; common practice, no source", Confidence.CommonPractice);

    /// <summary>The share of females among the emerged, before a book knows better.</summary>
    public static Sourced<double> UsualFemaleShare { get; } =
        new(0.5, "half, the default expectation with ZW sex chromosomes; no figure of this species", Confidence.CommonPractice);

    /// <summary>A borrowed life for a taxon; its own wingspan stays where the table has one.</summary>
    public LifeHistory For(string genus, Place place, string region, Sourced<WholeRange>? ownWingspan)
    {
        var kin = KinOf(genus, place);
        return kin.Life with
        {
            WingspanMm = ownWingspan ?? kin.Life.WingspanMm,
            CanRest = kin.RestingRegions.Contains(Season(region)),
        };
    }

    /// <summary>Food, flight layer and hours that all the nearest relatives share; empty where they differ.</summary>
    public IReadOnlyList<string> SharedHabits(string genus, Place place) => KinOf(genus, place).Habits;

    // Palearctic species have no rows of their own yet; their winters are those of the Nearctic.
    private static string Season(string region) => region is "Palearctic" ? "Nearctic" : region;

    private static void Add(Dictionary<string, List<Taxon>> groups, string name, Taxon taxon)
    {
        if (name.Length == 0)
            return;
        if (!groups.TryGetValue(name, out var members))
            groups.Add(name, members = []);
        members.Add(taxon);
    }

    // Genera that have nothing of their own share what their tribe has, and so on upwards.
    private Kin KinOf(string genus, Place place)
    {
        var groups = new List<Group>(5);
        if (genera.TryGetValue(genus, out var members))
            groups.Add(new Group($"the genus {genus}", members));
        if (tribes.TryGetValue(place.Tribe, out members))
            groups.Add(new Group($"the tribe {place.Tribe}", members));
        var near = groups.Count;
        if (subfamilies.TryGetValue(place.Subfamily, out members))
            groups.Add(new Group($"the subfamily {place.Subfamily}", members));
        if (families.TryGetValue(place.Family, out members))
            groups.Add(new Group($"the family {place.Family}", members));
        var inFamily = groups.Count;
        groups.Add(new Group("the whole table", all));
        return kins.GetOrAdd(groups[0].Name, _ => Gather(groups, near, inFamily));
    }

    private static Kin Gather(List<Group> groups, int near, int inFamily)
    {
        var nearest = groups[0].Members;

        var life = new LifeHistory
        {
            DaysToEmergence = Borrow<WholeRange>(groups, t => t.Life.DaysToEmergence.Value, MiddleRange)!,
            AdultLifeDays = Borrow<double>(groups, t => t.Life.AdultLifeDays.Value, Median)!,
            AdultLifeDaysMax = Borrow<double>(groups, t => t.Life.AdultLifeDaysMax.Value, Median)!,
            EmergenceRate = UsualEmergenceRate,
            FemaleShare = UsualFemaleShare,

            // Size, food plants and the whole development differ too much above the tribe, pupal days above the family, to be worth borrowing.
            WingspanMm = Borrow(groups[..near], t => t.Life.WingspanMm?.Value, MiddleRange),
            PupalDays = Borrow(groups[..inFamily], t => t.Life.PupalDays?.Value, Median),
            EggToAdultDays = Borrow(groups[..near], t => t.Life.EggToAdultDays?.Value, Median),
            Attachment = Shared(groups[..inFamily], t => t.Life.Attachment?.Value),
            SexesDiffer = Shared(groups[..Math.Min(1, near)], t => t.Life.SexesDiffer?.Value),
            FoodPlants = BorrowFoodPlants(groups[..near]),
        };
        return new Kin(
            life,
            nearest.Where(t => t.Life.CanRest).Select(t => Season(t.Region)).ToHashSet(StringComparer.Ordinal),
            inFamily == 0 ? [] : [.. habits.Where(h => nearest.TrueForAll(t => t.Tags.Contains(h)))]);
    }

    private static Sourced<T>? Borrow<T>(List<Group> groups, Func<Taxon, T?> figure, Func<List<T>, T> middle)
        where T : struct
    {
        foreach (var group in groups)
        {
            var figures = new List<T>(group.Members.Count);
            foreach (var member in group.Members)
            {
                if (figure(member) is { } value)
                    figures.Add(value);
            }

            if (figures.Count > 0)
                return new Sourced<T>(middle(figures), $"median of {figures.Count} species of {group.Name}", Confidence.Borrowed);
        }

        return null;
    }

    // What all the nearest relatives have in common; nothing where they differ.
    private static Sourced<T>? Shared<T>(List<Group> groups, Func<Taxon, T?> trait)
        where T : struct, Enum
    {
        if (groups.Count == 0 || trait(groups[0].Members[0]) is not { } first)
            return null;
        var members = groups[0].Members;
        return members.TrueForAll(m => trait(m) is { } other && EqualityComparer<T>.Default.Equals(other, first))
            ? new Sourced<T>(first, $"the same in {members.Count} species of {groups[0].Name}", Confidence.Borrowed)
            : null;
    }

    private static Sourced<IReadOnlyList<string>> BorrowFoodPlants(List<Group> groups)
    {
        foreach (var group in groups)
        {
            var named = new Dictionary<string, int>(StringComparer.Ordinal);
            foreach (var member in group.Members)
            {
                foreach (var plant in member.Life.FoodPlants.Value)
                    named[plant] = named.GetValueOrDefault(plant) + 1;
            }

            if (named.Count == 0)
                continue;
            var plants = new List<string>(named.Keys);
            plants.Sort((a, b) => named[a] == named[b] ? string.CompareOrdinal(a, b) : named[b] - named[a]);
            return new Sourced<IReadOnlyList<string>>(
                plants[..Math.Min(MostFoodPlants, plants.Count)], $"most named by {group.Members.Count} species of {group.Name}", Confidence.Borrowed);
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
        (int)Math.Floor(Median(ranges.ConvertAll(r => (double)r.From))),
        (int)Math.Ceiling(Median(ranges.ConvertAll(r => (double)r.To))));

    private sealed record Group(string Name, List<Taxon> Members);

    private sealed record Kin(LifeHistory Life, HashSet<string> RestingRegions, IReadOnlyList<string> Habits);
}
