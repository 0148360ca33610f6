using System.CommandLine;
using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;
using Spectre.Console;

namespace Lepidary.App.HangingPlaces;

internal static class HangingCommands
{
    public static IEnumerable<Command> Create(Desk desk) => [Plan(desk), Split(desk), Merge(desk)];

    private static Command Plan(Desk desk)
    {
        var command = desk.OnBook("hanging", "Where to hang the lots that have no row: one a row, with the room of their wings, the first out in reach.");
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var view = await services.GetRequiredService<ShowHanging>().Show(stop);
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { view.Headline, view.Rows, view.Left, view.Warnings });
            }

            desk.Terminal.Output.WriteLine($"{view.Headline}.");
            foreach (var warning in view.Warnings)
            {
                desk.Terminal.Output.WriteLine(warning);
            }

            if (view.Rows.Count > 0)
            {
                var table = Tables.Plain("Lot", "Taxon", "Cage", "Row", "Pupae", "In each row", "Room", "First out");
                foreach (var row in view.Rows)
                {
                    table.AddRow(
                        Tables.Cell(row.Code), Tables.Cell(row.Form is null ? row.Taxon : $"{row.Taxon} {row.Form}"), Tables.Cell(row.Cage), Tables.Cell(row.Row), Tables.Number(row.Pupae), Tables.Cell(row.PerRow),
                        Tables.Cell(row.Spacing), Tables.Cell(row.FirstOut));
                }

                desk.Terminal.Write(table);
            }

            foreach (var left in view.Left)
            {
                desk.Terminal.Output.WriteLine($"{left.Code} {left.Taxon}, {left.Pupae}: {left.Why}");
            }

            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static Command Split(Desk desk)
    {
        var lot = new Option<string>("--lot") { Description = "Code or key of the lot.", Required = true };
        var pupae = new Option<int>("--pupae") { Description = "How many become a lot of their own.", Required = true };
        var cage = new Option<string?>("--cage") { Description = "Cage of the new lot; the old one's when not said." };
        var row = new Option<string?>("--row") { Description = "Row of the new lot." };
        var place = new Option<int?>("--place") { Description = "Place of its first pupa in the row, 1 the first." };
        var id = RoundCommands.Id();
        var command = desk.OnBook("split", "Makes some pupae of a lot a lot of their own.", lot, pupae, cage, row, place, id, desk.Who);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var done = await services.GetRequiredService<SplitLot>().Do(
                new(parsed.GetValue(lot)!, parsed.GetValue(pupae)) { Id = parsed.GetValue(id) ?? BookId.New(), Cage = parsed.GetValue(cage), Row = parsed.GetValue(row), Position = parsed.GetValue(place), Who = desk.WhoOf(parsed) }, stop);
            if (!done.IsGood)
            {
                return desk.Terminal.Refuse(done.Problems);
            }

            var (from, created, left) = done.Value;
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { From = LotCode.Of(from.Id), New = LotCode.Of(created.Id), Pupae = created.Received, Left = left.Hanging });
            }

            desk.Terminal.Output.WriteLine($"{created.Received} {created.Taxon} of {LotCode.Of(from.Id)} are {LotCode.Of(created.Id)} now; {left.Hanging} stay.");
            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static Command Merge(Desk desk)
    {
        var lot = new Option<string>("--lot") { Description = "Code or key of the lot that ends.", Required = true };
        var into = new Option<string>("--into") { Description = "Code or key of the lot with which its pupae hang.", Required = true };
        var id = RoundCommands.Id();
        var command = desk.OnBook("merge", "Hangs what is left of a lot with another of the same species, supplier and day.", lot, into, id, desk.Who);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var done = await services.GetRequiredService<MergeLots>().Do(new(parsed.GetValue(lot)!, parsed.GetValue(into)!) { Id = parsed.GetValue(id) ?? BookId.New(), Who = desk.WhoOf(parsed) }, stop);
            if (!done.IsGood)
            {
                return desk.Terminal.Refuse(done.Problems);
            }

            var value = done.Value;
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { Gone = LotCode.Of(value.Gone.Id), Into = LotCode.Of(value.Into.Id), value.Pupae, value.Balance.Hanging });
            }

            desk.Terminal.Output.WriteLine($"{value.Pupae} {value.Into.Taxon} of {LotCode.Of(value.Gone.Id)} hang with {LotCode.Of(value.Into.Id)} now: {value.Balance.Hanging} in all.");
            return ExitCodes.Done;
        }, cancellation));
        return command;
    }
}
