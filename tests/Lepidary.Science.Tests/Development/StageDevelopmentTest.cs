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

    /// <summary>
    /// Thresholds and needs of whole species beside those of their stages, all from the data of Buckley et al. 2017 (read; the authors there: David and Gardiner 1962, Ichinose and Iwasaki 1979,
    /// Itô 2001, Gomaa 1973): at a warmth in the middle of their range the stages add up to the whole within 4 of 100, since both lines were fitted to the same rearings.
    /// </summary>
    [Theory]
    [InlineData(7.9, 468, 8.56, 68.6, 7.9, 215.3, 8.66, 161)]
    [InlineData(10, 553.8, 10.4, 67.5, 8.9, 317.3, 11.1, 175.8)]
    [InlineData(9.5, 593.3, 9.3, 77.8, 9.3, 291.2, 9.9, 225.3)]
    [InlineData(10, 480, 11.5, 72.6, 9.7, 282.4, 9.5, 128.1)]
    [InlineData(7, 1005.6, 10.3, 142.9, 2.4, 659.9, 9.6, 263.4)]
    public void Stages_of_a_species_add_up_to_its_whole(double threshold, double need, double egg, double eggNeed, double larva, double larvaNeed, double pupa, double pupaNeed)
    {
        var whole = new StageDevelopment(threshold, need).DaysAt(25);
        var stages = new StageDevelopment(egg, eggNeed).DaysAt(25) + new StageDevelopment(larva, larvaNeed).DaysAt(25) + new StageDevelopment(pupa, pupaNeed).DaysAt(25);
        Close.To(whole, stages, 0.04 * whole);
    }

    /// <summary>
    /// Danaus plexippus in the field, egg and five instars (Zalucki 1982, Table 2, read in another team's code that cites it), add up to 220.5 degree-days; with a pupa of 119.9 they stay within a
    /// standard deviation of each of the 351.8 that are remembered for the whole.
    /// </summary>
    [Fact]
    public void Danaus_plexippus_stages_add_up()
    {
        double[] stages = [44.5, 30.9, 27.2, 25.6, 33.8, 58.5];
        double[] deviations = [4.32, 3.97, 3.71, 2.88, 4.09, 3.89];
        Close.To(220.5, stages.Sum(), 1e-9);
        Close.To(351.8, stages.Sum() + 119.9, deviations.Sum());
        // The same code's sums, whose base it does not state: end of the egg 45, of each instar 77.3, 105.1, 129.6, 165.3, 231.9; the pupa remembered is what is left of 351.8.
        Close.To(119.9, 351.8 - 231.9, 1e-9);
    }

    /// <summary>
    /// Temperate and pierid species by one threshold each: Pieris rapae 10 °C and 319.7 (Godin and Boivin 1998), Aglais urticae 10.6 and 302.8, Inachis io 9.2 and 420.6, Polygonia c-album 6.7 and
    /// 411.8, Vanessa atalanta 7.3 and 413.4 (Bryant et al. 1997), all via Buckley et al. 2017, read. Days at 20 °C by arithmetic, K/(T-T₀).
    /// </summary>
    [Theory]
    [InlineData(10, 319.7, 31.97)]
    [InlineData(10.6, 302.8, 32.213)]
    [InlineData(9.2, 420.6, 38.944)]
    [InlineData(6.7, 411.8, 30.962)]
    [InlineData(7.3, 413.4, 32.551)]
    public void Temperate_species_at_20(double threshold, double need, double days) => Close.To(days, new StageDevelopment(threshold, need).DaysAt(20), 5.1e-4);

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
