using System.Globalization;
using Lepidary.Planning;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;
using Lepidary.Taxa;

namespace Lepidary.Bench.Planning;

/// <summary>
/// Order weeks of three sizes, from a seed. Everything in them is invented. Rates are known and equal for all lots, so that the compact
/// form that other solvers get says the same; <see cref="Size.Spread"/> turns the spread between lots on.
/// </summary>
internal static class Generator
{
    /// <summary>How large.</summary>
    /// <param name="Name">For the table.</param>
    /// <param name="Suppliers">Suppliers.</param>
    /// <param name="Lines">Lines a list.</param>
    /// <param name="Species">Species that anybody lists.</param>
    /// <param name="Wanted">Species wanted by name.</param>
    /// <param name="Groups">Wishes for a tag.</param>
    /// <param name="Days">Days that count.</param>
    /// <param name="Horizon">Days of the plan.</param>
    /// <param name="Ahead">Weeks of later lists that are foretold; 0 plans as if there were none.</param>
    /// <param name="Spread">True when lots differ and rates are uncertain.</param>
    internal sealed record Size(string Name, int Suppliers, int Lines, int Species, int Wanted, int Groups, int Days, int Horizon, bool Spread = false, int Ahead = 0);

    /// <summary>Hobby: 2 lists of 40 lines, 10 species wanted, 7 days.</summary>
    public static Size A { get; } = new("a", 2, 40, 60, 10, 2, 7, 21);

    /// <summary>Public house: 4 lists of 120 lines, 80 species wanted, 10 groups, 24 open days.</summary>
    public static Size B { get; } = new("b", 4, 120, 170, 80, 10, 24, 28);

    /// <summary>The public house with lots that differ, rates that are uncertain, and wishes that want sureness: what a real week looks like.</summary>
    public static Size BSure { get; } = B with { Name = "b-sure", Spread = true };

    /// <summary>Large: 6 lists of 150 lines, 150 species wanted, 10 groups, 36 open days of six weeks, four weeks of later lists foretold.</summary>
    public static Size C { get; } = new("c", 6, 150, 220, 150, 10, 36, 42, Ahead: 4);

    private static readonly DateOnly Monday = new(2026, 11, 30);

