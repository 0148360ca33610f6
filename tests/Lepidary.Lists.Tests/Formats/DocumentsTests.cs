using System.IO.Compression;
using System.Text;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Wordprocessing;
using Xunit;

namespace Lepidary.Lists.Tests.Formats;

/// <summary>Pages, mails and documents lead to the same offers as a table does.</summary>
public sealed class DocumentsTests
{
    private static SupplierList Read(byte[] content, string name) => ListReader.Read(content, name, Lists.Options).Value;

    private static SupplierList Page(string body) => Read(Encoding.UTF8.GetBytes($"<!DOCTYPE html><html><head><title>Mosswell Butterflies</title><style>p{{color:red}}</style></head><body>{body}</body></html>"), "list.html");

    [Fact]
    public void Read_page_readsItsTables()
    {
        var read = Page("""
            <p>List of 23 November 2026, prices excl. VAT</p><script>alert(9.99)</script><!-- Idea leuconoe £9.99 -->
            <h2>Papilionidae</h2>
            <table><tr><th>Species<th>Price<th>Stock<tr><td><i>Papilio memnon</i><td>£2.20<td>40<tr><td><i>P.&nbsp;polytes</i><td><s>£2.00</s> £1.80<td>sold&nbsp;out</table>
            <p>Carriage £12 per box</p><p style="display:none">Morpho peleides £1.00</p>
            """);

        Assert.Equal("Mosswell Butterflies", read.Supplier);
        Assert.Equal(new DateOnly(2026, 11, 23), read.Date);
        Assert.Equal([("Papilio memnon", 2.2m, false), ("Papilio polytes", 1.8m, true)], read.Offers.Select(offer => (offer.Taxon!, offer.Price!.Value, offer.SoldOut)));
        Assert.Equal(12, Assert.Single(read.Charges).Amount);
    }

    [Fact]
    public void Read_pageWithOneTableAFamily_takesTheTitlesAlong()
    {
        var read = Page("""
            <h3>Papilionidae</h3><table><tr><th>Species<th>£<th>Stock<tr><td>Papilio memnon<td>2.20<td>40<tr><td>Papilio polytes<td>1.80<td>60</table>
            <h3>Nymphalidae</h3><table><tr><td>Idea leuconoe<td>2.30<td>25<tr><td>Kallima inachus<td>2.60<td>11</table>
            """);

        Assert.Equal([40, 60, 25, 11], read.Offers.Select(offer => offer.Available));
        Assert.Empty(read.Doubts);
    }

    [Fact]
    public void Read_pageWithSpanningCells_keepsItsColumns()
    {
        var read = Page("""
            <table><tr><th rowspan=2>Species<th colspan=2>Price £<th rowspan=2>Stock<tr><th>1-9<th>10+
            <tr><td>Papilio memnon<td>2.40<td>2.20<td>40<tr><td>Papilio polytes<td>2.00<td>1.80<td>60</table>
            """);

        Assert.Equal([(2.4m, 2.2m, 40), (2m, 1.8m, 60)], read.Offers.Select(offer => (offer.Price!.Value, offer.Breaks[0].Price, offer.Available!.Value)));
    }

    [Fact]
    public void Read_pageLaidOutWithTables_readsTheInnerOnes()
    {
        var read = Page("<table><tr><td>Menu</td><td><table><tr><th>Species<th>Price £<tr><td>Papilio memnon<td>2.20<tr><td>Papilio polytes<td>1.80</table></td></tr></table>");

        Assert.Equal([2.2m, 1.8m], read.Offers.Select(offer => offer.Price));
    }

    private const string Head = "From: Ada <ada@mosswell.example.invalid>\r\nTo: x@y.invalid\r\nSubject: Pupae this week\r\nDate: Mon, 23 Nov 2026 08:00:00 +0000\r\nMessage-ID: <1@x.invalid>\r\nMIME-Version: 1.0\r\n";

    [Fact]
    public void Read_mail_readsItsTextAndNotWhatItQuotes()
    {
        var read = Read(Encoding.UTF8.GetBytes(Head + "Content-Type: text/plain; charset=utf-8\r\n\r\nHello,\r\n\r\nPapilio memnon £2.20 (40)\r\nIdea leuconoe £2.30 (25)\r\n\r\nOn Mon, 16 Nov 2026 at 08:00, Ada wrote:\r\n> Papilio memnon £2.10 (60)\r\n> Morpho peleides £3.10\r\n"), "list.eml");

        Assert.Equal([("Papilio memnon", 2.2m), ("Idea leuconoe", 2.3m)], read.Offers.Select(offer => (offer.Taxon!, offer.Price!.Value)));
        Assert.Equal(new DateOnly(2026, 11, 23), read.Date);
    }

