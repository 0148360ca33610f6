using System.CommandLine;
using Lepidary.App.Host;

namespace Lepidary.App.Pairs;

internal static class PairsCommands
{
    public static Command Create(Desk desk)
    {
        var emergence = new Option<double>("--emergence") { Description = "Share of pupae that emerge, 0 to 1.", Required = true };
        var pupae = new Option<int?>("--pupae") { Description = "Pupae hung." };
        var sure = new Option<double?>("--sure") { Description = "Wanted chance, 0 to 1: prints the fewest pupae." };
        var pairs = new Option<int>("--pairs") { Description = "Pairs wanted.", DefaultValueFactory = _ => 1 };
        var females = new Option<double>("--female-share") { Description = "Share of females, 0 to 1.", DefaultValueFactory = _ => 0.5 };
        var command = new Command("pairs", "The chance of at least so many males and females from a number of pupae, or the fewest pupae for a wanted chance.")
        {
            emergence, pupae, sure, pairs, females, desk.Json,
        };
        command.SetAction(parsed =>
        {
            var ask = new AskPairs(parsed.GetValue(emergence), parsed.GetValue(pupae), parsed.GetValue(sure), parsed.GetValue(pairs), parsed.GetValue(females));
            var answer = ask.Answer();
            if (!answer.IsGood)
            {
                return desk.Terminal.Refuse(answer.Problems);
            }

            if (parsed.GetValue(desk.Json))
            {
                return ask.Pupae is null
                    ? desk.Terminal.PrintJson(new { answer.Value.Pupae, answer.Value.Chance })
                    : desk.Terminal.PrintJson(new { answer.Value.Chance });
            }

            desk.Terminal.Output.WriteLine(answer.Value.Sentence);
            return ExitCodes.Done;
        });
        return command;
    }
}
