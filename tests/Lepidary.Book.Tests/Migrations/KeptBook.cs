using System.Globalization;
using System.IO.Compression;
using Lepidary.Book.Sqlite;
using Lepidary.Book.Tests.Databases;
using Lepidary.Book.Tests.Keeping;

namespace Lepidary.Book.Tests.Migrations;

/// <summary>Makes the book that is kept of a release, so that every later program proves that it can open it.</summary>
internal static class KeptBook
{
    internal const string Command = "keep-book";

    internal static async Task<int> MakeAsync(string target)
    {
        await using var book = await BookExportTests.FullAsync(DatabaseKind.Sqlite);
        var copy = (await BookBackup.MakeAsync(book.Place, book.Place + ".copy")).Value;
        await using (var packed = new GZipStream(File.Create(target), CompressionLevel.SmallestSize))
        await using (var unpacked = File.OpenRead(copy.Path))
        {
            await unpacked.CopyToAsync(packed);
        }

        await File.WriteAllLinesAsync(
            target + ".rows",
            copy.Rows.Where(table => !table.Key.StartsWith("__", StringComparison.Ordinal)).OrderBy(table => table.Key, StringComparer.Ordinal)
                .Select(table => $"{table.Key} {table.Value.ToString(CultureInfo.InvariantCulture)}"));
        return 0;
    }
}
