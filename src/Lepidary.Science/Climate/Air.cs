using System.Globalization;

namespace Lepidary.Science.Climate;

/// <summary>
/// Air at one moment: its temperature and the water in it, from which humidity, dew point and the drying power follow (FAO-56).
/// A reading that cannot be true is a problem, not an exception: readings are typed and pasted.
/// </summary>
public sealed record Air
{
    private Air(double celsius, double vapourPressure) => (Celsius, VapourPressure) = (celsius, vapourPressure);

    /// <summary>Temperature, °C.</summary>
    public double Celsius { get; }

    /// <summary>Vapour pressure, kPa.</summary>
    public double VapourPressure { get; }

    /// <summary>Relative humidity, 0…1.</summary>
    public double RelativeHumidity => VapourPressure / Fao56.Saturation(Celsius);

    /// <summary>Vapour-pressure deficit, kPa: how hard the air dries a pupa.</summary>
    public double Deficit => Math.Max(0, Fao56.Saturation(Celsius) - VapourPressure);

    /// <summary>Temperature at which water begins to settle, °C.</summary>
    public double DewPoint => Fao56.DewPoint(VapourPressure);

    /// <summary>From temperature and relative humidity.</summary>
    /// <param name="celsius">-40…80 °C.</param>
    /// <param name="relativeHumidity">Above 0, at most 1.</param>
    public static Checked<Air> FromHumidity(double celsius, double relativeHumidity)
    {
        List<Problem> problems = [.. TemperatureProblems("temperature", celsius)];
        if (!(relativeHumidity is > 0 and <= 1))
            problems.Add(new("relative humidity", Text(relativeHumidity * 100) + " %", "above 0 and at most 100 %"));
        return problems.Count > 0 ? problems.ToArray() : new Air(celsius, relativeHumidity * Fao56.Saturation(celsius));
    }

    /// <summary>From temperature and dew point.</summary>
    /// <param name="celsius">-40…80 °C.</param>
    /// <param name="dewPoint">Not above the temperature, °C.</param>
    public static Checked<Air> FromDewPoint(double celsius, double dewPoint)
    {
        List<Problem> problems = [.. TemperatureProblems("temperature", celsius), .. TemperatureProblems("dew point", dewPoint)];
        if (problems.Count == 0 && dewPoint > celsius)
            problems.Add(new("dew point", Text(dewPoint) + " °C", $"at most the temperature, {Text(celsius)} °C"));
        return problems.Count > 0 ? problems.ToArray() : new Air(celsius, Fao56.Saturation(dewPoint));
    }

    /// <summary>From a dry and a wet bulb.</summary>
    /// <param name="dryCelsius">-40…80 °C.</param>
    /// <param name="wetCelsius">Not above the dry bulb.</param>
    /// <param name="ventilation">How air moves over the wet bulb.</param>
    /// <param name="metres">Height above the sea, -500…9,000 m.</param>
    public static Checked<Air> FromWetBulb(double dryCelsius, double wetCelsius, Ventilation ventilation, double metres = 0)
    {
        List<Problem> problems = [.. TemperatureProblems("dry bulb", dryCelsius), .. TemperatureProblems("wet bulb", wetCelsius)];
        if (!(metres is >= -500 and <= 9000)) problems.Add(new("height", Text(metres) + " m", "-500 to 9,000 m"));
        if (problems.Count == 0 && wetCelsius > dryCelsius)
            problems.Add(new("wet bulb", Text(wetCelsius) + " °C", $"at most the dry bulb, {Text(dryCelsius)} °C"));
        if (problems.Count > 0) return problems.ToArray();
        var vapour = Fao56.WetBulbVapourPressure(dryCelsius, wetCelsius, Fao56.Pressure(metres), ventilation);
        return vapour > 0
            ? new Air(dryCelsius, vapour)
            : new Problem("wet bulb", Text(wetCelsius) + " °C", $"closer to the dry bulb, {Text(dryCelsius)} °C: this gives less than no water");
    }

    private static IEnumerable<Problem> TemperatureProblems(string where, double celsius)
    {
        if (!(celsius is >= -40 and <= 80)) yield return new(where, Text(celsius) + " °C", "-40 to 80 °C");
    }

    private static string Text(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
