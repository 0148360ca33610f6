using System.Globalization;
using Lepidary.Planning;
using Lepidary.Planning.Model;
using Lepidary.Planning.Report;

namespace Lepidary.Bench.Planning;

/// <summary>
/// How far the model's mean and variance of groups, totals and numbers of species are from their full distributions, at the orders found.
/// </summary>
internal static class ErrorBench
{
    public static int Run(string[] args)
    {
        CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
        var size = args.ElementAtOrDefault(0) switch { "b" => Generator.B, "b-sure" => Generator.BSure, "c" => Generator.C, _ => Generator.A };
        var seeds = int.Parse(args.ElementAtOrDefault(1) ?? "10", CultureInfo.InvariantCulture);
        var seconds = double.Parse(args.ElementAtOrDefault(2) ?? "5", CultureInfo.InvariantCulture);
        Console.WriteLine("error of what is missing from a wish on a day, in butterflies or species: mean and largest; near: at least half of the wish is there on average");
        Console.WriteLine("seed  days of groups  near: mean  largest   else: largest   of the objective");
        for (var seed = 1; seed <= seeds; seed++)
        {
            var problem = Generator.Make(size, seed);
            problem = problem with { Settings = problem.Settings with { Seconds = seconds, Gap = 0.005 } };
            var outcome = Planner.Propose(problem);
            if (outcome.Plan is not { } plan)
                continue;
            var model = ModelBuilder.Build(problem);
            var errors = GroupErrors.Of(model, Planner.PupaeOf(model, plan));
            var near = errors.Where(e => e.IsNear).ToList();
            double Largest(IEnumerable<GroupError> of) => of.Select(e => Math.Abs(e.Error)).DefaultIfEmpty().Max();
            Console.WriteLine(
                $"{seed,4}  {errors.Count,14}  {near.Select(e => Math.Abs(e.Error)).DefaultIfEmpty().Average(),10:0.0000}  {Largest(near),7:0.000}  {Largest(errors.Except(near)),14:0.000}  "
                + $"{errors.Sum(e => e.Worth * e.Error) / outcome.Objective,16:0.000%}");
        }

        return 0;
    }
}
