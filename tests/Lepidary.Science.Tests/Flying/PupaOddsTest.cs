using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;

namespace Lepidary.Science.Tests.Flying;

public class PupaOddsTest
{
    /// <summary>By hand: half emerges on day 1, half on day 2; 9 of 10 live through a day; 8 of 10 emerge.</summary>
    [Fact]
    public void Flying_by_hand()
    {
        var phi = PupaOdds.Flying(0.8, EmergenceTiming.FromChances([0, 0.5, 0.5]), AdultSurvival.FromDaily(0.9), 5);
        Close.To([0, 0.4, 0.76, 0.684, 0.6156], phi, 1e-14);
    }

    [Fact]
    public void Hanging_by_hand()
    {
        // Given up on day 3, the day after the last can have emerged.
        var hanging = PupaOdds.Hanging(0.8, EmergenceTiming.FromChances([0, 0.5, 0.5]), 5);
        Close.To([1, 0.6, 0.2, 0, 0], hanging, 1e-14);
    }

    [Fact]
    public void Flying_expectation_is_that_of_the_forecast()
    {
        var (rate, timing, survival) = (EmergenceRate.Usual, EmergenceTiming.FromWindow(3, 9), AdultSurvival.FromLife(14, 30));
        var phi = PupaOdds.Flying(rate.Mean, timing, survival, 40);
        var forecast = FlyingForecast.Of(new(survival, [new(25, 0, rate, timing, "a")], []), 40);
        for (var day = 0; day < 40; day++) Close.To(25 * phi[day], forecast[day].Mean, 1e-10);
    }
}
