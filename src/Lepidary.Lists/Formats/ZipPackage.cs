using System.IO.Compression;
using System.Xml;
using DocumentFormat.OpenXml.Packaging;

namespace Lepidary.Lists.Formats;

/// <summary>Thrown while a part is read that holds more than any list does; its message says what was found.</summary>
internal sealed class TooLargeException(string message) : Exception(message);

/// <summary>What comes packed as a zip: workbooks and documents of two families. Looked into before anything of it is parsed.</summary>
internal static class ZipPackage
{
    /// <summary>Most bytes that the parts of a workbook may unpack to.</summary>
    private const long MostUnpacked = 100L * 1024 * 1024;

    /// <summary>Packed this tightly, a part of some size is a trap and no list.</summary>
    private const int MostRatio = 400;

    private const int MostParts = 2000;

    /// <summary>Most bytes of one part that is text: in memory it takes many times as much.</summary>
    private const long MostOfAPart = 40L * 1024 * 1024;

    public static Checked<Source> Read(ReadOnlyMemory<byte> content, string fileName)
    {
        try
        {
            using var stream = new MemoryStream(content.ToArray(), writable: false);
            using (var zip = new ZipArchive(stream, ZipArchiveMode.Read, leaveOpen: true))
            {
                if (WhyNot(zip) is var (found, expected))
                    return new Problem(fileName, found, expected);
                if (zip.GetEntry("content.xml") is not null && zip.GetEntry("[Content_Types].xml") is null)
                    return OpenDocumentSheets.Read(zip, fileName);
            }
            stream.Position = 0;
            using (var zip = new ZipArchive(stream, ZipArchiveMode.Read, leaveOpen: true))
            {
                if (zip.GetEntry("word/document.xml") is null)
                {
                    stream.Position = 0;
                    return XlsxWorkbook.Read(stream, fileName);
                }
            }
            stream.Position = 0;
            return WordDocument.Read(stream, fileName);
        }
        catch (TooLargeException exception)
        {
            return new Problem(fileName, exception.Message, "a list: send only the sheet with the offers");
        }
        catch (Exception exception) when (exception is OpenXmlPackageException or InvalidDataException or FileFormatException or XmlException or IOException
            or FormatException or ArgumentException or InvalidOperationException or NotSupportedException or OverflowException
            or KeyNotFoundException or NullReferenceException or IndexOutOfRangeException or InvalidCastException)
        {
            // The libraries meet damaged files with whatever exception the damage leads to; to the keeper they are all one thing.
            return new Problem(fileName, "a damaged or cut-off workbook", "a whole workbook: fetch the file again, or open it and save it anew");
        }
    }

    /// <summary>Looks into the package before anything is parsed: what it is, and whether it unpacks to a sane size.</summary>
    private static (string Found, string Expected)? WhyNot(ZipArchive zip)
    {
        if (zip.Entries.Count > MostParts)
            return ($"a package of {zip.Entries.Count} parts", "a workbook that a spreadsheet program wrote");
        bool Has(string path) => zip.Entries.Any(entry => entry.FullName.StartsWith(path, StringComparison.OrdinalIgnoreCase));
        if (!Has("xl/") && !Has("[Content_Types].xml") && !Has("content.xml"))
            return ("a zip archive", "the list itself: unpack the archive and hand in the list");
        if (Has("xl/workbook.bin"))
            return ("a binary workbook (.xlsb)", "a workbook (.xlsx) or CSV: open it and save it as one of these");
        if (!Has("xl/") && !Has("word/") && !Has("content.xml"))
            return ("an office file without sheets", "a workbook (.xlsx), CSV or text");

        var unpacked = 0L;
        var buffer = new byte[81920];
        foreach (var entry in zip.Entries)
        {
            // The stated length can lie, so it is unpacked and counted.
            using var part = entry.Open();
            var length = 0L;
            for (int read; (read = part.Read(buffer)) > 0;)
            {
                length += read;
                unpacked += read;
                if (unpacked > MostUnpacked || (length > MostOfAPart && entry.FullName.EndsWith(".xml", StringComparison.OrdinalIgnoreCase)) || (length > 5 * 1024 * 1024 && length / Math.Max(1, entry.CompressedLength) > MostRatio))
                    return ("a workbook that unpacks to far more than it holds", $"a workbook of at most {MostUnpacked / (1024 * 1024)} MB unpacked");
            }
        }
        return null;
    }
}
