using Lepidary.App.Host;
using Lepidary.Book;
using Lepidary.Lists;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Lists;

/// <summary>What became of a file that came in by itself.</summary>
internal enum Arrival
{
    /// <summary>Read into the book.</summary>
    Taken,

    /// <summary>The same bytes were in the book before.</summary>
    WasThere,

    /// <summary>A list, but whose?</summary>
    WhoseIsIt,

    /// <summary>Not to be read as a list.</summary>
    Unreadable,

    /// <summary>A mail in which nothing is offered.</summary>
    NoList,

    /// <summary>Still being written.</summary>
    HalfWritten,
}

/// <summary>One file or mail that came in by itself.</summary>
/// <param name="FileName">Name of the file; of a mail in a mailbox its subject.</param>
/// <param name="Sender">Of a mail, or null.</param>
/// <param name="Sha256">Of its bytes.</param>
/// <param name="Became">What became of it.</param>
/// <param name="Supplier">Whose list it is, or null.</param>
/// <param name="ListId">The list in the book, or null.</param>
/// <param name="Words">Why it waits, or how much was read.</param>
internal sealed record ArrivedList(string FileName, string? Sender, string Sha256, Arrival Became, string? Supplier, Guid? ListId, string Words)
{
    /// <summary>True where the keeper is needed.</summary>
    public bool Waits => Became is Arrival.WhoseIsIt or Arrival.Unreadable;

    /// <summary>True for one mail of a mailbox.</summary>
    public bool InMailbox { get; init; }
}

/// <summary>Takes lists in of which nobody says whose they are: files, mails, and mailboxes with many mails.</summary>
internal sealed class TakeInByItself(BookContext book, HouseDay day, TakeInList take, FindSupplier find)
{
    /// <param name="fileName">Name of the file.</param>
    /// <param name="content">The file.</param>
    /// <param name="supplierId">Whose lists they are, where that is known; else it is found.</param>
    /// <param name="cancellation">Stops between two mails; what is in the book stays.</param>
    /// <param name="daysAgo">How many days ago the file came; 0 for today.</param>
    /// <returns>One for the file, or one for each mail of a mailbox.</returns>
    public async Task<IReadOnlyList<ArrivedList>> Take(string fileName, byte[] content, Guid? supplierId, CancellationToken cancellation, int daysAgo = 0)
    {
        if (!Mailbox.Is(content))
        {
            return [await One(fileName, content, Mailbox.OfFile(content) is { } mail && IsMail(fileName, mail) ? mail : null, inMailbox: false, supplierId, day.Today.AddDays(-daysAgo), cancellation)];
        }

        using var stream = new MemoryStream(content, writable: false);
        return await TakeMailbox(fileName, stream, supplierId, cancellation);
    }

    /// <summary>Takes in a mailbox of any length, mail by mail.</summary>
    /// <param name="fileName">Name of the file.</param>
    /// <param name="mailbox">From its beginning.</param>
    /// <param name="supplierId">Whose lists they are, where that is known; else it is found.</param>
    /// <param name="cancellation">Stops between two mails; what is in the book stays.</param>
    public async Task<IReadOnlyList<ArrivedList>> TakeMailbox(string fileName, Stream mailbox, Guid? supplierId, CancellationToken cancellation)
    {
        var arrived = new List<ArrivedList>();
        foreach (var mail in Mailbox.Each(mailbox, fileName))
        {
            cancellation.ThrowIfCancellationRequested();
            arrived.Add(mail.IsGood
                ? await One(mail.Value.Subject, mail.Value.Content, mail.Value, inMailbox: true, supplierId, day.Today, cancellation)
                : new ArrivedList(fileName, null, ListShelf.Sha256(System.Text.Encoding.UTF8.GetBytes(mail.Problems[0].ToString())), Arrival.Unreadable, null, null, mail.Problems[0].ToString()));
        }

        return arrived;
    }

    private static bool IsMail(string fileName, Mail mail) => mail.Sender is not null || fileName.EndsWith(".eml", StringComparison.OrdinalIgnoreCase);

    private async Task<ArrivedList> One(string name, byte[] content, Mail? mail, bool inMailbox, Guid? supplierId, DateOnly came, CancellationToken cancellation)
    {
        var sha = ListShelf.Sha256(content);
        ArrivedList Became(Arrival became, string words, string? supplier = null, Guid? listId = null) => new(name, mail?.Sender, sha, became, supplier, listId, words) { InMailbox = inMailbox };
        // A list of a mail is of the day on which it was sent.
        var onDay = mail?.Sent is { } sent && DateOnly.FromDateTime(day.Local(sent)) is var sentOn && sentOn < day.Today ? sentOn : came;
        // Who sends the same list the week after offers the same again.
        var (monday, sunday) = ListShelf.Week(onDay);
        var there = await book.Lists.AsNoTracking().Where(list => list.Sha256 == sha && list.OnDay >= monday && list.OnDay <= sunday).Select(list => new { list.Id, list.Supplier!.Name }).FirstOrDefaultAsync(cancellation);
        if (there is not null)
        {
            return Became(Arrival.WasThere, "The same was taken in before, this week.", there.Name, there.Id);
        }

        var read = ListReader.Read(content, name, new ReadOptions { Names = await SettledFinder.Of(book, cancellation), Today = onDay }, cancellation);
        if (!read.IsGood)
        {
            return Became(Arrival.Unreadable, read.Problems[0].ToString());
        }

        if (read.Value.Offers.Count == 0)
        {
            return inMailbox ? Became(Arrival.NoList, "Nothing is offered in it.") : Became(Arrival.Unreadable, "No offer was found in it.");
        }

        var whose = supplierId is null ? await find.Of(read.Value, name, mail?.Sender, cancellation) : new WhoseList(supplierId, []);
        if (whose.SupplierId is not { } found)
        {
            return Became(Arrival.WhoseIsIt, whose.Guesses.Count > 0 ? $"Whose list is this: {string.Join(" or ", whose.Guesses)}?" : "Whose list is this?");
        }

        var kept = await take.Take(new HandedList(found, name, content, onDay, day.Now), cancellation);
        if (!kept.IsGood)
        {
            return Became(Arrival.Unreadable, kept.Problems[0].ToString());
        }

        var supplier = await book.Suppliers.AsNoTracking().Where(one => one.Id == found).Select(one => one.Name).SingleAsync(cancellation);
        return Became(kept.Value.WasThere ? Arrival.WasThere : Arrival.Taken, $"{read.Value.Offers.Count} offers.", supplier, kept.Value.ListId);
    }
}
