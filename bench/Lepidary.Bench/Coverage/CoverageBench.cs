using System.Globalization;
using Lepidary.Science.Counts;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;
using Lepidary.Science.Pairing;

namespace Lepidary.Bench.Coverage;

/// <summary>Simulated books with a known truth: do intervals cover as they say, and do estimates come nearer to the truth as the book grows?</summary>
internal static class CoverageBench
{
    private const int Species = 20;
    private const int Suppliers = 4;
    private static readonly double[] Levels = [0.5, 0.8, 0.95];

    /// <summary>Standard deviations to either side that hold so much of a normal.</summary>
    private static readonly double[] Widths = [0.6744897502, 1.2815515655, 1.9599639845];

    public static int Run(string[] args)
    {
        Figures.Head("coverage");
        var books = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : 40;
#pragma warning disable CA5394 // Draws need be repeatable, not secret.
        var random = new Random(args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : 1);
        Console.WriteLine($"{books} books each; covered (promised) at 50, 80 and 95 %; error: root mean square");
        foreach (var lots in (int[])[60, 240, 960]) Rates(random, books, lots);
        foreach (var lots in (int[])[2, 8, 32, 128]) Days(random, books, lots);
        foreach (var days in (int[])[60, 120, 240]) Lives(random, books, days);
        foreach (var adults in (int[])[10, 100, 1000]) Sexes(random, 50 * books, adults);
        return 0;
    }

    private static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private static double Logistic(double logit) => 1 / (1 + Math.Exp(-logit));

    /// <summary>The next lot of each species from each supplier, by the mixed model; lots differ as α+β = 30 says.</summary>
    private static void Rates(Random random, int books, int lots)
    {
        var (covered, promised, squares, asked) = (new double[3], new double[3], 0.0, 0);
        for (var book = 0; book < books; book++)
        {
            var (species, suppliers) = (Draws(random, Species, 0.6), Draws(random, Suppliers, 0.3));
            var table = Enumerable.Range(0, Species).Select(_ => Logistic(1.4 + (0.3 * Normal(random)))).ToArray();
            double Truth(int s, int j) => Logistic(Math.Log(table[s] / (1 - table[s])) + species[s] + suppliers[j]);
            int Lot(int pupae, double rate) => CountDistribution.BetaBinomial(pupae, 30 * rate, 30 * (1 - rate)).Quantile(random.NextDouble());
            var seen = Enumerable.Range(0, lots).Select(lot =>
            {
                var (s, j, pupae) = (random.Next(Species), random.Next(Suppliers), random.Next(5, 21));
                return new EmergedLot($"{s}", $"{j}", table[s], Lot(pupae, Truth(s, j)), pupae, 1 + (lot % 365));
            }).ToList();
            var model = EmergenceModel.Learn(seen);
            for (var s = 0; s < Species; s++)
            {
                for (var j = 0; j < Suppliers; j++)
                {
                    var (truth, rate) = (Truth(s, j), model?.Rate($"{s}", $"{j}", table[s]) ?? EmergenceRate.FromTable(table[s]));
                    var (forecast, came) = (rate.Forecast(12), Lot(12, truth));
                    squares += (rate.Mean - truth) * (rate.Mean - truth);
                    asked++;
                    for (var level = 0; level < Levels.Length; level++)
                    {
                        var interval = forecast.Interval(Levels[level]);
                        promised[level] += interval.Chance;
                        covered[level] += came >= interval.From && came <= interval.To ? 1 : 0;
                    }
                }
            }
        }

        Figures.Note($"next lot of 12, after {lots} lots", $"{Said(covered, promised, asked)}; error of the rate {Math.Sqrt(squares / asked):0.000}");
    }

