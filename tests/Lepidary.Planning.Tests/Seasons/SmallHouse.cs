using Lepidary.Planning.Seasons;
using Lepidary.Planning.Tests.Instances;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;

namespace Lepidary.Planning.Tests.Seasons;

/// <summary>Two suppliers, four taxa, eight weeks. Names of suppliers and terms are invented.</summary>
internal static class SmallHouse
{
    public static SeasonSetting Make(int weeks = 8) => new()
    {
        Weeks = weeks,
        DaysBefore = 10,
        House = new()
        {
            OrderDay = Tiny.Day,
            Currency = "GBP",
            Suppliers =
            [
                new() { Name = "Quillfeather Pupae", Currency = "GBP", TaxRate = 0.2m, Arrives = [Tiny.Day.AddDays(1)], Carriage = [new(1, 9), new(40, 14)] },
                new() { Name = "Amberwing Farm", Currency = "EUR", Rate = 0.86m, Arrives = [Tiny.Day.AddDays(3)], Carriage = [new(1, 6)], MinimumPupae = 10 },
            ],
            Offers = [],
            Taxa =
            [
                Taxon("Morpho helenor", EmergenceRate.FromTable(0.8), "blue") with { Stock = new(AdultSurvival.FromLife(10, 22), [new(8, 4, EmergenceRate.FromTable(0.8), EmergenceTiming.FromWindow(4, 9), "Quillfeather Pupae", 2, 1)], [new(5, 3, 0.8)]) },
                Taxon("Papilio memnon", EmergenceRate.Known(0.7), "large"),
                Taxon("Heliconius melpomene", new(0.85, 60, 15), "small"),
                Taxon("Caligo memnon", EmergenceRate.FromTable(0.75), "large"),
            ],
            Aims =
            [
                new DisplayAim { Id = "m", Words = "6 Morpho helenor", Of = AimOf.Taxon("Morpho helenor"), AtLeast = 6, Importance = 2 },
                new DisplayAim { Id = "p", Words = "4 Papilio memnon", Of = AimOf.Taxon("Papilio memnon"), AtLeast = 4 },
                new DisplayAim { Id = "l", Words = "9 large", Of = AimOf.Tag("large"), AtLeast = 9 },
                new VarietyAim { Id = "v", Words = "4 species", Of = AimOf.All, AtLeast = 4 },
            ],
            OpenDays = [.. Enumerable.Range(0, weeks * 7).Select(Tiny.Day.AddDays).Where(d => d.DayOfWeek != DayOfWeek.Monday)],
            CagePlaces = 70,
            Settings = new() { WorthOfOneShort = 1, Gap = 0.01 },
        },
        Lines =
        [
            Line("qm", "Quillfeather Pupae", "Morpho helenor", 0.7, 4),
            Line("qp", "Quillfeather Pupae", "Papilio memnon", 0.5, 3),
            Line("qh", "Quillfeather Pupae", "Heliconius melpomene", 0.9, 2),
            Line("am", "Amberwing Farm", "Morpho helenor", 0.4, 3.5m) with { Pack = 5 },
            Line("ac", "Amberwing Farm", "Caligo memnon", 0.8, 3) with { Minimum = 4 },
        ],
    };

    private static PlanTaxon Taxon(string name, EmergenceRate rate, string tag) => Tiny.Plain(name, tag) with { Timing = EmergenceTiming.FromWindow(4, 9), UsualRate = rate };

    private static SeasonLine Line(string id, string supplier, string taxon, double chance, decimal price) => new()
    {
        Id = id,
        Supplier = supplier,
        Taxon = taxon,
        Chance = chance,
        Price = new(price * 0.9m, price, price * 1.2m),
        AvailableFrom = 15,
        AvailableTo = 40,
    };
}
