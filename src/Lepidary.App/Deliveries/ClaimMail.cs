using Lepidary.App.Host;
using Lepidary.Book;
using MimeKit;

namespace Lepidary.App.Deliveries;

/// <summary>A claim as a mail that is ready to be sent: the letter, its table, and the photos of the box as enclosures.</summary>
internal sealed class ClaimMail(ShowDelivery query, PhotoShelf shelf, HouseDay day)
{
    /// <summary>The mail as RFC 5322 writes it; null where there is nothing to claim. The sender is for the mail program to put in.</summary>
    public async Task<byte[]?> Write(Guid deliveryId, CancellationToken cancellation)
    {
        if (await query.Show(deliveryId, cancellation) is not { Letter: { } letter } view)
        {
            return null;
        }

        var body = new BodyBuilder { TextBody = letter.Text(), HtmlBody = letter.Html() };
        foreach (var (at, photo) in letter.Photos.Index())
        {
            if (await shelf.FindAsync(photo.Id, cancellation) is { } image)
            {
                await using var bytes = new MemoryStream(image.Bytes);
                await body.Attachments.AddAsync($"box-{at + 1}.{image.MediaType["image/".Length..]}", bytes, ContentType.Parse(image.MediaType), cancellation);
            }
        }

        using var mail = new MimeMessage { Subject = letter.Subject, Date = day.Now, MessageId = $"claim.{deliveryId}@lepidary.invalid", Body = body.ToMessageBody() };
        mail.From.Clear();
        if (view.SupplierEmail is { } address && MailboxAddress.TryParse(address, out var mailbox))
        {
            mailbox.Name = view.Supplier;
            mail.To.Add(mailbox);
        }

        // Programs that know this header open the mail to be sent instead of as one that came.
        mail.Headers.Add("X-Unsent", "1");
        using var written = new MemoryStream();
        await mail.WriteToAsync(written, cancellation);
        return written.ToArray();
    }
}
