using System.CommandLine;
using Lepidary.App.Host;

namespace Lepidary.App.House;

internal static class HouseCommands
{
    public static Command Create(Desk desk) => new("house", "The house: put one into the book, show it, change it.")
    {
        Load(desk),
        Show(desk),
        Change(desk),
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

    private static Command Show(Desk desk)
    {
        var command = desk.OnBook("show", "The house as a house file; with --json its figures.");
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var view = (await services.GetRequiredService<ShowHouse>().Show(stop))!;
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new
                {
                    view.Name,
                    view.Open,
                    view.Closed,
                    view.Budget,
                    view.Tax,
                    view.Aims,
                    view.KeepNot,
                    view.Season,
                    view.NoBoxes,
                    Places = view.Places.Select(place => new { place.Name, place.Words }),
                    Suppliers = view.Suppliers.Select(supplier => new { supplier.Id, supplier.Name, supplier.Words }),
                    view.File,
                });
            }

            desk.Terminal.Output.Write(view.File);
            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static Command Change(Desk desk)
    {
        var file = new Argument<string>("FILE") { Description = "The house file as it should be from now on, without stock." };
        var command = desk.OnBook("change", "Changes the house to what a house file says; aims that are gone are ended, not lost.", file);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            string text;
            try
            {
                text = await File.ReadAllTextAsync(parsed.GetValue(file)!, stop);
            }
            catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException)
            {
                return desk.Terminal.Refuse([new(parsed.GetValue(file)!, wrong.Message, "a house file that can be read")]);
            }

            var problems = await services.GetRequiredService<ChangeHouse>().Change(text, stop);
            return problems.Count > 0 ? desk.Terminal.Refuse(problems) : ExitCodes.Done;
        }, cancellation));
        return command;
    }
}
