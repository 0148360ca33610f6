using System.IO.Compression;
using System.Text;
using System.Text.RegularExpressions;
using Lepidary.Lists.Forms;
using Lepidary.Lists.Tests.Formats;
using Xunit;
using static Lepidary.Lists.Tests.Formats.WorkbookBuilder.SheetBuilder;

namespace Lepidary.Lists.Tests.Forms;

public sealed class OrderFormTests
{
    /// <summary>A sheet as spreadsheet programs write it: styled empty cells, a formula that several rows share, attributes in single quotes, line ends of two kinds.</summary>
    private const string Sheet =
        """<?xml version="1.0" encoding="UTF-8" standalone="yes"?>""" + "\r\n" +
        """<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheetPr><tabColor rgb="FF00AA00"/></sheetPr><dimension ref="A1:D5"/>""" +
        """<cols><col min="1" max="1" width="30" customWidth="1"/><col min="3" max="3" width="9" style="2"/></cols><sheetData>""" +
        """<row r="1" spans="1:4"><c r="A1" t="inlineStr"><is><t>Species</t></is></c><c r="B1" t="inlineStr"><is><t>Price £</t></is></c><c r="C1" t="inlineStr"><is><t>Order qty</t></is></c><c r="D1" t="inlineStr"><is><t>Total</t></is></c></row>""" + "\n" +
        """<row r="2"><c r="A2" t="inlineStr"><is><t>Papilio memnon</t></is></c><c r="B2"><v>2.20</v></c><c r="C2" s="1"/><c r="D2"><f t="shared" ref="D2:D4" si="0">B2*C2</f><v>0</v></c></row>""" +
        """<row r="3"><c r="A3" t="inlineStr"><is><t>Idea leuconoe</t></is></c><c r="B3"><v>2.30</v></c><c r="D3"><f t="shared" si="0"/><v>0</v></c></row><!-- kept > as it is -->""" +
        """<row r="4"><c r="A4" t='inlineStr'><is><t>Morpho peleides</t></is></c><c r='B4'><v>3.10</v></c><c r='C4' s='1' t='str' vm="1"><v></v></c><c r="D4"><f t="shared" si="0"/><v>0</v></c></row>""" + "\n" +
        """<row r="5"><c r="A5" t="inlineStr"><is><t>Greta oto</t></is></c><c r="B5"><v>2.80</v></c></row>""" +
        """</sheetData><sheetProtection sheet="1" objects="1"/><pageMargins left="0.7" right="0.7" top="0.75" bottom="0.75" header="0.3" footer="0.3"/></worksheet>""";

