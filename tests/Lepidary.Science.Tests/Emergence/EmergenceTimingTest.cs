using Lepidary.Science.Emergence;
using Lepidary.Science.Numerics;

namespace Lepidary.Science.Tests.Emergence;

public class EmergenceTimingTest
{
    [Theory]
    [InlineData(2, 7)]
    [InlineData(4, 10)]
    [InlineData(10, 30)]
    [InlineData(5, 5)]
    public void FromWindow_nine_of_ten_emerge_inside(int from, int to)
    {
        var timing = EmergenceTiming.FromWindow(from, to);
        var inside = Enumerable.Range(from, to - from + 1).Sum(day => timing[day]);
        // Days before arrival are cut off, and a window of one day has a floor under its spread.
        Assert.InRange(inside, from == to ? 0.4 : 0.88, 0.93);
        Close.To(1, timing.Chances.ToArray().Sum(), 1e-14);
        Assert.True(timing[to + 3] > 0);
        Assert.True(timing.LastDay < to + 10 * (to - from + 2));
    }

    [Fact]
    public void FromWindow_is_a_symmetric_bell_away_from_arrival()
    {
        var timing = EmergenceTiming.FromWindow(40, 50);
        for (var off = 0; off < 20; off++) Close.To(timing[45 - off], timing[45 + off], 1e-8);
        Close.To(45, timing.MeanDays, 1e-5);
        Assert.Equal(45, timing.Quantile(0.5));
    }

    [Fact]
    public void GivenNotYet_conditions()
    {
        var timing = EmergenceTiming.FromChances([0.1, 0.2, 0.3, 0.4]);
        Close.To([0, 0, 3.0 / 7, 4.0 / 7], timing.GivenNotYet(2).Chances, 1e-15);
        Assert.Same(timing, timing.GivenNotYet(0));
        Assert.Same(timing, timing.GivenNotYet(-4));
        Close.To(0.7, timing.NotBefore(2), 1e-15);
        Assert.Equal(0, timing.NotBefore(4));
        Assert.Throws<ArgumentOutOfRangeException>(() => timing.GivenNotYet(4));
    }

    /// <summary>By hand: 8 of 10 emerge, a quarter of those on day 3. At day 3: 0.8·0.25/(0.2 + 0.2) = 1/2.</summary>
    [Fact]
    public void Alive_by_hand()
    {
        var timing = EmergenceTiming.FromChances([0, 0.25, 0.5, 0.25]);
        Close.To(0.8, timing.Alive(0.8, 0), 1e-15);
        Close.To(0.8, timing.Alive(0.8, 1), 1e-15);
        Close.To(0.5, timing.Alive(0.8, 3), 1e-15);
        Assert.Equal(0, timing.Alive(0.8, 4));
        Assert.Equal(1, timing.Alive(1, 3));
        Assert.Equal(0, timing.Alive(1, 4));
    }

    [Fact]
    public void Alive_never_grows_while_it_hangs()
    {
        Gen.Select(Gen.Int[0, 20], Gen.Int[0, 20], Gen.Double[0, 1]).Holds((from, width, rate) =>
        {
            var timing = EmergenceTiming.FromWindow(from, from + width);
            for (var day = 0; day <= timing.LastDay; day++)
                Assert.True(timing.Alive(rate, day + 1) <= timing.Alive(rate, day) + 1e-14);
        }, seed: 1);
    }

    /// <summary>By hand: prior 1/2, 1/2 worth 2 pupae; 3 emerged on day 0 and 1 on day 1: (2·1/2+3)/(2+4) = 2/3.</summary>
    [Fact]
    public void Learn_by_hand()
    {
        var learnt = EmergenceTiming.FromChances([0.5, 0.5]).Learn([new([3, 1], 0, 2)], 0.8, worth: 2);
        Close.To([2.0 / 3, 1.0 / 3], learnt.Chances, 1e-14);
    }

