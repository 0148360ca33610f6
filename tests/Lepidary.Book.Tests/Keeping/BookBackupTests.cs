using Lepidary.Book.Sqlite;
using Lepidary.Book.Tests.Databases;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace Lepidary.Book.Tests.Keeping;

public sealed class BookBackupTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Make_whileAnotherHoldsTheBookForAMoment_waitsItsTurn()
    {
        await using var book = await TestBook.MakeAsync(DatabaseKind.Sqlite, Token);
        var alone = (await BookBackup.MakeAsync(book.Place, book.Place + ".alone", Token)).Value.Path;
        await using var other = new SqliteConnection($"Data Source={alone};Pooling=False");
        await other.OpenAsync(Token);
        // Held for itself alone, as the last one to leave does while it puts the log into the book.
        await using var held = other.CreateCommand();
        held.CommandText = "BEGIN EXCLUSIVE";
        await held.ExecuteNonQueryAsync(Token);

        var making = BookBackup.MakeAsync(alone, book.Place + ".copy", Token);
        await Task.Delay(300, Token);
        var waited = !making.IsCompleted;
        await other.CloseAsync();

        Assert.Empty((await making).Problems);
        Assert.True(waited);
    }

    [Fact]
    public async Task Make_whileOthersWrite_isAWholeBookOfOneMoment()
    {
        await using var book = await TestBook.MakeAsync(DatabaseKind.Sqlite, Token);
        var lot = book.Lot("Morpho helenor", 1000);
        await book.AcceptAsync(Token, book.Delivery(lot));
        using var stop = new CancellationTokenSource();
        var writing = Task.Run(
            async () =>
            {
                // Two rows in each transaction: a torn copy would have an odd number.
                while (!stop.IsCancellationRequested)
                {
                    await book.AcceptAsync(CancellationToken.None, book.Entry(lot, male: 1), book.Entry(lot, female: 1));
                }
            },
            Token);

        var copies = new List<BookCopy>();
        for (var number = 0; number < 5; number++)
        {
            var made = await BookBackup.MakeAsync(book.Place, $"{book.Place}.{number}", Token);
            Assert.Empty(made.Problems);
            copies.Add(made.Value);
        }

        await stop.CancelAsync();
        await writing;
        Assert.All(copies, copy =>
        {
            Assert.False(File.Exists(copy.Path + ".partial"));
            Assert.False(File.Exists(copy.Path + "-wal"));
            Assert.Equal(new FileInfo(copy.Path).Length, copy.Bytes);
            Assert.Equal(1, copy.Rows["Facts"] % 2);
        });
        Assert.Equal(copies.OrderBy(copy => copy.Rows["Facts"]), copies);
    }

    [Fact]
    public async Task Restore_copyToANewPath_isTheBookAgain()
    {
        await using var book = await TestBook.MakeAsync(DatabaseKind.Sqlite, Token);
        await book.AcceptAsync(Token, book.Delivery(book.Lot("Morpho helenor", 10)));
        var copy = (await BookBackup.MakeAsync(book.Place, book.Place + ".copy", Token)).Value;

        var restored = await BookBackup.RestoreAsync(copy.Path, book.Place + ".restored", Token);

        Assert.Empty(restored.Problems);
        await using (var context = new BookContext(TestBook.Options(DatabaseKind.Sqlite, restored.Value.Path)))
        {
            Assert.Equal("Morpho helenor", (await context.Lots.SingleAsync(Token)).Taxon);
            Assert.Equal(["wal"], await context.Database.SqlQuery<string>($"PRAGMA journal_mode").ToListAsync(Token));
        }

        ClearPool(restored.Value.Path);
    }

    [Fact]
    public async Task Make_bookThatNobodyHasOpen_isCopied()
    {
        await using var book = await TestBook.MakeAsync(DatabaseKind.Sqlite, Token);
        ClearPool(book.Place);

        Assert.Empty((await BookBackup.MakeAsync(book.Place, book.Place + ".copy", Token)).Problems);
    }

    [Fact]
    public async Task Restore_overAFileOrItsLog_isRefused()
    {
        await using var book = await TestBook.MakeAsync(DatabaseKind.Sqlite, Token);
        var copy = (await BookBackup.MakeAsync(book.Place, book.Place + ".copy", Token)).Value;
        await File.WriteAllTextAsync(book.Place + ".new-wal", "an old log", Token);

        Assert.Equal("a path where nothing lies", Assert.Single((await BookBackup.RestoreAsync(copy.Path, book.Place, Token)).Problems).Expected);
        Assert.EndsWith("-wal", Assert.Single((await BookBackup.RestoreAsync(copy.Path, book.Place + ".new", Token)).Problems).Where, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("torn")]
    [InlineData("text")]
    [InlineData("empty")]
    [InlineData("absent")]
    public async Task Restore_whatIsNoBook_saysSoAndLeavesNothing(string how)
    {
        await using var book = await TestBook.MakeAsync(DatabaseKind.Sqlite, Token);
        await book.AcceptAsync(Token, [.. Enumerable.Range(0, 300).Select(_ => book.Entry(book.Lot("Morpho helenor", 10), male: 1))]);
        var copy = book.Place + ".copy";
        Assert.Empty((await BookBackup.MakeAsync(book.Place, copy, Token)).Problems);
        if (how == "torn")
        {
            var bytes = await File.ReadAllBytesAsync(copy, Token);
            bytes.AsSpan(bytes.Length / 2, 20_000).Fill(0x5A);
            await File.WriteAllBytesAsync(copy, bytes, Token);
        }
        else if (how == "absent")
        {
            File.Delete(copy);
        }
        else
        {
            await File.WriteAllTextAsync(copy, how == "text" ? new string('x', 5000) : "", Token);
        }

        var restored = await BookBackup.RestoreAsync(copy, book.Place + ".restored", Token);

        Assert.NotEmpty(restored.Problems);
        Assert.False(File.Exists(book.Place + ".restored"));
        Assert.False(File.Exists(book.Place + ".restored.partial"));
    }

    private static void ClearPool(string path)
    {
        using var context = new BookContext(TestBook.Options(DatabaseKind.Sqlite, path));
        SqliteConnection.ClearPool((SqliteConnection)context.Database.GetDbConnection());
    }
}
