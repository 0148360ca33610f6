using System.Text;

namespace Lepidary.Lists.Formats;

/// <summary>What a file is, by its first bytes and not by its name; and the refusal of what cannot be read.</summary>
internal static class FormatRecogniser
{
    /// <summary>Larger files are no supplier's list.</summary>
    public const int MostBytes = 20 * 1024 * 1024;

    /// <summary>Mails sent on lie in one another; deeper there is no list.</summary>
    private const int MostMails = 3;

    /// <summary>So many lines are read in seconds; no supplier has more.</summary>
    public const int MostLines = 20_000;

    private static readonly (byte[] Start, string Name)[] Binary =
    [
        ([0x89, 0x50, 0x4E, 0x47], "a picture (PNG)"),
        ([0xFF, 0xD8, 0xFF], "a picture (JPEG)"),
        ("GIF8"u8.ToArray(), "a picture (GIF)"),
        ("BM"u8.ToArray(), "a picture (BMP)"),
        ("II*\0"u8.ToArray(), "a picture (TIFF)"),
        ("MM\0*"u8.ToArray(), "a picture (TIFF)"),
        ("MZ"u8.ToArray(), "a program"),
        ([0x7F, 0x45, 0x4C, 0x46], "a program"),
        ([0x1F, 0x8B], "a compressed file (gzip)"),
        ("7z\u00BC\u00AF"u8.ToArray(), "a compressed file (7z)"),
        ([0x37, 0x7A, 0xBC, 0xAF], "a compressed file (7z)"),
        ("Rar!"u8.ToArray(), "a compressed file (RAR)"),
        ("SQLite format 3"u8.ToArray(), "a database"),
    ];

    /// <summary>The file as sheets of cells, or why not.</summary>
    /// <param name="content">The file as it came.</param>
    /// <param name="fileName">For messages.</param>
    /// <param name="depth">How many mails it lies in.</param>
    /// <param name="cancellation">Ends a reading that takes too long.</param>
    public static Checked<Source> Read(ReadOnlyMemory<byte> content, string fileName, int depth = 0, CancellationToken cancellation = default)
    {
        var bytes = content.Span;
        Problem Refuse(string found, string expected) => new(fileName, found, expected);

        if (bytes.Length > MostBytes)
            return Refuse($"{bytes.Length / (1024 * 1024)} MB", $"a list of at most {MostBytes / (1024 * 1024)} MB: send only the sheet with the offers");
        if (bytes.Length == 0)
            return Refuse("an empty file", "a list with at least one line");
        if (bytes.StartsWith("PK\u0003\u0004"u8) || bytes.StartsWith("PK\u0005\u0006"u8))
            return ZipPackage.Read(content, fileName);
        if (bytes.StartsWith((byte[])[0xD0, 0xCF, 0x11, 0xE0]) && OldOfficeFile(bytes) == OldXls)
            return OldWorkbook.Read(content, fileName);
        if (bytes.StartsWith((byte[])[0xD0, 0xCF, 0x11, 0xE0]))
            return Refuse(OldOfficeFile(bytes), bytes.IndexOf(Utf16("EncryptedPackage")) >= 0
                ? "a workbook without a password: open it with the password and save a copy without one"
                : "a newer workbook (.xlsx) or CSV: open it and save it as one of these");
        if (bytes[..Math.Min(1024, bytes.Length)].IndexOf("%PDF-"u8) >= 0)
            return PdfPages.Read(content, fileName, cancellation);
        if (bytes.StartsWith("{\\rtf"u8))
            return Refuse("a document (RTF)", "a workbook (.xlsx), CSV or text: copy the table out of it and paste it");
        foreach (var (start, name) in Binary)
        {
            if (bytes.StartsWith(start) && LooksBinary(bytes))
                return Refuse(name, "a list: a workbook (.xlsx), CSV or text");
        }

        var decoded = TextDecoder.Decode(bytes);
        if (TooManyControls(decoded.Text))
            return Refuse("a binary file", "a list: a workbook (.xlsx), CSV or text");
        if (decoded.Text.AsSpan().Trim().Length == 0)
            return Refuse("a file with nothing but white space in it", "a list with at least one line");
        if (depth > MostMails)
            return Refuse("a mail within a mail within a mail", "the mail with the list itself");
        if (IsMail(decoded.Text) && MailFile.Read(content, (attached, name) => Read(attached, name, depth + 1, cancellation)) is { } mail)
            return mail;
        if (IsPage(decoded.Text))
        {
            var stated = HtmlPage.StatedEncoding(bytes);
            var page = HtmlPage.Read(stated is null ? decoded.Text : stated.GetString(bytes), $"HTML, {stated?.WebName ?? decoded.Encoding}", fileName);
            return page.IsGood ? page.Value with { Doubts = stated is null ? decoded.Doubts : [] } : page;
        }
        if (Starts(decoded.Text.AsSpan().TrimStart(), "<?xml"))
            return Refuse("an XML file", "a workbook (.xlsx), CSV or text: open it in a spreadsheet program and save it as one of these");

        var lines = Lines.Of(decoded.Text);
        if (lines.Count > MostLines)
            return Refuse($"{lines.Count} lines", $"a list of at most {MostLines} lines: send only the part with the offers");
        var (sheet, layout) = DelimitedText.Read(lines) is { } table
            ? (table.Sheet, table.Delimiter is "tab" ? "TSV, tab" : $"CSV, {table.Delimiter}")
            : Plain(lines);
        return new Source($"{layout}, {decoded.Encoding}", [sheet]) { Doubts = decoded.Doubts };
    }

