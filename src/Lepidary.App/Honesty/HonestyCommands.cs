using System.CommandLine;
using Lepidary.App.Host;
using Spectre.Console;

namespace Lepidary.App.Honesty;

internal static class HonestyCommands
{
    /// <summary><c>lepidary honesty</c>.</summary>
    public static Command Create(Desk desk)
    {
        var command = desk.OnBook("honesty", "Does it come as Lepidary says? Scores every forecast whose day is past, beside a simple rival, and keeps today's.");
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            await services.GetRequiredService<KeepForecasts>().Today(stop);
            await services.GetRequiredService<ReckonAfterwards>().Do(stop);
            var view = await services.GetRequiredService<ShowHonesty>().Score(stop);
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(view);
            }

            desk.Terminal.Output.WriteLine(view.Headline);
            desk.Terminal.Output.WriteLine(view.Lead);
            Print(desk.Terminal, "Kept when they were shown", view.Kept);
            Print(desk.Terminal, "Reckoned afterwards, from what was known then", view.Afterwards);
            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static void Print(Terminal terminal, string title, IReadOnlyList<KindScore> scores)
    {
        if (scores.Count == 0)
        {
            return;
        }

        terminal.Output.WriteLine();
        terminal.Output.WriteLine(title);
        var table = Tables.Plain("forecast of", "judged", "waiting", "not told", "50 %", "80 %", "95 %", "CRPS", "rival", "Brier", "rival", "verdict");
        foreach (var score in scores)
        {
            var numbers = HonestyNumbers.Of(score);
            table.AddRow(
                Tables.Cell(score.Name), Tables.Number(score.Card?.Forecasts ?? 0), Tables.Number(score.Waiting), Tables.Number(score.Untold), Tables.Number(numbers.Fifty), Tables.Number(numbers.Eighty), Tables.Number(numbers.NinetyFive),
                Tables.Number(numbers.Crps), Tables.Number(numbers.RivalCrps), Tables.Number(numbers.Brier), Tables.Number(numbers.RivalBrier), Tables.Cell(score.Verdict));
        }

        terminal.Write(table);
        foreach (var score in scores.Where(score => score.Rival.Length > 0))
        {
            terminal.Output.WriteLine($"{char.ToUpperInvariant(score.Name[0])}{score.Name[1..]}: {score.Sentence} {score.Rival}");
        }
    }
}
