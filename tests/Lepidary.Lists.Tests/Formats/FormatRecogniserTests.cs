using System.IO.Compression;
using System.Text;
using Lepidary.Lists.Formats;
using Xunit;

namespace Lepidary.Lists.Tests.Formats;

public sealed class FormatRecogniserTests
{
    private static byte[] Zip(params (string Name, string Content)[] entries)
    {
        using var stream = new MemoryStream();
        using (var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (name, content) in entries)
            {
                using var writer = new StreamWriter(zip.CreateEntry(name).Open());
                writer.Write(content);
            }
        }
        return stream.ToArray();
    }

    private static byte[] Ole(string stream) => [0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1, .. new byte[64], .. Encoding.Unicode.GetBytes(stream)];

    public static TheoryData<string, byte[]> Refused => new()
    {
        { "an empty file", [] },
        { "a file with nothing but white space in it", " \r\n\t"u8.ToArray() },
        { "a picture (PNG)", [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A, 0, 0, 0, 13] },
        { "a program", [0x4D, 0x5A, 0x90, 0, 3, 0, 0, 0] },
        { "a workbook locked with a password", Ole("EncryptedPackage") },
        { "a zip archive", Zip(("readme.txt", "hello")) },
        { "a damaged or cut-off workbook", "PK\u0003\u0004 and then nothing"u8.ToArray() },
        { "a binary file", [1, 2, 3, 4, 5, 6, 7, 8, 1, 2, 3, 4, 5, 6, 7, 8] },
    };

    [Theory]
    [MemberData(nameof(Refused))]
    public void Read_noList_isRefusedByName(string found, byte[] content)
    {
        var problem = Assert.Single(FormatRecogniser.Read(content, "list.csv", cancellation: TestContext.Current.CancellationToken).Problems);

        Assert.Equal("list.csv", problem.Where);
        Assert.Equal(found, problem.Found);
        Assert.NotEmpty(problem.Expected);
    }

    [Fact]
    public void Read_largerThanTheLimit_isRefusedWithTheLimit()
    {
        var problem = Assert.Single(FormatRecogniser.Read(new byte[FormatRecogniser.MostBytes + 1], "huge.csv", cancellation: TestContext.Current.CancellationToken).Problems);

        Assert.Contains("20 MB", problem.Expected, StringComparison.Ordinal);
    }

    [Fact]
    public void Read_moreLinesThanTheLimit_isRefusedWithTheLimit()
    {
        var problem = Assert.Single(FormatRecogniser.Read(Encoding.UTF8.GetBytes(string.Concat(Enumerable.Repeat("Papilio memnon 2.20\n", FormatRecogniser.MostLines + 1))), "long.csv", cancellation: TestContext.Current.CancellationToken).Problems);

        Assert.Contains("20000 lines", problem.Expected, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Species,Price\nPapilio memnon,2.20\nIdea leuconoe,2.30\n", "CSV, comma, UTF-8")]
    [InlineData("Species;Price\nPapilio memnon;2,20\nIdea leuconoe;2,30\n", "CSV, semicolon, UTF-8")]
    [InlineData("Species\tPrice\nPapilio memnon\t2,20\nIdea leuconoe\t2,30\n", "TSV, tab, UTF-8")]
    [InlineData("| Species | Price |\n|---|---|\n| Papilio memnon | 2.20 |\n", "CSV, pipe, UTF-8")]
    [InlineData("sep=^\nSpecies^Price\nPapilio memnon^2.20\n", "CSV, caret, UTF-8")]
    [InlineData("Papilio memnon 2,20\nIdea leuconoe 2,30\nMorpho peleides 3,40\n", "text, one offer a line, UTF-8")]
    [InlineData("Papilio memnon @ 2.20, min 5\nIdea leuconoe @ 2.30, 40 available\n", "text, one offer a line, UTF-8")]
    [InlineData("Species           Price\nPapilio memnon     2.20\nIdea leuconoe      2.30\n", "text, columns lined up with spaces, UTF-8")]
    [InlineData("Art / Preis / Bestand\nPapilio memnon / 2,20 / 40\n", "text, columns parted by \"/\", UTF-8")]
    public void Read_text_isRecognisedByItsContent(string text, string format) => Assert.Equal(format, FormatRecogniser.Read(Encoding.UTF8.GetBytes(text), "list", cancellation: TestContext.Current.CancellationToken).Value.Format);
}
