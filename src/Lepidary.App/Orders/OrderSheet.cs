using System.Globalization;
using System.Text;
using Lepidary.App.Words;
using Lepidary.Book;

namespace Lepidary.App.Orders;

/// <summary>An order as it goes out: as CSV, and as text for an e-mail. The printable sheet is the page of the order.</summary>
internal static class OrderSheet
{
    /// <summary>RFC 4180; a cell that a spreadsheet would take for a formula gets an apostrophe in front.</summary>
    public static string Csv(Order order)
    {
        var csv = new StringBuilder("line,as listed,species,form,pupae,unit price,sum,currency\r\n");
        foreach (var line in order.Lines.OrderBy(line => line.Number))
        {
            var cells = new[]
            {
                line.Number.ToString(CultureInfo.InvariantCulture), line.Text, line.Taxon ?? "mix", line.Form ?? "", line.Pupae.ToString(CultureInfo.InvariantCulture),
                Plain(line.UnitPrice), Plain(line.UnitPrice * line.Pupae), order.Currency,
            };
            csv.AppendJoin(',', cells.Select(Cell)).Append("\r\n");
        }

        return csv.ToString();
    }

    /// <summary>The order in words, as a keeper writes to a supplier.</summary>
    /// <param name="order">With its lines and supplier.</param>
    /// <param name="house">Name of the house.</param>
    public static string Mail(Order order, string house)
    {
        var mail = new StringBuilder();
        mail.AppendLine(CultureInfo.InvariantCulture, $"To {order.Supplier!.Name}");
        mail.AppendLine(CultureInfo.InvariantCulture, $"Order of {house}, {DayWords.Long(order.OnDay)}");
        mail.AppendLine();
        mail.AppendLine("Please send us:");
        mail.AppendLine();
        var widest = order.Lines.Count == 0 ? 0 : order.Lines.Max(line => Name(line).Length);
        foreach (var line in order.Lines.OrderBy(line => line.Number))
        {
            mail.AppendLine(CultureInfo.InvariantCulture, $"{line.Pupae,5}  {Name(line).PadRight(widest)}  at {Plain(line.UnitPrice)} = {Plain(line.UnitPrice * line.Pupae)} {order.Currency}");
        }

        mail.AppendLine();
        mail.AppendLine(CultureInfo.InvariantCulture, $"{order.Lines.Sum(line => line.Pupae)} pupae, goods {Plain(order.Goods)} {order.Currency}, without carriage and tax.");
        if (order.ArrivesOn is { } arrives)
        {
            mail.AppendLine(CultureInfo.InvariantCulture, $"We expect the box on {DayWords.Long(arrives)}.");
        }

        mail.AppendLine();
        mail.AppendLine("Please confirm, and tell us at once what is short; please send nothing in its place without asking.");
        mail.AppendLine();
        mail.AppendLine(order.Who.Length > 0 ? $"{order.Who}, {house}" : house);
        return mail.ToString();
    }

    private static string Name(OrderLine line) => (line.Taxon ?? line.Text) + (line.Form is null ? "" : " " + line.Form);

    private static string Plain(decimal amount) => amount.ToString("0.00##", CultureInfo.InvariantCulture);

    private static string Cell(string text)
    {
        var safe = text.Length > 0 && text[0] is '=' or '+' or '-' or '@' or '\t' or '\r' ? "'" + text : text;
        return safe.AsSpan().IndexOfAny(",\"\r\n") < 0 ? safe : $"\"{safe.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
    }
}
