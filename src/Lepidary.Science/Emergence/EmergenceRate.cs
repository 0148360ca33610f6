using Lepidary.Science.Counts;
using Lepidary.Science.Ground;
using Lepidary.Science.Groups;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Emergence;

/// <summary>
/// How many of a kind of pupa emerge whole, with both things that are not certain about it. The mean rate is only partly known:
/// μ ~ Beta(Mean·Certainty, (1-Mean)·Certainty). And one box is not like the next: the rate of a lot, given μ, is
/// Beta(μ·LotConcentration, (1-μ)·LotConcentration). Three good boxes therefore do not make a supplier perfect.
/// </summary>
public readonly record struct EmergenceRate
{
    /// <summary>Certainty of a figure from the table: it counts for as many pupae of one and the same lot rate.</summary>
    public const double TableCertainty = 20;

    /// <summary>
    /// Lot-to-lot concentration of a figure from the table. At 8 of 10 a lot's own rate then has a standard deviation of 0.07
    /// around the mean: most boxes give 65 to 95 of 100. Common practice, no source: "usually 8 of 10, 75-100 %".
    /// </summary>
    public const double TableLotConcentration = 30;

    /// <summary>Creates a rate.</summary>
    /// <param name="mean">Expected share that emerges, 0…1.</param>
    /// <param name="certainty">How well the mean is known, in pupae; above 0, +infinity when it is known exactly.</param>
    /// <param name="lotConcentration">How alike lots are; above 0, +infinity when all lots have the same rate.</param>
    public EmergenceRate(double mean, double certainty, double lotConcentration)
    {
        Mean = Guard.Chance(mean);
        Certainty = Guard.Positive(certainty);
        LotConcentration = Guard.Positive(lotConcentration);
    }

    /// <summary>Expected share of pupae that emerge whole, 0…1: also the chance of one new pupa.</summary>
    public double Mean { get; }

    /// <summary>How well the mean is known: α+β of its beta distribution.</summary>
    public double Certainty { get; }

    /// <summary>How alike lots are: α+β of the beta distribution of a lot's rate around the mean.</summary>
    public double LotConcentration { get; }

    /// <summary>What the trade counts on where nothing better is known: 8 of 10. Common practice, no source.</summary>
    public static EmergenceRate Usual => FromTable(0.8);

    /// <summary>A rate of which only the table's figure is known.</summary>
    /// <param name="mean">0…1.</param>
    public static EmergenceRate FromTable(double mean) => new(mean, TableCertainty, TableLotConcentration);

    /// <summary>A rate known exactly and the same for every lot: the plain binomial.</summary>
    /// <param name="mean">0…1.</param>
    public static EmergenceRate Known(double mean) => new(mean, double.PositiveInfinity, double.PositiveInfinity);

    /// <summary>Standard deviation of the unknown mean.</summary>
    public double MeanDeviation => Math.Sqrt(Mean * (1 - Mean) / (Certainty + 1));

    /// <summary>The exact distribution of how many emerge of one new lot.</summary>
    /// <param name="pupae">At least 0.</param>
    public CountDistribution Forecast(int pupae)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(pupae);
        if (pupae == 0 || Mean is 0 or 1) return CountDistribution.Certain(Mean == 1 ? pupae : 0);
        var (certain, alike) = (double.IsPositiveInfinity(Certainty), double.IsPositiveInfinity(LotConcentration));
        if (certain && alike) return CountDistribution.Binomial(pupae, Mean);
        if (alike) return CountDistribution.BetaBinomial(pupae, Mean * Certainty, (1 - Mean) * Certainty);
        var nodes = BetaNodes.Of(Mean, Certainty, Evidence(pupae, 1));
        var concentration = LotConcentration;
        return CountDistribution.Mixture(
            nodes.Weights,
            Array.ConvertAll(nodes.At, mean => CountDistribution.BetaBinomial(pupae, mean * concentration, (1 - mean) * concentration)));
    }

    /// <summary>
    /// What finished lots add. Posterior of (μ, lot concentration) on a grid; the result is the rate with the same posterior
    /// mean and variance of μ and the same lot-to-lot variance.
    /// </summary>
    /// <remarks>
    /// The prior of μ is the beta distribution of this rate; that of the logarithm of the lot concentration is normal around
    /// its logarithm here with standard deviation ln 3, or fixed when it is infinite. Always learn from all lots and the table's
    /// rate: because the result is rounded to a beta distribution, learning in two steps is close to learning in one, not equal.
    /// Lots still hanging are not finished: leave them out, or give only what is done in them when the rest cannot differ.
    /// </remarks>
    /// <param name="lots">Emerged and done (emerged or failed) of each lot; 0 ≤ Emerged ≤ Done.</param>
    /// <exception cref="ArgumentException">A lot has more emerged than done, or a count below 0.</exception>
    public EmergenceRate Learn(IEnumerable<(int Emerged, int Done)> lots)
    {
        ArgumentNullException.ThrowIfNull(lots);
        var likelihood = new LotLikelihood([.. lots]);
        if (likelihood.Done == 0 || double.IsPositiveInfinity(Certainty) || Mean is 0 or 1) return this;
        if (double.IsPositiveInfinity(LotConcentration))
        {
            var certainty = Certainty + likelihood.Done;
            return new((Mean * Certainty + likelihood.Emerged) / certainty, certainty, LotConcentration);
        }
        return new RatePosterior(this, likelihood).Matched();
    }

    /// <summary>The mean alone, where quick is better than exact: how unlike lots are is taken as known, each lot counts for as many pupae as it tells of the mean.</summary>
    /// <remarks>
    /// (C·m + Σ w·y)/(C + Σ w·n), w = 1/(1 + (n-1)/(K+1)): the best linear estimate (Bühlmann and Straub's credibility; from memory).
    /// </remarks>
    /// <param name="lots">Emerged and done of each lot; 0 ≤ Emerged ≤ Done.</param>
    /// <returns>0…1.</returns>
    /// <exception cref="ArgumentException">A lot has more emerged than done, or a count below 0.</exception>
    public double LearntMean(IEnumerable<(int Emerged, int Done)> lots)
    {
        ArgumentNullException.ThrowIfNull(lots);
        if (double.IsPositiveInfinity(Certainty)) return Mean;
        var (emerged, done) = (Mean * Certainty, Certainty);
        foreach (var (y, n) in lots)
        {
            if (y < 0 || n < y) throw new ArgumentException($"{y} emerged of {n} done is no lot.", nameof(lots));
            var told = 1 / (1 + (n - 1) / (LotConcentration + 1));
            (emerged, done) = (emerged + told * y, done + told * n);
        }
        return emerged / done;
    }

    /// <summary>
    /// How many independent animals' worth a lot tells of the mean, when each of those that emerge is seen with the given chance:
    /// an upper bound on the information about the mean's logit, divided by m(1-m). Lots that differ tell less than their size.
    /// </summary>
    internal double Evidence(int pupae, double seen) => pupae == 0 ? 0 : pupae * seen / (1 + (pupae - 1) * seen / (LotConcentration + 1));
}
