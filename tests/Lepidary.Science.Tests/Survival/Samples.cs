using System.Globalization;
using Lepidary.Science.Survival;

namespace Lepidary.Science.Tests.Survival;

/// <summary>Published samples; a plus sign marks one censored.</summary>
internal static class Samples
{
    /// <summary>6-MP, weeks of remission: Freireich et al. 1963, Blood 21:699-716; Gehan 1965; read in R's MASS::gehan.</summary>
    public static readonly Observation[] SixMp =
        Read("6,6,6,6+,7,9+,10,10+,11+,13,16,17+,19+,20+,22,23,25+,32+,32+,34+,35+");

    /// <summary>Its placebo arm.</summary>
    public static readonly Observation[] Placebo = Read("1,1,2,2,3,4,4,5,5,8,8,8,8,11,11,12,12,15,17,22,23");

    /// <summary>R's survival::aml (Miller 1997), maintained; read in R.</summary>
    public static readonly Observation[] Maintained = Read("9,13,13+,18,23,28+,31,34,45+,48,161+");

    /// <summary>R's survival::aml, not maintained.</summary>
    public static readonly Observation[] NotMaintained = Read("5,5,8,8,12,16+,23,27,30,33,43,45");

    /// <summary>Kaplan and Meier 1958, as used by Susarla and Van Ryzin 1976.</summary>
    public static readonly Observation[] KaplanMeier1958 = Read("0.8,1.0+,2.7+,3.1,5.4,7.0+,9.2,12.1+");

    public static Observation[] Read(string times) =>
        [.. times.Split(',').Select(time => new Observation(double.Parse(time.TrimEnd('+'), CultureInfo.InvariantCulture), !time.EndsWith('+')))];
}
