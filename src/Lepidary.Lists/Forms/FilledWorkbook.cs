using System.IO.Compression;
using System.Text;
using System.Xml;

namespace Lepidary.Lists.Forms;

/// <summary>
/// Puts numbers into cells of a workbook (.xlsx) without writing it anew: the parts of the package stay as they are packed, and in the one
/// of the sheet only the cells named are replaced.
/// </summary>
internal static class FilledWorkbook
{
    private const string Relations = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    private const string StrictRelations = "http://purl.oclc.org/ooxml/officeDocument/relationships";

    public static Checked<byte[]> Fill(ReadOnlyMemory<byte> content, string fileName, IReadOnlyList<FormEntry> entries)
    {
        try
        {
            using var stream = new MemoryStream();
            stream.Write(content.Span);
            // What an archive under change has opened it packs anew, so all is read from another one.
            using (var read = new ZipArchive(new MemoryStream(content.ToArray(), writable: false), ZipArchiveMode.Read))
            using (var zip = new ZipArchive(stream, ZipArchiveMode.Update, leaveOpen: true))
            {
                var parts = SheetParts(read);
                foreach (var sheet in entries.GroupBy(entry => entry.Sheet))
                {
                    if (sheet.Key is null || !parts.TryGetValue(sheet.Key, out var path) || read.GetEntry(path) is not { } part)
                        return new Problem(fileName, $"no sheet \"{sheet.Key}\"", "the sheet that the order was made from");
                    var filled = FilledSheet.Fill(Bytes(part), fileName, [.. sheet]);
                    if (!filled.IsGood)
                        return filled.Problems.ToArray();
                    using var written = zip.GetEntry(path)!.Open();
                    written.SetLength(0);
                    written.Write(filled.Value);
                }
            }
            return stream.ToArray();
        }
        catch (Exception exception) when (exception is InvalidDataException or XmlException or DecoderFallbackException)
        {
            return new Problem(fileName, "a workbook whose parts can't be changed by themselves", "a workbook that a spreadsheet program wrote: fill this one in by hand");
        }
    }

    /// <summary>Where each sheet's part stands in the package, by the sheet's name.</summary>
    private static Dictionary<string, string> SheetParts(ZipArchive zip)
    {
        var book = Target(zip, "_rels/.rels", "", relation => relation.Type.EndsWith("/officeDocument", StringComparison.Ordinal)).Values.FirstOrDefault() ?? "xl/workbook.xml";
        var folder = book.Contains('/', StringComparison.Ordinal) ? book[..(book.LastIndexOf('/') + 1)] : "";
        var targets = Target(zip, $"{folder}_rels/{book[folder.Length..]}.rels", folder, relation => relation.Type.EndsWith("/worksheet", StringComparison.Ordinal));
        var parts = new Dictionary<string, string>(StringComparer.Ordinal);
        if (zip.GetEntry(book) is not { } entry)
            return parts;
        using var xml = Reader(Bytes(entry));
        while (xml.Read())
        {
            if (xml is { NodeType: XmlNodeType.Element, LocalName: "sheet" } && xml.GetAttribute("name") is { } name
                && (xml.GetAttribute("id", Relations) ?? xml.GetAttribute("id", StrictRelations)) is { } id && targets.TryGetValue(id, out var path))
                parts.TryAdd(name, path);
        }
        return parts;
    }

    private static Dictionary<string, string> Target(ZipArchive zip, string relations, string folder, Func<(string Type, string Target), bool> wanted)
    {
        var targets = new Dictionary<string, string>(StringComparer.Ordinal);
        if (zip.GetEntry(relations) is not { } entry)
            return targets;
        using var xml = Reader(Bytes(entry));
        while (xml.Read())
        {
            if (xml is { NodeType: XmlNodeType.Element, LocalName: "Relationship" } && xml.GetAttribute("Id") is { } id && xml.GetAttribute("Target") is { } target && wanted((xml.GetAttribute("Type") ?? "", target)))
                targets[id] = target.StartsWith('/') ? target[1..] : Simple(folder + target);
        }
        return targets;
    }

    /// <summary>A path without <c>..</c> in it.</summary>
    private static string Simple(string path)
    {
        var kept = new List<string>();
        foreach (var part in path.Split('/'))
        {
            if (part == "..")
                kept.RemoveRange(Math.Max(0, kept.Count - 1), Math.Min(1, kept.Count));
            else if (part is not ("" or "."))
                kept.Add(part);
        }
        return string.Join('/', kept);
    }

    private static byte[] Bytes(ZipArchiveEntry entry)
    {
        using var part = entry.Open();
        using var memory = new MemoryStream();
        part.CopyTo(memory);
        return memory.ToArray();
    }

    private static XmlReader Reader(byte[] bytes) => XmlReader.Create(new MemoryStream(bytes), new XmlReaderSettings { DtdProcessing = DtdProcessing.Prohibit, XmlResolver = null });
}
