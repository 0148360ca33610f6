using Microsoft.EntityFrameworkCore;

namespace Lepidary.Book;

/// <summary>Keeps the bytes of photos. Sending the same bytes under the same key twice changes nothing.</summary>
/// <param name="book">Makes a context for each photo.</param>
/// <param name="clock">The server's clock.</param>
public sealed class PhotoShelf(IDbContextFactory<BookContext> book, TimeProvider clock)
{
    /// <summary>Largest photo, bytes. A phone makes its photos smaller before it sends them.</summary>
    public const int MostBytes = 4_000_000;

    /// <summary>Kinds of picture that are kept: none that can carry a script.</summary>
    public static IReadOnlyList<string> Types { get; } = ["image/jpeg", "image/png", "image/webp"];

    /// <summary>Keeps the bytes of one photo, which may come before the fact itself.</summary>
    /// <param name="photoId">Key of the <see cref="Photo"/>.</param>
    /// <param name="bytes">The picture.</param>
    /// <param name="cancellation">Leaves it unwritten.</param>
    /// <returns>Written or there already; problems where it is too large, no picture, not the one that its row tells of, or another one under this key.</returns>
    public async Task<Checked<Receipt>> KeepAsync(Guid photoId, byte[] bytes, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(bytes);
        if (photoId == Guid.Empty)
        {
            return new Problem("photo", "no key", "the key that the device gave the photo");
        }

        if (bytes.Length > MostBytes)
        {
            return new Problem("photo", $"{bytes.Length} bytes", $"at most {MostBytes} bytes");
        }

        if (TypeOf(bytes) is not { } type)
        {
            return new Problem("photo", "bytes that are no picture", $"one of {string.Join(", ", Types)}");
        }

        var sha256 = ListShelf.Sha256(bytes);
        await using var context = await book.CreateDbContextAsync(cancellation).ConfigureAwait(false);
        await using var transaction = await ProviderDifferences.BeginWritingAsync(context, cancellation).ConfigureAwait(false);
        var there = await context.PhotoImages.Where(image => image.PhotoId == photoId).Select(image => image.Sha256)
            .FirstOrDefaultAsync(cancellation).ConfigureAwait(false);
        if (there is not null)
        {
            return there == sha256 ? Receipt.Duplicate : new Problem("photo", "another picture under this key", "the same picture, or a key of its own");
        }

        var said = await context.Set<Photo>().Where(photo => photo.Id == photoId).Select(photo => photo.Sha256).FirstOrDefaultAsync(cancellation).ConfigureAwait(false);
        if (said is not null && said != sha256)
        {
            return new Problem("photo", "bytes that its row does not tell of", "the picture of which the row gives the SHA-256");
        }

        context.Add(new PhotoImage { PhotoId = photoId, MediaType = type, Sha256 = sha256, ReceivedAt = clock.GetUtcNow(), Bytes = bytes });
        await context.SaveChangesAsync(cancellation).ConfigureAwait(false);
        await transaction.CommitAsync(cancellation).ConfigureAwait(false);
        return Receipt.Accepted;
    }

    /// <summary>The picture; null where its bytes have not come, or are not those that its row tells of.</summary>
    public async Task<PhotoImage?> FindAsync(Guid photoId, CancellationToken cancellation = default)
    {
        await using var context = await book.CreateDbContextAsync(cancellation).ConfigureAwait(false);
        return await context.PhotoImages.AsNoTracking()
            .Where(image => image.PhotoId == photoId && !context.Set<Photo>().Any(photo => photo.Id == photoId && photo.Sha256 != image.Sha256))
            .FirstOrDefaultAsync(cancellation).ConfigureAwait(false);
    }

    /// <summary>What the first bytes say that it is; null where they say none of <see cref="Types"/>.</summary>
    internal static string? TypeOf(ReadOnlySpan<byte> bytes) => bytes switch
    {
        [0xFF, 0xD8, 0xFF, ..] => "image/jpeg",
        [0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A, ..] => "image/png",
        [(byte)'R', (byte)'I', (byte)'F', (byte)'F', _, _, _, _, (byte)'W', (byte)'E', (byte)'B', (byte)'P', ..] => "image/webp",
        _ => null,
    };
}