    /// <summary>The order week of a seed.</summary>
    public static PlanProblem Make(Size size, int seed)
    {
        var random = new Random((seed * 7919) + size.Lines);
        double Between(double from, double to) => from + ((to - from) * random.NextDouble());
        T Pick<T>(params T[] of) => of[random.Next(of.Length)];
        double? Sure() => size.Spread ? Pick(0.8, 0.9) : null;
        var taxa = new List<PlanTaxon>();
        var price = new double[size.Species];
        for (var k = 0; k < size.Species; k++)
        {
            var from = 3 + random.Next(8);
            var tags = Enumerable.Range(0, size.Groups).Where(_ => random.NextDouble() < 0.25).Select(g => "group" + g.ToString(CultureInfo.InvariantCulture));
            price[k] = Between(1.5, 6);
            var mean = Between(0.6, 0.92);
            var life = Between(6, 18);
            taxa.Add(new()
            {
                Taxon = Named(string.Create(CultureInfo.InvariantCulture, $"Species {k:000}"), [.. tags]),
                Timing = EmergenceTiming.FromWindow(from, from + 3 + random.Next(8)),
                UsualRate = size.Spread ? EmergenceRate.FromTable(mean) : EmergenceRate.Known(mean),
                Stock = new(
                    AdultSurvival.FromLife(life, life * Between(1.8, 2.6)),
                    random.NextDouble() < 0.3 ? [new(4 + random.Next(10), random.Next(from + 2), EmergenceRate.Known(mean), EmergenceTiming.FromWindow(from, from + 6), "own")] : [],
                    random.NextDouble() < 0.4 ? [new(1 + random.Next(6), random.Next(8))] : []),
            });
        }

        var suppliers = new List<PlanSupplier>();
        var offers = new List<PlanOffer>();
        for (var s = 0; s < size.Suppliers; s++)
        {
            var name = string.Create(CultureInfo.InvariantCulture, $"Supplier {s}");
            var carriage = Between(18, 40);
            suppliers.Add(new()
            {
                Name = name,
                Currency = s % 2 == 0 ? "GBP" : "EUR",
                Rate = s % 2 == 0 ? 1 : 0.86m,
                TaxRate = Pick(0, 0.2m),
                CarriageTaxed = true,
                Arrives = [Monday.AddDays(1 + random.Next(4))],
                Carriage = [new(1, Money(carriage)), new(100, Money(carriage * 1.6)), new(250, Money(carriage * 2.3))],
                MinimumPupae = Pick(0, 30, 50),
            });
            foreach (var k in Enumerable.Range(0, size.Species).OrderBy(_ => random.Next()).Take(size.Lines))
            {
                var pack = Pick(1, 1, 5, 5, 10);
                var each = price[k] * Between(0.75, 1.25);
                offers.Add(new()
                {
                    Id = string.Create(CultureInfo.InvariantCulture, $"{s}-{k:000}"),
                    Supplier = name,
                    Taxon = taxa[k].Name,
                    Price = Money(each),
                    Breaks = random.NextDouble() < 0.2 ? [new(20, Money(each * 0.9))] : [],
                    Pack = pack,
                    Minimum = Pick(0, 0, 0, 5, 10),
                    Available = Pick<int?>(20, 40, 60, 100),
                });
            }
        }

        var days = Enumerable.Range(5, size.Horizon).Select(Monday.AddDays).Where(d => d.DayOfWeek != DayOfWeek.Monday)
            .TakeWhile(d => d <= Monday.AddDays(size.Horizon)).ToList();
        days = [.. days.Skip(Math.Max(0, days.Count - size.Days))];
        var aims = new List<Aim>();
        foreach (var k in Enumerable.Range(0, size.Species).OrderBy(_ => random.Next()).Take(size.Wanted))
        {
            var number = 2 + random.Next(9);
            aims.Add(new DisplayAim
            {
                Id = string.Create(CultureInfo.InvariantCulture, $"k{k:000}"),
                Words = string.Create(CultureInfo.InvariantCulture, $"{number} of species {k}"),
                Of = AimOf.Taxon(taxa[k].Name),
                AtLeast = number,
                Sure = Sure(),
                Importance = Pick(1, 1, 2),
            });
        }

        var byName = aims.OfType<DisplayAim>().ToList();
        for (var g = 0; g < size.Groups; g++)
        {
            var members = byName.Where(a => taxa.First(t => t.Name == a.Of.Name).Taxon.Tags.Contains("group" + g.ToString(CultureInfo.InvariantCulture)));
            var number = Math.Max(4, (int)(members.Sum(a => a.AtLeast) * Between(0.6, 0.9)));
            aims.Add(new DisplayAim
            {
                Id = string.Create(CultureInfo.InvariantCulture, $"g{g:00}"),
                Words = string.Create(CultureInfo.InvariantCulture, $"{number} of group {g}"),
                Of = AimOf.Tag("group" + g.ToString(CultureInfo.InvariantCulture)),
                AtLeast = number,
                Sure = Sure(),
            });
        }

        var all = (int)(byName.Sum(a => a.AtLeast) * 0.8);
        aims.Add(new DisplayAim { Id = "total", Words = string.Create(CultureInfo.InvariantCulture, $"{all} in all"), Of = AimOf.All, AtLeast = all, Sure = Sure() });
        aims.Add(new VarietyAim { Id = "variety", Words = "species", Of = AimOf.All, AtLeast = Math.Max(2, size.Wanted * 2 / 3), Sure = Sure(), Importance = 2 });
        var goods = byName.Sum(a => a.AtLeast * 1.8 * price[taxa.FindIndex(t => t.Name == a.Of.Name)]);
        var (budget, places) = (Money(goods * Between(0.7, 1.4)), Pick<int?>(null, (int)(goods / 3.5)));
        if (size.Ahead > 0)
            taxa = [.. taxa.Select((t, k) => t with { Later = new(Between(0.1, 0.9), Money(price[k] * Between(1.1, 1.5))) })];
        return new()
        {
            OrderDay = Monday,
            HorizonDays = size.Horizon,
            Currency = "GBP",
            OpenDays = days,
            Suppliers = suppliers,
            Offers = offers,
            Taxa = taxa,
            Aims = aims,
            Budget = budget,
            CagePlaces = places,
            LaterArrivals = [.. Enumerable.Range(1, size.Ahead).Select(week => Monday.AddDays((7 * week) + 2))],
            Settings = new() { WorthOfOneShort = size.Suppliers == 2 ? 2 : 0.7m, Seconds = 60 },
        };
    }

    private static decimal Money(double amount) => Math.Round((decimal)amount, 2);

    internal static Taxon Named(string name, string[] tags) => new()
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
}
