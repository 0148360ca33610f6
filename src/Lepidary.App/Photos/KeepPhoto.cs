using Lepidary.App.Host;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Photos;

/// <summary>A photo of a box or of a lot.</summary>
/// <param name="AboutId">The delivery or the lot.</param>
/// <param name="Bytes">The picture.</param>
internal sealed record PhotoTaken(Guid AboutId, byte[] Bytes)
{
    /// <summary>Key, made with the form: sent twice, it is one photo.</summary>
    public Guid Id { get; init; } = BookId.New();

    public DateTimeOffset? MadeAt { get; init; }

    public string Who { get; init; } = "";

    /// <summary>What it shows, or null.</summary>
    public string? Note { get; init; }

    /// <summary>The photo that a form sends.</summary>
    public static async Task<PhotoTaken> Of(Guid aboutId, IFormCollection form, HttpContext http, HouseDay day)
    {
        using var bytes = new MemoryStream();
        if (form.Files.GetFile("photo") is { } file)
        {
            await file.CopyToAsync(bytes, http.RequestAborted);
        }

        return new(aboutId, bytes.ToArray()) { Id = form.Key("id") ?? BookId.New(), MadeAt = form.Made(day), Who = WhoCookie.Take(http, form), Note = form.Text("photo-note") };
    }
}

/// <summary>Keeps a photo: its bytes first, then the row that tells of them.</summary>
internal sealed class KeepPhoto(BookContext book, HouseDay day, FactInbox inbox, PhotoShelf shelf)
{
    public async Task<Checked<Photo>> Do(PhotoTaken photo, CancellationToken cancellation)
    {
        if (!await book.Deliveries.AnyAsync(delivery => delivery.Id == photo.AboutId && delivery.HouseId == day.HouseId, cancellation)
            && !await book.Lots.AnyAsync(lot => lot.Id == photo.AboutId && lot.HouseId == day.HouseId, cancellation))
        {
            return new Problem("photo", photo.AboutId.ToString(), "a delivery or a lot of this house");
        }

        if (photo.Bytes.Length == 0)
        {
            return new Problem("photo", "nothing", "a picture");
        }

        var kept = await shelf.KeepAsync(photo.Id, photo.Bytes, cancellation);
        if (!kept.IsGood)
        {
            return kept.Problems.ToArray();
        }

        if (await shelf.FindAsync(photo.Id, cancellation) is not { } image)
        {
            return new Problem("photo", "another picture under this key", "a photo of its own; load the page again");
        }

        var row = new Photo
        {
            Id = photo.Id,
            HouseId = day.HouseId,
            OnDay = day.Today,
            DeviceTime = photo.MadeAt ?? day.Now,
            Who = photo.Who,
            Note = photo.Note,
            AboutId = photo.AboutId,
            MediaType = image.MediaType,
            Sha256 = image.Sha256,
        };
        var taken = await inbox.Take(cancellation, row);
        return taken.IsGood ? row : taken.Problems.ToArray();
    }
}
