namespace Lepidary.App.House;

/// <summary>What a value of a house, a wish or a supplier's terms may be: one rule for the house file and for the pages, with the words that ask for it.</summary>
internal static class HouseRules
{
    public const string CurrencyWanted = "an ISO 4217 code: GBP, EUR, USD …";

    public const string ZoneWanted = "an IANA time zone: Europe/London";

    public const string SureWanted = "from 50% to below 100%: no number of pupae makes anything certain";

    /// <summary>Most animals, species or pairs that a wish asks for.</summary>
    public const int MostWished = 100_000;

    /// <summary>The highest importance; 1 is the lowest.</summary>
    public const int MostImportant = 5;

    public static bool IsCurrency(string code) => code.Length == 3 && code.All(char.IsAsciiLetterUpper);

    public static bool IsZone(string zone) => TimeZoneInfo.TryFindSystemTimeZoneById(zone, out _);

    public static bool IsSure(double chance) => chance is >= 0.5 and < 1;
}
