using System.Text;
using Lepidary.Book.Tests.Databases;
using Lepidary.Book.Tests.Facts;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace Lepidary.Book.Tests.Keeping;

public sealed class BookExportTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(DatabaseKind.Sqlite, DatabaseKind.Sqlite)]
    [InlineData(DatabaseKind.Sqlite, DatabaseKind.Postgres)]
    [InlineData(DatabaseKind.Postgres, DatabaseKind.Sqlite)]
    [InlineData(DatabaseKind.Postgres, DatabaseKind.Postgres)]
    public async Task Write_thenReadIntoAnEmptyBook_isTheSameBookToTheByte(DatabaseKind from, DatabaseKind to)
    {
        await using var book = await FullAsync(from);
        var written = await ExportAsync(book);
        await using var other = await TestBook.MakeEmptyAsync(to, Token);

        var read = await ImportAsync(other, written);

        Assert.Empty(read.Problems);
        Assert.Equal(written.Count(letter => letter == '\n') - 2, read.Value);
        Assert.Equal(written, await ExportAsync(other));
    }

    [Fact]
    public async Task Write_everyTable_isInIt()
    {
        await using var book = await FullAsync(DatabaseKind.Sqlite);
        var written = await ExportAsync(book);

        await using var context = book.CreateDbContext();
        var tables = BookTables.InOrder(context.Model).Select(table => table.ClrType.Name).ToList();
        Assert.Contains("House", tables);
        Assert.All(tables, table => Assert.Contains($"{{\"table\":\"{table}\",", written, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Read_intoABookWithRows_isRefused()
    {
        await using var book = await FullAsync(DatabaseKind.Sqlite);

        var read = await ImportAsync(book, await ExportAsync(book));

        Assert.Equal("book: found a book with rows in it; expected an empty book to import into", Assert.Single(read.Problems).ToString());
    }

    [Theory]
    [InlineData("cut short", "a whole file: this one was cut short")]
    [InlineData("cut in a line", "a line of an exported book")]
    [InlineData("a line lost", "rows: lines were lost or added")]
    [InlineData("a figure changed", "the file was changed")]
    [InlineData("another format", "format 1, the one that this program knows")]
    [InlineData("not JSON", "a line of an exported book")]
    [InlineData("an unknown table", "a table that this program knows")]
    [InlineData("an unknown column", "a column of Lot that this program knows")]
    [InlineData("nothing", "a whole file: this one was cut short")]
    [InlineData("binary", "the head of an exported book")]
    public async Task Read_brokenFile_saysWhatIsWrongAndWritesNothing(string how, string expected)
    {
        await using var book = await FullAsync(DatabaseKind.Sqlite);
        var written = await ExportAsync(book);
        var lines = written.Split('\n');
        var broken = how switch
        {
            "cut short" => string.Join('\n', lines[..^2]),
            "cut in a line" => written[..^200],
            "a line lost" => string.Join('\n', lines.Where((_, index) => index != lines.Length - 3)),
            "a figure changed" => written.Replace("\"Received\":10", "\"Received\":11", StringComparison.Ordinal),
            "another format" => written.Replace("\"format\":1", "\"format\":2", StringComparison.Ordinal),
            "not JSON" => written.Replace("{\"table\":\"Lot\"", "table Lot", StringComparison.Ordinal),
            "an unknown table" => written.Replace("\"table\":\"Lot\"", "\"table\":\"Lorry\"", StringComparison.Ordinal),
            "an unknown column" => written.Replace("\"Received\":10", "\"Wheels\":10", StringComparison.Ordinal),
            "nothing" => "",
            _ => "PK\u0003\u0004\u0014\u0000",
        };
        await using var other = await TestBook.MakeEmptyAsync(DatabaseKind.Sqlite, Token);

        var read = await ImportAsync(other, broken);

        Assert.True(read.Problems.Any(problem => problem.Expected.Contains(expected, StringComparison.Ordinal)), string.Join('\n', read.Problems));
        await using var context = other.CreateDbContext();
        Assert.Equal(0, await context.Houses.CountAsync(Token));
    }

    /// <summary>A book with a row in every table.</summary>
    internal static async Task<TestBook> FullAsync(DatabaseKind kind)
    {
        var book = await TestBook.MakeAsync(kind, Token);
        var facts = FactInboxTests.OneOfEach(book, book.Lot("Morpho helenor", 10));
        await book.AcceptAsync(Token, facts);
        var entry = facts.OfType<Entry>().Single();
        await book.Inbox.ReceiveAsync([new Entry { Id = entry.Id, HouseId = entry.HouseId, OnDay = entry.OnDay, LotId = entry.LotId, Dead = 3 }], Token);
        Assert.True((await new PhotoShelf(book, book.Clock).KeepAsync(facts.OfType<Photo>().Single().Id, FactInboxTests.Picture, Token)).IsGood);
        byte[] original = [0xEF, 0xBB, 0xBF, .. Encoding.UTF8.GetBytes("Idea leuconoe;4,10\r\n")];
        var list = new ReceivedList
        {
            SupplierId = book.Supplier.Id,
            FileName = "week 48 – \"new\".csv",
            ReceivedAt = book.Clock.GetUtcNow(),
            OnDay = book.Today,
            Sha256 = ListShelf.Sha256(original),
            Format = "CSV, semicolon",
            Currency = "EUR",
            Date = book.Today,
            PricesExcludeTax = true,
            Original = new() { Bytes = original },
            Offers =
            {
                new()
                {
                    Line = 1,
                    Text = "Idea leuconoe;4,10",
                    Taxon = "Idea leuconoe",
                    Kind = "Pupa",
                    Price = 4.10m,
                    Breaks = { new() { From = 25, Price = 3.9999995m } },
                    Doubts = { "Is it?\u2028" },
                    Candidates = { "Idea leuconoe", "Idea malabarica" },
                },
            },
            Charges = { new() { Line = 2, Text = "permit", Amount = 15, Per = "Order" } },
            Lines = { new() { Line = 1, Text = "Idea leuconoe;4,10", Kind = "Offer" } },
        };
        await new ListShelf(book).KeepAsync(list, Token);
        await new ForecastShelf(book).KeepAsync(
            [
                new()
                {
                    HouseId = book.House.Id,
                    Kind = ForecastKind.Flying,
                    MadeOn = book.Today,
                    ForDay = book.Today.AddDays(3),
                    AboutId = book.House.Id,
                    Subject = "Idea leuconoe",
                    Wish = AimKind.Display,
                    AtLeast = 2,
                    Seen = 0.35,
                    Said = [0.25, 0.7, 0.05],
                    Rival = [1],
                },
            ],
            Token);
        await using var context = book.CreateDbContext();
        context.Add(new Order
        {
            HouseId = book.House.Id,
            SupplierId = book.Supplier.Id,
            ListId = list.Id,
            OnDay = book.Today,
            MadeAt = book.Clock.GetUtcNow(),
            Who = "Ines",
            Currency = "EUR",
            Rate = 0.86m,
            Goods = 102.5m,
            Carriage = 24.5m,
            Charges = 15,
            Tax = 28.4m,
            Landed = 146.54m,
            ArrivesOn = book.Today.AddDays(6),
            Lines =
            {
                new()
                {
                    Number = 1,
                    OfferId = list.Offers[0].Id,
                    Text = "Idea leuconoe",
                    Taxon = "Idea leuconoe",
                    Pupae = 25,
                    UnitPrice = 4.1m,
                    UnitLanded = 5.861666m,
                    EmergenceRate = 0.8,
                    Chance = 1.0 / 3,
                    Reason = "For the display.",
                },
            },
        });
        await context.SaveChangesAsync(Token);
        return book;
    }

    private static async Task<string> ExportAsync(TestBook book)
    {
        using var stream = new MemoryStream();
        await using var context = book.CreateDbContext();
        await BookExport.WriteAsync(context, stream, Token);
        return Encoding.UTF8.GetString(stream.ToArray());
    }

    private static async Task<Checked<long>> ImportAsync(TestBook book, string text)
    {
        using var stream = new MemoryStream(Encoding.UTF8.GetBytes(text));
        await using var context = book.CreateDbContext();
        return await BookImport.ReadAsync(context, stream, "book.jsonl", Token);
    }
}
