using Lepidary.Science.Counts;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;

namespace Lepidary.Bench.Forecast;

/// <summary>The flying forecast and the planner's kernel, beside adding one pupa after the other.</summary>
internal static class ForecastBench
{
    private const int Species = 150;
    private const int Days = 56;
    private const int Lots = 8;
    private const int PupaeALot = 10;
    private const int KernelLots = 10;
    private const int KernelPupae = 40;
    private const int Below = 25;

    public static int Run()
    {
        Figures.Head("forecast");
        var timing = EmergenceTiming.FromWindow(5, 12);
        var survival = AdultSurvival.FromLife(14, 35);
        var full = Figures.Median(3, () => House(EmergenceRate.Usual, timing, survival));
        var known = Figures.Median(3, () => House(EmergenceRate.Known(0.8), timing, survival));
        var plain = Figures.Median(3, () => Plainly(timing, survival));
        Figures.Row("150 species x 56 days x 8 lots, rate known", known, "ms", plain);
        Figures.Row("the same, rate unknown and lots unlike", full, "ms", plain);
        Figures.Note("largest difference from the peer, rate known", $"{Difference(timing, survival):0.0e+0}");

        // One set of lots a species-day: 8,400 sets of 10 lots of 40 pupae.
        var chances = Enumerable.Range(0, Species * Days)
            .Select(set => Enumerable.Range(0, KernelLots).Select(lot => 0.002 + (((set * 7) + (lot * 13)) % 97 * 0.001)).ToArray()).ToArray();
        var direct = Figures.Median(1, () => { foreach (var set in chances) OneByOne(set.SelectMany(p => Enumerable.Repeat(p, KernelPupae)), KernelLots * KernelPupae); });
        var whole = Figures.Median(7, () => { foreach (var set in chances) CountDistribution.PoissonBinomial(set.Select(p => (KernelPupae, p))); });
        var cut = Figures.Median(7, () => { foreach (var set in chances) Kernel(set); });
        Figures.Row("8,400 x 400 pupae, whole distributions", whole, "ms", direct);
        Figures.Row("8,400 x 400 pupae, chances of 0 to 24", cut, "ms", direct);
        Figures.Note("largest difference from the peer, 0 to 24", $"{chances.Take(200).Max(KernelDifference):0.0e+0}");
        return 0;
    }

    private static SpeciesStock Stock(EmergenceRate rate, EmergenceTiming timing, AdultSurvival survival) =>
        new(survival, [.. Enumerable.Range(0, Lots).Select(lot => new HangingLot(PupaeALot, -7 * lot, rate, timing, "one supplier"))], []);

    private static void House(EmergenceRate rate, EmergenceTiming timing, AdultSurvival survival)
    {
        for (var species = 0; species < Species; species++) FlyingForecast.Of(Stock(rate, timing, survival), Days);
    }

    private static void Plainly(EmergenceTiming timing, AdultSurvival survival)
    {
        for (var species = 0; species < Species; species++)
        {
            var odds = PupaOdds.Flying(0.8, timing, survival, Days);
            for (var day = 0; day < Days; day++) OneByOne(Pupae(odds, day), Lots * PupaeALot);
        }
    }

    /// <summary>The chance of each pupa that flies on the day: the lots come a week apart.</summary>
    private static IEnumerable<double> Pupae(double[] odds, int day) =>
        Enumerable.Range(0, Lots).Where(lot => day >= 7 * lot).SelectMany(lot => Enumerable.Repeat(odds[day - (7 * lot)], PupaeALot));

    private static double Difference(EmergenceTiming timing, AdultSurvival survival)
    {
        var odds = PupaOdds.Flying(0.8, timing, survival, Days);
        var forecast = FlyingForecast.Of(Stock(EmergenceRate.Known(0.8), timing, survival), Days);
        return Enumerable.Range(0, Days).Max(day => OneByOne(Pupae(odds, day), Lots * PupaeALot).Select((mass, count) => Math.Abs(mass - forecast[day][count])).Max());
    }

    /// <summary>The plain way to a Poisson-binomial: each pupa shifts a part of the masses up by one.</summary>
    private static double[] OneByOne(IEnumerable<double> pupae, int most)
    {
        var masses = new double[most + 1];
        masses[0] = 1;
        var there = 0;
        foreach (var p in pupae)
        {
            there++;
            for (var count = there; count > 0; count--) masses[count] = (masses[count] * (1 - p)) + (masses[count - 1] * p);
            masses[0] *= 1 - p;
        }

        return masses;
    }

    private static double[] Kernel(double[] lots)
    {
        var below = new double[Below];
        CountsBelow.Start(below);
        foreach (var p in lots) CountsBelow.AddBinomial(below, KernelPupae, p);
        return below;
    }

    private static double KernelDifference(double[] lots)
    {
        var plain = OneByOne(lots.SelectMany(p => Enumerable.Repeat(p, KernelPupae)), KernelLots * KernelPupae);
        return Kernel(lots).Select((mass, count) => Math.Abs(mass - plain[count])).Max();
    }
}
