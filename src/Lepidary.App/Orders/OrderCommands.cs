using System.CommandLine;
using Lepidary.App.Host;
using Lepidary.Planning;
using Lepidary.Taxa;

namespace Lepidary.App.Orders;

internal static class OrderCommands
{
    public static Command Propose(Desk desk)
    {
        var house = new Option<string>("--house") { Description = "The house file (docs/house-file.md).", Required = true };
        var list = new Option<string[]>("--list") { Description = "A list, as SUPPLIER=FILE; once a supplier.", Required = true, AllowMultipleArgumentsPerToken = true };
        var on = Options.On("The day the orders go out.");
        on.Required = true;
        var line = new Option<string[]>("--line") { Description = "Settle a line: OFFER=12 fixes, OFFER=0 forbids, OFFER>=5 and OFFER<=20 bound.", AllowMultipleArgumentsPerToken = true };
        var seconds = new Option<double>("--seconds") { Description = "Longest search.", DefaultValueFactory = _ => new PlanSettings().Seconds };
        var gap = new Option<double>("--gap") { Description = "Stop when proven to be within this share of the best.", DefaultValueFactory = _ => new PlanSettings().Gap };
        var seed = new Option<int>("--seed") { Description = "Seed of the search; one seed, one order.", DefaultValueFactory = _ => 1 };
        var command = new Command("propose", "What to order this week, from whom, why, and what it will do; from a house file and lists, without a book.")
        {
            house, list, on, line, seconds, gap, seed, desk.Json,
        };
        command.SetAction((parsed, cancellation) =>
        {
            var ask = new ProposeFromFiles(
                parsed.GetValue(house)!,
                parsed.GetValue(list)!,
                parsed.GetValue(on)!.Value,
                parsed.GetValue(line) ?? [],
                new PlanSettings { Seconds = parsed.GetValue(seconds), Gap = parsed.GetValue(gap), Seed = parsed.GetValue(seed) });
            var laid = ask.Lay(TaxonTable.Shipped);
            if (!laid.IsGood)
            {
                return Task.FromResult(desk.Terminal.Refuse(laid.Problems));
            }

            var outcome = Planner.Propose(laid.Value.Task.Problem, cancel: cancellation);
            var report = ProposalReport.Of(laid.Value.Input, laid.Value.Task, outcome);
            return Task.FromResult(Print(desk.Terminal, report, parsed.GetValue(desk.Json)));
        });
        return command;
    }

    /// <summary>Prints a proposal; the exit code says whether there is a plan.</summary>
    public static int Print(Terminal terminal, ProposalReport report, bool json)
    {
        var code = report.Status switch
        {
            PlanStatus.Infeasible => ExitCodes.NoPlan,
            PlanStatus.BadInput => ExitCodes.BadInput,
            PlanStatus.Proven or PlanStatus.Feasible or PlanStatus.TimeRanOut => ExitCodes.Done,
            _ => throw new InvalidOperationException($"Plan status {report.Status}."),
        };
        if (json)
        {
            return terminal.PrintJson(report, code);
        }

        foreach (var problem in report.Problems)
        {
            terminal.Error.WriteLine(problem);
        }

        if (code == ExitCodes.Done)
        {
            ProposalTable.Write(terminal, report);
        }

        return code;
    }
}
