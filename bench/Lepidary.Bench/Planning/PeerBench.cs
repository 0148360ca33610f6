using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;
using Lepidary.Planning;
using Lepidary.Planning.Model;

namespace Lepidary.Bench.Planning;

/// <summary>The planner beside Debian's cbc and glpsol: the same order weeks, the same time, one thread each, one after the other.</summary>
internal static class PeerBench
{
    public static int Run(string[] args)
    {
        CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
        var size = args.ElementAtOrDefault(0) switch { "b" => Generator.B, "c" => Generator.C, _ => Generator.A };
        var seeds = int.Parse(args.ElementAtOrDefault(1) ?? "10", CultureInfo.InvariantCulture);
        var seconds = double.Parse(args.ElementAtOrDefault(2) ?? "20", CultureInfo.InvariantCulture);
        var first = int.Parse(args.ElementAtOrDefault(3) ?? "1", CultureInfo.InvariantCulture);
        var (better, asGood, runs, above) = (0, 0, 0, 0);
        var ratios = new List<double>();
        var folder = Directory.CreateTempSubdirectory("lepidary-bench-").FullName;
        Console.WriteLine($"size {size.Name}, {seconds} s each; objective of the order found, by the planner's exact measure; gap to the planner's bound");
        Console.WriteLine("The compact form counts shortages by chords, which lie above them: its bound may exceed ours by that much. A bound above the planner's order would be a fault of one of the two.");
        Console.WriteLine("seed  compact form        planner            cbc                glpsol             ratio of gaps (cbc, glpsol)   bounds: planner, cbc, glpsol");
        for (var seed = first; seed < first + seeds; seed++)
        {
            var problem = Generator.Make(size, seed);
            problem = problem with { Settings = problem.Settings with { Seconds = seconds, Gap = size == Generator.A ? 1e-6 : 0.0005 } };
            var outcome = Planner.Propose(problem);
            var model = ModelBuilder.Build(problem);
            var form = new CompactForm(model);
            var file = Path.Combine(folder, $"{size.Name}{seed}.mps");
            form.Write(file);
            double Gap(double objective) => (objective - outcome.Bound) / objective;
            string Told(double objective) => double.IsNaN(objective) ? "none              " : $"{objective,9:0.00} {Gap(objective),7:0.00%} ";
            string Ratio(double objective) => double.IsNaN(objective) ? "no order" : Math.Abs(objective - outcome.Objective) < 1e-6 * objective ? "the same order's worth" : $"{Gap(objective) / Math.Max(1e-6, Gap(outcome.Objective)):0.0}";
            // Each as it comes: a row takes three times the seconds.
            Console.Write($"{seed,4}  {form.RowCount,6} x {form.ColumnCount,5}      {Told(outcome.Objective)} ");
            var (cbcValues, cbcBound) = Cbc(file, seconds);
            var cbc = Objective(model, form, cbcValues);
            Console.Write($"{Told(cbc)} ");
            var (glpsolValues, glpsolBound) = Glpsol(file, seconds);
            var glpsol = Objective(model, form, glpsolValues);
            foreach (var theirs in new[] { cbc, glpsol })
            {
                runs++;
                better += double.IsNaN(theirs) || theirs > outcome.Objective * (1 + 1e-6) ? 1 : 0;
                asGood += Math.Abs(theirs - outcome.Objective) <= outcome.Objective * 1e-6 ? 1 : 0;
                if (!double.IsNaN(theirs) && theirs > outcome.Objective * (1 + 1e-6))
                    ratios.Add(Gap(theirs) / Math.Max(1e-6, Gap(outcome.Objective)));
            }

            above += new[] { cbcBound, glpsolBound }.Count(bound => bound > outcome.Objective * (1 + 1e-6));
            Console.WriteLine($"{Told(glpsol)} {Ratio(cbc)}, {Ratio(glpsol)}   {outcome.Bound:0.00}, {cbcBound:0.00}, {glpsolBound:0.00}");
        }

        ratios.Sort();
        Console.WriteLine($"a better order than the peer's in {better} of {runs}, as good a one in {asGood}; ratio of gaps where better: median {(ratios.Count > 0 ? ratios[ratios.Count / 2] : double.NaN):0.0}; peers' bounds above the planner's order: {above}");

        Directory.Delete(folder, true);
        return 0;
    }

    private static double Objective(PlanModel model, CompactForm form, Dictionary<string, double>? values)
    {
        if (values is null)
            return double.NaN;
        var objective = model.Objective(form.Order(values));
        return double.IsInfinity(objective) ? double.NaN : objective;
    }

    private static (Dictionary<string, double>? Values, double Bound) Cbc(string file, double seconds)
    {
        var answer = file + ".cbc";
        // cbc wants to be told that the file is in free format; glpsol does not know the word.
        var free = Path.ChangeExtension(file, ".free.mps");
        File.WriteAllLines(free, File.ReadLines(file).Select(l => l == "NAME week" ? "NAME week FREE" : l));
        var said = Start("cbc", [free, "-sec", seconds.ToString(CultureInfo.InvariantCulture), "-ratioGap", "0.0005", "-solve", "-solu", answer], seconds);
        // "Lower bound:" where it was stopped, "best possible" on the way.
        var bound = Last(said, @"(?:Lower bound:|best possible)\s+(-?[0-9.eE+]+)");
        if (!File.Exists(answer))
            return (null, bound);
        var lines = File.ReadAllLines(answer);
        return (lines.Length == 0 || lines[0].Contains("nfeasible", StringComparison.Ordinal) || lines[0].Contains("no integer", StringComparison.Ordinal) ? null
            : lines.Skip(1).Select(l => l.Split(' ', StringSplitOptions.RemoveEmptyEntries)).Select(w => w[0] == "**" ? w[1..] : w)
                .Where(w => w.Length >= 3).ToDictionary(w => w[1], w => double.Parse(w[2], CultureInfo.InvariantCulture)), bound);
    }

    private static (Dictionary<string, double>? Values, double Bound) Glpsol(string file, double seconds)
    {
        var answer = file + ".glpk";
        var said = Start("glpsol", ["--freemps", file, "--cuts", "--mipgap", "0.0005", "--tmlim", ((int)seconds).ToString(CultureInfo.InvariantCulture), "-w", answer], seconds);
        // "+ 1234: mip = 8.5e+03 >= 8.1e+03 4.6%".
        var bound = Last(said, @">=\s+(-?[0-9.eE+]+)\s");
        if (!File.Exists(answer))
            return (null, bound);
        var words = File.ReadLines(answer).Select(l => l.Split(' ')).ToList();
        var state = words.First(w => w[0] == "s")[4];
        return (state is "o" or "f" ? words.Where(w => w[0] == "j").ToDictionary(w => w[1], w => double.Parse(w[2], CultureInfo.InvariantCulture)) : null, bound);
    }

    private static double Last(string said, string pattern) =>
        Regex.Matches(said, pattern) is { Count: > 0 } found && double.TryParse(found[^1].Groups[1].Value, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) ? value : double.NaN;

    private static string Start(string name, string[] arguments, double seconds)
    {
        var start = new ProcessStartInfo(name) { RedirectStandardOutput = true };
        foreach (var argument in arguments)
            start.ArgumentList.Add(argument);
        using var process = Process.Start(start) ?? throw new InvalidOperationException($"{name} did not start; is it installed?");
        var said = process.StandardOutput.ReadToEndAsync();
        // Both look at their clocks between linear programs only; half as long again is waited for an answer.
        if (!process.WaitForExit(TimeSpan.FromSeconds((1.5 * seconds) + 2)))
            process.Kill();
        return said.Result;
    }
}
