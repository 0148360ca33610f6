using Lepidary.App.Host;
using Lepidary.Book;

namespace Lepidary.App.Lists;

/// <summary>The folder whose dropped lists are read by themselves, and what waits in it.</summary>
/// <param name="path">The folder; null where none is watched.</param>
internal sealed class WatchedFolder(string? path)
{
    /// <summary>Files put aside lie in this folder below the watched one.</summary>
    public const string Aside = "put-aside";

    /// <summary>Files that change within so long are still being written.</summary>
    public static readonly TimeSpan Settled = TimeSpan.FromSeconds(2);

    private readonly Lock gate = new();
    private readonly Dictionary<string, (long Size, DateTime Changed, IReadOnlyList<ArrivedList> Became)> seen = new(StringComparer.Ordinal);

    public string? Path => path;

    /// <summary>What needs the keeper, by the name of its file.</summary>
    public IReadOnlyList<(string File, ArrivedList List)> Waiting
    {
        get
        {
            lock (gate)
            {
                return [.. seen.OrderBy(file => file.Key, StringComparer.Ordinal).SelectMany(file => file.Value.Became.Where(list => list.Waits).Select(list => (file.Key, list)))];
            }
        }
    }

    /// <summary>Forgets what became of a file, so that the next look takes it up again.</summary>
    public void LookAgain(string file)
    {
        lock (gate)
        {
            seen.Remove(file);
        }
    }

    /// <summary>Looks into the folder once.</summary>
    /// <param name="take">For one file that is new or changed: a mailbox as it lies there, anything else in memory; with how many days ago it came.</param>
    /// <param name="cancellation">Stops between two files.</param>
    /// <returns>What came of the files that were looked at this time.</returns>
    public async Task<IReadOnlyList<ArrivedList>> Look(Func<string, Stream, int, CancellationToken, Task<IReadOnlyList<ArrivedList>>> take, CancellationToken cancellation)
    {
        var now = new List<ArrivedList>();
        var files = new DirectoryInfo(path!).EnumerateFiles().Where(file => IsMeant(file.Name)).OrderBy(file => file.Name, StringComparer.Ordinal).ToList();
        var aside = PutAside();
        lock (gate)
        {
            foreach (var gone in seen.Keys.Except(files.Select(file => file.Name)).ToList())
            {
                seen.Remove(gone);
            }
        }

        foreach (var file in files)
        {
            cancellation.ThrowIfCancellationRequested();
            var (size, changed) = (file.Length, file.LastWriteTimeUtc);
            lock (gate)
            {
                if (seen.TryGetValue(file.Name, out var before) && before.Size == size && before.Changed == changed)
                {
                    continue;
                }
            }

            var became = await Became(file, size, changed, aside, take, cancellation);
            now.AddRange(became);
            if (became is not [{ Became: Arrival.HalfWritten }])
            {
                lock (gate)
                {
                    seen[file.Name] = (size, changed, became);
                }
            }
        }

        return now;
    }

    /// <summary>Moves a file out of the way, or a mail of a mailbox, of which a copy tells that it is not wanted.</summary>
    public void SetAside(string file, ArrivedList list, byte[]? content)
    {
        var folder = Directory.CreateDirectory(System.IO.Path.Combine(path!, Aside)).FullName;
        var whole = System.IO.Path.Combine(path!, file);
        var to = System.IO.Path.Combine(folder, !list.InMailbox ? $"{list.Sha256[..12]}-{file}" : $"{list.Sha256[..12]}.eml");
        if (!list.InMailbox)
        {
            File.Move(whole, to, overwrite: true);
        }
        else
        {
            File.WriteAllBytes(to, content ?? []);
        }

        LookAgain(file);
    }