    private static byte[] Workbook(string sheet)
    {
        using var stream = new MemoryStream();
        using (var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true))
        {
            void Part(string path, string content, CompressionLevel level = CompressionLevel.Optimal)
            {
                var entry = zip.CreateEntry(path, level);
                entry.LastWriteTime = new DateTimeOffset(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);
                using var writer = new StreamWriter(entry.Open());
                writer.Write(content);
            }
            Part("[Content_Types].xml", """<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet7.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/><Override PartName="/xl/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"/></Types>""");
            Part("_rels/.rels", """<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>""");
            Part("xl/workbook.xml", """<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="Order &amp; prices" sheetId="7" r:id="rId3"/></sheets></workbook>""");
            Part("xl/_rels/workbook.xml.rels", """<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId3" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="/xl/worksheets/sheet7.xml"/><Relationship Id="rId4" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles" Target="styles.xml"/></Relationships>""");
            Part("xl/styles.xml", """<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><fonts count="1"><font/></fonts><fills count="1"><fill/></fills><borders count="1"><border/></borders><cellXfs count="3"><xf/><xf/><xf/></cellXfs></styleSheet>""", CompressionLevel.NoCompression);
            Part("xl/worksheets/sheet7.xml", sheet);
            Part("docProps/picture.bin", new string('x', 5000), CompressionLevel.SmallestSize);
        }
        return stream.ToArray();
    }

    private static string Part(byte[] workbook, string path)
    {
        using var zip = new ZipArchive(new MemoryStream(workbook));
        using var reader = new StreamReader(zip.GetEntry(path)!.Open());
        return reader.ReadToEnd();
    }

    /// <summary>Every entry of a package but one, as it is packed: name, time, checksum and the packed bytes.</summary>
    private static List<(string Name, uint Crc, DateTimeOffset Time, string Packed)> PackedParts(byte[] workbook, string but)
    {
        using var zip = new ZipArchive(new MemoryStream(workbook));
        var parts = new List<(string, uint, DateTimeOffset, string)>();
        var at = 0;
        foreach (var entry in zip.Entries)
        {
            // Local header: APPNOTE.TXT 4.3.7, lengths of name and extra field at 26 and 28.
            while (BitConverter.ToUInt32(workbook, at) != 0x04034b50)
                at++;
            var start = at + 30 + BitConverter.ToUInt16(workbook, at + 26) + BitConverter.ToUInt16(workbook, at + 28);
            Assert.Equal(entry.FullName, Encoding.UTF8.GetString(workbook, at + 30, BitConverter.ToUInt16(workbook, at + 26)));
            at = start + (int)entry.CompressedLength;
            if (entry.FullName != but)
                parts.Add((entry.FullName, entry.Crc32, entry.LastWriteTime, Convert.ToHexString(workbook.AsSpan(start, (int)entry.CompressedLength))));
        }
        return parts;
    }

    [Fact]
    public void Fill_workbook_changesOnlyTheCellsNamed()
    {
        var form = Workbook(Sheet);
        var offers = ListReader.Read(form, "form.xlsx", Lists.Options, TestContext.Current.CancellationToken).Value.Offers;
        Assert.Equal([(2, 3), (3, 3), (4, 3), (5, 3)], offers.Select(offer => (offer.Line, offer.OrderCell!.Column)));

        var filled = OrderForm.Fill(form, "form.xlsx", [.. offers.Select((offer, i) => new FormEntry(offer.Sheet, offer.Line, offer.OrderCell!.Column, (i + 1) * 10))]).Value;

        Assert.Equal(PackedParts(form, "xl/worksheets/sheet7.xml"), PackedParts(filled, "xl/worksheets/sheet7.xml"));
        var expected = Sheet
            .Replace("""<c r="C2" s="1"/>""", """<c r="C2" s="1"><v>10</v></c>""", StringComparison.Ordinal)
            .Replace("""<c r="B3"><v>2.30</v></c>""", """<c r="B3"><v>2.30</v></c><c r="C3" s="2"><v>20</v></c>""", StringComparison.Ordinal)
            .Replace("""<c r='C4' s='1' t='str' vm="1"><v></v></c>""", """<c r='C4' s='1' vm="1"><v>30</v></c>""", StringComparison.Ordinal)
            .Replace("""<c r="B5"><v>2.80</v></c>""", """<c r="B5"><v>2.80</v></c><c r="C5" s="2"><v>40</v></c>""", StringComparison.Ordinal)
            .Replace("</sheetData>", """</sheetData><sheetCalcPr fullCalcOnLoad="1"/>""", StringComparison.Ordinal);
        Assert.Equal(expected, Part(filled, "xl/worksheets/sheet7.xml"));
    }

    [Fact]
    public void Fill_workbookOfALibrary_keepsFormulasAndOtherSheets()
    {
        var book = new WorkbookBuilder();
        book.Sheet("Terms").Row("Please fill in the yellow column").Row("Permit £12.00");
        var sheet = book.Sheet("List");
        sheet.Row("Species", "Available", "Unit price", "Quantity", "Total")
            .Row("Papilio memnon", 40, sheet.Money(2.2m, "[$€-407] #,##0.00"), null, Formula("C2*D2", "0"))
            .Row("Idea leuconoe", 60, sheet.Money(2.3m, "[$€-407] #,##0.00"), null, Formula("C3*D3", "0"));
        var form = book.Bytes();
        var offers = ListReader.Read(form, "form.xlsx", Lists.Options, TestContext.Current.CancellationToken).Value.Offers;

        var filled = OrderForm.Fill(form, "form.xlsx", [new("List", 3, offers[1].OrderCell!.Column, 25)]).Value;

        var path = PackedParts(form, "").Single(part => Part(form, part.Name).Contains("memnon", StringComparison.Ordinal)).Name;
        Assert.Equal(PackedParts(form, path), PackedParts(filled, path));
        Assert.Equal(Part(form, path), Regex.Replace(Part(filled, path), """<x:c r="D3"><x:v>25</x:v></x:c>|<x:sheetCalcPr fullCalcOnLoad="1"/>""", ""));
        Assert.Equal(offers.Select(offer => (offer.Taxon, offer.Price, offer.Available)), ListReader.Read(filled, "form.xlsx", Lists.Options, TestContext.Current.CancellationToken).Value.Offers.Select(offer => (offer.Taxon, offer.Price, offer.Available)));
        using var opened = DocumentFormat.OpenXml.Packaging.SpreadsheetDocument.Open(new MemoryStream(filled), isEditable: false);
        Assert.Empty(new DocumentFormat.OpenXml.Validation.OpenXmlValidator().Validate(opened.WorkbookPart!.WorksheetParts.Single(part => part.Worksheet!.InnerText.Contains("memnon", StringComparison.Ordinal)), TestContext.Current.CancellationToken));
    }

    [Fact]
    public void Fill_cellWithAFormula_isRefusedWithItsPlace()
    {
        var form = Workbook(Sheet);

        var filled = OrderForm.Fill(form, "form.xlsx", [new("Order & prices", 2, 3, 5), new("Order & prices", 3, 4, 5)]);

        Assert.False(filled.IsGood);
        Assert.Contains("row 3", filled.Problems[0].ToString(), StringComparison.Ordinal);
        Assert.Contains("formula", filled.Problems[0].ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("windows-1252", false)]
    [InlineData("utf-8", true)]
    [InlineData("utf-8", false)]
    [InlineData("utf-16", true)]
    public void Fill_text_keepsEncodingDelimiterQuotesAndLineEnds(string coding, bool mark)
    {
        var encoding = CodePagesEncodingProvider.Instance.GetEncoding(coding) ?? Encoding.GetEncoding(coding);
        const string Before = "Schmetterlingsfarm Grünwald;;;\r\n\"Art\";\"Preis €\";\"Bestellmenge\";\"Bemerkung\"\r\n\"Papilio memnon\";\"2,20\";\"\";\"groß; \"\"schön\"\"\"\r\nIdea leuconoe;2,30;;\nMorpho peleides;3,10\r\nGreta oto;2,80;0;klein\r\n\"Heliconius melpomene\";1,90;;\"zwei\r\nZeilen\"";
        const string After = "Schmetterlingsfarm Grünwald;;;\r\n\"Art\";\"Preis €\";\"Bestellmenge\";\"Bemerkung\"\r\n\"Papilio memnon\";\"2,20\";\"10\";\"groß; \"\"schön\"\"\"\r\nIdea leuconoe;2,30;20;\nMorpho peleides;3,10;30\r\nGreta oto;2,80;40;klein\r\n\"Heliconius melpomene\";1,90;50;\"zwei\r\nZeilen\"";
        byte[] Bytes(string text) => [.. mark ? encoding.GetPreamble() : [], .. encoding.GetBytes(text)];
        var form = Bytes(Before);
        var offers = ListReader.Read(form, "form.csv", Lists.Options, TestContext.Current.CancellationToken).Value.Offers;
        Assert.Equal([3, 4, 5, 6, 7], offers.Select(offer => offer.Line));

        var filled = OrderForm.Fill(form, "form.csv", [.. offers.Select((offer, i) => new FormEntry(null, offer.Line, offer.OrderCell!.Column, (i + 1) * 10))]);

        Assert.Equal(Bytes(After), filled.Value);
    }

    [Theory]
    [InlineData("Species,Price per pack,Pack,Order packs", 5)]
    [InlineData("Species,Price per pack,Pack,Order", 5)]
    [InlineData("Species,Price per pack,Pack,Order (pupae)", 1)]
    [InlineData("Species,Price each,Pack,Order", 1)]
    public void OrderCell_counts_whatTheFormSays(string titles, int counts)
    {
        var price = titles.Contains("each", StringComparison.Ordinal) ? "2.20" : "11.00";

        var offer = Lists.Read($"{titles}\nPapilio memnon,{price},5,\nIdea leuconoe,{price},5,\n").Offers[0];

        Assert.Equal((2.2m, 5), (offer.Price, offer.Pack));
        Assert.Equal(new OrderCell(4, counts), offer.OrderCell);
    }

    [Theory]
    [InlineData("Species,Price,Your order")]
    [InlineData("Art,Preis,Bestellmenge")]
    [InlineData("Espèce,Prix,Quantité")]
    [InlineData("Especie,Precio,Cantidad")]
    [InlineData("Soort,Prijs,Aantal")]
    [InlineData("Specie,Prezzo,Quantità")]
    [InlineData("Species,Price,Qty")]
    public void OrderCell_isTheEmptyColumnOfNumbers_inSixLanguages(string titles) =>
        Assert.All(Lists.Read($"{titles}\nPapilio memnon,2.20,\nIdea leuconoe,2.30,\n").Offers, offer => Assert.Equal(new OrderCell(3, 1), offer.OrderCell));

    [Fact]
    public void OrderCell_columnOfWhatThereIs_isNone() =>
        Assert.All(Lists.Read("Species,Price,Qty\nPapilio memnon,2.20,40\nIdea leuconoe,2.30,60\n").Offers, offer => Assert.Null(offer.OrderCell));

    [Fact]
    public void OrderCell_isNotTheColumnOfLineNumbersWithGaps() =>
        Assert.All(Lists.Read("No.;Species;Price;Available;Order\n151;Papilio memnon;2,20;40;\n153;Idea leuconoe;2,30;60;\n160;Greta oto;2,80;20;\n").Offers, offer => Assert.Equal(5, offer.OrderCell!.Column));

    [Fact]
    public void Fill_listThatIsNoTable_isRefused() =>
        Assert.Contains("workbook (.xlsx) or CSV", OrderForm.Fill("Papilio memnon 2.20\nIdea leuconoe 2.30\n"u8.ToArray(), "list.txt", [new(null, 1, 3, 5)]).Problems[0].ToString(), StringComparison.Ordinal);
}
