using System.CommandLine;
using Lepidary.App.Host;

namespace Lepidary.App.House;

internal static class HouseCommands
{
    public static Command Create(Desk desk) => new("house", "The house: put one into the book.")
    {
        Load(desk),
    };

    private static Command Load(Desk desk)
    {
        var file = new Argument<string>("FILE") { Description = "The house file (docs/house-file.md)." };
        var command = new Command("load", "Puts a house file into the book; makes the book if there is none.") { file, desk.Book, desk.Who, desk.Json };
        command.SetAction((parsed, cancellation) =>
        {
            var sheet = HouseFile.Read(parsed.GetValue(file)!);
            return sheet.IsGood
                ? desk.Open(parsed, async (services, stop) =>
                {
                    var now = desk.Clock.GetUtcNow();
                    var loaded = await services.GetRequiredService<LoadHouse>().Load(sheet.Value, sheet.Value.House.DayAt(now), now, desk.WhoOf(parsed), null, stop);
                    if (!loaded.IsGood)
                    {
                        return desk.Terminal.Refuse(loaded.Problems);
                    }

                    if (parsed.GetValue(desk.Json))
                    {
                        return desk.Terminal.PrintJson(new { House = sheet.Value.House.Name, Id = loaded.Value });
                    }

                    await desk.Terminal.Output.WriteLineAsync($"{sheet.Value.House.Name} is in the book: {sheet.Value.House.Aims.Count} aims, {sheet.Value.House.Terms.Count} suppliers.");
                    return ExitCodes.Done;
                }, cancellation, create: true)
                : Task.FromResult(desk.Terminal.Refuse(sheet.Problems));
        });
        return command;
    }
}
