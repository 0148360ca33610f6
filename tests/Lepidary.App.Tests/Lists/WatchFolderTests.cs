using System.Text;
using Lepidary.App.Host;
using Lepidary.App.Lists;
using Lepidary.App.Tests.Support;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Lepidary.App.Tests.Lists;

/// <summary>Lists that come in by themselves: dropped into a folder, or mails of a mailbox.</summary>
public sealed class WatchFolderTests
{
    private const string Kessom = "Papilio demodocus 1.65 (40)\nPapilio dardanus 2.10 (20)\nCharaxes candiope 2.90 (12)\n";

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    private static string Folder(TestBook book) => Directory.CreateDirectory(Path.Combine(Path.GetDirectoryName(book.Path)!, "dropped")).FullName;

    /// <summary>Drops a file that was written whole a minute ago.</summary>
    private static string Drop(TestBook book, string name, string text)
    {
        var path = Path.Combine(Folder(book), name);
        File.WriteAllText(path, text);
        File.SetLastWriteTimeUtc(path, DateTime.UtcNow.AddMinutes(-1));
        return path;
    }

    private static Task<int> Lists(TestBook book) => book.Look(context => context.Lists.CountAsync(Stop));

    private static async Task<List<(string File, string Became, string? Supplier)>> Watch(TestBook book) =>
        [.. (await book.Run("lists", "watch", Folder(book), "--json")).Json.EnumerateArray().Select(list => (list.GetProperty("fileName").GetString()!, list.GetProperty("became").GetString()!, list.GetProperty("supplier").GetString()))];

    [Fact]
    public async Task Dropped_list_is_found_by_its_name_and_taken_once()
    {
        await using var book = await TestBook.Demo();
        var before = await Lists(book);
        Drop(book, "kessom 27 Nov.txt", Kessom);

        Assert.Equal([("kessom 27 Nov.txt", "taken", "Kessom Farm")], await Watch(book));
        Assert.Equal([("kessom 27 Nov.txt", "wasThere", "Kessom Farm")], await Watch(book));
        Drop(book, "the same again.txt", Kessom);
        Assert.Contains(("the same again.txt", "wasThere", "Kessom Farm"), await Watch(book));
        Assert.Equal(before + 1, await Lists(book));
    }

    [Fact]
    public async Task Same_list_of_the_week_before_is_a_listing_of_each_week()
    {
        await using var book = await TestBook.Demo();
        var before = await Lists(book);
        File.SetLastWriteTimeUtc(Drop(book, "kessom last week.txt", Kessom), DateTime.UtcNow.AddDays(-7));
        Assert.Equal([("kessom last week.txt", "taken", "Kessom Farm")], await Watch(book));
        Drop(book, "kessom this week.txt", Kessom);

        Assert.Equal([("kessom last week.txt", "wasThere", "Kessom Farm"), ("kessom this week.txt", "taken", "Kessom Farm")], await Watch(book));
        Assert.Equal([("kessom last week.txt", "wasThere", "Kessom Farm"), ("kessom this week.txt", "wasThere", "Kessom Farm")], await Watch(book));
        var days = await book.Look(context => context.Lists.Where(list => list.FileName.EndsWith(" week.txt")).OrderBy(list => list.OnDay).Select(list => list.OnDay).ToListAsync(Stop));
        Assert.Equal(7, days[1].DayNumber - days[0].DayNumber);
        Assert.Equal(before + 2, await Lists(book));
    }

    [Fact]
    public async Task Dropped_list_is_found_by_the_name_in_it_and_by_its_shape()
    {
        await using var book = await TestBook.Demo();
        var old = await File.ReadAllTextAsync(DemoFolder.ThisWeek[0].File, CodePagesEncodingProvider.Instance.GetEncoding(1252)!, Stop);
        Drop(book, "a.csv", old.Replace("2,40", "2,45", StringComparison.Ordinal));
        var table = old[old.IndexOf("No.;", StringComparison.Ordinal)..];
        Drop(book, "b.csv", table.Replace("2,40", "2,55", StringComparison.Ordinal));

        Assert.Equal([("a.csv", "taken", "Quillfeather Pupae"), ("b.csv", "taken", "Quillfeather Pupae")], await Watch(book));
    }

    [Fact]
    public async Task What_is_half_written_or_hidden_is_left_and_what_is_unreadable_is_named()
    {
        await using var book = await TestBook.Demo();
        var before = await Lists(book);
        var half = Path.Combine(Folder(book), "kessom.txt");
        await File.WriteAllTextAsync(half, "Papilio demo", Stop);
        Drop(book, "empty kessom.txt", "");
        Drop(book, ".kessom.txt", Kessom);
        Drop(book, "kessom.txt.part", Kessom);
        Drop(book, "kessom.png", "\u0089PNG\r\n\u001a\n\0\0\0\rIHDR\0\0\0\0");

        var said = await book.Run("lists", "watch", Folder(book), "--json");

        Assert.Equal(ExitCodes.BadInput, said.Code);
        Assert.Equal(
            [("empty kessom.txt", "halfWritten"), ("kessom.png", "unreadable"), ("kessom.txt", "halfWritten")],
            said.Json.EnumerateArray().Select(list => (list.GetProperty("fileName").GetString()!, list.GetProperty("became").GetString()!)));
        Assert.Equal(before, await Lists(book));
        Drop(book, "kessom.txt", Kessom);
        Assert.Contains(("kessom.txt", "taken", "Kessom Farm"), await Watch(book));
    }

