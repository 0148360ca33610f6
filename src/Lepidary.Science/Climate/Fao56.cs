using Lepidary.Science.Ground;

namespace Lepidary.Science.Climate;

/// <summary>How air moves over a wet bulb; it sets the psychrometer's coefficient.</summary>
public enum Ventilation
{
    /// <summary>Drawn over it at about 5 m/s (an aspirated psychrometer).</summary>
    Ventilated,

    /// <summary>Moving by itself at about 1 m/s.</summary>
    Natural,

    /// <summary>Still air indoors.</summary>
    Still,
}

/// <summary>
/// Equations of Allen, Pereira, Raes and Smith 1998, FAO Irrigation and Drainage Paper 56, chapter 3, by their numbers. Temperatures
/// in °C, pressures in kPa, relative humidity as a share 0…1.
/// </summary>
public static class Fao56
{
    /// <summary>Saturation vapour pressure over water (eq. 11), kPa.</summary>
    /// <param name="celsius">Air temperature, above -237.3 °C.</param>
    public static double Saturation(double celsius)
    {
        Guard.Finite(celsius);
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(celsius, -237.3);
        return 0.6108 * Math.Exp(17.27 * celsius / (celsius + 237.3));
    }

    /// <summary>Mean saturation vapour pressure of a day (eq. 12), kPa: the mean of both ends, not that of the mean temperature.</summary>
    public static double MeanSaturation(double maxCelsius, double minCelsius) =>
        (Saturation(maxCelsius) + Saturation(minCelsius)) / 2;

    /// <summary>Temperature at which a vapour pressure is saturated: the exact inverse of eq. 11, °C.</summary>
    /// <param name="kilopascal">Above 0, finite.</param>
    public static double DewPoint(double kilopascal)
    {
        var log = Math.Log(Guard.FinitePositive(kilopascal) / 0.6108);
        return 237.3 * log / (17.27 - log);
    }

    /// <summary>Air pressure at a height above the sea (eq. 7), kPa.</summary>
    /// <param name="metres">Height; below 45,000 m.</param>
    public static double Pressure(double metres)
    {
        Guard.Finite(metres);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(metres, 45_000);
        return 101.3 * Math.Pow((293 - 0.0065 * metres) / 293, 5.26);
    }

    /// <summary>Psychrometric constant (eq. 8), kPa/°C.</summary>
    /// <param name="pressure">Air pressure, kPa.</param>
    public static double PsychrometricConstant(double pressure) => 0.665e-3 * Guard.FinitePositive(pressure);

    /// <summary>Vapour pressure from a dry and a wet bulb (eq. 15 and 16), kPa; below 0 when the two cannot belong together.</summary>
    /// <param name="dryCelsius">Dry bulb.</param>
    /// <param name="wetCelsius">Wet bulb, not above the dry one.</param>
    /// <param name="pressure">Air pressure, kPa.</param>
    /// <param name="ventilation">How air moves over the wet bulb.</param>
    public static double WetBulbVapourPressure(double dryCelsius, double wetCelsius, double pressure, Ventilation ventilation)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(wetCelsius, dryCelsius);
        var coefficient = ventilation switch
        {
            Ventilation.Ventilated => 0.000662,
            Ventilation.Natural => 0.000800,
            Ventilation.Still => 0.001200,
            _ => throw new ArgumentOutOfRangeException(nameof(ventilation)),
        };
        return Saturation(wetCelsius) - coefficient * Guard.FinitePositive(pressure) * (dryCelsius - wetCelsius);
    }

    /// <summary>Vapour pressure of a day from both extremes of temperature and humidity (eq. 17), kPa.</summary>
    public static double VapourPressure(double minCelsius, double maxHumidity, double maxCelsius, double minHumidity) =>
        (Saturation(minCelsius) * Guard.Chance(maxHumidity) + Saturation(maxCelsius) * Guard.Chance(minHumidity)) / 2;

    /// <summary>Vapour pressure of a day from its mean humidity (eq. 19), kPa.</summary>
    public static double VapourPressure(double maxCelsius, double minCelsius, double meanHumidity) =>
        Guard.Chance(meanHumidity) * MeanSaturation(maxCelsius, minCelsius);
}
