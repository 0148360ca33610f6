using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using Npgsql;

namespace Lepidary.Book.Tests.Databases;

/// <summary>
/// The PostgreSQL that the tests run on: the one named by <c>LEPIDARY_TEST_POSTGRES</c>, or a new cluster in a temporary folder.
/// </summary>
public sealed class PostgresCluster : IDisposable
{
    private static readonly Lazy<PostgresCluster> One = new(() => new());

    private readonly string? folder;
    private readonly string bin = "";

    private PostgresCluster()
    {
        if (Environment.GetEnvironmentVariable("LEPIDARY_TEST_POSTGRES") is { Length: > 0 } given)
        {
            Connection = given;
            return;
        }

        bin = Binaries();
        folder = Directory.CreateTempSubdirectory("lepidary-postgres-").FullName;
        if (IsRoot)
        {
            Run("chown", "postgres", folder);
        }

        var port = FreePort();
        AsPostgres("initdb", "-D", Path.Combine(folder, "data"), "-U", "lepidary", "-A", "trust", "-E", "UTF8", "--locale=C.UTF-8", "--no-sync");
        AppDomain.CurrentDomain.ProcessExit += (_, _) => Dispose();
        AsPostgres(
            "pg_ctl", "-D", Path.Combine(folder, "data"), "-w", "-t", "60", "-l", Path.Combine(folder, "log"),
            "-o", $"-c listen_addresses=127.0.0.1 -c port={port} -c unix_socket_directories='' -c fsync=off -c max_connections=200", "start");
        Connection = $"Host=127.0.0.1;Port={port};Username=lepidary;Database=postgres";
    }

    /// <summary>Connection string to the database <c>postgres</c> of the cluster, started on first use.</summary>
    public static string Url => One.Value.Connection;

    private static bool IsRoot => Environment.UserName == "root";

    private string Connection { get; }

    /// <summary>Connection string to another database of the cluster.</summary>
    public static string UrlOf(string database) => new NpgsqlConnectionStringBuilder(Url) { Database = database }.ToString();

    /// <summary>Runs one statement on the database <c>postgres</c>.</summary>
    public static async Task ExecuteAsync(string sql, CancellationToken cancellation)
    {
        await using var connection = new NpgsqlConnection(Url);
        await connection.OpenAsync(cancellation);
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync(cancellation);
    }

    public void Dispose()
    {
        if (folder is not null && Directory.Exists(folder))
        {
            AsPostgres("pg_ctl", "-D", Path.Combine(folder, "data"), "-m", "immediate", "stop");
            Directory.Delete(folder, recursive: true);
        }
    }

    private static string Binaries()
    {
        var places = Directory.Exists("/usr/lib/postgresql")
            ? Directory.GetDirectories("/usr/lib/postgresql").OrderDescending().Select(version => Path.Combine(version, "bin"))
            : [];
        return places.Concat((Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator))
            .FirstOrDefault(place => File.Exists(Path.Combine(place, "initdb")))
            ?? throw new InvalidOperationException(
                "These tests need PostgreSQL: install it (Debian: postgresql), or name a server in LEPIDARY_TEST_POSTGRES.");
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    private void AsPostgres(string program, params string[] arguments)
    {
        // PostgreSQL does not run as root.
        if (IsRoot)
        {
            Run("runuser", ["-u", "postgres", "--", Path.Combine(bin, program), .. arguments]);
        }
        else
        {
            Run(Path.Combine(bin, program), arguments);
        }
    }

    private void Run(string program, params string[] arguments)
    {
        // No pipes: the server would inherit them and keep them open.
        var start = new ProcessStartInfo("sh") { WorkingDirectory = folder };
        start.ArgumentList.Add("-c");
        start.ArgumentList.Add("exec \"$@\" >/dev/null 2>&1");
        start.ArgumentList.Add("sh");
        start.ArgumentList.Add(program);
        foreach (var argument in arguments)
        {
            start.ArgumentList.Add(argument);
        }

        using var process = Process.Start(start)!;
        process.WaitForExit();
        if (process.ExitCode != 0)
        {
            throw new InvalidOperationException($"{program} {string.Join(' ', arguments)} ended with {process.ExitCode}.");
        }
    }
}
