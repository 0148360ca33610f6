using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;
using Lepidary.Taxa;

namespace Lepidary.Planning.Tests.Instances;

/// <summary>Small random problems with every kind of limit, from a seed. Names and terms are invented.</summary>
internal static class Tiny
{
    public static readonly DateOnly Day = new(2026, 11, 30);

    private static readonly string[] Names =
        ["Morpho helenor", "Papilio memnon", "Heliconius melpomene", "Idea leuconoe", "Caligo memnon"];

    public static Taxon Taxon(string name, params string[] tags) => new()
    {
        Name = name,
        Tags = tags.ToHashSet(),
        Life = new()
        {
            DaysToEmergence = new(new(5, 10), "invented", Confidence.Memory),
            AdultLifeDays = new(12, "invented", Confidence.Memory),
            AdultLifeDaysMax = new(25, "invented", Confidence.Memory),
            EmergenceRate = new(0.8, "invented", Confidence.Memory),
            FemaleShare = new(0.5, "invented", Confidence.Memory),
            FoodPlants = new([], "invented", Confidence.Memory),
        },
    };

    public static PlanTaxon Plain(string name, params string[] tags) => new()
    {
        Taxon = Taxon(name, tags),
        Timing = EmergenceTiming.FromWindow(3, 8),
        Stock = new(AdultSurvival.FromLife(10, 22), [], []),
        UsualRate = EmergenceRate.Known(0.8),
    };

    /// <summary>
    /// The same with what was added later: prices from a number on, lines with days of their own, closed days, last order days, a season's
    /// budget, places by day, founders, mixes of uncertain make-up. Drawn from a stream of its own.
    /// </summary>
    public static PlanProblem Full(int seed)
    {
        var problem = Random(seed);
        var random = new Random(seed + 7_000_000);
        bool Often() => random.Next(3) == 0;
        return problem with
        {
            Suppliers =
            [
                .. problem.Suppliers.Select(s => s with
                {
                    Arrives = s.Arrives.Count == 1 && Often() && problem.Offers.Count(o => o.Supplier == s.Name) < 3 ? [s.Arrives[0], s.Arrives[0].AddDays(3)] : s.Arrives,
                    ClosedDays = random.Next(8) == 0 ? [s.Arrives[0]] : [],
                    LastOrderDay = random.Next(10) == 0 ? Day.AddDays(-1) : null,
                    FavouredBy = random.Next(4) == 0 ? -0.15 : s.FavouredBy,
                }),
            ],
            Offers =
            [
                .. problem.Offers.Select(o => o with
                {
                    BreaksHold = Often() ? BreakHolds.FromThere : BreakHolds.ForAll,
                    Breaks = o.Breaks.Count == 0 && Often() ? [new(2, o.Price * 0.75m), new(4, o.Price * 0.6m)] : o.Breaks,
                    Arrives = random.Next(6) == 0 ? [problem.Suppliers.Single(s => s.Name == o.Supplier).Arrives[0]] : [],
                    LastOrderDay = random.Next(12) == 0 ? Day.AddDays(-1) : random.Next(6) == 0 ? Day : null,
                    MixCertainty = Often() ? 6 : double.PositiveInfinity,
                }),
            ],
            Aims = [.. problem.Aims.Select(a => a is BreedingAim b ? b with { NewBlood = random.Next(2) == 0 } : a)],
            SeasonBudget = Often() ? 25 : null,
            CagePlacesOn = Often() ? new Dictionary<DateOnly, int> { [Day.AddDays(1 + random.Next(4))] = 4 + random.Next(8), [Day.AddDays(6)] = 3 + random.Next(6) } : new(),
            NoBoxesOn = random.Next(8) == 0 ? [Day.AddDays(2)] : [],
        };
    }

