using System.Text;
using Lepidary.Lists.Formats;
using Xunit;

namespace Lepidary.Lists.Tests.Formats;

public sealed class TextDecoderTests
{
    private const string Text = "Überraschung; 2,40 €; épuisé; Größe\nPapilio memnon; 2,20 €; 40 Stück\n";

    public static TheoryData<string, byte[]> Encodings => new()
    {
        { "UTF-8", Encoding.UTF8.GetBytes(Text) },
        { "UTF-8 with mark", [0xEF, 0xBB, 0xBF, .. Encoding.UTF8.GetBytes(Text)] },
        { "UTF-16 little-endian", [0xFF, 0xFE, .. Encoding.Unicode.GetBytes(Text)] },
        { "UTF-16 big-endian", [0xFE, 0xFF, .. Encoding.BigEndianUnicode.GetBytes(Text)] },
        { "UTF-16 little-endian without mark", Encoding.Unicode.GetBytes(Text) },
        { "UTF-16 big-endian without mark", Encoding.BigEndianUnicode.GetBytes(Text) },
        { "Windows-1252", CodePagesEncodingProvider.Instance.GetEncoding(1252)!.GetBytes(Text) },
    };

    [Theory]
    [MemberData(nameof(Encodings))]
    public void Decode_encoding_givesTheText(string encoding, byte[] bytes)
    {
        var decoded = TextDecoder.Decode(bytes);

        Assert.Equal((Text, encoding), (decoded.Text, decoded.Encoding));
        Assert.Empty(decoded.Doubts);
    }

    [Fact]
    public void Decode_truncatedUtf8_keepsTheRestAndSaysSo()
    {
        var decoded = TextDecoder.Decode(Encoding.UTF8.GetBytes(Text + "é").AsSpan()[..^1]);

        Assert.StartsWith(Text, decoded.Text, StringComparison.Ordinal);
        Assert.Single(decoded.Doubts);
    }

    [Fact]
    public void Decode_marksThatDoNotPrint_areLeftOut() => Assert.Equal("Papilio memnon", TextDecoder.Decode("Pap\u200Bilio\u202E mem\u00ADnon"u8).Text);

    [Fact]
    public void Decode_zeroBytes_areLeftOutAndSaid()
    {
        var decoded = TextDecoder.Decode("Papilio\0 memnon 2.20"u8);

        Assert.Equal("Papilio memnon 2.20", decoded.Text);
        Assert.Single(decoded.Doubts);
    }
}
