using Lepidary.App.Host;
using Lepidary.App.Words;
using Spectre.Console;

namespace Lepidary.App.Orders;

/// <summary>Other orders beside the proposal, in the terminal.</summary>
internal static class OptionsTable
{
    public static int Print(Terminal terminal, OptionsView view, bool json)
    {
        var code = view.Orders.Count == 0 ? ExitCodes.NoPlan : ExitCodes.Done;
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
        var orders = Tables.Plain("order", "landed", "pupae", "from", "wishes met", "beside the proposal");
        foreach (var row in view.Orders)
        {
            orders.AddRow(Tables.Cell(row.Name), Tables.Number(row.Landed), Tables.Number(row.Pupae), Tables.Cell(row.From), Tables.Cell(row.Met), Tables.Cell(row.Difference));
        }

        terminal.Write(orders);
        terminal.Output.WriteLine("Each wish on its worst day:");
        var wishes = Tables.Plain(["wish", .. view.Orders.Select(row => row.Name)]);
        foreach (var wish in view.Wishes)
        {
            wishes.AddRow([Tables.Cell(wish.Words), .. wish.Chances.Select(chance => Tables.Cell(chance is { } value ? ChanceWords.Picture(value) : ""))]);
        }

        terminal.Write(wishes);
        if (view.Money.Length > 0)
        {
            terminal.Output.WriteLine(view.Money);
        }

        var raised = Tables.Plain("wish", "the last one costs", "raised to", "dearer by", "then met on");
        foreach (var wish in view.Raised)
        {
            raised.AddRow(Tables.Cell(wish.Words), Tables.Number(wish.Last), Tables.Number(wish.To), Tables.Number(wish.Dearer), Tables.Cell(wish.Sentence));
        }

        terminal.Write(raised);
        return code;
    }
}