    private static async Task<IReadOnlyList<ArrivedList>> Became(
        FileInfo file, long size, DateTime changed, IReadOnlySet<string> aside, Func<string, Stream, int, CancellationToken, Task<IReadOnlyList<ArrivedList>>> take, CancellationToken cancellation)
    {
        // What can't be read has no hash of its own; it is told by its name and size.
        ArrivedList Is(Arrival became, string words) => new(file.Name, null, ListShelf.Sha256(System.Text.Encoding.UTF8.GetBytes($"{file.Name} {size}")), became, null, null, words);
        // The file system's clock wrote the change, so the machine's own is asked, and not the house's.
        if (size == 0 || DateTime.UtcNow - changed < Settled)
        {
            return [Is(Arrival.HalfWritten, "Still being written.")];
        }

        await using var mailbox = ListFile.Mailbox(file.FullName);
        var content = mailbox is null ? ListFile.Content(file.FullName) : (Checked<byte[]>)Array.Empty<byte>();
        file.Refresh();
        if (!file.Exists || file.Length != size || file.LastWriteTimeUtc != changed)
        {
            return [Is(Arrival.HalfWritten, "Still being written.")];
        }

        if (!content.IsGood)
        {
            return [Is(Arrival.Unreadable, content.Problems[0].ToString())];
        }

        await using var whole = mailbox ?? (Stream)new MemoryStream(content.Value, writable: false);
        var became = await take(file.Name, whole, DaysAgo(changed), cancellation);
        return [.. became.Where(list => !list.Waits || !aside.Contains(list.Sha256[..12]))];
    }

    /// <summary>A file that still lies there in a later week is the list of the week in which it came.</summary>
    public static int DaysAgo(DateTime changed) => Math.Max(0, (DateTime.Now.Date - changed.ToLocalTime().Date).Days);

    /// <summary>The beginnings of the hashes of what was put aside.</summary>
    private HashSet<string> PutAside()
    {
        var folder = new DirectoryInfo(System.IO.Path.Combine(path!, Aside));
        return folder.Exists ? [.. folder.EnumerateFiles().Where(file => file.Name.Length >= 12).Select(file => file.Name[..12])] : [];
    }

    /// <summary>Hidden files, and those that programs write while they save or fetch, are not meant.</summary>
    private static bool IsMeant(string name) =>
        name[0] is not ('.' or '~') && !name.EndsWith('~') && System.IO.Path.GetExtension(name).ToUpperInvariant() is not (".TMP" or ".PART" or ".CRDOWNLOAD" or ".DOWNLOAD" or ".PARTIAL" or ".SWP" or ".LOCK");
}

/// <summary>Looks into the watched folder every few seconds, as long as the pages are served.</summary>
internal sealed partial class FolderWatch(WatchedFolder folder, IServiceScopeFactory scopes, ILogger<FolderWatch> log) : BackgroundService
{
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(3);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Pause);
        do
        {
            try
            {
                await Look(scopes, folder, stoppingToken);
            }
            catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
            {
                return;
            }
            catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException or Microsoft.EntityFrameworkCore.DbUpdateException or System.Data.Common.DbException)
            {
                // A folder that is away, or a book that is busy, is there again the next time.
                SayTrouble(log, folder.Path!, wrong.Message);
            }
        }
        while (await Next(timer, stoppingToken));
    }

    /// <summary>False when the program ends.</summary>
    private static async Task<bool> Next(PeriodicTimer timer, CancellationToken stoppingToken)
    {
        try
        {
            return await timer.WaitForNextTickAsync(stoppingToken);
        }
        catch (OperationCanceledException)
        {
            return false;
        }
    }

    /// <summary>Looks once, each file in a scope of its own.</summary>
    public static Task<IReadOnlyList<ArrivedList>> Look(IServiceScopeFactory scopes, WatchedFolder folder, CancellationToken cancellation, string? house = null) =>
        folder.Look(
            async (name, content, daysAgo, stop) =>
            {
                await using var scope = scopes.CreateAsyncScope();
                if (!await scope.ServiceProvider.GetRequiredService<HouseDay>().Load(house, stop))
                {
                    return [new ArrivedList(name, null, ListShelf.Sha256(System.Text.Encoding.UTF8.GetBytes(name)), Arrival.Unreadable, null, null, "The book has no house yet.")];
                }

                var take = scope.ServiceProvider.GetRequiredService<TakeInByItself>();
                return content is MemoryStream inMemory ? await take.Take(name, inMemory.ToArray(), null, stop, daysAgo) : await take.TakeMailbox(name, content, null, stop);
            },
            cancellation);

    [LoggerMessage(Level = LogLevel.Warning, Message = "The folder {Folder} could not be looked into: {Why}")]
    private static partial void SayTrouble(ILogger log, string folder, string why);
}
