using System.Data;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;

namespace Lepidary.Book;

/// <summary>
/// Everything in which the two databases differ, so that nothing else in the book asks which one it is.
/// </summary>
/// <remarks>
/// <list type="bullet">
/// <item>decimal: PostgreSQL has exact numbers. SQLite has none, and EF Core would write text, which sorts 10 before 9; here it is a
/// whole number of millionths. Both keep six places; trailing noughts are no part of a number.</item>
/// <item>time: PostgreSQL keeps microseconds in UTC. SQLite has no type for it and gets UTC text that sorts as time does. Both are cut to the microsecond.</item>
/// <item>text: PostgreSQL sorts by the language of the cluster, SQLite by code point; here both by code point.</item>
/// <item>writers: SQLite's transactions for writing wait for each other. PostgreSQL's do not, and take a lock first, so that facts
/// get their numbers of arrival in the order in which they are committed.</item>
/// <item>readers: one state of the book is a snapshot in both, by different names.</item>
/// <item>migrations: PostgreSQL's lock goes with the process that holds it. On SQLite it is a row, which a killed process leaves behind.</item>
/// </list>
/// </remarks>
internal static class ProviderDifferences
{
    private const decimal Millionth = 1_000_000m;

    /// <summary>Any number that no other program uses in the same database.</summary>
    private const long WritersLock = 0x4c_65_70_69_64_61_72_79;

    /// <summary>No migration of a book takes longer; a lock older than this belongs to a process that was killed.</summary>
    private static readonly TimeSpan LongestMigration = TimeSpan.FromMinutes(10);

    internal static void Apply(ModelConfigurationBuilder conventions, string? provider)
    {
        conventions.Properties<Enum>().HaveConversion<string>();
        if (IsSqlite(provider))
        {
            conventions.Properties<decimal>().HaveConversion<Millionths>();
            conventions.Properties<DateTimeOffset>().HaveConversion<UtcText>();
        }
        else
        {
            conventions.Properties<decimal>().HaveConversion<PlainDecimal>().HavePrecision(18, 6);
            conventions.Properties<DateTimeOffset>().HaveConversion<UtcMicroseconds>();
            conventions.Properties<string>().UseCollation("C");
        }
    }

    /// <summary>Opens a transaction that is alone in writing facts; others wait.</summary>
    internal static async Task<IDbContextTransaction> BeginWritingAsync(BookContext book, CancellationToken cancellation)
    {
        var transaction = await book.Database.BeginTransactionAsync(cancellation).ConfigureAwait(false);
        if (!IsSqlite(book.Database.ProviderName))
        {
            await book.Database.ExecuteSqlAsync($"SELECT pg_advisory_xact_lock({WritersLock})", cancellation).ConfigureAwait(false);
        }

        return transaction;
    }

    /// <summary>Opens a transaction that reads one state of the book while others write on.</summary>
    internal static Task<IDbContextTransaction> BeginReadingAsync(BookContext book, CancellationToken cancellation) =>
        book.Database.BeginTransactionAsync(
            IsSqlite(book.Database.ProviderName)
                ? IsolationLevel.ReadUncommitted // The driver's word for one that takes no lock for writing; it reads a snapshot all the same.
                : IsolationLevel.RepeatableRead,
            cancellation);

    /// <summary>Removes the lock of a process that was killed while it migrated.</summary>
    internal static async Task ForgetDeadMigratorAsync(BookContext book, CancellationToken cancellation)
    {
        const string Tables = "SELECT count(*) AS \"Value\" FROM sqlite_schema WHERE name = '__EFMigrationsLock'";
        if (IsSqlite(book.Database.ProviderName)
            && await book.Database.SqlQueryRaw<int>(Tables).SingleAsync(cancellation).ConfigureAwait(false) > 0)
        {
            var seconds = LongestMigration.TotalSeconds;
            await book.Database.ExecuteSqlAsync(
                $"DELETE FROM \"__EFMigrationsLock\" WHERE unixepoch(\"Timestamp\") < unixepoch() - {seconds}", cancellation).ConfigureAwait(false);
        }
    }

    /// <summary>An instant as both databases keep it: UTC, cut to the microsecond.</summary>
    internal static DateTimeOffset Kept(DateTimeOffset time)
    {
        var utc = time.ToUniversalTime();
        return utc.AddTicks(-(utc.Ticks % TimeSpan.TicksPerMicrosecond));
    }

    /// <summary>A number as both databases keep it: six places, no trailing noughts.</summary>
    internal static decimal Kept(decimal number) => Math.Round(number, 6) / 1.0000000000000000000000000000m;

    private static bool IsSqlite(string? provider) => provider == "Microsoft.EntityFrameworkCore.Sqlite";

    private sealed class Millionths() : ValueConverter<decimal, long>(
        number => (long)(Math.Round(number, 6) * Millionth), stored => Kept(stored / Millionth));

    private sealed class PlainDecimal() : ValueConverter<decimal, decimal>(number => Kept(number), stored => Kept(stored));

    private sealed class UtcText() : ValueConverter<DateTimeOffset, DateTime>(
        time => Kept(time).UtcDateTime, stored => new DateTimeOffset(DateTime.SpecifyKind(stored, DateTimeKind.Utc)));

    private sealed class UtcMicroseconds() : ValueConverter<DateTimeOffset, DateTimeOffset>(time => Kept(time), stored => stored);
}
