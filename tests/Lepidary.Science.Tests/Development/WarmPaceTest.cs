using Lepidary.Science.Development;

namespace Lepidary.Science.Tests.Development;

public class WarmPaceTest
{
    /// <summary>By hand: 24 to 28 °C is 16 degree-days above 10; 32 °C all day is 22: at a usual 16 it counts 1.375 days. Nothing read is a usual day; a logger in the sun counts twice.</summary>
    [Fact]
    public void Paces_by_hand()
    {
        Close.To(16, WarmPace.Of(24, 28), 1e-12);
        Close.To([1, 1.375, 1, 0.5, 2], [.. WarmPace.Paces([16, WarmPace.Of(32, 32), null, WarmPace.Of(5, 12), 60], 16)], 1e-12);
    }

    /// <summary>Nothing develops faster above the upper limit: 33 and 40 °C are alike.</summary>
    [Fact]
    public void Of_stops_at_the_upper_limit() => Close.To(WarmPace.Of(33, 33), WarmPace.Of(40, 40), 1e-12);
}
