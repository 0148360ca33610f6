using System.Globalization;
using Lepidary.App.Host;
using Lepidary.App.Words;
using Lepidary.Planning;
using Spectre.Console;

namespace Lepidary.App.Orders;

/// <summary>A proposal in the terminal.</summary>
internal static class ProposalTable
{
    public static void Write(Terminal terminal, ProposalReport report)
    {
        terminal.Output.WriteLine($"{report.House}, order of {DayWords.Long(report.OrderDay)}");
        terminal.Output.WriteLine(report.Lines.Count == 0 && report.Status is (PlanStatus.Feasible or PlanStatus.TimeRanOut)
            ? "The search was ended before it had found an order that is worth more than none."
            : report.Lines.Count == 0
            ? "Order nothing this week: what hangs and flies serves, or nothing on the lists is worth it."
            : $"{report.Pupae} pupae for {MoneyWords.Sum(report.Total, report.Currency)} landed{(report.Budget is { } budget ? $", of a budget of {MoneyWords.Sum(budget, report.Currency)}" : "")}.");
        foreach (var order in report.Orders)
        {
            var table = Tables.Plain("pupae", "species", "each", "landed", "why");
            foreach (var line in report.Lines.Where(line => line.Supplier == order.Supplier && line.Arrives == order.Arrives))
            {
                table.AddRow(
                    Tables.Number(line.Pupae),
                    Tables.Cell((line.Taxon ?? "(mix)") + (line.Form is null ? "" : " " + line.Form)),
                    Tables.Number(MoneyWords.Plain(line.UnitPrice)),
                    Tables.Number(MoneyWords.Plain(line.Landed)),
                    Tables.Cell(line.Notes.Count == 0 ? line.Reason : $"{line.Reason} ({string.Join(", ", line.Notes)})"));
            }

            terminal.Output.WriteLine();
            terminal.Output.WriteLine(
                $"{order.Supplier}, box on {DayWords.Short(order.Arrives)}: goods {MoneyWords.Sum(order.Goods, order.Currency)}, carriage {MoneyWords.Plain(order.Carriage)}, charges {MoneyWords.Plain(order.Charges)}, tax {MoneyWords.Plain(order.Tax)}; {MoneyWords.Sum(order.TotalInHouse, report.Currency)} landed");
            terminal.Write(table);
        }

        var aims = Tables.Plain("aim", "worst day", "with this order", "without");
        foreach (var aim in report.Aims)
        {
            var worst = aim.Days.MinBy(day => day.With);
            aims.AddRow(
                Tables.Cell(aim.Words),
                Tables.Cell(worst is null ? "" : DayWords.Short(worst.Day)),
                Tables.Cell(worst is null ? "" : ChanceWords.Picture(worst.With)),
                Tables.Cell(worst is null ? "" : ChanceWords.Picture(worst.Without)));
        }

        terminal.Output.WriteLine("What it will do:");
        terminal.Write(aims);
        foreach (var left in report.LeftOut)
        {
            terminal.Output.WriteLine($"Not ordered: {left.Sentence}");
        }

        foreach (var line in report.Ahead)
        {
            terminal.Output.WriteLine(line);
        }

        if (report.NotOrderable.Count > 0)
        {
            terminal.Output.WriteLine(report.NotOrderable.Count == 1 ? "One line waits to be settled before it can be ordered." : $"{report.NotOrderable.Count} lines wait to be settled before they can be ordered.");
        }

        terminal.Output.WriteLine(report.Gap is { } gap
            ? string.Create(CultureInfo.InvariantCulture, $"{(report.Status == PlanStatus.Proven ? "Proven" : "Found")}: no order is better by more than {gap * 100:0.##} %. {report.Seconds:0.0} s.")
            : "");
        if (report.Check is { } check)
        {
            Write(terminal, check);
        }
    }

    /// <summary>What the checker compared.</summary>
    private static void Write(Terminal terminal, PlanCheck check)
    {
        var table = Tables.Plain("reckoned again", "figures", "comes to", "the proposal says", "at most");
        foreach (var compared in check.Compared)
        {
            table.AddRow(
                Tables.Cell($"{compared.What} ({compared.Unit})"),
                Tables.Number(compared.Figures),
                Tables.Number(Figure(compared.Reckoned, compared.Unit)),
                Tables.Number(compared.Said is { } said ? Figure(said, compared.Unit) : ""),
                Tables.Number(compared.Limit is { } limit ? Figure(limit, compared.Unit) : ""));
        }

        terminal.Output.WriteLine();
        terminal.Output.WriteLine(CheckWords.Of(check));
        terminal.Write(table);
    }

    private static string Figure(double value, string unit) =>
        value.ToString(unit switch { "chance" => "0.000000", "mean" => "0.0", "pupae" => "0", _ => "0.00" }, CultureInfo.InvariantCulture);
}
