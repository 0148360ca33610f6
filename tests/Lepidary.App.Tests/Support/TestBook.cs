using System.Text.Json;
using Lepidary.App.Host;
using Lepidary.Book;
using Lepidary.Book.Sqlite;
using Microsoft.AspNetCore.Builder;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;

namespace Lepidary.App.Tests.Support;

/// <summary>What a command said.</summary>
internal sealed record Said(int Code, string Output, string Error)
{
    public JsonElement Json => JsonDocument.Parse(Output).RootElement;
}

/// <summary>
/// A fresh book in a folder of its own, with a clock that stands at Friday 27 November 2026, 10:40 in London.
/// Commands run in this process as from a terminal; pages come from a real server on a free port.
/// </summary>
internal sealed class TestBook : IAsyncDisposable
{
    private static readonly string[] FewWishes = ["Morpho helenor", "Caligo memnon", "Papilio palinurus", "Papilio memnon"];

    private readonly string folder = Directory.CreateTempSubdirectory("lepidary-").FullName;
    private readonly List<IAsyncDisposable> open = [];

    public FakeTimeProvider Clock { get; } = new(new DateTimeOffset(2026, 11, 27, 10, 40, 0, TimeSpan.Zero));

    public string Path => System.IO.Path.Combine(folder, "book.db");

    public BookPlace Place => new(Path);

    /// <summary>Writes a file beside the book and gives its path.</summary>
    public string File(string name, string text)
    {
        var path = System.IO.Path.Combine(folder, name);
        System.IO.File.WriteAllText(path, text);
        return path;
    }

    /// <summary>Writes a file beside the book and gives its path.</summary>
    public string File(string name, byte[] content)
    {
        var path = System.IO.Path.Combine(folder, name);
        System.IO.File.WriteAllBytes(path, content);
        return path;
    }

    /// <summary>Runs a command line; <c>--book</c> is put in for commands that take it.</summary>
    public async Task<Said> Run(params string[] args)
    {
        await using var output = new StringWriter();
        await using var error = new StringWriter();
        var desk = Desk(output, error);
        var takesBook = Commands.Tree(desk).Parse(args).CommandResult.Command.Options.Contains(desk.Book);
        var code = await Commands.Run(takesBook ? [.. args, "--book", Path] : args, desk);
        return new Said(code, output.ToString(), error.ToString());
    }

    /// <summary>The demo's public house, made once and copied, with this week's lists taken in.</summary>
    public static async Task<TestBook> Demo()
    {
        var made = await MadeOnce.Value;
        var book = new TestBook();
        System.IO.File.Copy(made, book.Path);
        return book;
    }

    /// <summary>The demo with four of its wishes, each for one species, and two of its suppliers: an order for them is found soon. (With the third the search is longer than for all wishes.)</summary>
    public static async Task<TestBook> DemoOfFewWishes()
    {
        var book = await Demo();
        await book.Look(context => context.Aims.Where(aim => !FewWishes.Contains(aim.Selector)).ExecuteDeleteAsync());
        await book.Look(context => context.Terms.Where(terms => context.Suppliers.Any(supplier => supplier.Id == terms.SupplierId && supplier.Name == "Kessom Farm")).ExecuteDeleteAsync());
        return book;
    }

    /// <summary>Runs a command that must go well.</summary>
    public async Task<Said> Done(params string[] args)
    {
        var said = await Run(args);
        Assert.True(said.Code == ExitCodes.Done, $"{string.Join(' ', args)} ended with {said.Code}: {said.Error}{said.Output}");
        return said;
    }

    /// <summary>Serves the book's pages; the client keeps cookies and follows redirects.</summary>
    public async Task<HttpClient> Serve()
    {
        var app = WebHost.Build(Place, 0, "127.0.0.1", AddBook, Clock);
        await using (var scope = app.Services.CreateAsyncScope())
        {
            await scope.ServiceProvider.GetRequiredService<BookContext>().Database.MigrateAsync(TestContext.Current.CancellationToken);
        }

        await app.StartAsync(TestContext.Current.CancellationToken);
        open.Add(app);
        return new HttpClient { BaseAddress = new Uri(app.Urls.First()) };
    }

    /// <summary>Looks into the book past all pages.</summary>
    public async Task<T> Look<T>(Func<BookContext, Task<T>> look)
    {
        await using var services = Desk(TextWriter.Null, TextWriter.Null).Services(Place);
        await using var scope = services.CreateAsyncScope();
        return await look(scope.ServiceProvider.GetRequiredService<BookContext>());
    }

    /// <summary>Uses one of the program's services on the book.</summary>
    public async Task<T> Serve<TService, T>(Func<TService, Task<T>> use)
        where TService : notnull
    {
        await using var services = Desk(TextWriter.Null, TextWriter.Null).Services(Place);
        await using var scope = services.CreateAsyncScope();
        return await use(scope.ServiceProvider.GetRequiredService<TService>());
    }

    /// <summary>Uses what the host of the pages that was served last has.</summary>
    public Task<T> Hosted<T>(Func<IServiceProvider, Task<T>> use) => use(((WebApplication)open[^1]).Services);

    public async ValueTask DisposeAsync()
    {
        foreach (var host in open)
        {
            await host.DisposeAsync();
        }

        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        Directory.Delete(folder, recursive: true);
    }

    private static readonly Lazy<Task<string>> MadeOnce = new(async () =>
    {
        var book = new TestBook();
        await book.Done("demo");
        foreach (var (supplier, file) in DemoFolder.ThisWeek)
        {
            await book.Done("lists", "take", file, "--supplier", supplier);
        }

        // What lies beside the file until the last reader leaves belongs into it before it is copied.
        await book.Look(context => context.Database.ExecuteSqlRawAsync("PRAGMA wal_checkpoint(TRUNCATE)"));
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        return book.Path;
    });

    public static void AddBook(IServiceCollection services, BookPlace place) =>
        services.AddDbContextFactory<BookContext>(options => options.UseSqliteBook(place.Text));

    private Desk Desk(TextWriter output, TextWriter error) => new(new Terminal(output, error), AddBook, Clock);
}
