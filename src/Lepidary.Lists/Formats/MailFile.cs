using System.Globalization;
using MimeKit;

namespace Lepidary.Lists.Formats;

/// <summary>A mail file (.eml): its text or page, and its attachments that are lists.</summary>
internal static class MailFile
{
    private const int MostAttachments = 10;

    /// <summary>The mail as sheets, or null when it is no mail that can be read.</summary>
    public static Source? Read(ReadOnlyMemory<byte> content, Func<ReadOnlyMemory<byte>, string, Checked<Source>> readAttachment)
    {
        MimeMessage mail;
        try
        {
            using var stream = new MemoryStream(content.ToArray(), writable: false);
            mail = MimeMessage.Load(stream);
        }
        catch (FormatException)
        {
            return null;
        }
        var sheets = new List<Sheet>();
        var doubts = new List<string>();
        var format = "e-mail";
        var attachments = mail.Attachments.ToList();
        if (attachments.Count > MostAttachments)
            doubts.Add($"The mail has {attachments.Count} attachments: the first {MostAttachments} were read.");
        foreach (var attachment in attachments.Take(MostAttachments))
        {
            if (attachment.ContentType.IsMimeType("image", "*"))
                continue;
            using var bytes = new MemoryStream();
            // A mail sent on as an attachment is read as a mail.
            var name = attachment is MessagePart sentOn ? sentOn.Message?.Subject ?? "mail" : (attachment as MimePart)?.FileName ?? "attachment";
            if (attachment is MessagePart { Message: { } inner })
                inner.WriteTo(bytes);
            else
                (attachment as MimePart)?.Content?.DecodeTo(bytes);
            if (bytes.Length == 0)
                continue;
            var read = readAttachment(bytes.ToArray(), name);
            if (!read.IsGood)
            {
                doubts.Add($"The attachment {name} was left out: {read.Problems[0].Found}.");
                continue;
            }
            doubts.AddRange(read.Value.Doubts);
            sheets.AddRange(read.Value.Sheets.Select(sheet => sheet with { Name = sheet.Name is null ? name : $"{name}: {sheet.Name}" }));
            format = $"e-mail with {read.Value.Format}";
        }
        sheets.Insert(0, Body(mail, named: sheets.Count > 0, doubts));
        return new Source(format, sheets) { Doubts = doubts };
    }

    private static Sheet Body(MimeMessage mail, bool named, List<string> doubts)
    {
        var head = new List<string>();
        if (mail.From.Mailboxes.FirstOrDefault() is { Name: { Length: > 0 } sender })
            head.Add($"From: {sender}");
        if (mail.Subject is { Length: > 0 } subject)
            head.Add($"Subject: {subject}");
        if (mail.Date.Year > 1990)
            head.Add($"Sent: {mail.Date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)}");
        // The page is taken when it has a table or is all there is; else the text, which is plainer.
        var html = mail.HtmlBody;
        var rows = mail.TextBody is { Length: > 0 } text && (html is null || !html.Contains("<table", StringComparison.OrdinalIgnoreCase))
            ? PlainText.Read(Lines.Of(text)).Sheet.Rows
            : Page(html ?? "", doubts);
        var all = head.Select((line, i) => new Row(i + 1, line, [new Cell(0, line)]))
            .Concat(rows.Select(row => row with { Number = row.Number + head.Count }))
            .ToList();
        return QuotedMail.Mark(new Sheet(named ? "mail" : null, false, all));
    }

    private static IReadOnlyList<Row> Page(string html, List<string> doubts)
    {
        var page = HtmlPage.Read(html, "", "the mail");
        if (page.IsGood)
            return page.Value.Sheets[0].Rows;
        doubts.Add($"The page in the mail was left out: {page.Problems[0].Found}.");
        return [];
    }
}
