using Xunit;

namespace Lepidary.Book.Tests.Houses;

public sealed class HouseTests
{
    [Theory]
    [InlineData("Europe/London", "2026-06-30T23:30:00Z", "2026-07-01")]
    [InlineData("Europe/London", "2026-11-25T23:30:00Z", "2026-11-25")]
    [InlineData("Pacific/Auckland", "2026-11-25T12:00:00Z", "2026-11-26")]
    [InlineData("America/Los_Angeles", "2026-11-25T03:00:00Z", "2026-11-24")]
    public void DayAt_instant_isTheHousesLocalDay(string zone, string instant, string day)
    {
        var house = new House { Name = "Thornmere", Currency = "GBP", TimeZone = zone };

        Assert.Equal(Parse(day), house.DayAt(DateTimeOffset.Parse(instant, System.Globalization.CultureInfo.InvariantCulture)));
    }

    [Fact]
    public void IsOpen_openWeekdayAndClosedDay_areToldApart()
    {
        var house = new House
        {
            Name = "Thornmere",
            Currency = "GBP",
            TimeZone = "Europe/London",
            OpenOn = Weekdays.All & ~Weekdays.Mon,
            ClosedDays = [Parse("2026-12-25")],
        };

        Assert.False(house.IsOpen(Parse("2026-11-23")));
        Assert.True(house.IsOpen(Parse("2026-11-24")));
        Assert.False(house.IsOpen(Parse("2026-12-25")));
    }

    [Fact]
    public void Weekdays_everySet_isTheSetOfItsDays()
    {
        foreach (var set in Enumerable.Range(0, 128).Select(bits => (Weekdays)bits))
        {
            Assert.Equal(set, WeekdaySets.Of(set.Days()));
        }

        Assert.Equal([DayOfWeek.Monday, DayOfWeek.Sunday], (Weekdays.Sun | Weekdays.Mon).Days());
        Assert.Equal(Weekdays.Tue, WeekdaySets.Of(DayOfWeek.Tuesday));
    }

    private static DateOnly Parse(string day) => DateOnly.Parse(day, System.Globalization.CultureInfo.InvariantCulture);
}