    [Fact]
    public void Read_mailWithAList_readsTheAttachment()
    {
        var list = Convert.ToBase64String("Species,Price £\nPapilio memnon,2.20\nIdea leuconoe,2.30\n"u8);
        var read = Read(Encoding.UTF8.GetBytes(Head + "Content-Type: multipart/mixed; boundary=b\r\n\r\n--b\r\nContent-Type: text/plain\r\n\r\nPlease find our list attached.\r\n--b\r\nContent-Type: text/csv; name=list.csv\r\nContent-Disposition: attachment; filename=list.csv\r\nContent-Transfer-Encoding: base64\r\n\r\n" + list + "\r\n--b--\r\n"), "list.eml");

        Assert.Equal([2.2m, 2.3m], read.Offers.Select(offer => offer.Price));
        Assert.All(read.Offers, offer => Assert.Equal("list.csv", offer.Sheet));
    }

    [Fact]
    public void Read_document_readsParagraphsAndTables()
    {
        using var stream = new MemoryStream();
        using (var document = WordprocessingDocument.Create(stream, WordprocessingDocumentType.Document))
        {
            static Paragraph Words(string text, bool struck = false) => new(new Run(struck ? new RunProperties(new Strike()) : new RunProperties(), new Text(text)));
            static TableRow Row(params string[] cells) => new(cells.Select(cell => new TableCell(Words(cell))));
            document.AddMainDocumentPart().Document = new Document(new Body(
                Words("Mosswell Butterflies"),
                Words("Papilio machaon – £2.40 each, 10 or more £2.10"),
                Words("Papilio polytes – £1.80", struck: true),
                new Table(Row("Species", "Price £", "Stock"), Row("Papilio memnon", "2.20", "40"), Row("Idea leuconoe", "2.30", "25")),
                Words("Postage £8.95 per order")));
        }

        var read = Read(stream.ToArray(), "list.docx");

        Assert.Equal([("Papilio machaon", 2.4m), ("Papilio polytes", 1.8m), ("Papilio memnon", 2.2m), ("Idea leuconoe", 2.3m)], read.Offers.Select(offer => (offer.Taxon!, offer.Price!.Value)));
        Assert.Equal(new PriceBreak(10, 2.1m), Assert.Single(read.Offers[0].Breaks));
        Assert.True(read.Offers[1].SoldOut);
        Assert.Equal(ChargePer.Order, Assert.Single(read.Charges).Per);
    }

    [Fact]
    public void Read_openDocumentWorkbook_readsItsCells()
    {
        const string content = """
            <?xml version="1.0" encoding="UTF-8"?>
            <office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0">
            <office:body><office:spreadsheet><table:table table:name="List">
            <table:table-row table:number-rows-repeated="2"><table:table-cell table:number-columns-repeated="16384"/></table:table-row>
            <table:table-row><table:table-cell><text:p>Species</text:p></table:table-cell><table:table-cell><text:p>Price</text:p></table:table-cell><table:table-cell><text:p>Stock</text:p></table:table-cell></table:table-row>
            <table:table-row><table:table-cell><text:p>Papilio memnon</text:p></table:table-cell><table:table-cell office:value-type="currency" office:currency="EUR" office:value="2.2"><text:p>2,20 €</text:p></table:table-cell><table:table-cell office:value-type="float" office:value="40"><text:p>40</text:p></table:table-cell></table:table-row>
            <table:table-row><table:table-cell><text:p>Idea leuconoe</text:p></table:table-cell><table:table-cell office:value-type="currency" office:currency="EUR" office:value="2.3"><text:p>2,30 €</text:p></table:table-cell><table:table-cell><text:p>ausverkauft</text:p></table:table-cell></table:table-row>
            </table:table></office:spreadsheet></office:body></office:document-content>
            """;
        using var stream = new MemoryStream();
        using (var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true))
        {
            using var writer = new StreamWriter(zip.CreateEntry("content.xml").Open());
            writer.Write(content);
        }

        var read = Read(stream.ToArray(), "list.ods");

        Assert.Equal("EUR", read.Currency);
        Assert.Equal([(4, 2.2m, false), (5, 2.3m, true)], read.Offers.Select(offer => (offer.Line, offer.Price!.Value, offer.SoldOut)));
    }
}
