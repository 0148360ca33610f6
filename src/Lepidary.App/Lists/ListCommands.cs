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
        Watch(desk),
        Show(desk),
        Settle(desk),
        Learnt(desk),
        Teach(desk),
        Forget(desk),
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
        var supplier = new Option<string?>("--supplier") { Description = "Who sent it, as the house knows them. Else it is found by sender, name or shape." };
        var command = desk.OnBook("take", "Reads a list into the book, or every mail of a mailbox (.mbox). The same file twice in a week is kept once.", file, supplier);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var known = parsed.GetValue(supplier) is { } name ? await Known(services, name, stop) : (Checked<Guid>)Guid.Empty;
            await using var mailbox = known.IsGood ? ListFile.Mailbox(parsed.GetValue(file)!) : null;
            if (mailbox is not null)
            {
                return Say(desk, parsed, await services.GetRequiredService<TakeInByItself>().TakeMailbox(Path.GetFileName(parsed.GetValue(file)!), mailbox, known.Value == Guid.Empty ? null : known.Value, stop));
            }

            var content = ListFile.Content(parsed.GetValue(file)!);
            if (!known.IsGood || !content.IsGood)
            {
                return desk.Terminal.Refuse([.. known.Problems, .. content.Problems]);
            }

            var arrived = await services.GetRequiredService<TakeInByItself>().Take(Path.GetFileName(parsed.GetValue(file)!), content.Value, known.Value == Guid.Empty ? null : known.Value, stop);
            if (arrived[0].ListId is not { } listId)
            {
                return desk.Terminal.Refuse([new(arrived[0].FileName, arrived[0].Words, arrived[0].Became == Arrival.WhoseIsIt ? "--supplier NAME" : "a list that can be read")]);
            }

            var list = (await services.GetRequiredService<CurrentLists>().One(listId, stop))!;
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { List = listId, WasThere = arrived[0].Became == Arrival.WasThere, Supplier = list.Supplier.Name, Offers = list.List.Offers.Count, Doubts = list.List.Doubts.Select(doubt => new { doubt.Line, doubt.Text, doubt.Why }) });
            }

            Print(desk.Terminal, list.List);
            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static Command Watch(Desk desk)
    {
        var folder = new Argument<string>("FOLDER") { Description = "Where lists are dropped." };
        var command = desk.OnBook("watch", "Reads the lists that lie in a folder into the book, each once; `serve --watch FOLDER` does so all the time.", folder);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var path = parsed.GetValue(folder)!;
            if (!Directory.Exists(path))
            {
                return desk.Terminal.Refuse([new("FOLDER", path, "a folder")]);
            }

            var house = services.GetRequiredService<HouseDay>().HouseName;
            return Say(desk, parsed, await FolderWatch.Look(services.GetRequiredService<IServiceScopeFactory>(), new WatchedFolder(path), stop, house));
        }, cancellation));
        return command;
    }

    /// <summary>Says what became of each; where something waits, the exit code says so.</summary>
    private static int Say(Desk desk, ParseResult parsed, IReadOnlyList<ArrivedList> arrived)
    {
        var code = arrived.Any(list => list.Waits) ? ExitCodes.BadInput : ExitCodes.Done;
        if (parsed.GetValue(desk.Json))
        {
            return desk.Terminal.PrintJson(arrived, code);
        }

        foreach (var list in arrived)
        {
            (list.Waits ? desk.Terminal.Error : desk.Terminal.Output).WriteLine($"{list.FileName}: {(list.Became == Arrival.Taken ? $"taken in, from {list.Supplier}. " : "")}{list.Words}");
        }

        return code;
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

    private static Command Learnt(Desk desk)
    {
        var supplier = SupplierOption();
        var csv = new Option<bool>("--csv") { Description = "Print CSV." };
        var command = desk.OnBook("learnt", "What was learnt of a supplier's lists, with the key by which each can be taken back.", supplier, csv);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var known = await Known(services, parsed.GetValue(supplier)!, stop);
            if (!known.IsGood)
            {
                return desk.Terminal.Refuse(known.Problems);
            }

            var view = (await services.GetRequiredService<ShowLearnt>().Show(known.Value, stop))!;
            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { view.Supplier, view.Rows });
            }

            if (parsed.GetValue(csv))
            {
                desk.Terminal.Output.Write(ShowLearnt.Csv(view));
                return ExitCodes.Done;
            }

            var table = Tables.Plain("about", "printed", "means", "said by", "since", "key");
            foreach (var row in view.Rows)
            {
                table.AddRow(Tables.Cell(row.About), Tables.Cell(row.Printed), Tables.Cell(row.Means), Tables.Cell(row.Id is null ? "a list" : row.Who), Tables.Cell(DayWords.Short(row.On)), Tables.Cell(row.Id?.ToString() ?? ""));
            }

            desk.Terminal.Write(table);
            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static Command Teach(Desk desk)
    {
        var supplier = SupplierOption();
        var column = new Option<string?>("--column") { Description = "A column, by its title as printed, or #3 for the third where it has none." };
        var holds = new Option<string?>("--holds") { Description = $"What the column holds: {string.Join(", ", TeachLayout.Roles)}." };
        var currency = new Option<string?>("--currency") { Description = "The currency of lists that do not say it, as EUR." };
        var tax = new Option<string?>("--tax") { Description = "Tax on lists that do not say it: excluded or included." };
        var prices = new Option<string?>("--prices") { Description = "A price beside a pack is for the pack or for one: pack or one." };
        var line = new Option<string?>("--line") { Description = "A line of the list, as printed." };
        var offers = new Option<string?>("--offers") { Description = $"What the line offers: {ToldLine.AsRead}, {ToldLine.NoOffer}, or what differs, as \"price 1.30; hand 125; pack 25\"." };
        var command = desk.OnBook("teach", "Says once and for all what a supplier's lists mean: a column, the currency, tax, what a price is for, a line.", supplier, column, holds, currency, tax, prices, line, offers, desk.Who);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var known = await Known(services, parsed.GetValue(supplier)!, stop);
            if (!known.IsGood)
            {
                return desk.Terminal.Refuse(known.Problems);
            }

            (LearntMatter Matter, string? Meaning)[] all =
            [
                (LearntMatter.Column, parsed.GetValue(column) is null ? parsed.GetValue(holds) : parsed.GetValue(holds) ?? ""),
                (LearntMatter.Currency, parsed.GetValue(currency)), (LearntMatter.Tax, parsed.GetValue(tax)), (LearntMatter.PriceUnit, parsed.GetValue(prices)),
                (LearntMatter.Line, parsed.GetValue(line) is null ? parsed.GetValue(offers) : parsed.GetValue(offers) ?? ""),
            ];
            var said = all.Where(one => one.Meaning is not null).ToList();
            var problems = said.Count == 0 ? [new("lists teach", "nothing said", "--column and --holds, --currency, --tax, --prices, or --line and --offers")] : new List<Problem>();
            foreach (var (matter, meaning) in said)
            {
                problems.AddRange(await services.GetRequiredService<TeachLayout>().Teach(new LayoutWord(BookId.New(), known.Value, matter, parsed.GetValue(matter == LearntMatter.Line ? line : column) ?? "", meaning!, desk.WhoOf(parsed), services.GetRequiredService<HouseDay>().Now), stop));
            }

            return problems.Count > 0 ? desk.Terminal.Refuse(problems) : parsed.GetValue(desk.Json) ? desk.Terminal.PrintJson(new { Learnt = said.Count }) : ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static Command Forget(Desk desk)
    {
        var key = new Argument<Guid>("KEY") { Description = "Of what was learnt, as `lists learnt` prints it." };
        var command = desk.OnBook("forget", "Takes back what was learnt of a supplier's lists, or what a name was said to mean.", key, desk.Who);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var problems = await services.GetRequiredService<ForgetLearnt>().Forget(BookId.New(), parsed.GetValue(key), desk.WhoOf(parsed), services.GetRequiredService<HouseDay>().Now, stop);
            return problems.Count > 0 ? desk.Terminal.Refuse(problems) : parsed.GetValue(desk.Json) ? desk.Terminal.PrintJson(new { Forgotten = parsed.GetValue(key) }) : ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static Option<string> SupplierOption() => new("--supplier") { Description = "The supplier, as the house knows them.", Required = true };

    /// <summary>The key of a supplier of the house.</summary>
    private static async Task<Checked<Guid>> Known(IServiceProvider services, string name, CancellationToken stop)
    {
        var house = await services.GetRequiredService<HouseDay>().House(stop);
        return house.Terms.FirstOrDefault(one => one.Supplier!.Name.Equals(name, StringComparison.OrdinalIgnoreCase)) is { } terms
            ? terms.SupplierId
            : new Problem("--supplier", name, $"one of {string.Join(", ", house.Terms.Select(one => one.Supplier!.Name))}");
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
