using System.Diagnostics;
using System.Globalization;
using Lepidary.Science.Mixed;

namespace Lepidary.Bench.Mixed;

/// <summary>The mixed model of emergence on a book of 10,000 lots, beside R's lme4 on the same lots in the same run.</summary>
internal static class MixedBench
{
    private const int Species = 120;
    private const int Suppliers = 6;

    public static int Run(string[] args)
    {
        Figures.Head("mixed");
        var lots = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : 10_000;
        var seed = args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : 1;
        var book = Book.Of(lots, seed);
        Console.WriteLine($"{lots} lots, {Species} species, {Suppliers} suppliers, {book.Pairs} pairs of both, seed {seed}");
        LogisticMixedModel? fit = null;
        var ours = Figures.Median(3, () => fit = LogisticMixedModel.Fit(book.Design(lots)));
        var errors = Figures.Median(1, () => _ = LogisticMixedModel.Fit(book.Design(lots)).FixedErrors);
        var before = LogisticMixedModel.Fit(book.Design(lots - 40));
        LogisticMixedModel? again = null;
        var warm = Figures.Median(5, () => again = LogisticMixedModel.Fit(book.Design(lots), near: before));
        // The clock counts what else the machine does; the processor's time does not.
        var (fits, refits) = (new List<(double, double)>(), new List<(double, double)>());
        for (var time = 0; time < 5; time++)
        {
            fits.Add(Figures.Took(() => Task.FromResult(LogisticMixedModel.Fit(book.Design(lots)))).Result);
            refits.Add(Figures.Took(() => Task.FromResult(LogisticMixedModel.Fit(book.Design(lots), near: before))).Result);
        }

        Console.WriteLine($"deviance {fit!.Deviance:0.0000}, after one more round {again!.Deviance:0.0000}; likelihoods {fit.Evaluations} and {again.Evaluations}");
        Console.WriteLine($"fixed    {Joined(fit.FixedEffects)}   errors {Joined(fit.FixedErrors)}");
        Console.WriteLine($"sigma    {Joined(fit.Deviations)}   (species, supplier, both, lot)");
        Figures.Row("errors too", errors, "ms", ours);
        Figures.Row("after one more round of 40 lots, warm", warm, "ms", ours);
        Figures.Note("by the processor: fit, after one more round", $"{Figures.Middle(fits).Processor:0.0} ms, {Figures.Middle(refits).Processor:0.0} ms");
        if (Peer(book, lots) is not { } peer)
        {
            Console.WriteLine("lme4 is not here (Rscript with lme4): no peer");
            return 0;
        }

        Console.WriteLine($"lme4     deviance {peer[1]:0.0000}  fixed {Joined(peer[2..4])}  sigma {Joined(peer[4..])}");
        Figures.Row("fit, beside lme4's glmer", ours, "ms", 1000 * peer[0]);
        var largest = fit.FixedEffects.Concat(fit.Deviations).Zip(peer.Skip(2), (our, their) => Math.Abs(our - their)).Max();
        Figures.Note("largest difference of an estimate", largest.ToString("0.0e+0", CultureInfo.InvariantCulture));
        return 0;
    }

    private static string Joined(IEnumerable<double> values) => string.Join(" ", values.Select(value => value.ToString("0.0000", CultureInfo.InvariantCulture)));

    /// <summary>Seconds, deviance, fixed effects and deviations by lme4; null where it is not installed.</summary>
    private static double[]? Peer(Book book, int lots)
    {
        var folder = Directory.CreateTempSubdirectory("lepidary-bench-").FullName;
        try
        {
            var (data, script) = (Path.Combine(folder, "lots.csv"), Path.Combine(folder, "fit.R"));
            book.Write(data, lots);
            File.WriteAllText(script, """
                suppressMessages(library(lme4))
                lots <- read.csv(commandArgs(TRUE)[1])
                lots$both <- lots$species * 1000 + lots$supplier
                seconds <- system.time(fit <- glmer(cbind(out, n - out) ~ days + (1|species) + (1|supplier) + (1|both) + (1|lot), lots, binomial,
                                                    control = glmerControl(calc.derivs = FALSE)))[["elapsed"]]
                sigma <- sapply(c("species", "supplier", "both", "lot"), function(g) attr(VarCorr(fit)[[g]], "stddev"))
                cat(format(c(seconds, -2 * as.numeric(logLik(fit)), fixef(fit), sigma), digits = 12), "\n")
                """);
            using var process = Process.Start(new ProcessStartInfo("Rscript", [script, data]) { RedirectStandardOutput = true, RedirectStandardError = true })!;
            process.ErrorDataReceived += (_, _) => { };
            process.BeginErrorReadLine();
            var answer = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            return process.ExitCode != 0 ? null
                : [.. answer.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries).Select(word => double.Parse(word, CultureInfo.InvariantCulture))];
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return null;
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    /// <summary>Invented lots with effects of species, supplier, both and lot, and of the days that the box travelled.</summary>
    private sealed record Book(int[] SpeciesOf, int[] SupplierOf, int[] PairOf, int Pairs, double[] Days, double[] Hung, double[] Emerged)
    {
        public static Book Of(int lots, int seed)
        {
#pragma warning disable CA5394 // A benchmark's draws need be repeatable, not secret.
            var random = new Random(seed);
            double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
            double[] Effects(int count, double deviation) => [.. Enumerable.Range(0, count).Select(_ => deviation * Normal())];
            var (species, suppliers, pairs) = (Effects(Species, 0.6), Effects(Suppliers, 0.3), Effects(Species * Suppliers, 0.4));
            var (s, j, p, days, hung, emerged) = (new int[lots], new int[lots], new int[lots], new double[lots], new double[lots], new double[lots]);
            var seen = new Dictionary<int, int>();
            for (var i = 0; i < lots; i++)
            {
                (s[i], j[i], days[i], hung[i]) = (random.Next(Species), random.Next(Suppliers), random.Next(1, 5), random.Next(5, 21));
                var pair = s[i] * Suppliers + j[i];
                if (!seen.TryGetValue(pair, out p[i])) seen[pair] = p[i] = seen.Count;
                var chance = 1 / (1 + Math.Exp(-(1.6 - 0.15 * (days[i] - 2) + species[s[i]] + suppliers[j[i]] + pairs[pair] + 0.5 * Normal())));
                for (var pupa = 0; pupa < hung[i]; pupa++) emerged[i] += random.NextDouble() < chance ? 1 : 0;
            }
#pragma warning restore CA5394
            return new(s, j, p, seen.Count, days, hung, emerged);
        }

        public MixedDesign Design(int lots) => new(
            Emerged[..lots], Hung[..lots], [.. Days[..lots].Select(day => new[] { 1, day - 2 })],
            [
                new("species", SpeciesOf[..lots], Species), new("supplier", SupplierOf[..lots], Suppliers),
                new("species at a supplier", PairOf[..lots], Pairs), new("lot", [.. Enumerable.Range(0, lots)], lots),
            ]);

        public void Write(string file, int lots)
        {
            using var writer = new StreamWriter(file);
            writer.WriteLine("lot,species,supplier,days,n,out");
            for (var i = 0; i < lots; i++)
                writer.WriteLine(FormattableString.Invariant($"{i},{SpeciesOf[i]},{SupplierOf[i]},{Days[i] - 2},{Hung[i]},{Emerged[i]}"));
        }
    }
}
