using System.IO.Compression;
using System.Text;
using Xunit;

namespace Lepidary.Lists.Tests;

/// <summary>Files made to cost time or memory are refused in words.</summary>
public sealed class HostileShapesTests
{
    private static string Found(byte[] content) => Assert.Single(Lists.Read(content).Problems).Found;

    [Fact]
    public void Read_pageNestedDeep_isRefused()
    {
        var page = "<html><body>" + string.Concat(Enumerable.Repeat("<div>", 100_000)) + "Papilio memnon £2.40";

        Assert.Contains("nested", Found(Encoding.UTF8.GetBytes(page)), StringComparison.Ordinal);
    }

    [Fact]
    public void Read_pageOfTagsAlone_isRefused() =>
        Assert.Contains("tags", Found(Encoding.UTF8.GetBytes("<html><body>" + string.Concat(Enumerable.Repeat("<p>", 500_000)))), StringComparison.Ordinal);

    [Fact]
    public void Read_mailsInMails_areReadOnlySoDeep()
    {
        var mail = "Content-Type: text/plain\r\n\r\nPapilio memnon £2.40\r\nIdea leuconoe £2.30\r\n";
        for (var i = 0; i < 40; i++)
            mail = $"Content-Type: multipart/mixed; boundary=b{i}\r\n\r\n--b{i}\r\nContent-Type: message/rfc822\r\nContent-Disposition: attachment\r\n\r\nFrom: a@x.invalid\r\nSubject: {i}\r\nMIME-Version: 1.0\r\n{mail}\r\n--b{i}--\r\n";

        var read = Lists.Read(Encoding.UTF8.GetBytes($"From: a@x.invalid\r\nSubject: list\r\nMIME-Version: 1.0\r\n{mail}"));

        Assert.Contains(read.Value.Doubts, doubt => doubt.Why.Contains("a mail within a mail", StringComparison.Ordinal));
    }

    [Fact]
    public void Read_mailSentOnAsAnAttachment_isRead()
    {
        var read = Lists.Read("From: a@x.invalid\r\nSubject: Fwd\r\nMIME-Version: 1.0\r\nContent-Type: multipart/mixed; boundary=b\r\n\r\n--b\r\nContent-Type: text/plain\r\n\r\nSee below.\r\n--b\r\nContent-Type: message/rfc822\r\nContent-Disposition: attachment\r\n\r\nFrom: f@x.invalid\r\nSubject: Pupae\r\nMIME-Version: 1.0\r\nContent-Type: text/plain; charset=utf-8\r\n\r\nPapilio memnon £2.40\r\nIdea leuconoe £2.30\r\n--b--\r\n"u8.ToArray());

        Assert.Equal([2.4m, 2.3m], read.Value.Offers.Select(offer => offer.Price));
    }

    [Fact]
    public void Read_pdfThatUnpacksToGigabytes_isRefused()
    {
        using var packed = new MemoryStream();
        using (var zlib = new ZLibStream(packed, CompressionLevel.Fastest, leaveOpen: true))
        {
            var zeros = new byte[1024 * 1024];
            for (var i = 0; i < 300; i++)
                zlib.Write(zeros);
        }

        Assert.Contains("unpacks", Found(Pdf(packed.ToArray())), StringComparison.Ordinal);
    }

    private static byte[] Pdf(byte[] stream)
    {
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
        Begin("<< /Type /Pages /Count 1 /Kids [3 0 R] >>\nendobj\n");
        Begin("<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents 4 0 R /Resources << >> >>\nendobj\n");
        Begin($"<< /Length {stream.Length} /Filter /FlateDecode >>\nstream\n");
        file.Write(stream);
        Text("\nendstream\nendobj\n");
        var table = file.Position;
        Text("xref\n0 5\n0000000000 65535 f \n" + string.Concat(places.Select(place => $"{place:D10} 00000 n \n")) + $"trailer << /Size 5 /Root 1 0 R >>\nstartxref\n{table}\n%%EOF");
        return file.ToArray();
    }
}
