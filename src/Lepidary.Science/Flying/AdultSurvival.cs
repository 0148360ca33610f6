using Lepidary.Science.Ground;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Flying;

/// <summary>
/// How long adults live on the wing: S(t) is the chance to be alive t whole days after emergence; S(0) = 1, so the day of
/// emergence counts as a day of flying. Past the last day of the curve the last daily chance goes on. Immutable.
/// </summary>
public sealed class AdultSurvival
{
    /// <summary>Share alive at the age that "the longest-lived reach": one of a hundred.</summary>
    public const double ShareAtMax = 0.01;

    private const double Cut = 1e-9;
    private const int MostDays = 1000;

    private readonly double[] alive;
    private readonly double lastDaily;

    private AdultSurvival(double[] alive)
    {
        this.alive = alive;
        lastDaily = alive.Length > 1 && alive[^2] > 0 ? alive[^1] / alive[^2] : 0;
    }

    /// <summary>S(t): the chance to be alive <paramref name="days"/> whole days after emergence; 1 for 0 and before.</summary>
    public double this[int days] =>
        days <= 0 ? 1
        : days < alive.Length ? alive[days]
        : alive[^1] * Math.Pow(lastDaily, days - alive.Length + 1);

    /// <summary>Expected number of daily counts an adult is in, the day of emergence included: Σ S(t), t = 0, 1, …</summary>
    /// <remarks>Half a day more than the mean life, for smooth curves.</remarks>
    public double MeanDaysCounted => alive.Sum() + (lastDaily < 1 ? alive[^1] * lastDaily / (1 - lastDaily) : double.PositiveInfinity);

    /// <summary>
    /// From a typical mean life and the age that the longest-lived reach: a Weibull curve S(t) = exp(-(t/λ)^k) with that mean life
    /// and with one of a hundred alive at the maximum.
    /// </summary>
    /// <remarks>
    /// λ·Γ(1+1/k) = mean, (max/λ)^k = ln 100. The shape k is held between 1 (adults do not grow younger) and 12; where the two
    /// figures ask for more or less, the mean is kept and the maximum gives way. A choice of this project, not a published fit.
    /// </remarks>
    /// <param name="meanDays">Mean life on the wing in days, above 0, finite.</param>
    /// <param name="maxDays">Days the longest-lived reach, above <paramref name="meanDays"/>, finite.</param>
    public static AdultSurvival FromLife(double meanDays, double maxDays)
    {
        Guard.FinitePositive(meanDays);
        Guard.FinitePositive(maxDays);
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(maxDays, meanDays);
        // Share at the maximum falls as the shape grows.
        double LogExcess(double shape) =>
            shape * (Math.Log(maxDays / meanDays) + SpecialFunctions.LogGamma(1 + 1 / shape)) - Math.Log(-Math.Log(ShareAtMax));
        var shape = LogExcess(1) >= 0 ? 1 : LogExcess(12) <= 0 ? 12 : SpecialFunctions.Root(LogExcess, 1, 12);
        return FromWeibull(meanDays / Math.Exp(SpecialFunctions.LogGamma(1 + 1 / shape)), shape);
    }

    /// <summary>A Weibull curve S(t) = exp(-(t/scale)^shape).</summary>
    /// <param name="scale">Days, above 0, finite.</param>
    /// <param name="shape">Above 0, finite; 1 is a constant risk.</param>
    public static AdultSurvival FromWeibull(double scale, double shape)
    {
        Guard.FinitePositive(scale);
        Guard.FinitePositive(shape);
        var alive = new List<double> { 1 };
        while (alive[^1] > Cut && alive.Count < MostDays) alive.Add(Math.Exp(-Math.Pow(alive.Count / scale, shape)));
        return new([.. alive]);
    }

    /// <summary>A Gompertz curve, whose risk grows by the factor e^growth a day: S(t) = exp(-(risk/growth)·(e^(growth·t) - 1)).</summary>
    /// <param name="risk">Risk a day at emergence, above 0, finite.</param>
    /// <param name="growth">Growth of the risk a day, above 0, finite.</param>
    public static AdultSurvival FromGompertz(double risk, double growth)
    {
        Guard.FinitePositive(risk);
        Guard.FinitePositive(growth);
        var alive = new List<double> { 1 };
        while (alive[^1] > Cut && alive.Count < MostDays)
            alive.Add(Math.Exp(-(risk / growth) * (Math.Exp(growth * alive.Count) - 1)));
        return new([.. alive]);
    }

    /// <summary>The same chance to live through every day: S(t) = daily^t.</summary>
    /// <param name="daily">0…1.</param>
    public static AdultSurvival FromDaily(double daily) => new([1, Guard.Chance(daily)]);

    /// <summary>From a curve: S(0) = 1, S(1), … Past its end the last daily chance goes on.</summary>
    /// <param name="alive">At least one value; the first 1; none above the one before or below 0.</param>
    /// <exception cref="ArgumentException">It is no survival curve.</exception>
    public static AdultSurvival FromCurve(ReadOnlySpan<double> alive)
    {
        if (alive.IsEmpty || alive[0] != 1) throw new ArgumentException("A survival curve begins with 1.", nameof(alive));
        for (var day = 1; day < alive.Length; day++)
            if (!(alive[day] >= 0 && alive[day] <= alive[day - 1]))
                throw new ArgumentException($"S({day}) = {alive[day]} is not between 0 and the day before.", nameof(alive));
        return new(alive.ToArray());
    }

    /// <summary>The curve with the risk of every day multiplied: S(t) to the power of the factor.</summary>
    /// <param name="factor">Above 0, finite; 2 doubles the risk.</param>
    public AdultSurvival AtRisk(double factor)
    {
        Guard.FinitePositive(factor);
        // Past its end a curve goes on with its last daily chance, and so do its powers.
        return new([.. alive.Select(share => Math.Pow(share, factor))]);
    }

    /// <summary>The chance to live through one more day at an age of <paramref name="days"/> whole days: S(t+1)/S(t).</summary>
    public double Daily(int days) => GivenAlive(days, 1);

    /// <summary>The chance to be alive in <paramref name="more"/> days, given alive at an age of <paramref name="days"/>.</summary>
    /// <remarks>Older than any curve allows (S = 0): the adult was seen, so it is given the last daily chance of the curve.</remarks>
    /// <param name="days">Age in whole days; below 0 counts as 0.</param>
    /// <param name="more">At least 0.</param>
    public double GivenAlive(int days, int more)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(more);
        var now = this[days];
        return now > 0 ? this[Math.Max(days, 0) + more] / now : Math.Pow(lastDaily, more);
    }
}
