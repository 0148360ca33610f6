using Lepidary.Science.Recapture;

namespace Lepidary.Science.Tests.Recapture;

public sealed class WalkConditionsTests
{
    /// <summary>Each line by hand from the rules of the fixed-path count (Pollard 1977; UK Environmental Change Network's protocol).</summary>
    [Theory]
    [InlineData(12.9, 100, 0, false)]
    [InlineData(13.0, 60, 0, true)]
    [InlineData(13.0, 59, 0, false)]
    [InlineData(17.0, 59, null, false)]
    [InlineData(17.1, 0, 5, true)]
    [InlineData(26.0, null, null, true)]
    [InlineData(26.0, 100, 6, false)]
    [InlineData(15.0, null, 0, null)]
    [InlineData(null, 100, 0, null)]
    [InlineData(null, null, 7, false)]
    public void Met_follows_the_rules(double? temperature, int? sun, int? wind, bool? met) => Assert.Equal(met, WalkConditions.Met(temperature, sun, wind));
}
