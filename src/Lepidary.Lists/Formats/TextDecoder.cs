using System.Text;
using UtfUnknown;

namespace Lepidary.Lists.Formats;

/// <summary>A text and how its bytes were read.</summary>
/// <param name="Text">Without byte order mark and without characters that do not print.</param>
/// <param name="Encoding">For the screen.</param>
/// <param name="Doubts">In sentences.</param>
/// <param name="Coding">How the bytes behind the mark were turned into text.</param>
/// <param name="Mark">Bytes of the mark at the beginning.</param>
internal sealed record DecodedText(string Text, string Encoding, IReadOnlyList<string> Doubts, Encoding Coding, int Mark);

/// <summary>Bytes to text: what a mark or strict UTF-8 proves first, then what is likely, a guess last.</summary>
internal static class TextDecoder
{
    private static readonly Encoding Windows1252 = CodePagesEncodingProvider.Instance.GetEncoding(1252)!;

    /// <summary>Bytes that Windows-1252 does not define; a text that has them is in another code page.</summary>
    private static readonly byte[] UndefinedIn1252 = [0x81, 0x8D, 0x8F, 0x90, 0x9D];

    public static DecodedText Decode(ReadOnlySpan<byte> bytes)
    {
        if (bytes.StartsWith((byte[])[0xEF, 0xBB, 0xBF]))
            return Utf8(bytes, 3, "UTF-8 with mark") ?? Clean(bytes, 3, Encoding.UTF8, "UTF-8 with mark, damaged", Damaged);
        if (bytes.StartsWith((byte[])[0xFF, 0xFE, 0, 0]))
            return Clean(bytes, 4, Encoding.UTF32, "UTF-32");
        if (bytes.StartsWith((byte[])[0xFF, 0xFE]))
            return Clean(bytes, 2, Encoding.Unicode, "UTF-16 little-endian");
        if (bytes.StartsWith((byte[])[0xFE, 0xFF]))
            return Clean(bytes, 2, Encoding.BigEndianUnicode, "UTF-16 big-endian");
        if (Utf16WithoutMark(bytes) is { } utf16)
            return utf16;
        if (Utf8(bytes, 0, "UTF-8") is { } utf8)
            return utf8;
        if (bytes.IndexOfAny(UndefinedIn1252) < 0)
            return Clean(bytes, 0, Windows1252, "Windows-1252");
        var guess = CharsetDetector.DetectFromBytes(bytes.ToArray()).Detected;
        return guess?.Encoding is { } encoding
            ? Clean(bytes, 0, encoding, encoding.WebName, $"The characters of this file were guessed to be {encoding.WebName}: check that accents look right.")
            : Clean(bytes, 0, Windows1252, "Windows-1252, damaged", Damaged);
    }

    private const string Damaged = "Some characters of this file could not be read: check names with accents, and save the list as UTF-8 if they look wrong.";

    /// <summary>Plain Latin text in UTF-16 has a zero in nearly every second byte, always on the same side.</summary>
    private static DecodedText? Utf16WithoutMark(ReadOnlySpan<byte> bytes)
    {
        var sample = bytes[..Math.Min(bytes.Length & ~1, 4096)];
        if (sample.Length < 4)
            return null;
        int even = 0, odd = 0;
        for (var i = 0; i < sample.Length; i++)
        {
            if (sample[i] != 0)
                continue;
            if (i % 2 == 0)
                even++;
            else
                odd++;
        }
        var half = sample.Length / 2;
        if (odd > half * 0.7 && even < half * 0.05)
            return Clean(bytes, 0, Encoding.Unicode, "UTF-16 little-endian without mark");
        return even > half * 0.7 && odd < half * 0.05
            ? Clean(bytes, 0, Encoding.BigEndianUnicode, "UTF-16 big-endian without mark")
            : null;
    }

    /// <summary>UTF-8 when all of it is valid, or nearly all of what is not ASCII; null when another encoding is likelier.</summary>
    private static DecodedText? Utf8(ReadOnlySpan<byte> bytes, int mark, string name)
    {
        int valid = 0, invalid = 0;
        for (var rest = bytes[mark..]; rest.Length > 0;)
        {
            var status = Rune.DecodeFromUtf8(rest, out _, out var used);
            if (status != System.Buffers.OperationStatus.Done)
                invalid++;
            else if (used > 1)
                valid++;
            rest = rest[used..];
        }
        if (invalid == 0)
            return Clean(bytes, mark, Encoding.UTF8, name);
        return invalid * 4 <= valid ? Clean(bytes, mark, Encoding.UTF8, name + ", damaged", Damaged) : null;
    }

    private static DecodedText Clean(ReadOnlySpan<byte> bytes, int mark, Encoding coding, string encoding, params string[] doubts)
    {
        var text = coding.GetString(bytes[mark..]);
        var clean = new StringBuilder(text.Length);
        var nuls = 0;
        foreach (var c in text)
        {
            if (c == '\0')
                nuls++;
            else if (!DoesNotPrint(c))
                clean.Append(c);
        }
        return new DecodedText(
            clean.ToString(),
            encoding,
            nuls == 0 ? doubts : [.. doubts, $"{nuls} zero bytes in the text were left out: the file may be damaged."],
            coding,
            mark);
    }

    /// <summary>Zero-width and direction marks, soft hyphens, stray byte order marks: seen by nobody, and in the way of every comparison.</summary>
    public static bool DoesNotPrint(char c) =>
        c is '\u00AD' or '\uFEFF' or (>= '\u200B' and <= '\u200F') or (>= '\u202A' and <= '\u202E') or (>= '\u2060' and <= '\u2064') or (>= '\u2066' and <= '\u2069');
}
