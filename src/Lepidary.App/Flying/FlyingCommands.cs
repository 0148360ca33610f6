using System.CommandLine;
using Lepidary.App.Host;
using Spectre.Console;

namespace Lepidary.App.Flying;

internal static class FlyingCommands
{
    public static Command Create(Desk desk)
    {
        var days = new Option<int>("--days") { Description = "Days ahead.", DefaultValueFactory = _ => ShowFlying.UsualDays };
        days.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<int>() is < 2 or > 120)
            {
                result.AddError("--days: expected a whole number from 2 to 120");
            }
        });
        var command = desk.OnBook("flying", "What flies and what will fly, with its uncertainty.", days);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var view = await services.GetRequiredService<ShowFlying>().Show(parsed.GetValue(days), stop);
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(view);
            }

            desk.Terminal.Output.WriteLine(view.Headline);
            desk.Terminal.Output.WriteLine(view.Lead);
            var table = Tables.Plain("species", "today", "8 of 10", view.NextDay, "8 of 10");
            foreach (var row in view.Species)
            {
                table.AddRow(Tables.Cell(row.Name), Tables.Number(row.Now), Tables.Number(row.NowRange), Tables.Number(row.Next), Tables.Number(row.NextRange));
            }

            desk.Terminal.Write(table);
            return ExitCodes.Done;
        }, cancellation, foretells: true));
        return command;
    }
}