    public static PlanProblem Random(int seed)
    {
        var random = new Random(seed);
        T Pick<T>(params T[] of) => of[random.Next(of.Length)];
        var taxa = Names.Take(2 + random.Next(3)).Select(name => new PlanTaxon
        {
            Taxon = Taxon(name, Pick<string[]>(["blue"], ["blue", "large"], ["large"], [])),
            Timing = EmergenceTiming.FromWindow(2 + random.Next(4), 7 + random.Next(5)),
            UsualRate = Pick(EmergenceRate.Known(0.7), EmergenceRate.FromTable(0.8), new EmergenceRate(0.85, 40, 12)),
            FemaleShare = Pick(0.5, 0.4),
            Stock = new(
                AdultSurvival.FromLife(6 + random.Next(8), 25),
                random.Next(3) == 0 ? [new(random.Next(5), random.Next(6) - 2, EmergenceRate.FromTable(0.8), EmergenceTiming.FromWindow(4, 9), "own")] : [],
                random.Next(3) == 0 ? [new(random.Next(4), random.Next(6))] : []),
            MostPupae = random.Next(8) == 0 ? 6 : null,
        }).ToList();
        var suppliers = Enumerable.Range(0, 2).Select(s => new PlanSupplier
        {
            Name = s == 0 ? "Quillfeather Pupae" : "Amberwing Farm",
            Currency = s == 0 ? "EUR" : "GBP",
            Rate = s == 0 ? 0.86m : 1,
            TaxRate = Pick(0, 0.2m),
            PricesExcludeTax = Pick(true, false),
            TaxReclaimed = random.Next(4) == 0,
            CarriageTaxed = Pick(true, false),
            Arrives = random.Next(5) == 0 ? [Day.AddDays(1), Day.AddDays(4)] : [Day.AddDays(1 + random.Next(3))],
            Carriage = Pick<CarriageStep[]>([], [new(1, 9)], [new(1, 6), new(6, 10)], [new(1, 12), new(8, 4)]),
            CarriageBy = Pick(CarriageBy.Pupae, CarriageBy.Pupae, CarriageBy.Grams),
            Charges = random.Next(3) == 0 ? [new("permit", 5), new("box", 2, PlanChargePer.Box, 4)] : [],
            MinimumPupae = Pick(0, 0, 5),
            MinimumGoods = Pick(0, 0, 12m),
            FavouredBy = Pick(0, 0, 0.1),
        }).ToList();
        suppliers[0] = random.Next(4) == 0
            ? suppliers[0] with { CarriageBy = CarriageBy.Goods, Carriage = [new(0, 8), new(20, 3), new(30, 0)] } : suppliers[0];
        var offers = new List<PlanOffer>();
        foreach (var supplier in suppliers)
        {
            foreach (var taxon in taxa)
            {
                if (random.Next(3) == 0 || supplier.Arrives.Count > 1 && offers.Count > 2)
                    continue;
                var pack = Pick(1, 1, 2, 5);
                offers.Add(new()
                {
                    Id = $"{supplier.Name}/{taxon.Name}",
                    Supplier = supplier.Name,
                    Taxon = taxon.Name,
                    Price = 1 + (random.Next(400) / 100m),
                    Pack = pack,
                    Minimum = Pick(0, 0, 3),
                    Available = pack * (1 + random.Next(4)),
                    Breaks = random.Next(3) == 0 ? [new(3, 1.5m)] : [],
                    Text = taxon.Name,
                });
            }
        }

        if (random.Next(3) == 0)
        {
            offers.Add(new()
            {
                Id = "mix",
                Supplier = suppliers[1].Name,
                Price = 1.2m,
                Pack = 2,
                Available = 6,
                Text = "mixed pupae",
                Mix = [new(taxa[0].Name, 0.5), new(taxa[1].Name, 0.4)],
            });
        }

        double? Sure() => Pick<double?>(null, 0.8, 0.9);
        var aims = new List<Aim>
        {
            new DisplayAim { Id = "a", Words = "3 of the first", Of = AimOf.Taxon(taxa[0].Name), AtLeast = 3, Sure = Sure(), From = Day.AddDays(8), To = Day.AddDays(12), Importance = 1 + random.Next(2) },
            new DisplayAim { Id = "b", Words = "5 blue", Of = AimOf.Tag("blue"), AtLeast = 5, Sure = Sure(), Days = [DayOfWeek.Saturday, DayOfWeek.Sunday] },
            new DisplayAim { Id = "c", Words = "8 in all", Of = AimOf.All, AtLeast = 8, Sure = Sure(), From = Day.AddDays(9), To = Day.AddDays(10) },
            new VarietyAim { Id = "d", Words = "2 species", Of = AimOf.All, AtLeast = 2, Sure = Sure(), From = Day.AddDays(10), To = Day.AddDays(11) },
            new BreedingAim { Id = "e", Words = "a pair", Taxon = taxa[1].Name, Pairs = 1 + random.Next(2), Sure = Sure() },
        };
        return new()
        {
            OrderDay = Day,
            HorizonDays = 16,
            Currency = "GBP",
            Suppliers = suppliers,
            Offers = offers,
            Taxa = taxa,
            Aims = [.. aims.Where(_ => random.Next(3) > 0)],
            Budget = Pick<decimal?>(null, 15, 30, 60),
            CagePlaces = Pick<int?>(null, null, 12),
            FlyingCeiling = Pick<int?>(null, null, 9),
            Rules = random.Next(4) == 0 && offers.Count > 0
                ? [new(offers[0].Id, Pick(LineRuleKind.AtLeast, LineRuleKind.Fixed, LineRuleKind.AtMost), offers[0].Pack)] : [],
            Settings = new() { Gap = 0, Seconds = 60, WorthOfOneShort = Pick<decimal?>(null, 0.6m, 3) },
        };
    }
}
