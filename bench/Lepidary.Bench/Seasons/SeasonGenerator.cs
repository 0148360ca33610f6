using System.Globalization;
using Lepidary.Bench.Planning;
using Lepidary.Planning;
using Lepidary.Planning.Seasons;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;

namespace Lepidary.Bench.Seasons;

/// <summary>
/// A public house over 26 weeks, from a seed: 3 suppliers who carry 7 of 10 of 60 species each and list them in 6 of 10 weeks, 30 species wanted, 5 groups, places in the
/// cages that bind at times. It starts empty; days 14 to 181 count. Everything in it is invented.
/// </summary>
internal static class SeasonGenerator
{
    private const int Species = 60, Wanted = 30, Groups = 5, Suppliers = 3, Weeks = 26;
    private static readonly DateOnly Monday = new(2027, 1, 4);

    /// <summary>
    /// What a butterfly missing for a day is worth: then the rule of thumb pays about three times as much for what is short as for pupae. A choice of this benchmark.
    /// </summary>
    public static decimal UsualWorth { get; } = 1.6m;

    /// <summary>
    /// Hanging places for each butterfly that is wished for by name: so many that they bind at times, on about one day in seven under a plan and never under the rule of
    /// thumb. At 1.4 they bind after nearly every arrival, and no way of ordering can do much.
    /// </summary>
    public static double UsualPlaces { get; } = 2.0;

    public static SeasonSetting Make(int seed) => Make(seed, UsualWorth, UsualPlaces);

    /// <param name="seed">Seed.</param>
    /// <param name="worth">What a butterfly missing for a day is worth, house currency.</param>
    /// <param name="places">Hanging places for each butterfly that is wished for by name.</param>
    public static SeasonSetting Make(int seed, decimal worth, double places)
    {
        var random = new Random((seed * 7919) + 26);
        double Between(double from, double to) => from + ((to - from) * random.NextDouble());
        T Pick<T>(params T[] of) => of[random.Next(of.Length)];
        string Number(int n) => n.ToString("00", CultureInfo.InvariantCulture);
        var price = new double[Species];
        var taxa = new List<PlanTaxon>();
        for (var k = 0; k < Species; k++)
        {
            var from = 3 + random.Next(8);
            var life = Between(6, 18);
            price[k] = Between(1.5, 6);
            taxa.Add(new()
            {
                Taxon = Generator.Named("Species " + Number(k), [.. Enumerable.Range(0, Groups).Where(_ => random.NextDouble() < 0.25).Select(g => "group" + Number(g))]),
                Timing = EmergenceTiming.FromWindow(from, from + 3 + random.Next(8)),
                UsualRate = EmergenceRate.Known(Between(0.6, 0.92)),
                Stock = new(AdultSurvival.FromLife(life, life * Between(1.8, 2.6)), [], []),
            });
        }

        var suppliers = new List<PlanSupplier>();
        var lines = new List<SeasonLine>();
        for (var s = 0; s < Suppliers; s++)
        {
            var carriage = Between(14, 26);
            suppliers.Add(new()
            {
                Name = "Supplier " + Number(s),
                Currency = "GBP",
                TaxRate = 0.2m,
                CarriageTaxed = true,
                Arrives = [Monday.AddDays(1 + random.Next(4))],
                Carriage = [new(1, Money(carriage)), new(100, Money(carriage * 1.6)), new(250, Money(carriage * 2.3))],
                MinimumPupae = Pick(0, 0, 20),
            });
            foreach (var k in Enumerable.Range(0, Species).OrderBy(_ => random.Next()).Take(Species * 7 / 10))
            {
                var each = price[k] * Between(0.75, 1.25);
                lines.Add(new()
                {
                    Id = Number(s) + "-" + Number(k),
                    Supplier = suppliers[s].Name,
                    Taxon = taxa[k].Name,
                    Chance = Between(0.3, 0.9),
                    Price = new(Money(each * 0.9), Money(each), Money(each * 1.1)),
                    Pack = Pick(1, 1, 5),
                    Minimum = Pick(0, 0, 0, 5),
                    AvailableFrom = 20,
                    AvailableTo = 60,
                });
            }
        }

        var aims = new List<Aim>();
        foreach (var k in Enumerable.Range(0, Species).OrderBy(_ => random.Next()).Take(Wanted))
        {
            var number = 2 + random.Next(5);
            aims.Add(new DisplayAim
            {
                Id = "k" + Number(k),
                Words = string.Create(CultureInfo.InvariantCulture, $"{number} of species {k}"),
                Of = AimOf.Taxon(taxa[k].Name),
                AtLeast = number,
                Importance = Pick(1, 1, 2),
            });
        }

        var byName = aims.OfType<DisplayAim>().ToList();
        for (var g = 0; g < Groups; g++)
        {
            var tag = "group" + Number(g);
            var named = byName.Where(a => taxa.First(t => t.Name == a.Of.Name).Taxon.Tags.Contains(tag)).Sum(a => a.AtLeast);
            var number = Math.Max(4, (int)(named * Between(0.8, 1.2)));
            aims.Add(new DisplayAim { Id = "g" + Number(g), Words = string.Create(CultureInfo.InvariantCulture, $"{number} of group {g}"), Of = AimOf.Tag(tag), AtLeast = number });
        }

        return new()
        {
            Weeks = Weeks,
            Lines = lines,
            House = new()
            {
                OrderDay = Monday,
                Currency = "GBP",
                Suppliers = suppliers,
                Offers = [],
                Taxa = taxa,
                Aims = aims,
                CagePlaces = (int)(byName.Sum(a => a.AtLeast) * places),
                Settings = new() { WorthOfOneShort = worth },
            },
        };
    }

    private static decimal Money(double amount) => Math.Round((decimal)amount, 2);
}
