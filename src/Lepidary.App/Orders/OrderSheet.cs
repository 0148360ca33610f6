using System.Globalization;
using System.Text;
using Lepidary.App.Host;
using Lepidary.App.Words;
using Lepidary.Book;

namespace Lepidary.App.Orders;

/// <summary>An order as it goes out: as CSV, and as text for an e-mail. The printable sheet is the page of the order.</summary>
internal static class OrderSheet
{
    public static string Csv(Order order)
    {
        var csv = new CsvText("line", "as listed", "species", "form", "pupae", "unit price", "sum", "currency");
        foreach (var line in order.Lines.OrderBy(line => line.Number))
        {
            csv.Row(line.Number, line.Text, line.Taxon ?? "mix", line.Form, line.Pupae, line.UnitPrice, line.UnitPrice * line.Pupae, order.Currency);
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
}
