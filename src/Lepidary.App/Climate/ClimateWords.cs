using System.Globalization;

namespace Lepidary.App.Climate;

/// <summary>What a reading means. The limits are a rule of this project, from memory; species of high forest want narrower ones.</summary>
internal static class ClimateWords
{
    /// <summary>What is wanted, °C and percent.</summary>
    public const double Coolest = 20, Warmest = 32, Driest = 60, Wettest = 90;

    /// <summary>Sentences about what is outside 20 to 32 °C and 60 to 90 %; empty where nothing is.</summary>
    public static IReadOnlyList<string> Warnings(string place, double? temperatureC, double? humidityPercent)
    {
        var warnings = new List<string>();
        switch (temperatureC)
        {
            case < 16: warnings.Add($"{place} is cold enough to do harm ({Text(temperatureC.Value)} °C). Act now."); break;
            case < Coolest: warnings.Add($"{place} is cool ({Text(temperatureC.Value)} °C; 20 and more is wanted)."); break;
            case > 35: warnings.Add($"{place} is hot enough to do harm ({Text(temperatureC.Value)} °C). Act now."); break;
            case > Warmest: warnings.Add($"{place} is hot ({Text(temperatureC.Value)} °C; up to 32 is wanted)."); break;
            default: break;
        }

        switch (humidityPercent)
        {
            case < Driest: warnings.Add($"{place} is dry ({Text(humidityPercent.Value)} %; 60 and more is wanted). In dry air wings stay crumpled."); break;
            case > Wettest: warnings.Add($"{place} is wet ({Text(humidityPercent.Value)} %; up to 90 is wanted). Mould grows on pupae."); break;
            default: break;
        }

        return warnings;
    }

    public static string Text(double number) => number.ToString("0.#", CultureInfo.InvariantCulture);
}
