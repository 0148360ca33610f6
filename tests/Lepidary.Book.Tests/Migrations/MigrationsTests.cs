using Lepidary.Book.Sqlite;
using Lepidary.Book.Tests.Databases;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace Lepidary.Book.Tests.Migrations;

public sealed class MigrationsTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Theory]
    [OnBothDatabases]
    public void Migrations_andTheModel_sayTheSame(DatabaseKind kind)
    {
        using var context = new BookContext(TestBook.Options(kind, kind == DatabaseKind.Sqlite ? "none.db" : "Host=none"));

        Assert.False(context.Database.HasPendingModelChanges(), "Run tools/add-migration NAME.");
    }

    [Fact]
    public void Migrations_ofBothDatabases_bearTheSameNames()
    {
        using var sqlite = new BookContext(TestBook.Options(DatabaseKind.Sqlite, "none.db"));
        using var postgres = new BookContext(TestBook.Options(DatabaseKind.Postgres, "Host=none"));

        Assert.Equal(Names(sqlite), Names(postgres));
        Assert.NotEmpty(Names(sqlite));

        static IEnumerable<string> Names(BookContext context) => context.Database.GetMigrations().Select(name => name[(name.IndexOf('_', StringComparison.Ordinal) + 1)..]);
    }

    [Theory]
    [OnBothDatabases]
    public async Task Migrate_bookThatIsUpToDate_changesNothing(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        await using var context = book.CreateDbContext();

        Assert.Equal(0, (await context.BringUpToDateAsync(Token)).Value);

        Assert.Empty(await context.Database.GetPendingMigrationsAsync(Token));
        Assert.Equal("Thornmere Glasshouse", (await context.Houses.SingleAsync(Token)).Name);
    }

    [Theory]
    [OnBothDatabases]
    public async Task BringUpToDate_bookOfANewerProgram_isRefused(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        await using var context = book.CreateDbContext();
        await context.Database.ExecuteSqlAsync($"INSERT INTO \"__EFMigrationsHistory\" VALUES ('20990101000000_Hovering', '99.0')", Token);

        var problem = Assert.Single((await context.BringUpToDateAsync(Token)).Problems);

        Assert.Equal("a book that a newer program has written to (20990101000000_Hovering)", problem.Found);
    }

    [Fact]
    public async Task BringUpToDate_lockLeftByAKilledProcess_doesNotWaitForIt()
    {
        var path = Path.Combine(Directory.CreateTempSubdirectory("lepidary-book-").FullName, "book.db");
        await using (var context = new BookContext(TestBook.Options(DatabaseKind.Sqlite, path)))
        {
            await context.Database.ExecuteSqlAsync($"CREATE TABLE \"__EFMigrationsLock\" (\"Id\" INTEGER NOT NULL PRIMARY KEY, \"Timestamp\" TEXT NOT NULL)", Token);
            await context.Database.ExecuteSqlAsync($"INSERT INTO \"__EFMigrationsLock\" VALUES (1, '2026-11-25 10:02:03.1234567+00:00')", Token);

            Assert.Equal(context.Database.GetMigrations().Count(), (await context.BringUpToDateAsync(Token)).Value);
            Microsoft.Data.Sqlite.SqliteConnection.ClearPool((Microsoft.Data.Sqlite.SqliteConnection)context.Database.GetDbConnection());
        }

        Directory.Delete(Path.GetDirectoryName(path)!, recursive: true);
    }

    [Fact]
    public async Task BringUpToDate_fileThatIsNoBook_saysSoAndLeavesItAlone()
    {
        var path = Path.GetTempFileName();
        await File.WriteAllTextAsync(path, new string('x', 5000), Token);
        await using (var context = new BookContext(TestBook.Options(DatabaseKind.Sqlite, path)))
        {
            var problem = Assert.Single((await context.BringUpToDateAsync(Token)).Problems);
            Assert.Equal((path, "a book that can be opened and written to"), (problem.Where, problem.Expected));
        }

        Assert.Equal(new string('x', 5000), await File.ReadAllTextAsync(path, Token));
        File.Delete(path);
    }

    /// <summary>Books as earlier programs left them; each is kept with the number of rows in its tables.</summary>
    [Theory]
    [MemberData(nameof(OldBooks))]
    public async Task BringUpToDate_bookOfAnEarlierProgram_keepsEveryRow(string name)
    {
        var old = Path.Combine(AppContext.BaseDirectory, "Old", name);
        var path = Path.Combine(Directory.CreateTempSubdirectory("lepidary-book-").FullName, "book.db");
        await using (var packed = new System.IO.Compression.GZipStream(File.OpenRead(old), System.IO.Compression.CompressionMode.Decompress))
        await using (var unpacked = File.Create(path))
        {
            await packed.CopyToAsync(unpacked, Token);
        }

        await using (var context = new BookContext(TestBook.Options(DatabaseKind.Sqlite, path)))
        {
            Assert.Empty((await context.BringUpToDateAsync(Token)).Problems);
            // A copy is looked through for what does not hold together.
            var copy = await BookBackup.MakeAsync(path, path + ".copy", Token);
            Assert.Empty(copy.Problems);
            foreach (var line in await File.ReadAllLinesAsync(old + ".rows", Token))
            {
                var table = line.Split(' ')[0];
                Assert.Equal(line, $"{table} {copy.Value.Rows[table]}");
            }

            var house = await context.Houses.AsNoTracking().SingleAsync(Token);
            var back = await context.Facts.AsNoTracking().WithRows().ToListAsync(Token);
            Assert.Equal("Thornmere Glasshouse", house.Name);
            Assert.All(back, fact => Assert.Equal(house.Id, fact.HouseId));
            Microsoft.Data.Sqlite.SqliteConnection.ClearPool((Microsoft.Data.Sqlite.SqliteConnection)context.Database.GetDbConnection());
        }

        Directory.Delete(Path.GetDirectoryName(path)!, recursive: true);
    }

    public static TheoryData<string> OldBooks() =>
        [.. Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "Old"), "*.db.gz").Select(path => Path.GetFileName(path)!)];
}
