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

        await context.Database.MigrateAsync(Token);

        Assert.Empty(await context.Database.GetPendingMigrationsAsync(Token));
        Assert.Equal("Thornmere Glasshouse", (await context.Houses.SingleAsync(Token)).Name);
    }
}
