using Lepidary.Science.Emergence;
using Lepidary.Science.Ground;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Costs;

/// <summary>A cost that is only partly known.</summary>
/// <param name="Low">1 of 10 such costs is below.</param>
/// <param name="Middle">What it comes to at the expected rate and life.</param>
/// <param name="High">1 of 10 is above.</param>
public readonly record struct UncertainCost(double Low, double Middle, double High);

/// <summary>What an emerged butterfly and a butterfly-day cost, over many boxes, when rate and life are only partly known.</summary>
public static class CostOdds
{
    private static readonly double Z = SpecialFunctions.NormalQuantile(0.9);

    /// <summary>c/μ with μ ~ Beta, as the rate has it: the ends are c divided by the quantiles of μ.</summary>
    /// <param name="landedPupa">Money for a pupa, above 0.</param>
    /// <param name="rate">Emergence rate, above 0.</param>
    public static UncertainCost OfAButterfly(double landedPupa, EmergenceRate rate)
    {
        Guard.FinitePositive(landedPupa);
        Guard.Positive(rate.Mean);
        if (rate.Mean == 1 || double.IsPositiveInfinity(rate.Certainty))
            return new(landedPupa / rate.Mean, landedPupa / rate.Mean, landedPupa / rate.Mean);
        var (a, b) = (rate.Mean * rate.Certainty, (1 - rate.Mean) * rate.Certainty);
        return new(landedPupa / SpecialFunctions.BetaQuantile(0.9, a, b), landedPupa / rate.Mean, landedPupa / SpecialFunctions.BetaQuantile(0.1, a, b));
    }

    /// <summary>c/(μ·L): the logarithms' half-widths of rate and life are joined as the sides of a right angle.</summary>
    /// <param name="landedPupa">Money for a pupa, above 0.</param>
    /// <param name="rate">Emergence rate, above 0.</param>
    /// <param name="daysCounted">Days that an emerged adult is counted on, in the mean, above 0.</param>
    /// <param name="lifeSpread">Standard deviation of the logarithm of that mean life, at least 0.</param>
    public static UncertainCost OfAButterflyDay(double landedPupa, EmergenceRate rate, double daysCounted, double lifeSpread)
    {
        Guard.FinitePositive(daysCounted);
        ArgumentOutOfRangeException.ThrowIfNegative(lifeSpread);
        var butterfly = OfAButterfly(landedPupa, rate);
        var middle = butterfly.Middle / daysCounted;
        var life = Z * lifeSpread;
        return new(
            middle * Math.Exp(-double.Hypot(Math.Log(butterfly.Middle / butterfly.Low), life)),
            middle,
            middle * Math.Exp(double.Hypot(Math.Log(butterfly.High / butterfly.Middle), life)));
    }
}
