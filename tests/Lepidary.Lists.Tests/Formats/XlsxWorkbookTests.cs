using System.IO.Compression;
using System.Text;
using Xunit;
using static Lepidary.Lists.Tests.Formats.WorkbookBuilder.SheetBuilder;

namespace Lepidary.Lists.Tests.Formats;

public sealed class XlsxWorkbookTests
{
    private static SupplierList Read(WorkbookBuilder workbook) => ListReader.Read(workbook.Bytes(), "list.xlsx", Lists.Options).Value;

    [Fact]
    public void Read_currencyInTheNumberFormat_isTheLists()
    {
        var book = new WorkbookBuilder();
        var sheet = book.Sheet("List");
        sheet.Row("Species", "Price", "Stock")
            .Row("Papilio memnon", sheet.Money(2.2m, "[$€-407] #,##0.00"), 40)
            .Row("Idea leuconoe", sheet.Money(2.3m, "[$€-407] #,##0.00"), 60);

        var read = Read(book);

        Assert.Equal("EUR", read.Currency);
        Assert.Equal([2.2m, 2.3m], read.Offers.Select(offer => offer.Price));
        Assert.Equal([2, 3], read.Offers.Select(offer => offer.Line));
        Assert.Equal("List", read.Offers[0].Sheet);
    }

    [Fact]
    public void Read_doubleThatIsNearlyADecimal_isTheDecimal()
    {
        var book = new WorkbookBuilder();
        book.Sheet("List").Row("Species", "Price £").Row("Papilio memnon", Formula("1.1*2", "2.2000000000000002")).Row("Idea leuconoe", 2.3m);

        Assert.Equal(2.2m, Read(book).Offers[0].Price);
    }

    [Fact]
    public void Read_formula_givesWhatWasShown()
    {
        var book = new WorkbookBuilder();
        book.Sheet("List").Row("Species", "Price £").Row("Papilio memnon", Formula("WEBSERVICE(\"http://x.invalid\")", "2.40")).Row("Idea leuconoe", 2.3m);

        Assert.Equal(2.4m, Read(book).Offers[0].Price);
    }

    [Fact]
    public void Read_struckPriceBesideANewOne_isTheOldOne()
    {
        var book = new WorkbookBuilder();
        book.Sheet("List").Row("Species", "Price £").Row("Papilio memnon", Rich(("2.60 ", true), ("2.20", false))).Row("Idea leuconoe", 2.3m);

        Assert.Equal(2.2m, Read(book).Offers[0].Price);
    }

    [Fact]
    public void Read_struckName_isSoldOut()
    {
        var book = new WorkbookBuilder();
        var sheet = book.Sheet("List");
        sheet.Row("Species", "Price £").Row(sheet.Struck("Papilio memnon"), 2.2m).Row("Idea leuconoe", 2.3m);

        Assert.Equal([true, false], Read(book).Offers.Select(offer => offer.SoldOut));
    }

    [Fact]
    public void Read_onlyAStruckPrice_isAskedAbout()
    {
        var book = new WorkbookBuilder();
        var sheet = book.Sheet("List");
        sheet.Row("Species", "Price £").Row("Papilio memnon", sheet.Struck(2.2m)).Row("Idea leuconoe", 2.3m);

        var offer = Read(book).Offers[0];

        Assert.Null(offer.Price);
        Assert.Single(offer.Doubts);
    }

    [Fact]
    public void Read_hiddenRow_isReadAndAskedAbout()
    {
        var book = new WorkbookBuilder();
        book.Sheet("List").Row("Species", "Price £").Row("Papilio memnon", 2.2m).Row("Idea leuconoe", 2.3m).Hide().Row("Morpho peleides", 3.4m);

        var read = Read(book);

        Assert.Equal([0, 1, 0], read.Offers.Select(offer => offer.Doubts.Count));
    }

    [Fact]
    public void Read_hiddenColumnOfCosts_isNoPrice()
    {
        var book = new WorkbookBuilder();
        book.Sheet("List").Row("Species", "Cost", "Price £").Row("Papilio memnon", 1.1m, 2.2m).Row("Idea leuconoe", 1.2m, 2.3m).HideColumn(2);

        Assert.Equal([2.2m, 2.3m], Read(book).Offers.Select(offer => offer.Price));
    }

    [Fact]
    public void Read_hiddenSheet_isLeftOutAndSaid()
    {
        var book = new WorkbookBuilder();
        book.Sheet("List").Row("Species", "Price £").Row("Papilio memnon", 2.2m).Row("Idea leuconoe", 2.3m);
        book.Sheet("Last week", hidden: true).Row("Species", "Price £").Row("Morpho peleides", 3.4m);

        var read = Read(book);

        Assert.Equal(2, read.Offers.Count);
        Assert.Contains(read.Doubts, doubt => doubt.Why.Contains("Last week", StringComparison.Ordinal));
        Assert.Equal(2, read.Lines.Count(line => line.Sheet == "Last week" && line.Kind == LineKind.Note));
    }

