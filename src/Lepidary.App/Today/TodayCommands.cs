using System.CommandLine;
using Lepidary.App.Host;

namespace Lepidary.App.Today;

internal static class TodayCommands
{
    public static Command Create(Desk desk)
    {
        var command = desk.OnBook("today", "What is due today, in the order of the day.");
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var view = (await services.GetRequiredService<ShowToday>().Show(stop))!;
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(view);
            }

            desk.Terminal.Output.WriteLine(view.Headline);
            foreach (var item in view.Items)
            {
                desk.Terminal.Output.WriteLine($"{(item.IsDone ? "  done  " : "  ")}{item.What}. {item.Detail}");
            }

            foreach (var line in view.Ahead)
            {
                desk.Terminal.Output.WriteLine($"  {line}");
            }

            return ExitCodes.Done;
        }, cancellation, foretells: true));
        return command;
    }
}
