using System.Globalization;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;

namespace Lepidary.Planning.Tests.Instances;

/// <summary>A week of a mid-sized public house, from a fixed seed. Names of species are numbers; terms are invented.</summary>
internal static class PlannedWeek
{
    public static PlanProblem Public()
    {
        var random = new Random(20261130);
        string Number(int n) => n.ToString("00", CultureInfo.InvariantCulture);
        var taxa = Enumerable.Range(0, 24).Select(k => new PlanTaxon
        {
            Taxon = Tiny.Taxon("Species " + Number(k), random.Next(3) == 0 ? ["blue"] : random.Next(2) == 0 ? ["large"] : []),
            Timing = EmergenceTiming.FromWindow(3 + random.Next(5), 8 + random.Next(6)),
            UsualRate = EmergenceRate.FromTable(0.7 + (0.02 * random.Next(10))),
            Stock = new(AdultSurvival.FromLife(8 + random.Next(8), 30), [], random.Next(3) == 0 ? [new(1 + random.Next(5), random.Next(5))] : []),
        }).ToList();
        var suppliers = Enumerable.Range(0, 3).Select(s => new PlanSupplier
        {
            Name = "Supplier " + Number(s),
            Currency = "GBP",
            TaxRate = 0.2m,
            Arrives = [Tiny.Day.AddDays(1 + s)],
            Carriage = [new(1, 14 + (4 * s)), new(60, 30 + (4 * s))],
            MinimumPupae = 10 * s,
        }).ToList();
        var offers = suppliers.SelectMany((s, i) => taxa.Where(_ => random.Next(3) > 0).Select(t => new PlanOffer
        {
            Id = $"{i}/{t.Name}",
            Supplier = s.Name,
            Taxon = t.Name,
            Price = 1.5m + (random.Next(300) / 100m),
            Pack = random.Next(2) == 0 ? 1 : 5,
            Available = 10 + (5 * random.Next(8)),
        })).ToList();
        var aims = new List<Aim>
        {
            new DisplayAim { Id = "blue", Words = "12 blue", Of = AimOf.Tag("blue"), AtLeast = 12, Sure = 0.9, Importance = 2, Days = [DayOfWeek.Saturday, DayOfWeek.Sunday], From = Tiny.Day.AddDays(6) },
            new DisplayAim { Id = "large", Words = "10 large", Of = AimOf.Tag("large"), AtLeast = 10, Sure = 0.8, From = Tiny.Day.AddDays(8) },
            new DisplayAim { Id = "all", Words = "60 in all", Of = AimOf.All, AtLeast = 60, Sure = 0.9, From = Tiny.Day.AddDays(8) },
            new VarietyAim { Id = "kinds", Words = "14 species", Of = AimOf.All, AtLeast = 14, Sure = 0.8, From = Tiny.Day.AddDays(9), To = Tiny.Day.AddDays(16) },
            new BreedingAim { Id = "pair", Words = "a pair of species 3", Taxon = "Species 03", Pairs = 1, Sure = 0.9 },
        };
        aims.AddRange(Enumerable.Range(5, 8).Select(k => new DisplayAim
        {
            Id = "k" + Number(k),
            Words = "4 of species " + Number(k),
            Of = AimOf.Taxon("Species " + Number(k)),
            AtLeast = 4,
            Sure = 0.8,
            From = Tiny.Day.AddDays(9),
            To = Tiny.Day.AddDays(15),
        }));
        return new()
        {
            OrderDay = Tiny.Day,
            HorizonDays = 21,
            Currency = "GBP",
            Suppliers = suppliers,
            Offers = offers,
            Taxa = taxa,
            Aims = aims,
            Budget = 700,
            CagePlaces = 260,
            Settings = new() { Gap = 0.005, Seconds = 60, WorthOfOneShort = 6 },
        };
    }
}
