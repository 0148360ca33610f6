using System.CommandLine;
using Lepidary.App.Host;
using Spectre.Console;

namespace Lepidary.App.Weeks;

internal static class WeeksCommands
{
    /// <summary><c>lepidary weeks [NAME]</c>.</summary>
    public static Command Create(Desk desk)
    {
        var name = new Argument<string?>("NAME") { Description = "A species or a supplier; without it, what is unusual this week.", Arity = ArgumentArity.ZeroOrOne };
        var command = desk.OnBook("weeks", "What the lists say over the weeks: what is new, seldom, dear; how often and at what price; what the next list will have.", name);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var weeks = services.GetRequiredService<ShowWeeks>();
            var json = parsed.GetValue(desk.Json);
            if (parsed.GetValue(name) is not { } asked)
            {
                return Print(desk.Terminal, await weeks.Week(stop), json);
            }

            var house = await services.GetRequiredService<HouseDay>().House(stop);
            if (house.Terms.FirstOrDefault(terms => terms.Supplier!.Name.Equals(asked, StringComparison.OrdinalIgnoreCase)) is { } supplier)
            {
                return await weeks.Supplier(supplier.SupplierId, stop) is { } one
                    ? Print(desk.Terminal, one, json)
                    : desk.Terminal.Refuse([new("NAME", asked, "a supplier who has sent a list")]);
            }

            return await weeks.Taxon(asked, stop) is { } taxon
                ? Print(desk.Terminal, taxon, await services.GetRequiredService<CompareOffers>().Show(asked, stop), json)
                : desk.Terminal.Refuse([new("NAME", asked, $"a species, as Morpho helenor, or a supplier: {string.Join(", ", house.Terms.Select(terms => terms.Supplier!.Name))}")]);
        }, cancellation));
        return command;
    }

    private static int Print(Terminal terminal, WeeksView view, bool json)
    {
        if (json)
        {
            return terminal.PrintJson(view);
        }

        terminal.Output.WriteLine(view.Headline);
        terminal.Output.WriteLine(view.Lead);
        var table = Tables.Plain("species", "supplier", "price", "unusual");
        foreach (var offer in view.Noted)
        {
            table.AddRow(Tables.Cell(offer.Taxon + (offer.Form is null ? "" : " " + offer.Form)), Tables.Cell(offer.Supplier), Tables.Number(offer.Price), Tables.Cell(string.Join(", ", offer.Notes)));
        }

        terminal.Write(table);
        foreach (var supplier in view.Suppliers)
        {
            terminal.Output.WriteLine($"{supplier.Name}: {supplier.Lists} lists since {supplier.Since}, {supplier.Taxa} species. {supplier.Pattern}");
        }

        return ExitCodes.Done;
    }

    private static int Print(Terminal terminal, SupplierWeeksView view, bool json)
    {
        if (json)
        {
            return terminal.PrintJson(view);
        }

        terminal.Output.WriteLine($"{view.Supplier}. {view.Sentence}");
        terminal.Write(Rows("species", view.Taxa, row => row.Taxon));
        return ExitCodes.Done;
    }

    private static int Print(Terminal terminal, TaxonWeeksView view, ComparedView? compared, bool json)
    {
        if (json)
        {
            return terminal.PrintJson(new { view.Taxon, view.Sentence, view.Currency, view.Suppliers, view.Weeks, ThisWeek = compared });
        }

        terminal.Output.WriteLine($"{view.Taxon}. {view.Sentence}");
        terminal.Write(Rows("supplier", view.Suppliers, row => row.Supplier));
        if (compared is { Offers.Count: > 0 })
        {
            terminal.Output.WriteLine(compared.Sentence);
            var table = Tables.Plain("this week", "on the list", $"a pupa, {compared.Currency}", "a butterfly", "a butterfly-day", "emergence");
            foreach (var offer in compared.Offers)
            {
                table.AddRow(
                    Tables.Cell(offer.Supplier + (offer.Form is null ? "" : " " + offer.Form)), Tables.Number(offer.Price), Tables.Number(offer.LandedWords), Tables.Number(offer.Butterfly.Words), Tables.Number(offer.ButterflyDay.Words),
                    Tables.Cell(offer.RateSource));
            }

            terminal.Write(table);
        }

        return ExitCodes.Done;
    }

    private static Table Rows(string first, IReadOnlyList<TaxonAtSupplier> rows, Func<TaxonAtSupplier, string> name)
    {
        var table = Tables.Plain(first, "lists", "usually", "newest", "on the next list");
        foreach (var row in rows)
        {
            table.AddRow(Tables.Cell(name(row)), Tables.Number($"{row.Listed} of {row.Lists}"), Tables.Number(row.Usual), Tables.Number(row.Latest), Tables.Cell($"{row.NextWords}, {row.NextRange}"));
        }

        return table;
    }
}
