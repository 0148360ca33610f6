using Lepidary.Science.Ground;

namespace Lepidary.Science.Development;

/// <summary>How much warmth a stage needs: nothing happens at or below the threshold, and it is over after K degree-days above it.</summary>
public readonly record struct StageDevelopment
{
    /// <summary>Creates the requirement of a stage.</summary>
    /// <param name="thresholdCelsius">T₀, °C, finite.</param>
    /// <param name="degreeDays">K, degree-days °C, above 0, finite.</param>
    public StageDevelopment(double thresholdCelsius, double degreeDays)
    {
        ThresholdCelsius = Guard.Finite(thresholdCelsius);
        DegreeDaysNeeded = Guard.FinitePositive(degreeDays);
    }

    /// <summary>T₀, °C.</summary>
    public double ThresholdCelsius { get; }

    /// <summary>K, degree-days °C.</summary>
    public double DegreeDaysNeeded { get; }

    /// <summary>Days at a constant temperature: K/(T-T₀); infinite at or below the threshold.</summary>
    /// <param name="celsius">Finite.</param>
    public double DaysAt(double celsius) =>
        Guard.Finite(celsius) <= ThresholdCelsius ? double.PositiveInfinity : DegreeDaysNeeded / (celsius - ThresholdCelsius);

    /// <summary>
    /// The day on which the stage ends, counting the first day given as day 0: the first whose degree-days complete the need; null when the days given are not enough.
    /// </summary>
    /// <param name="days">Lowest and highest temperature of each day, °C; each day a sine.</param>
    /// <param name="upperCelsius">Above it more warmth does not help; +infinity for none.</param>
    /// <param name="begun">Share of the stage that is over already, 0…1.</param>
    public int? EndsOn(IEnumerable<(double Min, double Max)> days, double upperCelsius = double.PositiveInfinity, double begun = 0)
    {
        ArgumentNullException.ThrowIfNull(days);
        var left = DegreeDaysNeeded * (1 - Guard.Chance(begun));
        var day = 0;
        foreach (var (min, max) in days)
        {
            left -= DegreeDays.Sine(min, max, ThresholdCelsius, upperCelsius);
            if (left <= 1e-9 * DegreeDaysNeeded) return day;
            day++;
        }
        return null;
    }
}