    private static (Sheet Sheet, string Layout) Plain(IReadOnlyList<string> lines)
    {
        var (sheet, layout) = PlainText.Read(lines);
        return (QuotedMail.Mark(sheet), $"text, {layout}");
    }

    private const string OldXls = "an old workbook (.xls)";

    private static string OldOfficeFile(ReadOnlySpan<byte> bytes)
    {
        if (bytes.IndexOf(Utf16("EncryptedPackage")) >= 0)
            return "a workbook locked with a password";
        if (bytes.IndexOf(Utf16("Workbook")) >= 0 || bytes.IndexOf(Utf16("Book")) >= 0)
            return OldXls;
        return bytes.IndexOf(Utf16("WordDocument")) >= 0 ? "an old document (.doc)" : "an old office file";
    }

    private static byte[] Utf16(string text) => Encoding.Unicode.GetBytes(text);

    /// <summary>Two letters can begin a text as well as a picture; a zero or control byte soon after settles it.</summary>
    private static bool LooksBinary(ReadOnlySpan<byte> bytes)
    {
        foreach (var b in bytes[..Math.Min(bytes.Length, 512)])
        {
            if (b < 9 || b is > 13 and < 32)
                return true;
        }
        return false;
    }

    private static bool TooManyControls(string text)
    {
        int controls = 0, looked = 0;
        foreach (var c in text.AsSpan(0, Math.Min(text.Length, 65536)))
        {
            looked++;
            if ((char.IsControl(c) && c is not ('\t' or '\r' or '\n' or '\f' or '\v' or '\u001F' or '\u0085')) || c is '\uFFFD' || char.IsSurrogate(c) || c is >= '\uE000' and <= '\uF8FF')
                controls++;
        }
        return controls * 50 > looked;
    }

    private static bool IsPage(string text)
    {
        var start = text.AsSpan().TrimStart();
        start = start[..Math.Min(start.Length, 4096)];
        return Starts(start, "<!doctype html") || Starts(start, "<html") || start.Contains("<table", StringComparison.OrdinalIgnoreCase) || start.Contains("<body", StringComparison.OrdinalIgnoreCase)
            || (Starts(start, "<") && start.Contains("</", StringComparison.Ordinal) && start.Contains("<p", StringComparison.OrdinalIgnoreCase));
    }

    private static bool IsMail(string text)
    {
        var start = text.AsSpan().TrimStart();
        start = start[..Math.Min(start.Length, 8192)];
        return char.IsLetter(start[0]) && (HasField(start, "MIME-Version:") || HasField(start, "Content-Type:") || (HasField(start, "Received:") && HasField(start, "Message-ID:")))
            && (HasField(start, "From:") || HasField(start, "Subject:"));
    }

    private static bool Starts(ReadOnlySpan<char> text, string with) => text.StartsWith(with, StringComparison.OrdinalIgnoreCase);

    private static bool HasField(ReadOnlySpan<char> text, string field) =>
        Starts(text, field) || text.Contains("\n" + field, StringComparison.OrdinalIgnoreCase);
}
