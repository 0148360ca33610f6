using Lepidary.Taxa.Table;
using Xunit;

namespace Lepidary.Taxa.Tests.Table;

public sealed class CsvTests
{
    [Fact]
    public void Read_quotes_commas_and_line_ends_as_rfc4180_has_them()
    {
        var csv = Csv.Read("a,b\r\n\"x, \"\"y\"\"\",\n,\"two\nlines\"\n");
        Assert.Equal(1, csv.Column("b"));
        Assert.Equal([["x, \"y\"", ""], ["", "two\nlines"]], csv.Rows);
    }

    [Theory]
    [InlineData("a,b\n1\n")]
    [InlineData("a,b\n1,2,3\n")]
    [InlineData("a,b\n\"1,2\n")]
    public void Read_row_that_does_not_fit_the_header_throws(string text) => Assert.Throws<FormatException>(() => Csv.Read(text));
}
