using Lepidary.Lists.Reading;
using Xunit;

namespace Lepidary.Lists.Tests.Reading;

public sealed class ColumnTitlesTests
{
    [Theory]
    [InlineData("Species", ColumnRole.Name)]
    [InlineData("Wissenschaftlicher Name", ColumnRole.Name)]
    [InlineData("Nom scientifique", ColumnRole.Name)]
    [InlineData("Latijnse naam", ColumnRole.Name)]
    [InlineData("Common name", ColumnRole.Common)]
    [InlineData("Deutscher Name", ColumnRole.Common)]
    [InlineData("Price each", ColumnRole.Price)]
    [InlineData("Preis/St.", ColumnRole.Price)]
    [InlineData("£", ColumnRole.Price)]
    [InlineData("Prix unitaire (€)", ColumnRole.Price)]
    [InlineData("10+", ColumnRole.Price)]
    [InlineData("ab 10", ColumnRole.Price)]
    [InlineData("1-9", ColumnRole.Price)]
    [InlineData("Old price", ColumnRole.OldPrice)]
    [InlineData("Min. order", ColumnRole.Minimum)]
    [InlineData("Mindestmenge", ColumnRole.Minimum)]
    [InlineData("Pack size", ColumnRole.Pack)]
    [InlineData("VE", ColumnRole.Pack)]
    [InlineData("Pupae per pack", ColumnRole.Pack)]
    [InlineData("Qty available", ColumnRole.Available)]
    [InlineData("Bestand", ColumnRole.Available)]
    [InlineData("Disponible", ColumnRole.Available)]
    [InlineData("Packs left", ColumnRole.Available)]
    [InlineData("Qty", ColumnRole.Quantity)]
    [InlineData("Your order", ColumnRole.Order)]
    [InlineData("Bestellmenge", ColumnRole.Order)]
    [InlineData("Line total", ColumnRole.Total)]
    [InlineData("Wingspan", ColumnRole.Aside)]
    [InlineData("Art.-Nr.", ColumnRole.Code)]
    [InlineData("Bemerkung", ColumnRole.Note)]
    [InlineData("Status", ColumnRole.Status)]
    public void Read_title_tellsWhatStandsBelow(string title, ColumnRole role) => Assert.Equal(role, ColumnTitles.Read(title)?.Role);

    [Theory]
    [InlineData("Price 10+", 10, null)]
    [InlineData("ab 50 Stk.", 50, null)]
    [InlineData("10-49", 10, null)]
    [InlineData("from 25", 25, null)]
    [InlineData("Price per 10", 1, 10)]
    [InlineData("Preis/100 Stück", 1, 100)]
    [InlineData("Price per pack", 1, 0)]
    [InlineData("Price each", 1, 1)]
    [InlineData("Price", 1, null)]
    public void Read_priceTitle_tellsFromWhatAndForWhat(string title, int from, int? per)
    {
        var read = ColumnTitles.Read(title);

        Assert.Equal((from, per), (read!.From, read.Per));
    }

    [Theory]
    [InlineData("Papilio memnon")]
    [InlineData("Stock list")]
    [InlineData("Please read the notes below before you order anything at all")]
    [InlineData("Quillfeather Pupae")]
    public void Read_otherText_isNoTitle(string text) => Assert.Null(ColumnTitles.Read(text));

    [Fact]
    public void CountIn_rowWithAmounts_isNoTitleRow() => Assert.Equal(0, ColumnTitles.CountIn(["Monarch", "£1.80", "5", "In stock"]));
}
