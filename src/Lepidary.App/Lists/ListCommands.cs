using System.CommandLine;
using Lepidary.App.Host;
using Lepidary.App.Words;
using Lepidary.Book;
using Lepidary.Lists;
using Lepidary.Taxa;
using Spectre.Console;

namespace Lepidary.App.Lists;

internal static class ListCommands
{
    public static Command Create(Desk desk) => new("lists", "Suppliers' lists: read one, take one in, see what is on offer.")
    {
        Read(desk),
        Take(desk),
        Show(desk),
        Settle(desk),
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

    private static Command Take(Desk desk)
    {
        var file = new Argument<string>("FILE") { Description = "The list as it came." };
        var supplier = new Option<string>("--supplier") { Description = "Who sent it, as the house knows them.", Required = true };
        var command = desk.OnBook("take", "Reads a list into the book. The same file twice is kept once.", file, supplier);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var day = services.GetRequiredService<HouseDay>();
            var house = await day.House(stop);
            var name = parsed.GetValue(supplier)!;
            var terms = house.Terms.FirstOrDefault(one => one.Supplier!.Name.Equals(name, StringComparison.OrdinalIgnoreCase));
            if (terms is null)
            {
                return desk.Terminal.Refuse([new("--supplier", name, $"one of {string.Join(", ", house.Terms.Select(one => one.Supplier!.Name))}")]);
            }

            var path = parsed.GetValue(file)!;
            var content = ListFile.Content(path);
            var kept = content.IsGood
                ? await services.GetRequiredService<TakeInList>().Take(new HandedList(terms.SupplierId, Path.GetFileName(path), content.Value, day.Today, day.Now), stop)
                : content.Problems.ToArray();
            if (!kept.IsGood)
            {
                return desk.Terminal.Refuse(kept.Problems);
            }

            var list = (await services.GetRequiredService<CurrentLists>().One(kept.Value.ListId, stop))!;
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { List = kept.Value.ListId, kept.Value.WasThere, Offers = list.List.Offers.Count, Doubts = list.List.Doubts.Select(doubt => new { doubt.Line, doubt.Text, doubt.Why }) });
            }

            Print(desk.Terminal, list.List);
            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static Command Show(Desk desk)
    {
        var command = desk.OnBook("show", "What is on offer this week, by supplier.");
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var lists = await services.GetRequiredService<CurrentLists>().On(services.GetRequiredService<HouseDay>().Today, stop);
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(lists.Select(list => new { list.ListId, Supplier = list.Supplier.Name, list.FileName, list.OnDay, List = ListJson.Of(list.List) }));
            }

            foreach (var list in lists)
            {
                Print(desk.Terminal, list.List);
            }

            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static Command Settle(Desk desk)
    {
        var printed = new Argument<string>("PRINTED") { Description = "The name as lists print it." };
        var taxon = new Argument<string>("SPECIES") { Description = "What it means: genus and species." };
        var command = desk.OnBook("settle", "Says once and for all what a printed name means.", printed, taxon, desk.Who);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var settled = await services.GetRequiredService<SettleName>().Settle(BookId.New(), parsed.GetValue(printed)!, parsed.GetValue(taxon)!, desk.WhoOf(parsed), services.GetRequiredService<HouseDay>().Now, stop);
            if (!settled.IsGood)
            {
                return desk.Terminal.Refuse(settled.Problems);
            }

            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { Printed = parsed.GetValue(printed), Taxon = settled.Value });
            }

            desk.Terminal.Output.WriteLine($"{parsed.GetValue(printed)} means {settled.Value}.");
            return ExitCodes.Done;
        }, cancellation));
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
