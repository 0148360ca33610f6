using Lepidary.Lists.Reading;
using Xunit;

namespace Lepidary.Lists.Tests.Reading;

public sealed class NumberTextTests
{
    [Theory]
    [InlineData("2.40", null, 2.40)]
    [InlineData("2,40", null, 2.40)]
    [InlineData("1.234,56", null, 1234.56)]
    [InlineData("1,234.56", null, 1234.56)]
    [InlineData("1,200", '.', 1200)]
    [InlineData("1.200", ',', 1200)]
    [InlineData("1.250", '.', 1.25)]
    [InlineData("1.200", null, 1200)]
    [InlineData("0,850", null, 0.85)]
    [InlineData("1'200", null, 1200)]
    [InlineData(".85", null, 0.85)]
    [InlineData("12,345,678", null, 12345678)]
    public void Read_number_takesTheMarkOfTheList(string text, char? mark, double expected) =>
        Assert.Equal((decimal)expected, NumberText.Read(text, mark)?.Value);

    [Theory]
    [InlineData("2.20,2.60,40")]
    [InlineData("1.2.3")]
    [InlineData("1234567890123456")]
    public void Read_digitsThatMakeNoNumber_giveNothing(string text) => Assert.Null(NumberText.Read(text, null));

    [Theory]
    [InlineData("2,40", ',')]
    [InlineData("2.4", '.')]
    [InlineData("1.234,56", ',')]
    [InlineData("1,200", null)]
    [InlineData("40", null)]
    public void MarkProvedBy_number_isTheDecimalMark(string text, char? mark) => Assert.Equal(mark, NumberText.MarkProvedBy(text));

    [Theory]
    [InlineData("1 234,50 €", 8)]
    [InlineData("10 200", 2)]
    [InlineData("1\u00A0234", 5)]
    [InlineData("2.40.", 4)]
    [InlineData("x", 0)]
    public void LengthAt_number_stopsAtItsEnd(string text, int length) => Assert.Equal(length, NumberText.LengthAt(text, 0));
}
