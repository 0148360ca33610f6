using Lepidary.Book.Tests.Databases;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace Lepidary.Book.Tests.Facts;

public sealed class ManyProcessesTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Theory]
    [OnBothDatabases]
    public async Task Receive_processKilledAtAnyMoment_keepsWhatItAcknowledged(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var lot = book.Lot("Morpho helenor", 100_000);
        await book.AcceptAsync(Token, book.Delivery(lot));
        var random = new Random(1187);
        var acknowledged = new List<Guid>();
        for (var round = 0; round < 5; round++)
        {
            // Two at once, so that one is killed while the other waits for it.
            using var killed = WriterProcess.Start(book, lot, entries: int.MaxValue);
            using var other = WriterProcess.Start(book, lot, entries: int.MaxValue);
            var heard = Listen(other, acknowledged);
            var acknowledgements = random.Next(1, 30);
            while (acknowledgements-- > 0 && await killed.StandardOutput.ReadLineAsync(Token) is { } id)
            {
                Acknowledge(acknowledged, id);
            }

            await Task.Delay(random.Next(0, 8), Token);
            killed.Kill();
            await Listen(killed, acknowledged);
            other.Kill();
            await heard;
            await Task.WhenAll(killed.WaitForExitAsync(Token), other.WaitForExitAsync(Token));
        }

        await using var context = book.CreateDbContext();
        var stored = await context.Entries.AsNoTracking().ToListAsync(Token);
        Assert.True(acknowledged.Count >= 10, $"only {acknowledged.Count} acknowledged");
        Assert.Subset(stored.Select(entry => entry.Id).ToHashSet(), acknowledged.ToHashSet());

        // Of each process that died at most the entry in flight may be stored without having been answered for.
        Assert.InRange(stored.Count, acknowledged.Count, acknowledged.Count + 10);
        Assert.Equal(100_000 - stored.Count, Assert.Single(await new OpenLots(book).ReadAsync(book.House.Id, Token)).Hanging);
        if (kind == DatabaseKind.Sqlite)
        {
            Assert.Equal(["ok"], await context.Database.SqlQuery<string>($"PRAGMA integrity_check").ToListAsync(Token));
        }
    }

    [Theory]
    [OnBothDatabases]
    public async Task Receive_fromSeveralProcesses_waitsItsTurnAndWritesAll(DatabaseKind kind)
    {
        await using var book = await TestBook.MakeAsync(kind, Token);
        var lot = book.Lot("Morpho helenor", 100_000);
        await book.AcceptAsync(Token, book.Delivery(lot));

        var acknowledged = await Task.WhenAll(Enumerable.Range(0, 3).Select(async _ =>
        {
            using var writer = WriterProcess.Start(book, lot, entries: 40);
            var heard = new List<Guid>();
            await Listen(writer, heard);
            await writer.WaitForExitAsync(Token);
            Assert.Equal(0, writer.ExitCode);
            return heard;
        }));

        await using var context = book.CreateDbContext();
        var stored = await context.Facts.AsNoTracking().OrderBy(fact => fact.Arrival).ToListAsync(Token);
        Assert.Equal(acknowledged.SelectMany(ids => ids).ToHashSet(), stored.OfType<Entry>().Select(entry => entry.Id).ToHashSet());
        Assert.Equal(Enumerable.Range(1, 121).Select(number => (long)number), stored.Select(fact => fact.Arrival));
    }

    private static async Task Listen(System.Diagnostics.Process writer, List<Guid> acknowledged)
    {
        while (await writer.StandardOutput.ReadLineAsync(Token) is { } id)
        {
            Acknowledge(acknowledged, id);
        }
    }

    /// <summary>A line that the kill cut off is no acknowledgement.</summary>
    private static void Acknowledge(List<Guid> acknowledged, string id)
    {
        if (Guid.TryParse(id, out var key))
        {
            lock (acknowledged)
            {
                acknowledged.Add(key);
            }
        }
    }
}
