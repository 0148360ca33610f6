using Lepidary.App.Host;
using Lepidary.App.Words;
using Spectre.Console;

namespace Lepidary.App.Orders;

/// <summary>The weeks ahead in the terminal.</summary>
internal static class AheadTable
{
    public static int Print(Terminal terminal, AheadView view, bool json)
    {
        var code = view.Weeks.Count == 0 ? ExitCodes.NoPlan : ExitCodes.Done;
        if (json)
        {
            return terminal.PrintJson(view, code);
        }

        if (code != ExitCodes.Done)
        {
            terminal.Error.WriteLine($"{view.Headline}. {view.Lead}");
            return code;
        }

        terminal.Output.WriteLine($"{view.Headline}. {view.Lead}");
        foreach (var week in view.Weeks)
        {
            terminal.Output.WriteLine();
            terminal.Output.WriteLine(week.Days);
            if (week.Wishes.Count > 0)
            {
                var wishes = Tables.Plain("wish", "firm", "with what is likely", "worst day");
                foreach (var wish in week.Wishes)
                {
                    wishes.AddRow(Tables.Cell(wish.Words), Tables.Number(wish.Firm), Tables.Number(wish.Likely), Tables.Cell(wish.Day));
                }

                terminal.Write(wishes);
            }

            if (week.Orders.Count > 0)
            {
                var orders = Tables.Plain("likely", "pupae", "box on", "listed then", "each", "from", "for");
                foreach (var order in week.Orders)
                {
                    orders.AddRow(
                        Tables.Cell(order.Taxon), Tables.Number(order.Pupae), Tables.Cell(order.Box), Tables.Cell(ChanceWords.Picture(order.Chance)), Tables.Number(order.Each), Tables.Cell(order.From), Tables.Cell(order.For));
                }

                terminal.Write(orders);
            }
        }

        terminal.Output.WriteLine("Order now, or wait:");
        var offers = Tables.Plain("species", "what the order does", "pupae", "listed in these weeks", "why");
        foreach (var offer in view.Offers)
        {
            offers.AddRow(Tables.Cell(offer.Taxon), Tables.Cell(offer.What), Tables.Number(offer.Pupae), Tables.Cell(ChanceWords.Picture(offer.ListedLater)), Tables.Cell(offer.Words));
        }

        terminal.Write(offers);
        return code;
    }
}
