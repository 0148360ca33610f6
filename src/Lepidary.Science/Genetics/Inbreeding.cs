using Lepidary.Science.Ground;

namespace Lepidary.Science.Genetics;

/// <summary>How fast a closed stock grows alike, and what that costs.</summary>
public static class Inbreeding
{
    /// <summary>Effective size of a generation with unequal sexes: 4·m·f/(m+f).</summary>
    /// <param name="males">Breeding males, at least 0.</param>
    /// <param name="females">Breeding females, at least 0; not both 0.</param>
    public static double EffectiveSize(double males, double females)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(Guard.Finite(males));
        ArgumentOutOfRangeException.ThrowIfNegative(Guard.Finite(females));
        Guard.Positive(males + females, nameof(males));
        return 4 * males * females / (males + females);
    }

    /// <summary>Effective size when families differ in how many offspring breed: (4N-2)/(V+2). V = 2 is chance, 0 equal families.</summary>
    /// <param name="breeding">N, at least 1.</param>
    /// <param name="familyVariance">V, variance of offspring that breed, at least 0.</param>
    public static double EffectiveSizeByFamilies(double breeding, double familyVariance)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(Guard.Finite(breeding), 1);
        ArgumentOutOfRangeException.ThrowIfNegative(Guard.Finite(familyVariance));
        return (4 * breeding - 2) / (familyVariance + 2);
    }

    /// <summary>Effective size over generations: their harmonic mean, so that one narrow generation counts for all.</summary>
    /// <param name="sizes">Effective size of each generation, above 0; at least one.</param>
    public static double EffectiveSizeOver(IReadOnlyCollection<double> sizes)
    {
        ArgumentNullException.ThrowIfNull(sizes);
        if (sizes.Count == 0) throw new ArgumentException("No generation.", nameof(sizes));
        return sizes.Count / sizes.Sum(size => 1 / Guard.Positive(size, nameof(sizes)));
    }

    /// <summary>Inbreeding after generations of these effective sizes, from unrelated founders: 1 - Π(1 - 1/(2N)).</summary>
    /// <param name="sizes">Effective size of each generation, at least ½.</param>
    public static double After(IEnumerable<double> sizes)
    {
        ArgumentNullException.ThrowIfNull(sizes);
        var left = 1.0;
        foreach (var size in sizes)
        {
            ArgumentOutOfRangeException.ThrowIfLessThan(size, 0.5, nameof(sizes));
            left *= 1 - 1 / (2 * size);
        }
        return 1 - left;
    }

    /// <summary>Inbreeding after generations of one effective size.</summary>
    /// <param name="size">At least ½.</param>
    /// <param name="generations">At least 0.</param>
    public static double After(double size, int generations)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(size, 0.5);
        ArgumentOutOfRangeException.ThrowIfNegative(generations);
        return 1 - Math.Pow(1 - 1 / (2 * size), generations);
    }

    /// <summary>
    /// How many generations a closed stock of this effective size may go before inbreeding reaches a limit: when to bring in new blood.
    /// </summary>
    /// <param name="size">Above ½.</param>
    /// <param name="limit">Above 0, below 1.</param>
    /// <returns>The last generation whose inbreeding is still below the limit.</returns>
    public static int GenerationsBelow(double size, double limit)
    {
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(size, 0.5);
        Guard.OpenChance(limit);
        var generations = 0;
        while (After(size, generations + 1) < limit) generations++;
        return generations;
    }

    /// <summary>
    /// Inbreeding of generation t when full sibs are mated each time: F_t = ¼(1 + 2F_{t-1} + F_{t-2}), F₀ = F₋₁ = 0 (Falconer and Mackay; from memory).
    /// </summary>
    /// <param name="generations">At least 0; generation 0 is the unrelated pair's offspring.</param>
    public static double AfterFullSibs(int generations)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(generations);
        var (before, now) = (0.0, 0.0);
        for (var t = 0; t < generations; t++) (before, now) = (now, (1 + 2 * now + before) / 4);
        return now;
    }

    /// <summary>
    /// Share of fitness lost at an inbreeding: 1 - exp(-B·F), B in lethal equivalents a haploid genome for the trait.
    /// </summary>
    /// <param name="lethalEquivalents">B, at least 0.</param>
    /// <param name="inbreeding">F, 0…1.</param>
    public static double Depression(double lethalEquivalents, double inbreeding)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(Guard.Finite(lethalEquivalents));
        return 1 - Math.Exp(-lethalEquivalents * Guard.Chance(inbreeding));
    }

    /// <summary>B from a trait measured in inbred and outbred families: -ln(inbred/outbred)/F.</summary>
    /// <param name="inbred">Mean of the inbred, above 0.</param>
    /// <param name="outbred">Mean of the outbred, above 0.</param>
    /// <param name="inbreeding">F, above 0, at most 1.</param>
    public static double LethalEquivalents(double inbred, double outbred, double inbreeding)
    {
        if (Guard.Chance(inbreeding) == 0) throw new ArgumentOutOfRangeException(nameof(inbreeding), inbreeding, "Must be above 0.");
        return -Math.Log(Guard.FinitePositive(inbred) / Guard.FinitePositive(outbred)) / inbreeding;
    }
}
