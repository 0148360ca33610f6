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
    /// <summary>More mails than a supplier sends in years.</summary>
    public const int MostMails = 2000;

    /// <summary>True for a mailbox with many mails.</summary>
    public static bool Is(ReadOnlySpan<byte> content) => content.StartsWith("From "u8) && content[..Math.Min(content.Length, 200)].IndexOf((byte)'\n') > 0;

    /// <summary>The mails of a mailbox in its order.</summary>
    /// <param name="content">The file.</param>
    /// <param name="fileName">For messages.</param>
    public static Checked<IReadOnlyList<Mail>> Read(byte[] content, string fileName)
    {
        ArgumentNullException.ThrowIfNull(content);
        ArgumentNullException.ThrowIfNull(fileName);
        var mails = new List<Mail>();
        try
        {
            using var stream = new MemoryStream(content, writable: false);
            var parser = new MimeParser(stream, MimeFormat.Mbox);
            while (!parser.IsEndOfStream)
            {
                if (mails.Count == MostMails)
                    return new Problem(fileName, $"more than {MostMails} mails", "a mailbox with the lists of some months");
                mails.Add(Of(parser.ParseMessage()));
            }
        }
        catch (FormatException)
        {
            return new Problem(fileName, $"a damaged mailbox: after mail {mails.Count} it can't be read", "a whole mailbox (.mbox), or its mails one by one (.eml)");
        }
        return mails;
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
