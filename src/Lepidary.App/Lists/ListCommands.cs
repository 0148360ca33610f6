using System.CommandLine;
using Lepidary.App.Host;
using Lepidary.App.Words;
using Lepidary.Lists;
using Lepidary.Taxa;
using Spectre.Console;

namespace Lepidary.App.Lists;

internal static class ListCommands
{
    public static Command Create(Desk desk) => new("lists", "Suppliers' lists: read one, take one in, see what is on offer.")
    {
        Read(desk),
    };

    private static Command Read(Desk desk)
    {
        var file = new Argument<string>("FILE") { Description = "The list as it came." };
        var supplier = new Option<string?>("--supplier") { Description = "Who sent it, where the list does not say." };
        var on = Options.On("The day it is read; settles dates without a year.");
        var command = new Command("read", "Reads a list into offers and prints them with their doubts. Needs no book.") { file, supplier, on, desk.Json };
        command.SetAction(parsed =>
        {
            var read = ListFile.Read(parsed.GetValue(file)!, new ReadOptions
            {
                Names = new NameFinder(TaxonTable.Shipped),
                Supplier = parsed.GetValue(supplier),
                Today = parsed.GetValue(on) ?? DateOnly.FromDateTime(desk.Clock.GetLocalNow().DateTime),
            });
            if (!read.IsGood)
            {
                return desk.Terminal.Refuse(read.Problems);
            }

            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(ListJson.Of(read.Value));
            }

            Print(desk.Terminal, read.Value);
            return ExitCodes.Done;
        });
        return command;
    }

    private static void Print(Terminal terminal, SupplierList list)
    {
        terminal.Output.WriteLine($"{list.Supplier ?? "Supplier not named"}, {list.Currency ?? "currency not said"}, {(list.Date is { } date ? DayWords.Short(date) : "no date")}. Read as {list.Format}.");
        var table = Tables.Plain("line", "taxon", "price", "pack", "min", "on hand", "doubt");
        foreach (var offer in list.Offers)
        {
            table.AddRow(
                Tables.Number(offer.Line),
                Tables.Cell((offer.Taxon ?? (offer.Kind == OfferKind.Mix ? "(mix)" : "?")) + (offer.Form is null ? "" : " " + offer.Form)),
                Tables.Cell(offer.Price is { } price ? MoneyWords.Plain(price) : "–"),
                Tables.Number(offer.Pack),
                Tables.Cell(offer.Minimum?.ToString(System.Globalization.CultureInfo.InvariantCulture) ?? ""),
                Tables.Cell(offer.SoldOut ? "sold out" : offer.Available?.ToString(System.Globalization.CultureInfo.InvariantCulture) ?? ""),
                Tables.Cell(string.Join(" ", offer.Doubts)));
        }

        terminal.Write(table);
        foreach (var charge in list.Charges)
        {
            terminal.Output.WriteLine($"Charge, line {charge.Line}: {charge.Text}");
        }

        foreach (var doubt in list.Doubts.Where(doubt => list.Offers.All(offer => offer.Line != doubt.Line)))
        {
            terminal.Output.WriteLine($"Doubt, line {doubt.Line}: {doubt.Text}. {doubt.Why}");
        }
    }
}
