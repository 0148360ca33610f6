using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.Fonts.Standard14Fonts;
using UglyToad.PdfPig.Writer;
using Xunit;

namespace Lepidary.Lists.Tests.Formats;

public sealed class PdfPagesTests
{
    /// <summary>Pages of texts, each at its place in points from the lower left corner.</summary>
    private static byte[] Pdf(params (double X, double Y, string Text)[][] pages)
    {
        using var builder = new PdfDocumentBuilder();
        var font = builder.AddStandard14Font(Standard14Font.Helvetica);
        foreach (var texts in pages)
        {
            var page = builder.AddPage(PageSize.A4);
            foreach (var (x, y, text) in texts)
                page.AddText(text, 10, new PdfPoint(x, y), font);
        }
        return builder.Build();
    }

    private static SupplierList Read(byte[] pdf) => ListReader.Read(pdf, "list.pdf", Lists.Options).Value;

    [Fact]
    public void Read_table_findsItsColumns()
    {
        var read = Read(Pdf(
        [
            (50, 780, "Mosswell Butterflies, 23 November 2026"),
            (50, 750, "Species"), (260, 750, "Price GBP"), (340, 750, "Stock"),
            (50, 730, "Papilio memnon"), (265, 730, "2.20"), (350, 730, "40"),
            (50, 710, "Papilio polytes"), (265, 710, "1.80"), (350, 710, "60"),
            (50, 690, "Idea leuconoe"), (265, 690, "2.30"), (335, 690, "sold out"),
            (50, 650, "Carriage 12.00 per box"),
        ]));

        Assert.Equal([("Papilio memnon", 2.2m, 40), ("Papilio polytes", 1.8m, 60)], read.Offers.Take(2).Select(offer => (offer.Taxon!, offer.Price!.Value, offer.Available!.Value)));
        Assert.True(read.Offers[2].SoldOut);
        Assert.Equal(12, Assert.Single(read.Charges).Amount);
        Assert.Equal(new DateOnly(2026, 11, 23), read.Date);
    }

    [Fact]
    public void Read_nameOnTwoLines_isOneRow()
    {
        var read = Read(Pdf(
        [
            (50, 750, "Species"), (260, 750, "Price GBP"), (340, 750, "Stock"),
            (50, 730, "Papilio memnon"), (265, 730, "2.20"), (350, 730, "40"), (50, 719, "Great Mormon"),
            (50, 700, "Papilio polytes"), (265, 700, "1.80"), (350, 700, "60"), (50, 689, "Common Mormon"),
            (50, 670, "Parthenos sylvia"), (265, 670, "2.00"), (350, 670, "30"), (50, 659, "philippensis"),
            (50, 640, "Idea leuconoe"), (265, 640, "2.30"), (350, 640, "25"), (50, 629, "Paper Kite"),
        ]));

        Assert.Equal(["Papilio memnon", "Papilio polytes", "Parthenos sylvia", "Idea leuconoe"], read.Offers.Select(offer => offer.Taxon));
        Assert.Equal("philippensis", read.Offers[2].Form);
        Assert.Empty(read.Doubts);
    }

    [Fact]
    public void Read_twoColumnsOfOffers_readsBoth()
    {
        var read = Read(Pdf(
        [
            (50, 730, "Papilio memnon"), (200, 730, "£2.20"), (320, 730, "Morpho peleides"), (480, 730, "£3.40"),
            (50, 710, "Papilio polytes"), (200, 710, "£1.80"), (320, 710, "Caligo memnon"), (480, 710, "£2.80"),
            (50, 690, "Idea leuconoe"), (200, 690, "£2.30"), (320, 690, "Greta oto"), (480, 690, "£3.20"),
        ]));

        Assert.Equal([2.2m, 1.8m, 2.3m, 3.4m, 2.8m, 3.2m], read.Offers.Select(offer => offer.Price!.Value));
    }

    [Fact]
    public void Read_pageWithoutText_isCalledAScan() =>
        Assert.StartsWith("a scanned PDF", Assert.Single(ListReader.Read(Pdf([]), "scan.pdf", Lists.Options, TestContext.Current.CancellationToken).Problems).Found, StringComparison.Ordinal);

    [Fact]
    public void Read_cutOffPdf_isRefusedInWords()
    {
        var pdf = Pdf([(50, 730, "Papilio memnon"), (200, 730, "£2.20")]);

        var read = ListReader.Read(pdf.AsMemory(0, pdf.Length / 3), "cut.pdf", Lists.Options, TestContext.Current.CancellationToken);

        Assert.False(read.IsGood);
    }
}
