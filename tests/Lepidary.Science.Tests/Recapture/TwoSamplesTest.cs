using Lepidary.Science.Recapture;

namespace Lepidary.Science.Tests.Recapture;

public class TwoSamplesTest
{
    /// <summary>
    /// 10, 15, 5 is a common textbook example and 109, 177, 57 Dahl's trout of 1919 in Ricker and Krebs (both from memory); the last two invented. Estimates computed with R 4.2.2.
    /// </summary>
    [Theory]
    [InlineData(10, 15, 5, 30, 28.33333333, 5.90936840, 16.751184, 39.915483)]
    [InlineData(109, 177, 57, 338.4736842, 336.5862069, 24.81102116, 287.957499, 385.214915)]
    [InlineData(200, 250, 50, 1000, 988.2352941, 105.7848973, 780.900704, 1195.569885)]
    [InlineData(7, 12, 4, 21, 19.8, 4.07921561, 11.804884, 27.795116)]
    public void Estimates_equal_R(int marked, int seen, int both, double petersen, double chapman, double error, double from, double to)
    {
        Close.To(petersen, TwoSamples.LincolnPetersen(marked, seen, both), 5.1e-8);
        var estimate = TwoSamples.Chapman(marked, seen, both);
        Close.To([chapman, error], [estimate.Population, estimate.Error], 5.1e-8);
        var interval = estimate.Interval();
        Close.To([from, to], [interval.From, interval.To], 3e-6);
    }

    [Fact]
    public void Ends_and_impossible_samples()
    {
        Assert.Equal(double.PositiveInfinity, TwoSamples.LincolnPetersen(5, 6, 0));
        Close.To(41, TwoSamples.Chapman(5, 6, 0).Population, 1e-12);
        Assert.Equal(new PopulationEstimate(6, 0), TwoSamples.Chapman(6, 6, 6));
        Assert.Throws<ArgumentOutOfRangeException>(() => TwoSamples.Chapman(5, 6, 7));
        Assert.Throws<ArgumentOutOfRangeException>(() => TwoSamples.Chapman(5, 6, -1));
    }
}
