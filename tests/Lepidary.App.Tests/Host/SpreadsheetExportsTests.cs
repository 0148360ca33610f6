using System.IO.Compression;
using System.Text;
using System.Xml.Linq;
using Lepidary.App.Host;
using Lepidary.App.Tests.Support;
using Lepidary.Book;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Lepidary.App.Tests.Host;

/// <summary>Every file of the program that a spreadsheet may open, found by its address, with foreign texts in it that begin like formulas.</summary>
public sealed class SpreadsheetExportsTests
{
    private static readonly string[] Hostile = ["=HYPERLINK(\"http://example.invalid\",\"pay\")", "+1+1", "-2+3", "@SUM(A1)", "\t=1+1", "\r=1+1", "＝1+1", "a;=1+1", "a\n=1+1"];

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Every_export_for_spreadsheets_neutralises_formulas()
    {
        await using var book = await TestBook.Demo();
        var orderId = await Plant(book);
        var supplierId = await PlantLearnt(book);
        using var client = await book.Serve();

        var addresses = await Addresses(book, orderId, supplierId);

        Assert.Contains($"/orders/{orderId}/order.csv", addresses);
        foreach (var address in addresses)
        {
            var cells = Cells(await client.GetByteArrayAsync(new Uri(address, UriKind.Relative), Stop), address);
            Assert.All(cells, cell => Assert.False(Begins(cell), $"{address}: {cell}"));
            Assert.Contains(cells, cell => cell.StartsWith('\''));
        }
    }

    [Fact]
    public async Task Command_that_prints_CSV_neutralises_formulas()
    {
        await using var book = await TestBook.Demo();
        var orderId = await Plant(book);

        var cells = Csv((await book.Done("orders", "show", orderId.ToString(), "--as", "csv")).Output);

        Assert.All(cells, cell => Assert.False(Begins(cell), cell));
        Assert.All(Hostile, text => Assert.Contains(Begins(text) ? "'" + text : text, cells));
    }

    [Theory]
    [InlineData("=1", "'=1")]
    [InlineData("Papilio memnon", "Papilio memnon")]
    [InlineData("", "")]
    [InlineData("＠x", "'＠x")]
    public void Safe_puts_an_apostrophe_before_what_begins_a_formula(string text, string safe) => Assert.Equal(safe, CsvText.Safe(text));

    private static bool Begins(string cell) => cell.Length > 0 && "=+-@\t\r\n＝＋－＠".Contains(cell[0], StringComparison.Ordinal) && !decimal.TryParse(cell, System.Globalization.CultureInfo.InvariantCulture, out _);

    /// <summary>An order whose lines are named like formulas.</summary>
    private static Task<Guid> Plant(TestBook book) => book.Look(async context =>
    {
        var terms = await context.Terms.AsNoTracking().FirstAsync(Stop);
        var order = new Order
        {
            HouseId = terms.HouseId,
            SupplierId = terms.SupplierId,
            OnDay = new DateOnly(2026, 11, 27),
            Currency = "EUR",
            Who = "=who",
            Lines = [.. Hostile.Select((text, i) => new OrderLine { Number = i + 1, Text = text, Form = text, Taxon = "Papilio memnon", Pupae = 5, UnitPrice = 2 })],
        };
        context.Add(order);
        await context.SaveChangesAsync(Stop);
        return order.Id;
    });

    /// <summary>Names settled on a supplier's list that begin like formulas.</summary>
    private static Task<Guid> PlantLearnt(TestBook book) => book.Serve<FactInbox, Guid>(async inbox =>
    {
        var terms = await book.Look(context => context.Terms.AsNoTracking().FirstAsync(Stop));
        var receipts = await inbox.ReceiveAsync([.. Hostile.Select(text => new SettledName { HouseId = terms.HouseId, OnDay = new DateOnly(2026, 11, 27), DeviceTime = book.Clock.GetUtcNow(), Who = text, TextKey = text, Taxon = "Papilio memnon", SupplierId = terms.SupplierId })], Stop);
        Assert.All(receipts, receipt => Assert.Empty(receipt.Problems));
        return terms.SupplierId;
    });

    /// <summary>The addresses of all such files, with the keys of the planted things in them.</summary>
    private static async Task<IReadOnlyList<string>> Addresses(TestBook book, Guid orderId, Guid supplierId)
    {
        await using var app = WebHost.Build(book.Place, 0, "127.0.0.1", (services, place) => services.AddDbContextFactory<BookContext>(), book.Clock);
        return [.. ((IEndpointRouteBuilder)app).DataSources.SelectMany(source => source.Endpoints).OfType<RouteEndpoint>().Select(endpoint => endpoint.RoutePattern.RawText!)
            .Where(path => path.EndsWith(".csv", StringComparison.Ordinal) || path.EndsWith(".xlsx", StringComparison.Ordinal))
            .Select(path => path.StartsWith("/orders/{id:guid}/", StringComparison.Ordinal) ? path.Replace("{id:guid}", orderId.ToString(), StringComparison.Ordinal) : path)
            .Select(path => path.StartsWith("/lists/learnt/{supplier:guid}/", StringComparison.Ordinal) ? path.Replace("{supplier:guid}", supplierId.ToString(), StringComparison.Ordinal) : path)
            .Select(path => path.Contains('{', StringComparison.Ordinal) ? throw new InvalidOperationException($"{path}: plant something hostile for it, and say its key here.") : path)];
    }

    private static List<string> Cells(byte[] file, string address)
    {
        if (address.EndsWith(".csv", StringComparison.Ordinal))
        {
            return Csv(Encoding.UTF8.GetString(file).TrimStart('\uFEFF'));
        }

        using var zip = new ZipArchive(new MemoryStream(file));
        var parts = zip.Entries.Where(entry => entry.FullName.StartsWith("xl/worksheets/", StringComparison.Ordinal) || entry.FullName.EndsWith("sharedStrings.xml", StringComparison.Ordinal)).Select(entry => XDocument.Load(entry.Open())).ToList();
        Assert.DoesNotContain(parts.SelectMany(part => part.Descendants()), element => element.Name.LocalName == "f");
        return [.. parts.SelectMany(part => part.Descendants()).Where(element => element.Name.LocalName is "si" or "is").Select(element => element.Value)];
    }

    /// <summary>The cells of a CSV (RFC 4180).</summary>
    private static List<string> Csv(string text)
    {
        var (cells, cell, quoted) = (new List<string>(), new StringBuilder(), false);
        for (var i = 0; i < text.Length; i++)
        {
            if (quoted && text[i] == '"' && i + 1 < text.Length && text[i + 1] == '"')
            {
                cell.Append(text[i++]);
            }
            else if (text[i] == '"')
            {
                quoted = !quoted;
            }
            else if (!quoted && text[i] is ',' or '\n')
            {
                cells.Add(cell.ToString());
                cell.Clear();
            }
            else if (quoted || text[i] != '\r')
            {
                cell.Append(text[i]);
            }
        }

        return cells;
    }
}
