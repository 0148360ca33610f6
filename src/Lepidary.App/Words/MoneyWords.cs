using System.Globalization;

namespace Lepidary.App.Words;

/// <summary>Sums of money with their currency, two places, a thin space between thousands.</summary>
internal static class MoneyWords
{
    private static readonly NumberFormatInfo Format = new() { NumberGroupSeparator = "\u2009", NumberDecimalSeparator = "." };

    /// <summary><c>£1 204.50</c>, <c>€38.00</c>, <c>CHF 12.00</c>.</summary>
    /// <param name="currency">ISO 4217 code.</param>
    public static string Sum(decimal amount, string currency)
    {
        var sign = currency switch { "GBP" => "£", "EUR" => "€", "USD" => "$", _ => currency + "\u00A0" };
        return (amount < 0 ? "\u2212" : "") + sign + Plain(Math.Abs(amount));
    }

    /// <summary><c>1 204.50</c>, for a column that names its currency once.</summary>
    public static string Plain(decimal amount) => amount.ToString("#,##0.00", Format);
}
