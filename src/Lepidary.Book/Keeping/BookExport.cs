using System.Globalization;
using System.Security.Cryptography;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace Lepidary.Book;

/// <summary>
/// The whole book as JSON lines, the same from either database: a head, every row of every table, and an end that tells the number of
/// rows and the SHA-256 of all before it, so that a file cut short is known for one.
/// </summary>
public static class BookExport
{
    /// <summary>The number of the format; a reader refuses one that it does not know.</summary>
    public const int Format = 1;

    private static readonly JsonWriterOptions Plain = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Writes one state of the book, while others may write on.</summary>
    /// <param name="book">The book.</param>
    /// <param name="to">Gets the lines in UTF-8.</param>
    /// <param name="cancellation">Leaves the file without its end.</param>
    /// <returns>Rows written.</returns>
    public static async Task<long> WriteAsync(BookContext book, Stream to, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(book);
        ArgumentNullException.ThrowIfNull(to);
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        await using var transaction = await ProviderDifferences.BeginReadingAsync(book, cancellation).ConfigureAwait(false);
        await WriteLineAsync(json =>
        {
            json.WriteString("lepidary", "book");
            json.WriteNumber("format", Format);
        }).ConfigureAwait(false);
        long rows = 0;
        foreach (var table in BookTables.InOrder(book.Model))
        {
            await foreach (var row in BookTables.Rows(book, table).WithCancellation(cancellation).ConfigureAwait(false))
            {
                var type = book.Model.FindEntityType(row.GetType())!;
                await WriteLineAsync(json =>
                {
                    json.WriteString("table", table.ClrType.Name);
                    json.WriteStartObject("row");
                    if (type.FindDiscriminatorProperty() is not null)
                    {
                        json.WriteString(BookTables.Kind, (string)type.GetDiscriminatorValue()!);
                    }

                    foreach (var member in BookTables.Members(type))
                    {
                        if (member.GetValue(row) is { } value)
                        {
                            json.WritePropertyName(member.Name);
                            JsonSerializer.Serialize(json, value, member.PropertyType, BookTables.Json);
                        }
                    }

                    json.WriteEndObject();
                }).ConfigureAwait(false);
                rows++;
            }
        }

        var sum = Convert.ToHexStringLower(hash.GetHashAndReset());
        await WriteLineAsync(json =>
        {
            json.WriteString("end", rows.ToString(CultureInfo.InvariantCulture));
            json.WriteString("sha256", sum);
        }).ConfigureAwait(false);
        await to.FlushAsync(cancellation).ConfigureAwait(false);
        return rows;

        async Task WriteLineAsync(Action<Utf8JsonWriter> members)
        {
            using var line = new MemoryStream();
            using (var json = new Utf8JsonWriter(line, Plain))
            {
                json.WriteStartObject();
                members(json);
                json.WriteEndObject();
            }

            line.WriteByte((byte)'\n');
            hash.AppendData(line.GetBuffer(), 0, (int)line.Length);
            await to.WriteAsync(line.GetBuffer().AsMemory(0, (int)line.Length), cancellation).ConfigureAwait(false);
        }
    }
}
