using System.Diagnostics;
using System.Globalization;
using Lepidary.Book;
using Lepidary.Book.Sqlite;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.Bench.Book;

/// <summary>How long a page waits for the book of a large house after ten years.</summary>
internal static class BookBench
{
    private const int Times = 60;

    internal static async Task<int> RunAsync(string[] args)
    {
        var path = args.Length > 0 ? args[0] : Path.Combine(Directory.CreateTempSubdirectory("lepidary-bench-").FullName, "ten-years.db");
        var factory = new Factory(path);
        if (!File.Exists(path))
        {
            var making = Stopwatch.StartNew();
            await new TenYearBook(factory).MakeAsync();
            Print("book made, s", making.Elapsed.TotalSeconds);
        }

        await using (var context = factory.CreateDbContext())
        {
            _ = (await context.BringUpToDateAsync()).Value;
            Print("lots", await context.Lots.CountAsync());
            Print("entries", await context.Entries.CountAsync());
            Print("facts", await context.Facts.CountAsync());
            Print("file, MB", new FileInfo(path).Length / 1e6);
        }

        House house;
        await using (var context = factory.CreateDbContext())
        {
            house = await context.Houses.AsNoTracking().SingleAsync();
        }

        var (openLots, day) = (new OpenLots(factory), TenYearBook.LastDay);
        var (stock, discrepancies) = (new StockReader(factory, openLots), new DiscrepancyReader(factory, openLots));
        var inbox = new FactInbox(factory, TimeProvider.System);

        await OnceAsync("open lots, first time in the process, ms", () => openLots.ReadAsync(house.Id));
        var lots = await openLots.ReadAsync(house.Id);
        Print("open lots", lots.Count);
        await OnceAsync("discrepancies, first time, ms", () => discrepancies.ReadAsync(house.Id));

        var entry = 0;
        async Task WriteAsync() => await inbox.ReceiveAsync(
        [
            new Entry { HouseId = house.Id, OnDay = day, DeviceTime = DateTimeOffset.UtcNow, Who = "Ines", LotId = lots[entry++ % lots.Count].Lot.Id },
        ]);
        await ManyAsync("one entry received and on the disk", WriteAsync);
        await ManyAsync("open lots with balances", () => openLots.ReadAsync(house.Id));
        await ManyAsync("the same, each after a new entry", () => openLots.ReadAsync(house.Id), before: WriteAsync);
        await ManyAsync("stock: hanging, flying, coming", () => stock.ReadAsync(house.Id, day));
        await ManyAsync("discrepancies, each after a new entry", () => discrepancies.ReadAsync(house.Id), before: WriteAsync);
        await ManyAsync("open lots as of 90 days ago", () => openLots.ReadAsync(house.Id, day.AddDays(-90)), times: 10);

        var copy = path + ".copy";
        File.Delete(copy);
        await OnceAsync("backup, looked through, ms", () => BookBackup.MakeAsync(path, copy));
        File.Delete(copy);
        await using (var context = factory.CreateDbContext())
        {
            await OnceAsync("export as JSON lines, ms", () => BookExport.WriteAsync(context, Stream.Null));
        }

        return 0;
    }

    private static async Task OnceAsync(string what, Func<Task> work)
    {
        var watch = Stopwatch.StartNew();
        await work();
        Print(what, watch.Elapsed.TotalMilliseconds);
    }

    private static async Task ManyAsync(string what, Func<Task> work, Func<Task>? before = null, int times = Times)
    {
        var taken = new List<double>();
        var processor = TimeSpan.Zero;
        for (var time = -5; time < times; time++)
        {
            if (before is not null)
            {
                await before();
            }

            var began = Environment.CpuUsage.TotalTime;
            var watch = Stopwatch.StartNew();
            await work();
            if (time >= 0)
            {
                taken.Add(watch.Elapsed.TotalMilliseconds);
                processor += Environment.CpuUsage.TotalTime - began;
            }
        }

        taken.Sort();
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{what + ", ms",-48} median {taken[times / 2],8:0.0}   p95 {taken[times * 95 / 100],8:0.0}   processor {processor.TotalMilliseconds / times,8:0.0}"));
    }

    private static void Print(string what, double figure) =>
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{what,-48} {figure,15:0.#}"));

    internal sealed class Factory(string path) : IDbContextFactory<BookContext>
    {
        private readonly DbContextOptions<BookContext> options = Options(path);

        public BookContext CreateDbContext() => new(options);

        private static DbContextOptions<BookContext> Options(string path)
        {
            var options = new DbContextOptionsBuilder<BookContext>();
            options.UseSqliteBook(path);
            return options.Options;
        }
    }
}
