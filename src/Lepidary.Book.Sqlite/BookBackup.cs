using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using Microsoft.Data.Sqlite;

namespace Lepidary.Book.Sqlite;

/// <summary>A copy of the book that was looked through and found whole.</summary>
/// <param name="Path">Where it lies.</param>
/// <param name="Bytes">Its size.</param>
/// <param name="Sha256">Its SHA-256, 64 lower-case hexadecimal digits.</param>
/// <param name="Rows">Rows by table.</param>
public sealed record BookCopy(string Path, long Bytes, string Sha256, IReadOnlyDictionary<string, long> Rows);

/// <summary>
/// Copies a book while it is in use, and brings a copy back. A file is never copied as a file: without its log, or beside a writer,
/// such a copy may be torn or old.
/// </summary>
public static class BookBackup
{
    /// <summary>Seconds to wait for a book that another holds.</summary>
    private const int Patience = 30;

    /// <summary>Copies the book to a new file, under a passing name until it was looked through.</summary>
    /// <param name="book">Path of the book; others may write to it meanwhile.</param>
    /// <param name="target">Path of the copy; nothing may lie there.</param>
    /// <param name="cancellation">Leaves nothing at <paramref name="target"/>.</param>
    public static Task<Checked<BookCopy>> MakeAsync(string book, string target, CancellationToken cancellation = default) =>
        Task.Run(() => Copy(book, target, cancellation), cancellation);

    /// <summary>
    /// Brings a copy back to a new path, after looking it through. Nothing that lies there is overwritten: move the old book away first,
    /// with its <c>-wal</c> and <c>-shm</c>.
    /// </summary>
    /// <param name="copy">Path of the copy.</param>
    /// <param name="target">Path of the book to be; nothing may lie there.</param>
    /// <param name="cancellation">Leaves nothing at <paramref name="target"/>.</param>
    public static Task<Checked<BookCopy>> RestoreAsync(string copy, string target, CancellationToken cancellation = default) =>
        Task.Run(() => Copy(copy, target, cancellation), cancellation);

    private static Checked<BookCopy> Copy(string source, string target, CancellationToken cancellation)
    {
        ArgumentException.ThrowIfNullOrEmpty(source);
        ArgumentException.ThrowIfNullOrEmpty(target);
        if (!File.Exists(source))
        {
            return new Problem(source, "nothing", "a book");
        }

        if (Array.Find([target, target + "-wal", target + "-shm"], File.Exists) is { } there)
        {
            return new Problem(there, "a file", "a path where nothing lies");
        }

        var partial = target + ".partial";
        File.Delete(partial);
        try
        {
            var problems = Fill(source, partial, out var rows, cancellation);
            if (problems.Count > 0)
            {
                return problems.ToArray();
            }

            // On the disk before it gets its name: a name promises a whole copy.
            using (var file = new FileStream(partial, FileMode.Open, FileAccess.ReadWrite))
            {
                file.Flush(flushToDisk: true);
            }

            using var reading = File.OpenRead(partial);
            var copy = new BookCopy(target, reading.Length, Convert.ToHexStringLower(SHA256.HashData(reading)), rows);
            cancellation.ThrowIfCancellationRequested();
            File.Move(partial, target);
            return copy;
        }
        catch (SqliteException failure)
        {
            return new Problem(source, failure.Message, "a book that can be read, and room for its copy");
        }
        finally
        {
            File.Delete(partial);
        }
    }

    private static List<Problem> Fill(
        string source, string partial, out IReadOnlyDictionary<string, long> rows, CancellationToken cancellation)
    {
        rows = new Dictionary<string, long>();
        using var from = Open(source, SqliteOpenMode.ReadOnly);
        using var to = Open(partial, SqliteOpenMode.ReadWriteCreate);
        CopyPages(from, to, cancellation);
        cancellation.ThrowIfCancellationRequested();

        // A single file, with no log beside it.
        var mode = Ask(to, "PRAGMA journal_mode = DELETE").Single();
        var problems = Ask(to, "PRAGMA integrity_check").Where(answer => answer != "ok")
            .Concat(Ask(to, "PRAGMA foreign_key_check").Select(table => $"a row in {table} that refers to nothing"))
            .Concat(mode == "delete" ? [] : [$"journal mode {mode}"])
            .Select(answer => new Problem(partial, answer, "a whole copy in one file")).ToList();
        var tables = Ask(to, "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name").ToList();
        if (!tables.Contains("__EFMigrationsHistory") || !tables.Contains("Facts"))
        {
            problems.Add(new(source, "another database", "a book"));
            return problems;
        }

        var counted = tables.ToDictionary(table => table, table => Count(to, table));
        foreach (var (table, count) in counted)
        {
            // The book may have grown since; a book only grows, but for its settings.
            if (table is "Facts" or "Lots" && Count(from, table) < count)
            {
                problems.Add(new(partial, $"{count.ToString(CultureInfo.InvariantCulture)} rows of {table}", "no more than the book has"));
            }
        }

        rows = counted;
        return problems;
    }

    /// <summary>The library's copying gives up at once where another holds the book for a moment; a keeper's copy waits its turn, as every command does.</summary>
    private static void CopyPages(SqliteConnection from, SqliteConnection to, CancellationToken cancellation)
    {
        const int busy = 5, locked = 6;
        for (var since = Stopwatch.StartNew(); ;)
        {
            try
            {
                from.BackupDatabase(to);
                return;
            }
            catch (SqliteException failure) when (failure.SqliteErrorCode is busy or locked && since.Elapsed.TotalSeconds < Patience)
            {
                cancellation.WaitHandle.WaitOne(100);
                cancellation.ThrowIfCancellationRequested();
            }
        }
    }

    private static SqliteConnection Open(string path, SqliteOpenMode mode)
    {
        var connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = path, Mode = mode, Pooling = false, DefaultTimeout = Patience }.ToString());
        connection.Open();
        return connection;
    }

    private static IEnumerable<string> Ask(SqliteConnection connection, string question)
    {
        using var command = connection.CreateCommand();
        command.CommandText = question;
        using var answers = command.ExecuteReader();
        while (answers.Read())
        {
            yield return answers.GetString(0);
        }
    }

    private static long Count(SqliteConnection connection, string table) =>
        long.Parse(Ask(connection, $"SELECT CAST(count(*) AS TEXT) FROM \"{table}\"").Single(), CultureInfo.InvariantCulture);
}
