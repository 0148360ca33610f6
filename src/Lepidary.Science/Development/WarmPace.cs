using Lepidary.Science.Ground;

namespace Lepidary.Science.Development;

/// <summary>How quickly pupae develop in a cage, from its temperatures: days of development a calendar day, 1 where it is as warm as usual.</summary>
/// <remarks>
/// Development goes by degree-days above a threshold (<see cref="DegreeDays"/>); a day that has so many more of them than a usual one counts for so many more days. The usual
/// day is the house's own, so that a house that is always warm keeps the days that its lots have taught.
/// </remarks>
public static class WarmPace
{
    /// <summary>
    /// Threshold where the species' own is not known, °C: those published lie about it (pupae of Papilio protenor 11.1, Argyreus hyperbius 9.5, Pieris brassicae 8.66; see
    /// docs/science/degree-days.md). A choice of this project.
    /// </summary>
    public const double Threshold = 10;

    /// <summary>Warmth above this helps no more, °C. A choice of this project; published for none of the traded species.</summary>
    public const double Upper = 33;

    /// <summary>A cage in which pupae hang develops them neither more than twice nor less than half as quickly: beyond it a logger lay in the sun.</summary>
    public const double Slowest = 0.5, Quickest = 2;

    /// <summary>Degree-days of a day.</summary>
    /// <param name="min">Lowest temperature, °C.</param>
    /// <param name="max">Highest, °C, not below.</param>
    public static double Of(double min, double max) => DegreeDays.Sine(min, max, Threshold, Upper);

    /// <summary>Days of development on each day.</summary>
    /// <param name="warmth">Degree-days of each day; null on a day without a reading, which counts as usual.</param>
    /// <param name="usual">Degree-days of a usual day, above 0.</param>
    public static IReadOnlyList<double> Paces(IEnumerable<double?> warmth, double usual)
    {
        ArgumentNullException.ThrowIfNull(warmth);
        Guard.FinitePositive(usual);
        return [.. warmth.Select(day => day is { } degrees ? Math.Clamp(degrees / usual, Slowest, Quickest) : 1)];
    }
}
