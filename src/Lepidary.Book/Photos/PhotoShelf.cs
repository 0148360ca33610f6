using Microsoft.EntityFrameworkCore;
using UUIDNext;

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

    /// <summary>
    /// Keeps what <see cref="KeepAsync"/> refused as something to settle, so that a device that sends it again for ever need not: a conflict under the photo's
    /// key, and the picture itself under <see cref="OtherKey"/> where it is one. Sent again, it changes nothing.
    /// </summary>
    /// <param name="photoId">Key that the device gave.</param>
    /// <param name="houseId">House.</param>
    /// <param name="bytes">What came.</param>
    /// <param name="problems">Why it was refused.</param>
    /// <param name="cancellation">Leaves it unwritten.</param>
    public async Task RefuseAsync(Guid photoId, Guid houseId, byte[] bytes, IReadOnlyList<Problem> problems, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(bytes);
        ArgumentNullException.ThrowIfNull(problems);
        var (type, sha256, now) = (TypeOf(bytes), ListShelf.Sha256(bytes), clock.GetUtcNow());
        var body = FactJson.Canonical(new Photo { Id = photoId, HouseId = houseId, MediaType = type ?? "", Sha256 = sha256, Note = string.Join("; ", problems.Select(problem => $"found {problem.Found}, expected {problem.Expected}")) });
        var bodySha256 = FactJson.Sha256(body);
        await using var context = await book.CreateDbContextAsync(cancellation).ConfigureAwait(false);
        await using var transaction = await ProviderDifferences.BeginWritingAsync(context, cancellation).ConfigureAwait(false);
        if (await context.Conflicts.AnyAsync(conflict => conflict.FactId == photoId && conflict.BodySha256 == bodySha256, cancellation).ConfigureAwait(false))
        {
            return;
        }

        context.Add(new FactConflict { FactId = photoId, HouseId = houseId, ReceivedAt = now, Body = body, BodySha256 = bodySha256 });
        var other = OtherKey(photoId, sha256);
        if (type is not null && bytes.Length <= MostBytes && !await context.PhotoImages.AnyAsync(image => image.PhotoId == other, cancellation).ConfigureAwait(false))
        {
            context.Add(new PhotoImage { PhotoId = other, MediaType = type, Sha256 = sha256, ReceivedAt = now, Bytes = bytes });
        }

        await context.SaveChangesAsync(cancellation).ConfigureAwait(false);
        await transaction.CommitAsync(cancellation).ConfigureAwait(false);
    }

    /// <summary>The key under which a picture is kept that was refused under its own.</summary>
    /// <param name="photoId">Key that the device gave.</param>
    /// <param name="sha256">SHA-256 of the bytes, in small hexadecimal digits.</param>
    public static Guid OtherKey(Guid photoId, string sha256) => Uuid.NewNameBased(photoId, sha256);

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
