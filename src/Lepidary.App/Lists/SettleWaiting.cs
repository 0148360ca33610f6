using Lepidary.Book;
using Lepidary.Lists;

namespace Lepidary.App.Lists;

/// <summary>The keeper says whose list waits in the watched folder, or that it is not wanted.</summary>
internal sealed class SettleWaiting(WatchedFolder folder, TakeInByItself take)
{
    /// <summary>Takes it in as a list of a supplier.</summary>
    public async Task<Checked<Guid>> Take(string file, string sha256, Guid supplierId, CancellationToken cancellation)
    {
        var content = Content(file, sha256);
        if (!content.IsGood)
        {
            return content.Problems.ToArray();
        }

        var became = (await take.Take(file, content.Value, supplierId, cancellation, WatchedFolder.DaysAgo(File.GetLastWriteTimeUtc(Path.Combine(folder.Path!, file)))))[0];
        folder.LookAgain(file);
        return became.ListId is { } id ? id : new Problem(file, became.Words, "a list that can be read");
    }

    /// <summary>Puts it aside; its bytes are kept below the folder.</summary>
    public IReadOnlyList<Problem> PutAside(string file, string sha256)
    {
        if (Waiting(file, sha256) is not { } list)
        {
            return [Gone(file)];
        }

        var mail = list.InMailbox ? Content(file, sha256) : (Checked<byte[]>)Array.Empty<byte>();
        if (!mail.IsGood)
        {
            return mail.Problems;
        }

        try
        {
            folder.SetAside(file, list, mail.Value);
            return [];
        }
        catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException)
        {
            return [new(file, wrong.Message, "a folder that can be written to")];
        }
    }

    private static Problem Gone(string file) => new(file, "nothing that waits", "a file that waits in the watched folder; it may have been settled already");

    /// <summary>Only what the folder itself says is waiting is opened, whatever the form names.</summary>
    private ArrivedList? Waiting(string file, string sha256) => folder.Waiting.FirstOrDefault(item => item.File == file && item.List.Sha256 == sha256).List;

    private Checked<byte[]> Content(string file, string sha256)
    {
        if (Waiting(file, sha256) is null)
        {
            return Gone(file);
        }

        using var mailbox = ListFile.Mailbox(Path.Combine(folder.Path!, file));
        if (mailbox is not null)
        {
            return Mailbox.Each(mailbox, file).FirstOrDefault(mail => mail.IsGood && ListShelf.Sha256(mail.Value.Content) == sha256) is { IsGood: true } mail ? mail.Value.Content : Gone(file);
        }

        var whole = ListFile.Content(Path.Combine(folder.Path!, file));
        if (!whole.IsGood)
        {
            return whole.Problems.ToArray();
        }

        return ListShelf.Sha256(whole.Value) == sha256 ? whole.Value : Gone(file);
    }
}
