using System.Data.Common;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;

namespace Lepidary.Book.Sqlite;

/// <summary>A book in one SQLite file.</summary>
public static class SqliteBook
{
    /// <summary>The first SQLite whose write-ahead log cannot lose a committed page when it is reset.</summary>
    private static readonly Version Oldest = new(3, 51, 3);

    /// <summary>Opens the book at a path. Migrate it before the first use.</summary>
    /// <param name="options">Options of a <see cref="BookContext"/>.</param>
    /// <param name="path">File; made when it is not there. Not on a network share: SQLite's locks do not hold there.</param>
    public static DbContextOptionsBuilder UseSqliteBook(this DbContextOptionsBuilder options, string path)
    {
        ArgumentNullException.ThrowIfNull(options);
        ArgumentException.ThrowIfNullOrEmpty(path);
        var connection = new SqliteConnectionStringBuilder { DataSource = path, ForeignKeys = true, DefaultTimeout = 30 };
        return options
            .UseSqlite(connection.ToString(), sqlite => sqlite.MigrationsAssembly(typeof(SqliteBook).Assembly.GetName().Name))
            .AddInterceptors(new Settings());
    }

    /// <summary>Sets up each connection: what is said here holds for the connection, not for the file.</summary>
    private sealed class Settings : DbConnectionInterceptor
    {
        public override void ConnectionOpened(DbConnection connection, ConnectionEndEventData eventData) => SetUp(connection);

        public override Task ConnectionOpenedAsync(
            DbConnection connection, ConnectionEndEventData eventData, CancellationToken cancellationToken = default)
        {
            SetUp(connection);
            return Task.CompletedTask;
        }

        private static void SetUp(DbConnection connection)
        {
            var version = Version.Parse(connection.ServerVersion);
            if (version < Oldest)
            {
                throw new NotSupportedException($"SQLite {version} can lose committed pages; {Oldest} or newer is needed.");
            }

            using var command = connection.CreateCommand();

            // FULL: a commit is on the disk before it is acknowledged. With less, a power cut takes the last entries with it.
            command.CommandText = "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA busy_timeout = 30000; PRAGMA cache_size = -32768;";
            command.ExecuteNonQuery();
        }
    }
}
