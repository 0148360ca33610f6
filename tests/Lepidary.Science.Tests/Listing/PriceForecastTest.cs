using Lepidary.Science.Listing;

namespace Lepidary.Science.Tests.Listing;

public class PriceForecastTest
{
    [Fact]
    public void Usual_by_hand()
    {
        Assert.Null(PriceForecast.Usual([2m, 3m]));
        Assert.Equal(2.5m, PriceForecast.Usual([3m, 2.5m, 1m]));
        Assert.Equal(2.25m, PriceForecast.Usual([2m, 2.5m, 1m, 4m]));
    }

    /// <summary>A price that moved stays moved: the last one is the better guess; one that jumps about its middle: the usual one.</summary>
    [Fact]
    public void Next_is_whichever_erred_less()
    {
        decimal[] moved = [2, 2, 2, 2, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3];
        var byLast = new PriceForecast([moved]);
        Assert.False(byLast.UsesUsual);
        Assert.Equal(3m, byLast.Next(moved).Middle);
        decimal[] jumps = [2, 2, 2, 2, 3, 2, 2, 2, 3, 2, 2, 2, 2, 3];
        var byUsual = new PriceForecast([jumps]);
        Assert.True(byUsual.UsesUsual);
        Assert.Equal(2m, byUsual.Next(jumps).Middle);
        // Too little history of its own: the last.
        Assert.Equal(5m, byUsual.Next([5m]).Middle);
    }

    /// <summary>By hand: eleven steps of which one is up by half; nine tenths up the ranks nothing has moved, so the spread is none.</summary>
    [Fact]
    public void Next_spread_is_that_of_the_errors()
    {
        decimal[] flat = [2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 3];
        var forecast = new PriceForecast([flat]);
        Assert.Equal(11, forecast.Errors);
        Assert.Equal((3m, 3m, 3m), forecast.Next(flat));
        var (low, middle, high) = new PriceForecast([[2m, 2m]]).Next([2m]);
        Assert.Equal((1.67m, 2m, 2.4m), (Math.Round(low, 2), middle, Math.Round(high, 2)));
    }
}
