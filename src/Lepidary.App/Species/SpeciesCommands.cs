using System.CommandLine;
using Lepidary.App.Host;
using Spectre.Console;

namespace Lepidary.App.Species;

internal static class SpeciesCommands
{
    /// <summary><c>lepidary species</c>.</summary>
    public static Command Create(Desk desk)
    {
        var name = new Argument<string>("NAME") { Description = "Genus and species, or any name of it." };
        var command = desk.OnBook("species", "How a species lives, with the source of every figure, and what the book says of it.", name);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var view = await services.GetRequiredService<ShowSpecies>().Show(parsed.GetValue(name)!, stop);
            if (view is null)
            {
                var near = ShowSpecies.Suggest(parsed.GetValue(name)!).Take(3).Select(hit => hit.Name).ToList();
                return desk.Terminal.Refuse([new("NAME", parsed.GetValue(name)!, near.Count > 0 ? $"a species; perhaps {string.Join(" or ", near)}" : "genus and species, as Morpho helenor")]);
            }

            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(view);
            }

            desk.Terminal.Output.WriteLine($"{view.Name} {view.Authority}. {view.CommonNames}");
            desk.Terminal.Output.WriteLine($"{view.Place}. {view.Now}");
            var table = Tables.Plain("figure", "value", "rests on");
            foreach (var figure in view.Life)
            {
                table.AddRow(Tables.Cell(figure.What), Tables.Cell(figure.Figure), Tables.Cell(figure.More.Length > 0 ? $"{figure.Confidence}: {figure.More}" : figure.Confidence));
            }

            desk.Terminal.Write(table);
            foreach (var row in view.Learnt)
            {
                desk.Terminal.Output.WriteLine($"From {row.From}: {row.RateWords} emerge, 9 of 10 within {row.Days} ({row.Source}).");
            }

            return ExitCodes.Done;
        }, cancellation, foretells: true));
        return command;
    }

    /// <summary><c>lepidary names</c>: needs no book.</summary>
    public static Command Names(Desk desk)
    {
        var text = new Argument<string>("TEXT") { Description = "Part of a name, scientific or common." };
        var command = new Command("names", "Species that a name may mean, likeliest first. Needs no book.") { text, desk.Json };
        command.SetAction(parsed =>
        {
            var hits = ShowSpecies.Suggest(parsed.GetValue(text)!);
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(hits);
            }

            foreach (var hit in hits)
            {
                desk.Terminal.Output.WriteLine($"{hit.Name}  {hit.CommonName}{(hit.As.Length > 0 ? $"  (as {hit.As})" : "")}");
            }

            return ExitCodes.Done;
        });
        return command;
    }
}
