using System.Diagnostics;
using System.Globalization;
using Lepidary.Planning;
using Lepidary.Planning.Model;

namespace Lepidary.Bench.Planning;

/// <summary>The planner beside Debian's cbc and glpsol: the same order weeks, the same time, one thread each, one after the other.</summary>
internal static class PeerBench
{
    public static int Run(string[] args)
    {
        CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
        var size = args.ElementAtOrDefault(0) switch { "b" => Generator.B, _ => Generator.A };
        var seeds = int.Parse(args.ElementAtOrDefault(1) ?? "10", CultureInfo.InvariantCulture);
        var seconds = double.Parse(args.ElementAtOrDefault(2) ?? "20", CultureInfo.InvariantCulture);
        var folder = Directory.CreateTempSubdirectory("lepidary-bench-").FullName;
        Console.WriteLine($"size {size.Name}, {seconds} s each; objective of the order found, by the planner's exact measure; gap to the planner's bound");
        Console.WriteLine("seed  compact form        planner            cbc                glpsol             ratio of gaps (cbc, glpsol)");
        for (var seed = 1; seed <= seeds; seed++)
        {
            var problem = Generator.Make(size, seed);
            problem = problem with { Settings = problem.Settings with { Seconds = seconds, Gap = size == Generator.A ? 1e-6 : 0.0005 } };
            var outcome = Planner.Propose(problem);
            var model = ModelBuilder.Build(problem);
            var form = new CompactForm(model);
            var file = Path.Combine(folder, $"{size.Name}{seed}.mps");
            form.Write(file);
            var cbc = Objective(model, form, Cbc(file, seconds));
            var glpsol = Objective(model, form, Glpsol(file, seconds));
            double Gap(double objective) => (objective - outcome.Bound) / objective;
            string Told(double objective) => double.IsNaN(objective) ? "none              " : $"{objective,9:0.00} {Gap(objective),7:0.00%} ";
            string Ratio(double objective) => double.IsNaN(objective) ? "no order" : Math.Abs(objective - outcome.Objective) < 1e-6 * objective ? "the same order's worth" : $"{Gap(objective) / Math.Max(1e-6, Gap(outcome.Objective)):0.0}";
            Console.WriteLine($"{seed,4}  {form.RowCount,6} x {form.ColumnCount,5}      {Told(outcome.Objective)} {Told(cbc)} {Told(glpsol)} {Ratio(cbc)}, {Ratio(glpsol)}");
        }

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

    private static Dictionary<string, double>? Cbc(string file, double seconds)
    {
        var answer = file + ".cbc";
        // cbc wants to be told that the file is in free format; glpsol does not know the word.
        var free = Path.ChangeExtension(file, ".free.mps");
        File.WriteAllLines(free, File.ReadLines(file).Select(l => l == "NAME week" ? "NAME week FREE" : l));
        Start("cbc", [free, "-sec", seconds.ToString(CultureInfo.InvariantCulture), "-ratioGap", "0.0005", "-solve", "-solu", answer], seconds);
        if (!File.Exists(answer))
            return null;
        var lines = File.ReadAllLines(answer);
        return lines.Length == 0 || lines[0].Contains("nfeasible", StringComparison.Ordinal) || lines[0].Contains("no integer", StringComparison.Ordinal) ? null
            : lines.Skip(1).Select(l => l.Split(' ', StringSplitOptions.RemoveEmptyEntries)).Select(w => w[0] == "**" ? w[1..] : w)
                .Where(w => w.Length >= 3).ToDictionary(w => w[1], w => double.Parse(w[2], CultureInfo.InvariantCulture));
    }

    private static Dictionary<string, double>? Glpsol(string file, double seconds)
    {
        var answer = file + ".glpk";
        Start("glpsol", ["--freemps", file, "--cuts", "--mipgap", "0.0005", "--tmlim", ((int)seconds).ToString(CultureInfo.InvariantCulture), "-w", answer], seconds);
        if (!File.Exists(answer))
            return null;
        var words = File.ReadLines(answer).Select(l => l.Split(' ')).ToList();
        var state = words.First(w => w[0] == "s")[4];
        return state is "o" or "f" ? words.Where(w => w[0] == "j").ToDictionary(w => w[1], w => double.Parse(w[2], CultureInfo.InvariantCulture)) : null;
    }

    private static void Start(string name, string[] arguments, double seconds)
    {
        var start = new ProcessStartInfo(name) { RedirectStandardOutput = true };
        foreach (var argument in arguments)
            start.ArgumentList.Add(argument);
        using var process = Process.Start(start) ?? throw new InvalidOperationException($"{name} did not start; is it installed?");
        process.StandardOutput.ReadToEndAsync();
        if (!process.WaitForExit(TimeSpan.FromSeconds((3 * seconds) + 10)))
            process.Kill();
    }
}
