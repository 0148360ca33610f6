using System.Diagnostics;
using System.Globalization;
using Lepidary.Planning;

namespace Lepidary.Bench.Planning;

/// <summary>Times the planner on generated order weeks.</summary>
internal static class PlanningBench
{
    public static int Run(string[] args)
    {
        CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
        var size = args.ElementAtOrDefault(0) switch { "b" => Generator.B, "b-sure" => Generator.BSure, "c" => Generator.C, _ => Generator.A };
        var seeds = int.Parse(args.ElementAtOrDefault(1) ?? "10", CultureInfo.InvariantCulture);
        var seconds = double.Parse(args.ElementAtOrDefault(2) ?? "20", CultureInfo.InvariantCulture);
        var first = int.Parse(args.ElementAtOrDefault(3) ?? "1", CultureInfo.InvariantCulture);
        var gap = double.Parse(args.ElementAtOrDefault(4) ?? (size == Generator.A ? "1e-6" : "0.001"), CultureInfo.InvariantCulture);
        Planner.Propose(Generator.Make(Generator.A, 999) with { Settings = new() { Seconds = 2 } });
        for (var seed = first; seed < first + seeds; seed++)
        {
            var problem = Generator.Make(size, seed);
            problem = problem with { Settings = problem.Settings with { Seconds = seconds, Gap = gap } };
            Figures.ForgetMostMemory();
            var steps = new List<(double At, double Objective)>();
            double? firstLines = null;
            var cpu = Process.GetCurrentProcess().TotalProcessorTime;
            var outcome = Planner.Propose(problem, new Told(p =>
            {
                firstLines ??= p.Plan.Lines.Count > 0 ? p.Seconds : null;
                steps.Add((p.Seconds, p.Objective));
            }));
            double FirstWithin(double share) => steps.Where(s => s.Objective <= outcome.Bound * (1 + share)).Select(s => s.At).DefaultIfEmpty(double.NaN).Min();
            Console.WriteLine(
                $"{size.Name} {seed,2} {outcome.Status,-10} obj {outcome.Objective,9:0.00} bound {outcome.Bound,9:0.00} gap {outcome.Gap:0.00%} of gain {outcome.GapOnGain:0.00%} "
                + $"t {outcome.Seconds,6:0.00} (cpu {(Process.GetCurrentProcess().TotalProcessorTime - cpu).TotalSeconds:0.00}) 1st {firstLines:0.00} 1% {FirstWithin(0.01):0.00} 0.5% {FirstWithin(0.005):0.00} 0.1% {FirstWithin(0.001):0.00} nodes {outcome.Nodes} "
                + $"lines {outcome.Plan?.Lines.Count} cost {outcome.Plan?.Total} nothing {outcome.NothingOrdered:0} mem {Figures.MostMemory() >> 20} MB | "
                + string.Join(" ", outcome.TimeSpent.Select(t => $"{t.Step} {t.Seconds:0.00}")));
        }

        return 0;
    }

    private sealed class Told(Action<PlanProgress> tell) : IProgress<PlanProgress>
    {
        public void Report(PlanProgress value) => tell(value);
    }
}
