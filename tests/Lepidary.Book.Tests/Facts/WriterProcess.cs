using System.Diagnostics;
using System.Globalization;
using Lepidary.Book.Tests.Databases;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.Book.Tests.Facts;

/// <summary>
/// Another process that writes entries on one lot, one at a time, and says the key of each after it was acknowledged. It ends when it has
/// written so many, when its input is closed, or when it is killed.
/// </summary>
internal static class WriterProcess
{
    internal const string Command = "write-entries";

    internal static Process Start(TestBook book, Lot lot, int entries)
    {
        var start = new ProcessStartInfo(Environment.ProcessPath!) { RedirectStandardInput = true, RedirectStandardOutput = true };
        foreach (var argument in new[]
        {
            Command, book.Kind.ToString(), book.Place, lot.HouseId.ToString(), lot.Id.ToString(), entries.ToString(CultureInfo.InvariantCulture),
        })
        {
            start.ArgumentList.Add(argument);
        }

        return Process.Start(start)!;
    }

    internal static async Task<int> RunAsync(string[] args)
    {
        var factory = new Factory(TestBook.Options(Enum.Parse<DatabaseKind>(args[0]), args[1]));
        var (house, lot, entries) = (Guid.Parse(args[2]), Guid.Parse(args[3]), int.Parse(args[4], CultureInfo.InvariantCulture));

        // Ends when the test does. Reading the console asynchronously would wait all the same.
        var orphaned = Task.Run(() => Console.OpenStandardInput().ReadByte());
        var inbox = new FactInbox(factory, TimeProvider.System);
        for (var number = 1; number <= entries && !orphaned.IsCompleted; number++)
        {
            var entry = new Entry
            {
                HouseId = house,
                LotId = lot,
                OnDay = new(2026, 11, 25),
                DeviceTime = DateTimeOffset.UtcNow,
                DeviceId = Environment.ProcessId.ToString(CultureInfo.InvariantCulture),
                DeviceSequence = number,
                EmergedMale = 1,
            };
            var receipt = (await inbox.ReceiveAsync([entry]))[0];
            if (receipt.Receipt != Receipt.Accepted)
            {
                return 1;
            }

            Console.Out.WriteLine(entry.Id);
            Console.Out.Flush();
        }

        return 0;
    }

    private sealed class Factory(DbContextOptions<BookContext> options) : IDbContextFactory<BookContext>
    {
        public BookContext CreateDbContext() => new(options);
    }
}
