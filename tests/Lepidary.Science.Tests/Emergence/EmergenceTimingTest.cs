using Lepidary.Science.Emergence;

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