    [Fact]
    public void Read_titlesOverSeveralColumns_areReadWithThoseBelow()
    {
        var book = new WorkbookBuilder();
        book.Sheet("List")
            .Row("Species", "Price in £", null, null, "Stock")
            .Row(null, "1-9", "10-49", "50+", null)
            .Row("Papilio memnon", 2.4m, 2.2m, 2m, 60)
            .Row("Idea leuconoe", 2.5m, 2.3m, 2.1m, 40)
            .Merge("B1:D1");

        var offer = Read(book).Offers[0];

        Assert.Equal(2.4m, offer.Price);
        Assert.Equal([new PriceBreak(10, 2.2m), new PriceBreak(50, 2m)], offer.Breaks);
        Assert.Equal(60, offer.Available);
    }

    [Fact]
    public void Read_priceMergedOverRows_holdsForEach()
    {
        var book = new WorkbookBuilder();
        book.Sheet("List").Row("Species", "Price £").Row("Papilio memnon", 2.2m).Row("Papilio polytes", null).Row("Idea leuconoe", 2.3m).Merge("B2:B3");

        Assert.Equal([2.2m, 2.2m, 2.3m], Read(book).Offers.Select(offer => offer.Price));
    }

    [Fact]
    public void Read_blocksSideBySide_areReadEachByItself()
    {
        var book = new WorkbookBuilder();
        book.Sheet("List")
            .Row("Species", "£", "Qty", null, "Species", "£", "Qty")
            .Row("Papilio memnon", 2.2m, 40, null, "Morpho peleides", 3.4m, 100)
            .Row("P. polytes", 1.8m, 80, null, "M. polyphemus", 3.9m, 20);

        Assert.Equal(
            [("Papilio memnon", 40), ("Morpho helenor", 100), ("Papilio polytes", 80), ("Morpho polyphemus", 20)],
            Read(book).Offers.Select(offer => (offer.Taxon, offer.Available)).Select(pair => (pair.Taxon!, pair.Available!.Value)));
    }

    [Fact]
    public void Read_orderColumn_isNoStock()
    {
        var book = new WorkbookBuilder();
        book.Sheet("List").Row("Species", "Price £", "Your order", "Total").Row("Papilio memnon", 2.2m, 10, Formula("B2*C2", "22")).Row("Idea leuconoe", 2.3m, null, Formula("B3*C3", "0"));

        Assert.All(Read(book).Offers, offer => Assert.Null(offer.Available));
    }

    [Fact]
    public void Read_dateCell_isTheListsDate()
    {
        var book = new WorkbookBuilder();
        book.Sheet("List").Row("List date", new DateOnly(2026, 11, 23)).Row("Species", "Price £").Row("Papilio memnon", 2.2m).Row("Idea leuconoe", 2.3m);

        Assert.Equal(new DateOnly(2026, 11, 23), Read(book).Date);
    }

    [Fact]
    public void Read_zipBomb_isRefused()
    {
        using var stream = new MemoryStream();
        using (var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true))
        {
            using (var types = new StreamWriter(zip.CreateEntry("[Content_Types].xml").Open()))
                types.Write("<Types/>");
            using var part = zip.CreateEntry("xl/worksheets/sheet1.xml", CompressionLevel.Optimal).Open();
            var zeros = new byte[1024 * 1024];
            for (var i = 0; i < 40; i++)
                part.Write(zeros);
        }

        var problem = Assert.Single(ListReader.Read(stream.ToArray(), "bomb.xlsx", Lists.Options, TestContext.Current.CancellationToken).Problems);

        Assert.Contains("unpacks", problem.Found, StringComparison.Ordinal);
    }

    [Fact]
    public void Read_externalEntity_isNeverFetched()
    {
        var book = new WorkbookBuilder();
        book.Sheet("List").Row("Species", "Price £").Row("Papilio memnon", 2.2m).Row("Idea leuconoe", 2.3m);
        using var stream = new MemoryStream();
        stream.Write(book.Bytes());
        using (var zip = new ZipArchive(stream, ZipArchiveMode.Update, leaveOpen: true))
        {
            var entry = zip.Entries.First(part => part.FullName.Contains("sheet", StringComparison.Ordinal) && part.FullName.StartsWith("xl/worksheets", StringComparison.Ordinal));
            string xml;
            using (var reader = new StreamReader(entry.Open()))
                xml = reader.ReadToEnd();
            entry.Delete();
            using var writer = new StreamWriter(zip.CreateEntry(entry.FullName).Open(), Encoding.UTF8);
            writer.Write("<!DOCTYPE x [<!ENTITY e SYSTEM \"file:///etc/passwd\">]>" + xml.Replace("Papilio memnon", "&e;", StringComparison.Ordinal)[xml.IndexOf('<', StringComparison.Ordinal)..]);
        }

        var read = ListReader.Read(stream.ToArray(), "list.xlsx", Lists.Options, TestContext.Current.CancellationToken);

        Assert.False(read.IsGood);
    }

    [Fact]
    public void Read_truncatedWorkbook_isRefused()
    {
        var book = new WorkbookBuilder();
        book.Sheet("List").Row("Species", "Price £").Row("Papilio memnon", 2.2m);
        var bytes = book.Bytes();

        Assert.Equal("a damaged or cut-off workbook", Assert.Single(ListReader.Read(bytes.AsMemory(0, bytes.Length / 2), "list.xlsx", Lists.Options, TestContext.Current.CancellationToken).Problems).Found);
    }
}
