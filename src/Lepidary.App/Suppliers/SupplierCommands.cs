using System.CommandLine;
using Lepidary.App.Host;
using Spectre.Console;

namespace Lepidary.App.Suppliers;

internal static class SupplierCommands
{
    public static Command Create(Desk desk)
    {
        var command = desk.OnBook("suppliers", "Who was worth it: boxes, dead on arrival, emerged with its range, landed cost of a butterfly.");
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var view = await services.GetRequiredService<ShowSuppliers>().Show(stop);
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(view);
            }

            desk.Terminal.Output.WriteLine(view.Headline);
            desk.Terminal.Output.WriteLine(view.Lead);
            var table = Tables.Plain("supplier", "boxes", "dead on arrival", "lots", "emerged", "of 100", "a pupa", "a butterfly", "a butterfly-day");
            foreach (var row in view.Rows)
            {
                table.AddRow(Tables.Cell(row.Name), Tables.Number(row.Boxes), Tables.Number(row.DeadOnArrival), Tables.Number(row.Lots), Tables.Number(row.Emerged), Tables.Number(row.Interval), Tables.Number(row.LandedPupa), Tables.Number(row.Butterfly?.Words ?? ""), Tables.Number(row.ButterflyDay?.Words ?? ""));
            }

            desk.Terminal.Write(table);
            foreach (var row in view.Compared)
            {
                desk.Terminal.Output.WriteLine($"{row.One} and {row.Other}, {row.Species} species of both: odds {row.Odds} ({row.Range}); {row.Said}");
            }

            foreach (var row in view.Alarms)
            {
                desk.Terminal.Output.WriteLine($"{row.Taxon} from {row.Supplier}: {row.Last}. {row.Means}");
            }

            foreach (var sentence in new[] { view.Watched, view.Way }.Where(sentence => sentence.Length > 0))
            {
                desk.Terminal.Output.WriteLine(sentence);
            }

            return ExitCodes.Done;
        }, cancellation));
        return command;
    }
}
