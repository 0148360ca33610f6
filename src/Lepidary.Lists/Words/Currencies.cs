namespace Lepidary.Lists.Words;

/// <summary>Signs and words for currencies, and the ISO 4217 codes they mean.</summary>
internal static class Currencies
{
    private static readonly Dictionary<string, string> Signs = new(StringComparer.OrdinalIgnoreCase)
    {
        ["£"] = "GBP",
        ["₤"] = "GBP",
        ["€"] = "EUR",
        ["$"] = "USD",
        ["us$"] = "USD",
        ["$us"] = "USD",
        ["a$"] = "AUD",
        ["au$"] = "AUD",
        ["c$"] = "CAD",
        ["ca$"] = "CAD",
        ["can$"] = "CAD",
        ["nz$"] = "NZD",
        ["r$"] = "BRL",
        ["s$"] = "SGD",
        ["¥"] = "JPY",
        ["zł"] = "PLN",
        ["kč"] = "CZK",
        ["ft"] = "HUF",
        ["fr."] = "CHF",
        ["sfr"] = "CHF",
        ["sfr."] = "CHF",
        ["stg"] = "GBP",
        ["rm"] = "MYR",
        ["₱"] = "PHP",
        ["₡"] = "CRC",
        ["฿"] = "THB",
        ["₹"] = "INR",
        ["euro"] = "EUR",
        ["euros"] = "EUR",
        ["eur."] = "EUR",
        ["pound"] = "GBP",
        ["pounds"] = "GBP",
        ["sterling"] = "GBP",
        ["quid"] = "GBP",
        ["dollar"] = "USD",
        ["dollars"] = "USD",
        ["dolares"] = "USD",
        ["pfund"] = "GBP",
        ["livres"] = "GBP",
        ["libras"] = "GBP",
        ["pond"] = "GBP",
        ["sterline"] = "GBP",
        ["franken"] = "CHF",
    };

    private static readonly HashSet<string> Codes = new(StringComparer.OrdinalIgnoreCase)
    {
        "GBP", "EUR", "USD", "CHF", "CAD", "AUD", "NZD", "SEK", "NOK", "DKK", "PLN", "CZK", "HUF", "JPY", "SGD", "MYR", "PHP", "CRC", "THB", "INR", "BRL", "ZAR", "KES", "COP", "MXN", "TWD", "HKD", "CNY", "RON", "BGN", "ISK",
    };

    /// <summary>The code that a sign, code or word means, or null. <c>kr</c> is left open: three countries write it.</summary>
    public static string? Find(string text)
    {
        var trimmed = text.Trim();
        return Signs.TryGetValue(trimmed, out var code) ? code : Codes.Contains(trimmed) ? trimmed.ToUpperInvariant() : null;
    }

    /// <summary>True for a character that is a currency's sign.</summary>
    public static bool IsSign(char c) => c is '£' or '€' or '$' or '₤' or '¥' or '₱' or '₡' or '฿' or '₹';
}
