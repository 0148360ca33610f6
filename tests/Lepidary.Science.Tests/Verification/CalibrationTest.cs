using Lepidary.Science.Verification;

namespace Lepidary.Science.Tests.Verification;

public class CalibrationTest
{
    private static readonly ChanceGiven[] Eight =
    [
        new(0.9, true), new(0.8, true), new(0.1, false), new(0.3, false), new(0.6, true), new(0.5, false), new(0.95, true), new(0.2, true),
    ];

    /// <summary>Eight chances. Computed with R 4.2.2.</summary>
    [Fact]
    public void Brier_and_log_loss_equal_R()
    {
        Close.To(0.1503125, Calibration.Brier(Eight), 1e-15);
        Close.To(0.4569054422, Calibration.LogLoss(Eight), 5.1e-11);
        var came = Eight.Average(one => one.Came ? 1.0 : 0);
        Close.To(0.234375, came * (1 - came), 1e-15);
        Close.To(0.3586666667, Scores.Skill(Calibration.Brier(Eight), 0.625 * 0.375), 5.1e-11);
    }

    /// <summary>Ten each of 0.1, 0.5, 0.9 with 1, 6, 8 events: 0.17 = 0.0066667 - 0.0866667 + 0.25. Computed with R 4.2.2.</summary>
    [Fact]
    public void Parts_equal_R()
    {
        var given = Repeat(0.1, 1).Concat(Repeat(0.5, 6)).Concat(Repeat(0.9, 8)).ToArray();
        var parts = Calibration.Parts(given);
        Close.To([0.0066666667, 0.0866666667, 0.25], [parts.Reliability, parts.Resolution, parts.Uncertainty], 5.1e-11);
        Close.To(0.17, parts.Brier, 1e-14);
        Close.To(0.17, Calibration.Brier(given), 1e-14);
    }

    private static IEnumerable<ChanceGiven> Repeat(double chance, int came) => Enumerable.Range(0, 10).Select(i => new ChanceGiven(chance, i < came));

    [Fact]
    public void Curve_groups_by_chance()
    {
        var curve = Calibration.Curve([.. Repeat(0.12, 1), .. Repeat(0.18, 3), new(1, true)]);
        Assert.Equal(2, curve.Count);
        Close.To([0.15, 0.2, 20], [curve[0].Said, curve[0].Came, curve[0].Times], 1e-12);
        Assert.Equal(new CalibrationGroup(1, 1, 1), curve[1]);
    }

    /// <summary>Honest forecasts cover what their intervals promise and their transform is flat; over-sure ones fall short. Seeded.</summary>
    [Fact]
    public void Coverage_and_histogram_tell_honest_from_over_sure()
    {
        var random = new Random(23);
        var honest = new List<(CountDistribution, int)>();
        var sure = new List<(CountDistribution, int)>();
        for (var i = 0; i < 4000; i++)
        {
            var truth = CountDistribution.BetaBinomial(10 + random.Next(30), 8, 2);
            var happened = truth.Quantile(random.NextDouble());
            honest.Add((truth, happened));
            sure.Add((CountDistribution.Binomial(truth.Max, 0.8), happened));
        }
        var (covered, promised) = Calibration.Coverage(honest, 0.8);
        Assert.True(promised >= 0.8);
        Close.To(promised, covered, 4 * Math.Sqrt(0.16 / 4000));
        Assert.True(Calibration.Coverage(sure, 0.8).Covered < 0.7);
        foreach (var bar in Calibration.PitHistogram(honest)) Close.To(0.1, bar, 0.02);
        var over = Calibration.PitHistogram(sure);
        Assert.True(over[0] > 0.13 && over[9] > 0.13);
        Close.To(1, over.Sum(), 1e-9);
    }

    [Fact]
    public void Nothing_given_is_refused()
    {
        Assert.Throws<ArgumentException>(() => Calibration.Brier([]));
        Assert.Throws<ArgumentOutOfRangeException>(() => Calibration.Brier([new(1.2, true)]));
        Assert.Throws<ArgumentException>(() => Calibration.Coverage([], 0.8));
        Assert.Throws<ArgumentException>(() => Calibration.PitHistogram([]));
        Assert.Throws<ArgumentOutOfRangeException>(() => Calibration.Curve([new(0.5, true)], 0));
    }
}
