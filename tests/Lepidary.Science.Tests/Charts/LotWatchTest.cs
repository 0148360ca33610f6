using Lepidary.Science.Charts;
using Lepidary.Science.Emergence;

namespace Lepidary.Science.Tests.Charts;

public class LotWatchTest
{
    private static readonly EmergenceRate Usual = new(0.8, 100, 30);

    [Fact]
    public void Lots_as_usual_give_no_alarm_and_bad_ones_do()
    {
        Assert.False(LotWatch.Of([.. Enumerable.Repeat((2, 10), 30)], Usual).Alarm);
        var watch = LotWatch.Of([.. Enumerable.Repeat((2, 10), 10), .. Enumerable.Repeat((6, 10), 4)], Usual);
        Assert.True(watch.Alarm);
        Assert.InRange(watch.FalseAlarmEvery, 95, 110);
        Assert.InRange(watch.FoundAfter, 2, 25);
    }

    [Fact]
    public void AlarmOf_is_the_watch_or_nothing() => Gen.Int[0, 6].List[3, 12].Holds(failed =>
    {
        var lots = failed.Select(count => (count, 10)).ToList();
        var watch = LotWatch.Of(lots, Usual, 20);
        Assert.Equal(watch.Alarm ? watch : null, LotWatch.AlarmOf(lots, Usual, 20));
    }, times: 40);

    /// <summary>The run lengths that it states, by simulation with lots as unlike as they are said to be.</summary>
    [Fact]
    public void Run_lengths_hold_in_simulation()
    {
        const int runs = 1500;
        var watch = LotWatch.Of([(2, 10)], Usual);
        var chart = new BernoulliCusum(0.2, 1.0 / 3);
        var random = new Random(43);
        double Mean(double share)
        {
            var (counts, total) = (CountDistribution.BetaBinomial(10, share * 30, (1 - share) * 30), 0.0);
            for (var run = 0; run < runs; run++)
                for (var sum = 0.0; sum < watch.Limit; total++)
                {
                    var bad = counts.Quantile(random.NextDouble());
                    sum = Math.Max(0, sum + bad * chart.BadWeight + (10 - bad) * chart.GoodWeight);
                }
            return total / runs;
        }
        // Run lengths are nearly exponential: three standard errors of 1500 are 8 %; the coarse grid may add 2 %.
        Close.To(watch.FalseAlarmEvery, Mean(0.2), 0.10 * watch.FalseAlarmEvery);
        Close.To(watch.FoundAfter, Mean(1.0 / 3), 0.10 * watch.FoundAfter);
    }

    [Fact]
    public void Limit_rises_with_the_wanted_run_length_and_with_unlike_lots()
    {
        var lots = new[] { (2, 10) };
        Assert.True(LotWatch.Of(lots, Usual, 200).Limit > LotWatch.Of(lots, Usual, 50).Limit);
        Assert.True(LotWatch.Of(lots, new(0.8, 100, 5)).Limit > LotWatch.Of(lots, EmergenceRate.Known(0.8)).Limit);
    }

    [Fact]
    public void Impossible_arguments_are_refused()
    {
        Assert.Throws<ArgumentException>(() => LotWatch.Of([], Usual));
        Assert.Throws<ArgumentOutOfRangeException>(() => LotWatch.Of([(1, 2)], EmergenceRate.Known(1)));
        Assert.Throws<ArgumentOutOfRangeException>(() => LotWatch.Of([(1, 2)], Usual, 1));
    }
}
