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

    /// <summary>Forty pupae of four lots, days hung; invented. A plus: still hung when last looked at.</summary>
    public static readonly IReadOnlyList<IReadOnlyCollection<Observation>> PupaeByLot =
        [Read("5,6,6,7,7,7+,8,8,9+,12+"), Read("4,5,5,6,6,6,6+,7,9,9+"), Read("6,7,8,8,8+,9,9,10,10,14+"), Read("3,5,6,6,7,7,7,8,8+,8+")];

    /// <summary>R's survival::veteran, lung cancer by kind of cell (Kalbfleisch and Prentice 1980): squamous, small cell, adeno, large; read in R.</summary>
    public static readonly IReadOnlyList<IReadOnlyCollection<Observation>> Veterans =
    [
        Read("72,411,228,126,118,10,82,110,314,100+,42,8,144,25+,11,999,112,87+,231+,242,991,111,1,587,389,33,25,357,467,201,1,30,44,283,15"),
        Read("30,384,4,54,13,123+,97+,153,59,117,16,151,22,56,21,18,139,20,31,52,287,18,51,122,27,54,7,63,392,10,25,103+,21,13,87,2,20,7,24,99,8,99,61,25,95,80,51,29"),
        Read("8,92,35,117,132,12,162,3,95,24,18,83+,31,51,90,52,73,8,36,48,7,140,186,84,19,45,80"),
        Read("177,162,216,553,278,12,260,200,156,182+,143,105,103,250,100,52,164,19,53,15,43,340,133,111,231,378,49"),
    ];

    public static Observation[] Read(string times) =>
        [.. times.Split(',').Select(time => new Observation(double.Parse(time.TrimEnd('+'), CultureInfo.InvariantCulture), !time.EndsWith('+')))];
}
