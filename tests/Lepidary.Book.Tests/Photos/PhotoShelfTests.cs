using Lepidary.Book.Tests.Databases;
using Xunit;

namespace Lepidary.Book.Tests.Photos;

public sealed class PhotoShelfTests
{
    private static readonly byte[] Jpeg = [0xFF, 0xD8, 0xFF, 0xE0, 0, 16, 74, 70, 73, 70];

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(DatabaseKind.Sqlite)]
    [InlineData(DatabaseKind.Postgres)]
    public async Task Keep_sameBytesTwice_changesNothing_otherBytesAreRefused(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var shelf = new PhotoShelf(book, book.Clock);
        var id = BookId.New();

        Assert.Equal(Receipt.Accepted, (await shelf.KeepAsync(id, Jpeg, Token)).Value);
        Assert.Equal(Receipt.Duplicate, (await shelf.KeepAsync(id, Jpeg, Token)).Value);
        var other = await shelf.KeepAsync(id, [.. Jpeg, 1], Token);

        Assert.Equal("photo: found another picture under this key; expected the same picture, or a key of its own", Assert.Single(other.Problems).ToString());
        var kept = await shelf.FindAsync(id, Token);
        Assert.Equal(Jpeg, kept!.Bytes);
        Assert.Equal("image/jpeg", kept.MediaType);
        Assert.Null(await shelf.FindAsync(BookId.New(), Token));
    }

    /// <summary>A row says which bytes are its picture, whichever of the two comes first.</summary>
    [Theory]
    [OnBothDatabases]
    public async Task Keep_bytesThatTheRowDoesNotTellOf_areNeverShown(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var shelf = new PhotoShelf(book, book.Clock);
        Photo Row() => new() { HouseId = book.House.Id, OnDay = book.Today, DeviceTime = book.Clock.GetUtcNow(), AboutId = BookId.New(), MediaType = "image/jpeg", Sha256 = ListShelf.Sha256(Jpeg) };
        var (rowFirst, bytesFirst) = (Row(), Row());

        await book.AcceptAsync(Token, rowFirst);
        var refused = await shelf.KeepAsync(rowFirst.Id, [.. Jpeg, 1], Token);
        var right = await shelf.KeepAsync(rowFirst.Id, Jpeg, Token);
        await shelf.KeepAsync(bytesFirst.Id, [.. Jpeg, 1], Token);
        await book.AcceptAsync(Token, bytesFirst);

        Assert.Equal("bytes that its row does not tell of", Assert.Single(refused.Problems).Found);
        Assert.Equal(Receipt.Accepted, right.Value);
        Assert.Equal(Jpeg, (await shelf.FindAsync(rowFirst.Id, Token))!.Bytes);
        Assert.Null(await shelf.FindAsync(bytesFirst.Id, Token));
    }

    [Theory]
    [InlineData("<svg xmlns=\"http://www.w3.org/2000/svg\"><script/></svg>")]
    [InlineData("GIF89a")]
    [InlineData("")]
    public async Task Keep_whatIsNoPicture_isRefused(string text)
    {
        await using var book = await TestBook.MakeAsync(DatabaseKind.Sqlite, Token);

        var kept = await new PhotoShelf(book, book.Clock).KeepAsync(BookId.New(), System.Text.Encoding.UTF8.GetBytes(text), Token);

        Assert.Equal("bytes that are no picture", Assert.Single(kept.Problems).Found);
    }

    [Fact]
    public async Task Keep_tooLarge_isRefused()
    {
        await using var book = await TestBook.MakeAsync(DatabaseKind.Sqlite, Token);
        byte[] large = [.. Jpeg, .. new byte[PhotoShelf.MostBytes]];

        var kept = await new PhotoShelf(book, book.Clock).KeepAsync(BookId.New(), large, Token);

        Assert.Equal($"at most {PhotoShelf.MostBytes} bytes", Assert.Single(kept.Problems).Expected);
    }
}
