using Lepidary.Science.Counts;
using Lepidary.Science.Emergence;
using Lepidary.Science.Ground;

namespace Lepidary.Science.Charts;

/// <summary>
/// Is a supplier getting worse at a species? A CUSUM of failed pupae, lot by lot, tuned to find failures at twice the usual odds, with its limit set so that a supplier who is
/// as usual gives a false alarm once in so many lots, lots being as unlike as they are.
/// </summary>
/// <param name="Sum">Where the chart stands after the last lot.</param>
/// <param name="Limit">At or above it is an alarm.</param>
/// <param name="FalseAlarmEvery">Lots of this size between false alarms, on average, while all is as usual.</param>
/// <param name="FoundAfter">Lots of this size until an alarm, on average, once failures are at twice the usual odds.</param>
public sealed record LotWatch(double Sum, double Limit, double FalseAlarmEvery, double FoundAfter)
{
    /// <summary>What a supplier would be looked at for: twice the usual odds of failure. A choice of this project.</summary>
    public const double OddsFactor = 2;

    private const int Grid = 80;

    /// <summary>True while the sum stands at the limit or above.</summary>
    public bool Alarm => Sum >= Limit;

    /// <summary>Follows lots in their order.</summary>
    /// <param name="lots">Failed and done of each, 0 ≤ Failed ≤ Done, in the order in which they were hung.</param>
    /// <param name="usual">The rate that is usual: above 0, below 1.</param>
    /// <param name="everyLots">Lots between false alarms that are borne, above 1.</param>
    /// <exception cref="ArgumentException">There is no lot.</exception>
    public static LotWatch Of(IReadOnlyList<(int Failed, int Done)> lots, EmergenceRate usual, double everyLots = 100) => new Setting(lots, usual, everyLots).Watch();

    /// <summary>The same, or null where there is no alarm, which is found with a twentieth of the work.</summary>
    /// <inheritdoc cref="Of"/>
    public static LotWatch? AlarmOf(IReadOnlyList<(int Failed, int Done)> lots, EmergenceRate usual, double everyLots = 100)
    {
        var setting = new Setting(lots, usual, everyLots);
        // A limit where the sum stands would be passed more often than is borne: the true limit lies higher.
        return setting.Sum <= 0 || setting.Usually(setting.Sum) < everyLots ? null : setting.Watch();
    }

    private sealed class Setting
    {
        private readonly BernoulliCusum chart;
        private readonly CountDistribution asUsual, asWorse;
        private readonly int size;
        private readonly double everyLots;

        public Setting(IReadOnlyList<(int Failed, int Done)> lots, EmergenceRate usual, double everyLots)
        {
            ArgumentNullException.ThrowIfNull(lots);
            if (lots.Count == 0) throw new ArgumentException("There is no lot.", nameof(lots));
            ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(everyLots, 1);
            var bad = 1 - Guard.OpenChance(usual.Mean);
            var worse = OddsFactor * bad / (1 - bad + OddsFactor * bad);
            (chart, this.everyLots, size) = (new(bad, worse), everyLots, Math.Max(1, (int)Math.Round(lots.Average(lot => lot.Done))));
            CountDistribution Failed(double share) => double.IsPositiveInfinity(usual.LotConcentration)
                ? CountDistribution.Binomial(size, share)
                : CountDistribution.BetaBinomial(size, share * usual.LotConcentration, (1 - share) * usual.LotConcentration);
            (asUsual, asWorse, Sum) = (Failed(bad), Failed(worse), chart.Lots(lots)[^1]);
        }

        public double Sum { get; }

        public double Usually(double limit) => chart.MeanLotsToSignal(asUsual, limit, Grid, size);

        public LotWatch Watch()
        {
            // The limit that gives the wanted run length, which rises with it.
            var (low, high) = (0.0, 1.0);
            while (Usually(high) < everyLots && high < 64) (low, high) = (high, 2 * high);
            for (var i = 0; i < 12; i++)
            {
                var middle = (low + high) / 2;
                if (Usually(middle) < everyLots) low = middle;
                else high = middle;
            }
            return new(Sum, high, Usually(high), chart.MeanLotsToSignal(asWorse, high, Grid, size));
        }
    }
}
