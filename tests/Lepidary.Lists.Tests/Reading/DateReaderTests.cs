using Lepidary.Lists.Reading;
using Xunit;

namespace Lepidary.Lists.Tests.Reading;

public sealed class DateReaderTests
{
    private static readonly DateOnly Today = new(2026, 11, 25);

    [Theory]
    [InlineData("23.11.2026", "2026-11-23")]
    [InlineData("23.11.26", "2026-11-23")]
    [InlineData("23/11/2026", "2026-11-23")]
    [InlineData("2026-11-23", "2026-11-23")]
    [InlineData("Monday 23rd November 2026", "2026-11-23")]
    [InlineData("Nov 23, 2026", "2026-11-23")]
    [InlineData("Week commencing 23 November 2026.", "2026-11-23")]
    [InlineData("Listino n. 12 del 23 novembre 2026", "2026-11-23")]
    [InlineData("23 de noviembre de 2026", "2026-11-23")]
    [InlineData("lundi 23 novembre", "2026-11-23")]
    [InlineData("Stand 23. November", "2026-11-23")]
    [InlineData("Liste vom 23.11.", "2026-11-23")]
    [InlineData("week 48", "2026-11-23")]
    [InlineData("KW 48", "2026-11-23")]
    [InlineData("KW48/2026", "2026-11-23")]
    [InlineData("semaine 48", "2026-11-23")]
    [InlineData("Semana 48", "2026-11-23")]
    [InlineData("settimana 48", "2026-11-23")]
    [InlineData("2026-W48", "2026-11-23")]
    [InlineData("2 January", "2027-01-02")]
    public void Find_date_isTheDayMeant(string text, string expected) =>
        Assert.Equal(DateOnly.Parse(expected, System.Globalization.CultureInfo.InvariantCulture), Assert.Single(DateReader.Find(text)).On(Today, monthFirst: false));

    [Theory]
    [InlineData("Papilio memnon 2.40 (set 5)")]
    [InlineData("31.02.2026x")]
    [InlineData("10+ 2.20")]
    [InlineData("1-9 2.40")]
    [InlineData("pack 10 min 5")]
    [InlineData("2.40/2.20/1.95")]
    public void Find_otherNumbers_areNoDates(string text) =>
        Assert.All(DateReader.Find(text), date => Assert.Null(date.On(Today, monthFirst: false)));

    [Fact]
    public void Find_swappable_goesByTheCallersCountry()
    {
        var date = Assert.Single(DateReader.Find("11/12/2026"));

        Assert.Equal(new DateOnly(2026, 12, 11), date.On(null, monthFirst: false));
        Assert.Equal(new DateOnly(2026, 11, 12), date.On(null, monthFirst: true));
    }

    [Theory]
    [InlineData("before 12:30")]
    [InlineData("voor dinsdag 12.00 uur")]
    [InlineData("bis 14 Uhr")]
    public void Find_timeOfDay_isNoDay(string text) => Assert.Null(Assert.Single(DateReader.Find(text)).On(Today, monthFirst: false));
}
