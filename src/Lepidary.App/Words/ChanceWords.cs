using System.Globalization;

namespace Lepidary.App.Words;

/// <summary>A chance as something that a person can picture. Never "0 %" or "100 %": nothing about animals is certain.</summary>
internal static class ChanceWords
{
    /// <summary><c>8 of 10</c>; near the ends <c>more than 19 of 20</c> and <c>fewer than 1 of 20</c>.</summary>
    /// <param name="chance">0…1.</param>
    public static string Picture(double chance) => chance switch
    {
        > 0.95 => "more than 19 of 20",
        < 0.05 => "fewer than 1 of 20",
        _ => $"{Tenths(chance)} of 10",
    };

    /// <summary>Whole tenths, 1 to 9 between 5 % and 95 %, for a picture of ten.</summary>
    public static int Tenths(double chance) => (int)Math.Round(Math.Clamp(chance, 0, 1) * 10, MidpointRounding.AwayFromZero) switch
    {
        0 when chance >= 0.05 => 1,
        10 when chance <= 0.95 => 9,
        var tenths => tenths,
    };

    /// <summary><c>87 %</c>; near the ends <c>over 99 %</c> and <c>under 1 %</c>.</summary>
    public static string Percent(double chance) => chance switch
    {
        > 0.99 => "over 99 %",
        < 0.01 => "under 1 %",
        _ => string.Create(CultureInfo.InvariantCulture, $"{chance * 100:0} %"),
    };
}
