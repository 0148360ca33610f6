using Lepidary.Lists.Formats;
using MimeKit;

namespace Lepidary.Lists;

/// <summary>One mail of a mailbox.</summary>
/// <param name="Subject">Subject, or <c>mail</c> where there is none.</param>
/// <param name="Sender">Address of the sender, or null.</param>
/// <param name="Sent">When it was sent, or null.</param>
/// <param name="Content">The mail as a file of its own (.eml).</param>
public sealed record Mail(string Subject, string? Sender, DateTimeOffset? Sent, byte[] Content);

/// <summary>Mails handed over together in one file (.mbox, RFC 4155), or one by itself (.eml, RFC 5322).</summary>
public static class Mailbox
{
    /// <summary>More mails than all suppliers send in years.</summary>
    public const int MostMails = 20_000;

    /// <summary>True for a mailbox with many mails.</summary>
    public static bool Is(ReadOnlySpan<byte> content) => content.StartsWith("From "u8) && content[..Math.Min(content.Length, 200)].IndexOf((byte)'\n') > 0;

    /// <summary>The mails of a mailbox in its order.</summary>
    /// <param name="content">The file.</param>
    /// <param name="fileName">For messages.</param>
    public static Checked<IReadOnlyList<Mail>> Read(byte[] content, string fileName)
    {
        ArgumentNullException.ThrowIfNull(content);
        using var stream = new MemoryStream(content, writable: false);
        var mails = new List<Mail>();
        foreach (var mail in Each(stream, fileName))
        {
            if (!mail.IsGood)
                return mail.Problems.ToArray();
            mails.Add(mail.Value);
        }
        return mails;
    }

    /// <summary>The mails of a mailbox one after the other, as they come from the stream: a mailbox of any length, one mail in memory at a time.</summary>
    /// <param name="stream">The file, from its beginning.</param>
    /// <param name="fileName">For messages.</param>
    /// <returns>Each mail, or why it can't be read; the mails behind one that is too long or damaged still come.</returns>
    public static IEnumerable<Checked<Mail>> Each(Stream stream, string fileName)
    {
        ArgumentNullException.ThrowIfNull(stream);
        ArgumentNullException.ThrowIfNull(fileName);
        var number = 0;
        foreach (var bytes in Parts(stream))
        {
            if (++number > MostMails)
            {
                yield return new Problem(fileName, $"more than {MostMails} mails", "a mailbox with the lists of some months");
                yield break;
            }
            yield return bytes is null
                ? new Problem($"{fileName}, mail {number}", $"a mail of more than {FormatRecogniser.MostBytes / (1024 * 1024)} MB", "a mail with the list alone")
                : One(bytes, $"{fileName}, mail {number}");
        }
    }

    private static Checked<Mail> One(byte[] bytes, string where)
    {
        try
        {
            using var stream = new MemoryStream(bytes, writable: false);
            return Of(MimeMessage.Load(stream));
        }
        catch (FormatException)
        {
            return new Problem(where, "a damaged mail", "a whole mailbox (.mbox), or its mails one by one (.eml)");
        }
    }

    /// <summary>The bytes between the lines "From sender date", which begin a mail at the top of the file and behind a blank line; null for what is too long for a list.</summary>
    private static IEnumerable<byte[]?> Parts(Stream stream)
    {
        using var part = new MemoryStream();
        var (began, tooLong, blank) = (false, false, true);
        foreach (var line in Lines(stream))
        {
            var text = line.Span;
            if (blank && text.StartsWith("From "u8) && text.IndexOf((byte)':') > 0)
            {
                if (began)
                    yield return tooLong ? null : part.ToArray();
                part.SetLength(0);
                (began, tooLong, blank) = (true, false, false);
                continue;
            }
            blank = text.Trim("\r\n"u8).IsEmpty;
            if (!began || tooLong)
                continue;
            if (part.Length + line.Length > FormatRecogniser.MostBytes)
                tooLong = true;
            else
                // ">From " is how a mailbox writes a line of text that begins with "From ".
                part.Write(text.StartsWith(">From "u8) ? text[1..] : text);
        }
        if (began)
            yield return tooLong ? null : part.ToArray();
    }

    /// <summary>Longer lines are cut; no mail has such.</summary>
    private const int LongestLine = 1024 * 1024;

    private static IEnumerable<ReadOnlyMemory<byte>> Lines(Stream stream)
    {
        var buffer = new byte[LongestLine];
        var (filled, from) = (0, 0);
        while (true)
        {
            var end = Array.IndexOf(buffer, (byte)'\n', from, filled - from);
            if (end >= 0)
            {
                yield return buffer.AsMemory(from, end + 1 - from);
                from = end + 1;
                continue;
            }
            if (filled - from == buffer.Length)
            {
                yield return buffer.AsMemory(from, filled - from);
                (filled, from) = (0, 0);
            }
            else if (from > 0)
            {
                Buffer.BlockCopy(buffer, from, buffer, 0, filled - from);
                (filled, from) = (filled - from, 0);
            }
            var read = stream.Read(buffer, filled, buffer.Length - filled);
            if (read == 0)
                break;
            filled += read;
        }
        if (filled > from)
            yield return buffer.AsMemory(from, filled - from);
    }

    /// <summary>What a mail by itself says of itself; null where the file is no mail.</summary>
    public static Mail? OfFile(byte[] content)
    {
        ArgumentNullException.ThrowIfNull(content);
        try
        {
            using var stream = new MemoryStream(content, writable: false);
            var mail = MimeMessage.Load(stream);
            return mail.From.Count > 0 || mail.Subject is not null ? Of(mail) with { Content = content } : null;
        }
        catch (FormatException)
        {
            return null;
        }
    }

    private static Mail Of(MimeMessage mail)
    {
        using var bytes = new MemoryStream();
        mail.WriteTo(bytes);
        return new Mail(
            string.IsNullOrWhiteSpace(mail.Subject) ? "mail" : mail.Subject.Trim(),
            mail.From.Mailboxes.FirstOrDefault()?.Address is { Length: > 0 } address ? address : null,
            mail.Date.Year > 1990 ? mail.Date : null,
            bytes.ToArray());
    }
}
