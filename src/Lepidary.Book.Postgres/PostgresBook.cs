using Microsoft.EntityFrameworkCore;

namespace Lepidary.Book.Postgres;

/// <summary>A book in one PostgreSQL database, for several processes at once.</summary>
public static class PostgresBook
{
    /// <summary>Opens the book in a database. Migrate it before the first use.</summary>
    /// <param name="options">Options of a <see cref="BookContext"/>.</param>
    /// <param name="connection">Connection string as Npgsql takes it.</param>
    public static DbContextOptionsBuilder UsePostgresBook(this DbContextOptionsBuilder options, string connection)
    {
        ArgumentNullException.ThrowIfNull(options);
        ArgumentException.ThrowIfNullOrEmpty(connection);
        return options.UseNpgsql(
            connection, postgres => postgres.MigrationsAssembly(typeof(PostgresBook).Assembly.GetName().Name));
    }
}