    [Fact]
    public void Learn_counts_those_that_hang_as_late()
    {
        var prior = EmergenceTiming.FromWindow(3, 8);
        var finished = prior.Learn([new([0, 0, 0, 2, 2, 2], 0, 6)], 1);
        var hanging = prior.Learn([new([0, 0, 0, 2, 2, 2], 6, 6)], 1);
        Assert.True(hanging.MeanDays > finished.MeanDays + 0.3);
        // With a rate below 1 some of those that hang may be dead, so they count for less.
        var doubtful = prior.Learn([new([0, 0, 0, 2, 2, 2], 6, 6)], 0.6);
        Assert.InRange(doubtful.MeanDays, finished.MeanDays, hanging.MeanDays);
    }

    [Fact]
    public void Learn_from_nothing_keeps_the_window()
    {
        var prior = EmergenceTiming.FromWindow(3, 8);
        Close.To(prior.Chances, prior.Learn([], 0.8).Chances, 1e-13);
        Close.To(prior.Chances, prior.Learn([new([], 5, 0)], 0.8).Chances, 1e-13);
    }

    [Fact]
    public void Learn_recovers_the_truth_and_reaches_past_the_window()
    {
        var truth = EmergenceTiming.FromWindow(12, 16);
        var random = new Random(3);
        var days = new int[60];
        for (var i = 0; i < 4000; i++) days[truth.Quantile(random.NextDouble())]++;
        var learnt = EmergenceTiming.FromWindow(3, 5).Learn([new(days, 0, 60)], 0.8);
        for (var day = 0; day < 30; day++) Close.To(truth[day], learnt[day], 0.03);
    }

    /// <summary>By hand: half on day 1, half on day 2 of development. Twice as warm: half on each of the first two days; half as warm: a quarter on each of days 2 to 5.</summary>
    [Fact]
    public void AtPace_by_hand()
    {
        var timing = EmergenceTiming.FromChances([0, 0.5, 0.5]);
        Close.To([0.5, 0.5], timing.AtPace([0], 2).Chances, 1e-15);
        Close.To([0, 0, 0.25, 0.25, 0.25, 0.25], timing.AtPace([0], 0.5).Chances, 1e-15);
        // Two slow days, then usual ones: development 0, ½, 1, 2, 3 at the start of days 0 to 4.
        Close.To([0, 0, 0.5, 0.5], timing.AtPace([0, 0.5, 1], 1).Chances, 1e-15);
    }

    [Fact]
    public void AtPace_of_usual_days_changes_nothing_and_warmth_brings_them_forward() => Gen.Select(Gen.Int[2, 12], Gen.Int[1, 6], Gen.Double[0.6, 1.8]).Holds((from, width, pace) =>
    {
        var timing = EmergenceTiming.FromWindow(from, from + width);
        Close.To(timing.Chances, timing.AtPace([0], 1).Chances, 1e-12);
        var warm = timing.AtPace([0], pace);
        Close.To(1, warm.Chances.ToArray().Sum(), 1e-12);
        // Emergence comes half a day into a day, in both clocks.
        Close.To((timing.MeanDays + 0.5) / pace, warm.MeanDays + 0.5, 0.05 + (0.03 * timing.MeanDays));
    });

