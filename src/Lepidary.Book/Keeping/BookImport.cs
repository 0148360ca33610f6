using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;

namespace Lepidary.Book;

/// <summary>Reads back what <see cref="BookExport"/> wrote, into a book with nothing in it.</summary>
public static class BookImport
{
    private const int BatchRows = 500;

    /// <summary>Beyond so many problems a file is plainly not what it should be.</summary>
    private const int MostProblems = 20;

    /// <summary>Reads a whole book; with any problem nothing is written.</summary>
    /// <param name="book">A migrated book with nothing in it.</param>
    /// <param name="from">The lines.</param>
    /// <param name="name">Name of the file, for the problems.</param>
    /// <param name="cancellation">Leaves the book empty.</param>
    /// <returns>Rows read.</returns>
    public static async Task<Checked<long>> ReadAsync(
        BookContext book, Stream from, string name, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(book);
        ArgumentNullException.ThrowIfNull(from);
        var tables = BookTables.InOrder(book.Model);
        await using var transaction = await ProviderDifferences.BeginWritingAsync(book, cancellation).ConfigureAwait(false);
        foreach (var table in tables)
        {
            await foreach (var _ in BookTables.Rows(book, table).WithCancellation(cancellation).ConfigureAwait(false))
            {
                return new Problem("book", "a book with rows in it", "an empty book to import into");
            }
        }

        var problems = new List<Problem>();
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        using var reader = new StreamReader(from, new UTF8Encoding(false, throwOnInvalidBytes: false));
        long rows = 0;
        var number = 0;
        var ended = false;
        while (problems.Count < MostProblems && await reader.ReadLineAsync(cancellation).ConfigureAwait(false) is { } line)
        {
            number++;
            var where = $"{name}, line {number.ToString(CultureInfo.InvariantCulture)}";
            if (ended)
            {
                problems.Add(new(where, "more after the end", "nothing"));
                break;
            }

            try
            {
                using var json = JsonDocument.Parse(line);
                var root = json.RootElement;
                if (number == 1)
                {
                    CheckHead(root, where, problems);
                }
                else if (root.TryGetProperty("end", out var end))
                {
                    ended = true;
                    CheckEnd(root, end, rows, Convert.ToHexStringLower(hash.GetHashAndReset()), where, problems);
                    continue;
                }
                else if (Row(root, tables, where, problems) is { } row)
                {
                    book.Add(row);
                    rows++;
                }
            }
            catch (Exception failure) when (failure is JsonException or InvalidOperationException or FormatException or KeyNotFoundException)
            {
                problems.Add(new(where, Start(line), number == 1 ? "the head of an exported book" : "a line of an exported book"));
            }

            if (number == 1 && problems.Count > 0)
            {
                break;
            }

            hash.AppendData(Encoding.UTF8.GetBytes(line + "\n"));
            if (problems.Count == 0 && rows % BatchRows == 0)
            {
                await SaveAsync(book, where, problems, cancellation).ConfigureAwait(false);
            }
        }

        if (problems.Count == 0 && !ended)
        {
            problems.Add(new(name, $"{number.ToString(CultureInfo.InvariantCulture)} lines and no end", "a whole file: this one was cut short"));
        }

        if (problems.Count == 0)
        {
            await SaveAsync(book, name, problems, cancellation).ConfigureAwait(false);
        }

        book.ChangeTracker.Clear();
        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        await transaction.CommitAsync(cancellation).ConfigureAwait(false);
        return rows;
    }

    private static void CheckHead(JsonElement head, string where, List<Problem> problems)
    {
        if (!head.TryGetProperty("lepidary", out var what) || what.GetString() != "book")
        {
            problems.Add(new(where, Start(head.GetRawText()), "the head of an exported book"));
        }
        else if (!head.TryGetProperty("format", out var format) || format.GetInt32() != BookExport.Format)
        {
            problems.Add(new(where, Start(head.GetRawText()), $"format {BookExport.Format}, the one that this program knows"));
        }
    }

    private static void CheckEnd(JsonElement root, JsonElement end, long rows, string sha256, string where, List<Problem> problems)
    {
        if (problems.Count > 0)
        {
            return;
        }

        var count = rows.ToString(CultureInfo.InvariantCulture);
        if (end.GetString() != count)
        {
            problems.Add(new(where, $"{count} rows before it", $"{end.GetString()} rows: lines were lost or added"));
        }
        else if (!root.TryGetProperty("sha256", out var sum) || sum.GetString() != sha256)
        {
            problems.Add(new(where, $"SHA-256 {sha256}", "the sum that the end tells: the file was changed"));
        }
    }

    private static object? Row(JsonElement root, IReadOnlyList<IEntityType> tables, string where, List<Problem> problems)
    {
        var name = root.GetProperty("table").GetString();
        var values = root.GetProperty("row");
        var type = tables.FirstOrDefault(table => table.ClrType.Name == name);
        var isFact = type?.FindDiscriminatorProperty() is not null;
        if (isFact)
        {
            var kind = values.GetProperty(BookTables.Kind).GetString();
            type = type!.GetDerivedTypesInclusive().FirstOrDefault(one => !one.ClrType.IsAbstract && (string?)one.GetDiscriminatorValue() == kind);
        }

        if (type is null)
        {
            problems.Add(new(where, Start(root.GetRawText()), "a table that this program knows"));
            return null;
        }

        var row = Activator.CreateInstance(type.ClrType)!;
        var members = BookTables.Members(type).ToDictionary(member => member.Name, StringComparer.Ordinal);
        foreach (var value in values.EnumerateObject().Where(value => !isFact || value.Name != BookTables.Kind))
        {
            if (members.TryGetValue(value.Name, out var member))
            {
                member.SetValue(row, value.Value.Deserialize(member.PropertyType, BookTables.Json));
            }
            else
            {
                problems.Add(new(where, value.Name, $"a column of {name} that this program knows"));
            }
        }

        return row;
    }

    private static async Task SaveAsync(BookContext book, string where, List<Problem> problems, CancellationToken cancellation)
    {
        try
        {
            await book.SaveChangesAsync(cancellation).ConfigureAwait(false);
            book.ChangeTracker.Clear();
        }
        catch (DbUpdateException failure)
        {
            problems.Add(new(where, failure.InnerException?.Message ?? failure.Message, "rows that fit together"));
        }
    }

    private static string Start(string text) => text.Length <= 60 ? text : text[..60] + "…";
}
