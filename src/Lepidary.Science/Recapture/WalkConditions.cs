namespace Lepidary.Science.Recapture;

/// <summary>
/// Whether a walk was made in the weather that the fixed-path count asks for, so that it may be set beside others: Pollard 1977 (Biological Conservation
/// 12:115-134), with the figures as the UK Environmental Change Network's protocol gives them: 13 to 17 °C with sun for at least 60 % of the
/// walk, above 17 °C in any weather but rain. Wind of at most force 5 by the Beaufort scale is from a second hand. They are made for the open;
/// in a house they keep one walk like the next.
/// </summary>
public static class WalkConditions
{
    /// <summary>Coldest air, degrees Celsius.</summary>
    public const double ColdestC = 13;

    /// <summary>Above this sun is not asked for, degrees Celsius.</summary>
    public const double WarmC = 17;

    /// <summary>Least sun up to <see cref="WarmC"/>, percent of the walk.</summary>
    public const int LeastSunPercent = 60;

    /// <summary>Strongest wind, Beaufort.</summary>
    public const int StrongestWind = 5;

    /// <summary>True where the rules are met, false where one is broken, null where what was written down does not tell.</summary>
    /// <param name="temperatureC">Air in the shade, degrees Celsius; or null.</param>
    /// <param name="sunPercent">Share of the walk in sun, 0…100; or null.</param>
    /// <param name="beaufort">Wind, 0…12; or null, which is taken for none inside a house.</param>
    public static bool? Met(double? temperatureC, int? sunPercent, int? beaufort)
    {
        if (temperatureC < ColdestC || beaufort > StrongestWind || (temperatureC <= WarmC && sunPercent < LeastSunPercent)) return false;
        return temperatureC is null || (temperatureC <= WarmC && sunPercent is null) ? null : true;
    }
}