    /// <summary>Days that the table puts five too early.</summary>
    private static void Days(Random random, int books, int lots)
    {
        var (truth, table, squares) = (EmergenceTiming.FromWindow(10, 16), EmergenceTiming.FromWindow(5, 9), 0.0);
        for (var book = 0; book < books; book++)
        {
            var learnt = table.Learn(
                Enumerable.Range(0, lots).Select(_ =>
                {
                    var days = new int[40];
                    for (var pupa = 0; pupa < 10; pupa++) days[Math.Min(39, truth.Quantile(random.NextDouble()))]++;
                    return new TimingRecord(days, 0, 40);
                }),
                0.9);
            squares += (learnt.MeanDays - truth.MeanDays) * (learnt.MeanDays - truth.MeanDays);
        }

        Figures.Note($"mean days to emergence, after {lots} lots of 10", $"error {Math.Sqrt(squares / books):0.00} days; the table's is {Math.Abs(table.MeanDays - truth.MeanDays):0.00}");
    }

    /// <summary>How many times the table's risk adults run, from releases, found dead and walks; drawn from the prior.</summary>
    private static void Lives(Random random, int books, int days)
    {
        var (table, covered, squares) = (AdultSurvival.FromLife(14, 30), new double[3], 0.0);
        for (var book = 0; book < books; book++)
        {
            var truth = WingLifeFit.PriorDeviation * Normal(random);
            var (factor, found, seen) = (Math.Exp(truth), Logistic(-0.85 + (1.2 * Normal(random))), Logistic(-0.85 + (1.2 * Normal(random))));
            var ages = new List<int>();
            var counts = new List<WingDay>();
            for (var day = 0; day < days; day++)
            {
                var (dead, alive) = (0, new List<int>());
                foreach (var age in ages)
                {
                    var lives = Math.Pow(table[age + 1] / Math.Max(table[age], 1e-300), factor);
                    if (random.NextDouble() < lives) alive.Add(age + 1);
                    else if (random.NextDouble() < found) dead++;
                }
                var released = day % 7 == 0 ? random.Next(2, 12) : 0;
                ages = [.. alive, .. Enumerable.Repeat(0, released)];
                counts.Add(new(released, dead, day % 7 == 3 ? Walk(random, ages.Count, seen) : null));
            }

            if (WingLifeFit.Fit(counts, table) is not { } fit) continue;
            var off = Math.Abs(Math.Log(fit.Factor) - truth);
            squares += off * off;
            foreach (var (level, z) in Widths.Index()) covered[level] += off <= z * fit.LogFactorDeviation ? 1 : 0;
        }

        Figures.Note($"risk on the wing, after {days} days", $"{Said(covered, [.. Levels.Select(level => level * books)], books)}; error of its logarithm {Math.Sqrt(squares / books):0.00}");
    }

    private static int Walk(Random random, int flying, double seen) =>
        flying == 0 ? 0 : WingLifeFit.Walked(CountDistribution.Certain(flying), seen).Quantile(random.NextDouble());

    /// <summary>Share of females, drawn from the table's worth.</summary>
    private static void Sexes(Random random, int times, int adults)
    {
        var (covered, squares) = (new double[3], 0.0);
        for (var time = 0; time < times; time++)
        {
            // A beta draw of twenty adults' worth: the tenth of nineteen even numbers, in order.
            var truth = Enumerable.Range(0, 19).Select(_ => random.NextDouble()).Order().ElementAt(9);
            var females = Enumerable.Range(0, adults).Count(_ => random.NextDouble() < truth);
            var learnt = SexShare.FromTable(0.5).Learn(adults - females, females);
            squares += (learnt.Females - truth) * (learnt.Females - truth);
            var deviation = Math.Sqrt(learnt.Females * (1 - learnt.Females) / (learnt.Certainty + 1));
            foreach (var (level, z) in Widths.Index()) covered[level] += Math.Abs(learnt.Females - truth) <= z * deviation ? 1 : 0;
        }

        Figures.Note($"share of females, after {adults} adults", $"{Said(covered, [.. Levels.Select(level => level * times)], times)}; error {Math.Sqrt(squares / times):0.000}");
    }
#pragma warning restore CA5394

    private static double[] Draws(Random random, int count, double deviation) => [.. Enumerable.Range(0, count).Select(_ => deviation * Normal(random))];

    private static string Said(double[] covered, double[] promised, int of) =>
        string.Join(", ", covered.Zip(promised, (came, said) => string.Create(CultureInfo.InvariantCulture, $"{100 * came / of:0.0} ({100 * said / of:0.0})")));
}
