using Lepidary.Lists.Formats;
using Xunit;

namespace Lepidary.Lists.Tests.Formats;

public sealed class DelimitedTextTests
{
    private static Row Row(params string[] lines) => DelimitedText.Read(["Species;Price;Note", .. lines, "Papilio polytes;1.80;"])!.Value.Sheet.Rows[1];

    private static IEnumerable<string> Cells(Row row) => row.Cells.Select(cell => $"{cell.Column}:{cell.Text}");

    [Fact]
    public void Read_quotedCell_keepsTheDelimiterInIt() => Assert.Equal(["0:Papilio memnon; Great Mormon", "1:2.20"], Cells(Row("\"Papilio memnon; Great Mormon\";2.20")));

    [Fact]
    public void Read_doubledQuotes_areOne() => Assert.Equal(["0:Papilio \"big\" memnon", "1:2.20"], Cells(Row("\"Papilio \"\"big\"\" memnon\";2.20")));

    [Fact]
    public void Read_strayQuote_isAQuote() => Assert.Equal(["0:\"Papilio\" memnon", "1:6\" wings", "2:x"], Cells(Row("\"Papilio\" memnon;6\" wings;x")));

    [Fact]
    public void Read_quoteThatNeverEnds_takesNoLineAway()
    {
        var read = DelimitedText.Read(["Species;Price", "\"Papilio memnon;2.20", "Papilio polytes;1.80"])!.Value.Sheet.Rows;

        Assert.Equal([1, 2, 3], read.Select(row => row.Number));
    }

    [Fact]
    public void Read_lineEndInACell_keepsTheLinesTogether()
    {
        var row = Row("\"Papilio memnon", "(Great Mormon)\";2.20");

        Assert.Equal(["0:Papilio memnon (Great Mormon)", "1:2.20"], Cells(row));
        Assert.Equal(["(Great Mormon)\";2.20"], row.FurtherLines);
    }

    [Fact]
    public void Read_raggedRow_keepsItsCells() => Assert.Equal(["0:Papilio memnon", "3:extra"], Cells(Row("Papilio memnon;;;extra")));
}