    [Fact]
    public async Task Mailbox_gives_each_mail_to_its_sender_and_passes_over_what_is_no_list()
    {
        await using var book = await TestBook.Demo();
        await book.Look(async context => await context.Suppliers.Where(one => one.Name == "Kessom Farm").ExecuteUpdateAsync(set => set.SetProperty(one => one.Email, "ambrel@kessom.invalid"), Stop));
        static string Mail(string from, string subject, string date, string text) => $"From {from} Fri Nov 20 08:00:00 2026\nFrom: <{from}>\nSubject: {subject}\nDate: {date}\nMIME-Version: 1.0\nContent-Type: text/plain; charset=utf-8\n\n{text}\n\n";
        var file = book.File("lists.mbox",
            Mail("ambrel@kessom.invalid", "this week", "Fri, 20 Nov 2026 08:00:00 +0000", "Prices in EUR.\n" + Kessom)
            + Mail("ambrel@kessom.invalid", "thanks", "Sat, 21 Nov 2026 08:00:00 +0000", "Your order left today. All the best.")
            + Mail("ambrel@kessom.invalid", "next", "Thu, 26 Nov 2026 08:00:00 +0000", "Prices in EUR.\n" + Kessom.Replace("1.65", "1.70", StringComparison.Ordinal))
            + Mail("who@elsewhere.invalid", "pupae", "Thu, 26 Nov 2026 09:00:00 +0000", "Prices in EUR.\n" + Kessom.Replace("1.65", "1.75", StringComparison.Ordinal)));

        var said = await book.Run("lists", "take", file, "--json");
        var again = await book.Run("lists", "take", file, "--json");

        Assert.Equal(ExitCodes.BadInput, said.Code);
        Assert.Equal(["taken", "noList", "taken", "whoseIsIt"], said.Json.EnumerateArray().Select(mail => mail.GetProperty("became").GetString()));
        Assert.Equal(["wasThere", "noList", "wasThere", "whoseIsIt"], again.Json.EnumerateArray().Select(mail => mail.GetProperty("became").GetString()));
        var days = await book.Look(context => context.Lists.Where(list => list.FileName == "this week" || list.FileName == "next").OrderBy(list => list.OnDay).Select(list => list.OnDay).ToListAsync(Stop));
        Assert.Equal([new DateOnly(2026, 11, 20), new DateOnly(2026, 11, 26)], days);
    }

    [Fact]
    public async Task Served_folder_waits_on_Today_until_one_tap_says_whose_the_list_is()
    {
        await using var book = await TestBook.Demo();
        Drop(book, "pupae.txt", Kessom);
        Drop(book, "notes.txt", "Nothing is offered here at all.\n");
        await using var app = WebHost.Build(book.Place, 0, "127.0.0.1", TestBook.AddBook, book.Clock, Folder(book));
        await app.StartAsync(Stop);
        using var browser = new HttpClient { BaseAddress = new Uri(app.Urls.First()) };
        var folder = app.Services.GetRequiredService<WatchedFolder>();
        while (folder.Waiting.Count < 2)
        {
            await Task.Delay(50, Stop);
        }

        Assert.Contains("2 lists wait in the watched folder", await browser.Page("/"), StringComparison.Ordinal);
        var page = await browser.Page("/lists/waiting");
        var (_, list, address) = await PageForm.Of(page, "aria-label=\"pupae.txt is from Kessom Farm\"").Send(browser);
        Assert.StartsWith("/lists/", address, StringComparison.Ordinal);
        Assert.Contains("3 offers", list, StringComparison.Ordinal);
        await PageForm.Of(await browser.Page("/lists/waiting"), "Put notes.txt aside").Send(browser);

        Assert.Contains("No list waits", await browser.Page("/lists/waiting"), StringComparison.Ordinal);
        Assert.Equal(["pupae.txt"], Directory.EnumerateFiles(Folder(book)).Select(Path.GetFileName));
        Assert.EndsWith("-notes.txt", Assert.Single(Directory.EnumerateFiles(Path.Combine(Folder(book), WatchedFolder.Aside))), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Waiting_form_opens_nothing_that_does_not_wait()
    {
        await using var book = await TestBook.Demo();
        var said = await book.Serve<SettleWaiting, IReadOnlyList<Problem>>(settle => Task.FromResult(settle.PutAside("../book.db", new string('0', 64))));

        Assert.Single(said);
        Assert.True(File.Exists(book.Path));
    }
}
