using System.Diagnostics;
using System.Text;
using System.Text.RegularExpressions;

namespace Lepidary.Browser.Harness;

/// <summary>
/// The real program serving a book of its own: the built <c>lepidary serve</c> as a process, on a free port, in a temporary
/// folder that goes with it.
/// </summary>
public sealed partial class BookServer : IAsyncDisposable
{
    private static readonly TimeSpan _patience = TimeSpan.FromSeconds(120);

    private readonly string? _folder;
    private readonly StringBuilder _said = new();
    private Process? _process;

    private BookServer(string book, string? folder)
    {
        Book = book;
        _folder = folder;
    }

    /// <summary>The book's file.</summary>
    public string Book { get; }

    /// <summary>Where the pages are, on loopback.</summary>
    public Uri Address { get; private set; } = new("http://127.0.0.1");

    /// <summary>The built program, from the same configuration as these tests.</summary>
    public static string Program
    {
        get
        {
            var built = new DirectoryInfo(AppContext.BaseDirectory);
            return Path.Combine(built.Parent!.Parent!.FullName, "Lepidary.App", built.Name, OperatingSystem.IsWindows() ? "lepidary.exe" : "lepidary");
        }
    }

    /// <summary>Serves a book that does not exist yet.</summary>
    public static async Task<BookServer> OnFreshBook() => await Begin(TemporaryFolder(), "serve");

    /// <summary>
    /// Makes the demo book anew and serves it, as <c>./run</c> does: with this week's lists taken in and a proposal made.
    /// </summary>
    public static async Task<BookServer> OnDemoBook() => await Begin(TemporaryFolder(), "start");

    /// <summary>Serves a copy of a book that nobody has open; the copy goes with the server.</summary>
    public static async Task<BookServer> OnCopyOf(string book)
    {
        var folder = TemporaryFolder();
        File.Copy(book, Path.Combine(folder, "book.db"));
        return await Begin(folder, "serve");
    }

    /// <summary>Serves a book that lies somewhere already and stays there.</summary>
    public static async Task<BookServer> OnBook(string book)
    {
        var server = new BookServer(book, folder: null);
        await server.Start();
        return server;
    }

    /// <summary>Runs one command to its end.</summary>
    /// <returns>Its exit code, and all that it wrote.</returns>
    public static async Task<(int Code, string Said)> Run(params string[] arguments)
    {
        using var process = Process.Start(Command(arguments))!;
        process.StandardInput.Close();
        var errors = process.StandardError.ReadToEndAsync();
        var output = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        return (process.ExitCode, output + await errors);
    }

    /// <summary>The address of a page.</summary>
    /// <param name="route">Path, with a query where it has one.</param>
    public Uri Page(string route) => new(Address, route);

    /// <summary>Starts the program on the book; after <see cref="Kill"/> it takes a new address.</summary>
    public Task Start() => Start("serve");

    /// <summary>Ends the process as a power cut would: no shutdown, no flush.</summary>
    public async Task Kill()
    {
        if (_process is { HasExited: false })
        {
            _process.Kill(entireProcessTree: true);
            await _process.WaitForExitAsync();
        }

        _process?.Dispose();
        _process = null;
    }

    /// <summary>All that the program wrote so far.</summary>
    public string Said()
    {
        lock (_said)
        {
            return _said.ToString();
        }
    }

    /// <inheritdoc />
    public async ValueTask DisposeAsync()
    {
        await Kill();
        if (_folder is not null)
        {
            Directory.Delete(_folder, recursive: true);
        }
    }

    private async Task Start(string command)
    {
        var opened = new TaskCompletionSource<Uri>(TaskCreationOptions.RunContinuationsAsynchronously);
        var process = new Process { StartInfo = Command([command, "--book", Book, "--port", "0"]), EnableRaisingEvents = true };
        process.OutputDataReceived += (_, line) => Hear(line.Data);
        process.ErrorDataReceived += (_, line) => Hear(line.Data);
        process.Exited += (_, _) => opened.TrySetException(new InvalidOperationException($"lepidary {command} ended at once:\n{Said()}"));
        process.Start();
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        _process = process;
        Address = await opened.Task.WaitAsync(_patience);

        void Hear(string? line)
        {
            lock (_said)
            {
                _said.AppendLine(line);
            }

            if (line is not null && LoopbackAddress().Match(line) is { Success: true } address)
            {
                opened.TrySetResult(new Uri(address.Value));
            }
        }
    }

    private static async Task<BookServer> Begin(string folder, string command)
    {
        var server = new BookServer(Path.Combine(folder, "book.db"), folder);
        await server.Start(command);
        return server;
    }

    private static ProcessStartInfo Command(string[] arguments)
    {
        var start = new ProcessStartInfo(Program, arguments)
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };

        // The tests say where the book is; a variable of the person who runs them does not.
        foreach (var variable in start.Environment.Keys.Where(key => key.StartsWith("LEPIDARY_", StringComparison.Ordinal)).ToList())
        {
            start.Environment.Remove(variable);
        }

        return start;
    }

    private static string TemporaryFolder() => Directory.CreateTempSubdirectory("lepidary-browser-").FullName;

    [GeneratedRegex(@"http://(127\.0\.0\.1|localhost|\[::1\]):\d+")]
    private static partial Regex LoopbackAddress();
}
