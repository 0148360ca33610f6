using System.CommandLine;
using Lepidary.App.Honesty;
using Lepidary.Book;

namespace Lepidary.App.Host;

/// <summary>Copies a book file and gives the SHA-256 of the copy.</summary>
internal delegate Task<Checked<string>> CopyBook(string from, string to, CancellationToken cancellation);

/// <summary>How books that are files are copied; the host knows which kind of file they are.</summary>
internal sealed record BookCopies(CopyBook Backup, CopyBook Restore);

/// <summary>
/// What every command has at hand: where it speaks, the options that many share, and the way into the book.
/// </summary>
internal sealed class Desk(Terminal terminal, Action<IServiceCollection, BookPlace> addBook, TimeProvider clock)
{
    public Terminal Terminal => terminal;

    public Action<IServiceCollection, BookPlace> AddBook => addBook;

    public TimeProvider Clock => clock;

    /// <summary>How a book file is copied; null where the host can't.</summary>
    public BookCopies? Copies { get; init; }

    public Option<bool> Json { get; } = new("--json") { Description = "Print JSON." };

    public Option<string?> Book { get; } = new("--book")
    {
        Description = $"The book: a file, or a PostgreSQL connection (Host=…). Else ${BookPlace.Variable}, else {BookPlace.Usual}.",
    };

    public Option<string?> House { get; } = new("--house") { Description = "Name of the house, where the book holds several." };

    public Option<string?> Who { get; } = new("--who") { Description = "Who does it, for the record. Else the machine's user." };

    /// <summary>Who is asking, for the facts that a command writes.</summary>
    public string WhoOf(ParseResult parsed) => parsed.GetValue(Who) ?? Environment.UserName;

    /// <summary>A command with the options that every command on a book has.</summary>
    public Command OnBook(string name, string description, params Symbol[] parts)
    {
        var command = new Command(name, description) { Book, House, Json };
        foreach (var part in parts)
        {
            switch (part)
            {
                case Option option:
                    command.Options.Add(option);
                    break;
                case Argument argument:
                    command.Arguments.Add(argument);
                    break;
                case Command inner:
                    command.Subcommands.Add(inner);
                    break;
                default:
                    throw new ArgumentException($"{part.Name} is no option, argument or command.", nameof(parts));
            }
        }

        return command;
    }

    /// <summary>Opens the book that the command line names, finds the house, and does the work within one scope.</summary>
    /// <param name="create">True where a missing book is made.</param>
    /// <param name="foretells">True where it prints forecasts: they are kept, to be scored when their day is past.</param>
    public async Task<int> Open(ParseResult parsed, Func<IServiceProvider, CancellationToken, Task<int>> work, CancellationToken cancellation, bool create = false, bool foretells = false)
    {
        var place = BookPlace.From(parsed.GetValue(Book));
        if (!place.IsPostgres && !create && !File.Exists(place.Text))
        {
            return terminal.Refuse([new(place.Text, "no such book", "a book: `lepidary house load FILE` or `lepidary demo` makes one")], ExitCodes.NoBook);
        }

        await using var services = Services(place);
        await using var scope = services.CreateAsyncScope();
        if (await scope.ServiceProvider.GetRequiredService<BookContext>().BringUpToDateAsync(cancellation) is { IsGood: false } wrong)
        {
            return terminal.Refuse(wrong.Problems, ExitCodes.NoBook);
        }

        var day = scope.ServiceProvider.GetRequiredService<HouseDay>();
        var wanted = parsed.GetValue(House);
        if (!await day.Load(wanted, cancellation) && !create)
        {
            return terminal.Refuse([new(place.ToString(), wanted is null ? "a book without a house" : $"no house named {wanted}", "a house: `lepidary house load FILE` adds one")], ExitCodes.NoBook);
        }

        var code = await work(scope.ServiceProvider, cancellation);
        if (foretells && code == ExitCodes.Done)
        {
            await scope.ServiceProvider.GetRequiredService<KeepForecasts>().Today(cancellation);
        }

        return code;
    }

    /// <summary>The services of a command on the book: the same as a page has.</summary>
    public ServiceProvider Services(BookPlace place)
    {
        var services = new ServiceCollection();
        if (!place.IsPostgres && Path.GetDirectoryName(Path.GetFullPath(place.Text)) is { } folder)
        {
            Directory.CreateDirectory(folder);
        }

        addBook(services, place);
        services.AddSingleton(place);
        services.AddSingleton(clock);
        services.AddScoped<HouseDay>();
        services.AddLogging(logging => logging.SetMinimumLevel(LogLevel.Warning));
        Features.AddTo(services);
        return services.BuildServiceProvider();
    }
}
