using System.Data.Common;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.Book;

/// <summary>Makes a book, or brings it up to what this program writes.</summary>
public static class BookUpgrade
{
    /// <summary>
    /// Runs the migrations that the book has not seen; one that has seen them all is only looked at. A process that was killed in the middle
    /// leaves the book as it was before that migration, and does not keep the next one waiting.
    /// </summary>
    /// <param name="book">The book, which need not be there yet.</param>
    /// <param name="cancellation">Stops between two migrations.</param>
    /// <returns>The number of migrations run, or why the book cannot be opened.</returns>
    public static async Task<Checked<int>> BringUpToDateAsync(this BookContext book, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(book);
        var place = book.Database.GetDbConnection() is var connection && connection.DataSource.Length > 0 ? connection.DataSource : connection.Database;
        try
        {
            var run = await book.Database.CanConnectAsync(cancellation).ConfigureAwait(false)
                ? (await book.Database.GetAppliedMigrationsAsync(cancellation).ConfigureAwait(false)).ToList()
                : [];
            var known = book.Database.GetMigrations().ToList();
            if (run.Except(known).FirstOrDefault() is { } unknown)
            {
                return new Problem(place, $"a book that a newer program has written to ({unknown})", "that program, or a newer one");
            }

            if (run.Count == known.Count)
            {
                return 0;
            }

            await ProviderDifferences.ForgetDeadMigratorAsync(book, cancellation).ConfigureAwait(false);
            await book.Database.MigrateAsync(cancellation).ConfigureAwait(false);
            return known.Count - run.Count;
        }
        catch (DbException failure)
        {
            return new Problem(place, failure.Message, "a book that can be opened and written to");
        }
    }
}
