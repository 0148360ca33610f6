using Lepidary.Planning.Seasons;
using Xunit;

namespace Lepidary.Planning.Tests.Seasons;

public class SeasonComparisonTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    /// <summary>Student's t, two-sided 95 %: 12.706, 4.303, 2.093, 1.984 for 1, 2, 19 and 99 degrees of freedom (the usual printed table).</summary>
    [Theory]
    [InlineData(1, 12.706)]
    [InlineData(2, 4.303)]
    [InlineData(19, 2.093)]
    [InlineData(99, 1.984)]
    public void StudentQuantile_printedTable_isMet(int degrees, double expected) =>
        Assert.Equal(expected, MeanOf.StudentQuantile(0.975, degrees), 5e-4);

    /// <summary>By hand: 1, 2, 3, 6 have mean 3, deviation √(14/3), error √(14/12) = 1.0801; t of 3 degrees is 3.1824.</summary>
    [Fact]
    public void Of_fourValues_byHand()
    {
        var mean = MeanOf.Of([1, 2, 3, 6]);
        Assert.Equal(3, mean.Mean, 1e-12);
        Assert.Equal(3 + (3.1824 * 1.0801), mean.To, 1e-3);
        Assert.Equal(6, mean.From + mean.To, 1e-9);
        Assert.True(double.IsNegativeInfinity(MeanOf.Of([4]).From));
    }

    [Fact]
    public void Ratio_ofTheSameShareOnEveryDraw_hasNoInterval()
    {
        var ratio = SeasonComparison.Ratio([60, 120, 30], [100, 200, 50]);
        Assert.Equal((-0.4, -0.4, -0.4), (Math.Round(ratio.Mean, 12), Math.Round(ratio.From, 12), Math.Round(ratio.To, 12)));
    }

    [Fact]
    public void Play_tellsEveryWeek_andTheSameSeedTheSameScores()
    {
        var told = new List<SeasonProgress>();
        SeasonPolicy[] policies = [OrderByRule.Naive, new OrderUpTo()];
        var one = SeasonComparison.Play(SmallHouse.Make(), policies, 3, 12, new Told(told.Add), Cancel);
        var again = SeasonComparison.Play(SmallHouse.Make(), policies, 3, 12, cancel: Cancel);
        Assert.Equal(Enumerable.Range(1, 3 * 2 * 8), told.Select(t => t.WeeksDone));
        Assert.All(told, t => Assert.Equal(48, t.Weeks));
        Assert.Equal(3, one.Draws.Count);
        Assert.Equal(one.Draws.Select(d => d[1].Total), again.Draws.Select(d => d[1].Total));
        Assert.Equal(one.Difference(0, 1, s => s.Total).Mean, one.Mean(0, s => s.Total).Mean - one.Mean(1, s => s.Total).Mean, 1e-9);
    }

    [Fact]
    public void Play_cancelled_keepsTheDrawsThatAreFinished()
    {
        using var stop = new CancellationTokenSource();
        var stopped = SeasonComparison.Play(SmallHouse.Make(), [OrderByRule.Naive], 5, 12, new Told(t =>
        {
            if (t.WeeksDone == 20)
                stop.Cancel();
        }), stop.Token);
        Assert.Equal(2, stopped.Draws.Count);
        var whole = SeasonComparison.Play(SmallHouse.Make(), [OrderByRule.Naive], 2, 12, cancel: Cancel);
        Assert.Equal(whole.Draws.Select(d => d[0].Total), stopped.Draws.Select(d => d[0].Total));
    }

    private sealed class Told(Action<SeasonProgress> tell) : IProgress<SeasonProgress>
    {
        public void Report(SeasonProgress value) => tell(value);
    }
}
