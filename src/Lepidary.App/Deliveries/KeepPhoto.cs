using Lepidary.App.Host;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Deliveries;

/// <summary>A photo of a box.</summary>
/// <param name="DeliveryId">The delivery.</param>
/// <param name="Bytes">The picture.</param>
internal sealed record BoxPhoto(Guid DeliveryId, byte[] Bytes)
{
    /// <summary>Key, made with the form: sent twice, it is one photo.</summary>
    public Guid Id { get; init; } = BookId.New();

    public DateTimeOffset? MadeAt { get; init; }

    public string Who { get; init; } = "";

    /// <summary>What it shows, or null.</summary>
    public string? Note { get; init; }
}

/// <summary>Keeps a photo of a box: its bytes first, then the row that tells of them.</summary>
internal sealed class KeepPhoto(BookContext book, HouseDay day, FactInbox inbox, PhotoShelf shelf)
{
    public async Task<Checked<Photo>> Do(BoxPhoto photo, CancellationToken cancellation)
    {
        if (!await book.Deliveries.AnyAsync(delivery => delivery.Id == photo.DeliveryId && delivery.HouseId == day.HouseId, cancellation))
        {
            return new Problem("delivery", photo.DeliveryId.ToString(), "a delivery of this house");
        }

        if (photo.Bytes.Length == 0)
        {
            return new Problem("photo", "nothing", "a picture");
        }

        var kept = await shelf.KeepAsync(photo.Id, photo.Bytes, cancellation);
        if (!kept.IsGood || await shelf.FindAsync(photo.Id, cancellation) is not { } image)
        {
            return kept.Problems.ToArray();
        }

        var row = new Photo
        {
            Id = photo.Id,
            HouseId = day.HouseId,
            OnDay = day.Today,
            DeviceTime = photo.MadeAt ?? day.Now,
            Who = photo.Who,
            Note = photo.Note,
            AboutId = photo.DeliveryId,
            MediaType = image.MediaType,
            Sha256 = image.Sha256,
        };
        var taken = await inbox.Take(cancellation, row);
        return taken.IsGood ? row : taken.Problems.ToArray();
    }
}
