using System.Globalization;
using System.IO.Compression;
using System.Text;
using Lepidary.Taxa;

namespace Lepidary.Bench.Lists;

/// <summary>One invented list of 150 offers in each of the formats that suppliers send.</summary>
internal static class SampleLists
{
    private const int Offers = 150;

    private sealed record Offer(string Name, string Common, string Price, string Break, int There);

    private static readonly List<Offer> All = [.. TaxonTable.Shipped.All.Where(taxon => taxon.TradedOften).Take(Offers).Select((taxon, i) => new Offer(
        taxon.Name, taxon.CommonNames is [var common, ..] ? common : "", Money(2 + (i % 30 / 10.0m)), Money(1.8m + (i % 30 / 10.0m)), 10 + (i % 60)))];

    public static IReadOnlyList<string> Formats { get; } = ["csv", "xlsx", "pdf", "html", "txt"];

    /// <summary>The bytes of the list.</summary>
    public static byte[] Of(string format) => format switch
    {
        "csv" => Utf8("Species;Common name;Price EUR;from 20;Available\n" + string.Concat(All.Select(offer => $"{offer.Name};{offer.Common};{offer.Price};{offer.Break};{offer.There}\n"))),
        "html" => Utf8("<!DOCTYPE html><html><body><h1>Pupae</h1><table><tr><th>Species</th><th>Common name</th><th>Price EUR</th><th>from 20</th><th>Available</th></tr>"
            + string.Concat(All.Select(offer => $"<tr><td><i>{offer.Name}</i></td><td>{offer.Common}</td><td>{offer.Price}</td><td>{offer.Break}</td><td>{offer.There}</td></tr>")) + "</table></body></html>"),
        "txt" => Utf8("Good morning, prices in EUR and without tax.\n\n" + string.Concat(All.Chunk(4).Select(four => "We have " + string.Join(", ", four.Select(offer => $"{offer.There} {offer.Name} at {offer.Price}")) + ".\n"))),
        "xlsx" => Workbook(),
        "pdf" => Pdf(),
        _ => throw new ArgumentOutOfRangeException(nameof(format)),
    };

    private static string Money(decimal amount) => amount.ToString("0.00", CultureInfo.InvariantCulture);

    private static byte[] Utf8(string text) => Encoding.UTF8.GetBytes(text);

    private static byte[] Workbook()
    {
        static string Text(string text) => $"<c t=\"inlineStr\"><is><t>{text.Replace("&", "&amp;", StringComparison.Ordinal)}</t></is></c>";
        static string Number(string number) => $"<c><v>{number}</v></c>";
        var rows = "<row>" + string.Concat(((string[])["Species", "Common name", "Price EUR", "from 20", "Available"]).Select(Text)) + "</row>"
            + string.Concat(All.Select(offer => $"<row>{Text(offer.Name)}{Text(offer.Common)}{Number(offer.Price)}{Number(offer.Break)}{Number(offer.There.ToString(CultureInfo.InvariantCulture))}</row>"));
        using var made = new MemoryStream();
        using (var zip = new ZipArchive(made, ZipArchiveMode.Create, leaveOpen: true))
        {
            Part("[Content_Types].xml", "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"><Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/><Override PartName=\"/xl/workbook.xml\" ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml\"/><Override PartName=\"/xl/worksheets/sheet1.xml\" ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml\"/></Types>");
            Part("_rels/.rels", "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\"><Relationship Id=\"r1\" Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>");
            Part("xl/workbook.xml", "<workbook xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\" xmlns:r=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships\"><sheets><sheet name=\"Stock\" sheetId=\"1\" r:id=\"r1\"/></sheets></workbook>");
            Part("xl/_rels/workbook.xml.rels", "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\"><Relationship Id=\"r1\" Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet\" Target=\"worksheets/sheet1.xml\"/></Relationships>");
            Part("xl/worksheets/sheet1.xml", $"<worksheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><sheetData>{rows}</sheetData></worksheet>");

            void Part(string name, string xml)
            {
                using var stream = zip.CreateEntry(name).Open();
                stream.Write(Utf8("<?xml version=\"1.0\" encoding=\"UTF-8\"?>" + xml));
            }
        }

        return made.ToArray();
    }

    /// <summary>Four pages of a table, packed as PDFs are.</summary>
    private static byte[] Pdf()
    {
        var pages = All.Chunk(45).ToList();
        using var file = new MemoryStream();
        var places = new List<long>();
        void Text(string text) => file.Write(Encoding.Latin1.GetBytes(text));
        void Begin(string text)
        {
            places.Add(file.Position);
            Text($"{places.Count} 0 obj\n{text}");
        }

        Text("%PDF-1.4\n");
        Begin("<< /Type /Catalog /Pages 2 0 R >>\nendobj\n");
        Begin($"<< /Type /Pages /Count {pages.Count} /Kids [{string.Join(' ', pages.Select((_, i) => $"{4 + (2 * i)} 0 R"))}] >>\nendobj\n");
        Begin("<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding >>\nendobj\n");
        foreach (var (page, i) in pages.Select((page, i) => (page, i)))
        {
            var content = new StringBuilder("BT /F1 9 Tf\n");
            void At(int x, int y, string text) => content.Append(CultureInfo.InvariantCulture, $"1 0 0 1 {x} {y} Tm ({text.Replace("(", "\\(", StringComparison.Ordinal).Replace(")", "\\)", StringComparison.Ordinal)}) Tj\n");
            foreach (var (title, x) in ((string, int)[])[("Species", 40), ("Common name", 200), ("Price EUR", 370), ("from 20", 440), ("Available", 500)])
                At(x, 800, title);
            for (var row = 0; row < page.Length; row++)
            {
                var y = 784 - (16 * row);
                At(40, y, page[row].Name);
                At(200, y, page[row].Common);
                At(370, y, page[row].Price);
                At(440, y, page[row].Break);
                At(500, y, page[row].There.ToString(CultureInfo.InvariantCulture));
            }

            content.Append("ET");
            using var packed = new MemoryStream();
            using (var zlib = new ZLibStream(packed, CompressionLevel.Optimal, leaveOpen: true))
                zlib.Write(Encoding.Latin1.GetBytes(content.ToString()));
            Begin($"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents {5 + (2 * i)} 0 R /Resources << /Font << /F1 3 0 R >> >> >>\nendobj\n");
            Begin($"<< /Length {packed.Length} /Filter /FlateDecode >>\nstream\n");
            file.Write(packed.ToArray());
            Text("\nendstream\nendobj\n");
        }

        var table = file.Position;
        Text($"xref\n0 {places.Count + 1}\n0000000000 65535 f \n" + string.Concat(places.Select(place => $"{place:D10} 00000 n \n")) + $"trailer << /Size {places.Count + 1} /Root 1 0 R >>\nstartxref\n{table}\n%%EOF");
        return file.ToArray();
    }
}
