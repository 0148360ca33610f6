using Lepidary.Science.Development;

namespace Lepidary.Science.Tests.Development;

public class StageDevelopmentTest
{
    /// <summary>
    /// Pieris brassicae pupa, 8.66 °C and 161 (David and Gardiner 1962 via Buckley et al. 2017, read): observed 7.5 days at 30 °C and about 40 at 12.5 °C (abstract read).
    /// The larva, 7.9 and 215.3: 11 days at 30 °C observed, 9.74 by the model: a straight line fails near its ends.
    /// </summary>
    [Fact]
    public void Pieris_brassicae_model_against_observed()
    {
        var pupa = new StageDevelopment(8.66, 161);
        Close.To(7.54, pupa.DaysAt(30), 0.005);
        Close.To(7.5, pupa.DaysAt(30), 0.1);
        Close.To(41.93, pupa.DaysAt(12.5), 0.005);
        Close.To(40, pupa.DaysAt(12.5), 2);
        var larva = new StageDevelopment(7.9, 215.3);
        Close.To(9.74, larva.DaysAt(30), 0.005);
        Close.To(46.80, larva.DaysAt(12.5), 0.005);
    }

    /// <summary>Danaus plexippus: 11.5 °C, 351.8 egg to adult, pupa 119.9 (from memory); days computed with R 4.2.2.</summary>
    [Fact]
    public void Danaus_plexippus_at_25_equals_R()
    {
        Close.To(26.06, new StageDevelopment(11.5, 351.8).DaysAt(25), 0.005);
        Close.To(8.88, new StageDevelopment(11.5, 119.9).DaysAt(25), 0.005);
    }

    /// <summary>Pupae at 25 °C: Papilio protenor (Ichinose and Iwasaki 1979) and Argyreus hyperbius (Itô 2001), both via Buckley et al. 2017, read; days computed with R 4.2.2.</summary>
    [Fact]
    public void Other_pupae_at_25_equal_R()
    {
        Close.To(12.65, new StageDevelopment(11.1, 175.8).DaysAt(25), 0.005);
        Close.To(8.26, new StageDevelopment(9.5, 128.1).DaysAt(25), 0.005);
    }

    /// <summary>Delias nigrina, 9 °C and 494 (Braby and Lyonns 2003, abstract read): observed 29 days at 27 °C and 52 at 19 °C.</summary>
    [Fact]
    public void Delias_nigrina_model_against_observed()
    {
        var development = new StageDevelopment(9, 494);
        Close.To(27.4, development.DaysAt(27), 0.05);
        Close.To(49.4, development.DaysAt(19), 0.05);
        Close.To(29, development.DaysAt(27), 3);
        Close.To(52, development.DaysAt(19), 3);
    }

    /// <summary>By hand: threshold 10, 30 degree-days, constant 20: three days, so it ends on day 2; half over already: day 1.</summary>
    [Fact]
    public void EndsOn_by_hand()
    {
        var stage = new StageDevelopment(10, 30);
        var warm = Enumerable.Repeat((20.0, 20.0), 5).ToList();
        Assert.Equal(3, stage.DaysAt(20));
        Assert.Equal(2, stage.EndsOn(warm));
        Assert.Equal(1, stage.EndsOn(warm, begun: 0.5));
        Assert.Null(stage.EndsOn(warm.Take(2)));
        Assert.Null(stage.EndsOn(warm, upperCelsius: 12));
        Assert.Equal(double.PositiveInfinity, stage.DaysAt(10));
    }

    [Fact]
    public void Impossible_stages_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new StageDevelopment(10, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => new StageDevelopment(double.NaN, 30));
        Assert.Throws<ArgumentOutOfRangeException>(() => new StageDevelopment(10, 30).EndsOn([], begun: 1.5));
    }
}