    [Fact]
    public void AtPace_refuses_development_that_falls()
    {
        var timing = EmergenceTiming.FromWindow(3, 8);
        Assert.Throws<ArgumentException>(() => timing.AtPace([], 1));
        Assert.Throws<ArgumentException>(() => timing.AtPace([0, 2, 1], 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => timing.AtPace([0], 0));
    }

    /// <summary>By hand: worth 8 pupae, lots of likeness 15: 1/(8+1) + 1/(15+1) = 25/144, less one: 4.76. On the last of two even days 4 are left: 1/5 + 1/16 = 21/80: 2.81.</summary>
    [Fact]
    public void Watched_by_hand()
    {
        var timing = EmergenceTiming.FromChances([0.5, 0.5]);
        Assert.Equal(double.PositiveInfinity, timing.Watched(0));
        var known = timing.KnownFrom(8);
        Close.To((144 / 25.0) - 1, known.Watched(0), Close.Rounding);
        Close.To((80 / 21.0) - 1, known.Watched(1), Close.Rounding);
        Close.To(timing.Chances, known.Chances, 0);
    }

    [Fact]
    public void Learn_from_many_lots_knows_the_days_better()
    {
        var prior = EmergenceTiming.FromWindow(3, 8);
        var (few, many) = (prior.Learn(Lots(4, 1e6), 0.8), prior.Learn(Lots(80, 1e6), 0.8));
        Assert.True(prior.KnownFrom(10).Watched(5) < few.Watched(5));
        Assert.True(few.Watched(5) < many.Watched(5));
    }

    /// <summary>Lots drawn alike are found alike, lots drawn unlike are found unlike; without lots the prior stands.</summary>
    [Fact]
    public void Likeness_finds_how_unlike_lots_are()
    {
        var timing = EmergenceTiming.FromWindow(3, 8);
        var prior = EmergenceTiming.Likeness([], timing);
        Assert.InRange(prior, 5, EmergenceTiming.UsualLikeness);
        Assert.InRange(EmergenceTiming.Likeness(Lots(60, 4), timing), 2.5, 6);
        Assert.InRange(EmergenceTiming.Likeness(Lots(60, 15), timing), 9, 26);
        Assert.True(EmergenceTiming.Likeness(Lots(200, 1e6), timing) > 40);
    }

    /// <summary>The same posterior mean, lot by lot and day by day with beta functions.</summary>
    [Fact]
    public void Likeness_equals_beta_functions_of_each_lot_and_day()
    {
        var (timing, lots) = (EmergenceTiming.FromWindow(3, 8), Lots(25, 6));
        double[] grid = [2, 3, 4.5, 7, 10, 15, 22, 33, 50, 75, 110, 170, 250];
        var logs = Array.ConvertAll(grid, likeness =>
        {
            var z = Math.Log(likeness / EmergenceTiming.UsualLikeness) / Math.Log(3);
            var log = -z * z / 2;
            foreach (var lot in lots)
            {
                var waiting = lot.EmergedByDay.Sum();
                for (var day = 0; day < lot.EmergedByDay.Count && waiting > 1; waiting -= lot.EmergedByDay[day++])
                {
                    var hazard = timing[day] / timing.NotBefore(day);
                    if (hazard is > 1e-6 and < 1 - 1e-6)
                        log += SpecialFunctions.LogBeta(likeness * hazard + lot.EmergedByDay[day], likeness * (1 - hazard) + waiting - lot.EmergedByDay[day]) - SpecialFunctions.LogBeta(likeness * hazard, likeness * (1 - hazard));
                }
            }
            return log;
        });
        var weights = Array.ConvertAll(logs, log => Math.Exp(log - logs.Max()));
        Close.To(weights.Sum() / weights.Zip(grid, (weight, likeness) => weight / (likeness + 1)).Sum() - 1, EmergenceTiming.Likeness(lots, timing), 1e-8);
    }

    // Lots of twelve: on each day a hazard of the lot's own around that of the window.
    private static List<TimingRecord> Lots(int count, double likeness)
    {
        var (timing, random) = (EmergenceTiming.FromWindow(3, 8), new Random(5));
        return [.. Enumerable.Range(0, count).Select(_ =>
        {
            var (left, byDay) = (12, new int[timing.LastDay + 1]);
            for (var day = 0; day <= timing.LastDay; day++)
            {
                var hazard = Math.Min(1, timing[day] / timing.NotBefore(day));
                var own = likeness > 1e5 || hazard is 0 or 1 ? hazard : SpecialFunctions.BetaQuantile(random.NextDouble(), likeness * hazard, likeness * (1 - hazard));
                byDay[day] = CountDistribution.Binomial(left, own).Quantile(random.NextDouble());
                left -= byDay[day];
            }
            return new TimingRecord(byDay, 0, timing.LastDay + 1);
        })];
    }

    [Fact]
    public void Impossible_values_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => EmergenceTiming.FromWindow(-1, 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => EmergenceTiming.FromWindow(4, 3));
        Assert.Throws<ArgumentException>(() => EmergenceTiming.FromChances([0, 0]));
        Assert.Throws<ArgumentException>(() => EmergenceTiming.FromChances([]));
        Assert.Throws<ArgumentException>(() => EmergenceTiming.FromChances([1, double.NaN]));
        var timing = EmergenceTiming.Certain(3);
        Assert.Throws<ArgumentOutOfRangeException>(() => timing.Alive(1.2, 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => timing.Learn([new([-1], 0, 0)], 0.8));
        Assert.Throws<ArgumentOutOfRangeException>(() => timing.Learn([], 0.8, worth: 0));
    }
}
