using Lepidary.App.Host;
using Lepidary.App.Tests.Support;

namespace Lepidary.App.Tests.Marks;

public sealed class MarksTests
{
    private const string Key = "01976f3a-5c20-7f00-8000-0000000000d1";

    /// <summary>40 marked; 24 met after two days, 12 of these after two more and 2 only at the last look, which meets 9. The likelihood of that, searched on a grid, is highest at 0.786 a day.</summary>
    [Fact]
    public async Task Marks_met_again_tell_how_long_they_live()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        string[] Marks(int count, int from = 1) => [.. Enumerable.Range(from, count).Select(number => $"a{number}")];
        await book.Done(["marked", "Morpho helenor", .. Marks(40), "--on", "2026-11-20"]);
        await book.Done(["marked", "Morpho helenor", .. Marks(24), "--on", "2026-11-22"]);
        await book.Done(["marked", "Morpho helenor", .. Marks(12, from: 3), "--on", "2026-11-24"]);

        var last = await book.Done(["marked", "Morpho peleides", .. Marks(9), "B1", "--on", "2026-11-26", "--id", Key, "--json"]);
        var again = await book.Done(["marked", "Morpho peleides", .. Marks(9), "B1", "--on", "2026-11-26", "--id", Key, "--json"]);

        Assert.Equal((1, 9), (last.Json.GetProperty("fresh").GetInt32(), last.Json.GetProperty("again").GetInt32()));
        Assert.Equal("duplicate", again.Json.GetProperty("receipt").GetString());
        var species = (await book.Done("marked", "--json")).Json.GetProperty("species")[0];
        Assert.Equal((41, 45, 4), (species.GetProperty("marked").GetInt32(), species.GetProperty("again").GetInt32(), species.GetProperty("looks").GetInt32()));
        Assert.InRange(species.GetProperty("daily").GetProperty("value").GetDouble(), 0.784, 0.788);
        Assert.InRange(species.GetProperty("meanLife").GetProperty("likely").GetDouble(), 4.07, 4.24);
        using var browser = await book.Serve();
        var page = await browser.Page("/flying/marked");
        Assert.Contains("41 marked, 45 times met again", page, StringComparison.Ordinal);
        Assert.Contains("They live 4 days more", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Marks_wrong_values_are_named()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);

        var said = await book.Run("marked", "Xyzzy", "--on", "2026-11-28");
        var tooLong = await book.Run("marked", "Morpho helenor", "ABCDEFGHIJKLMN");

        Assert.Equal(ExitCodes.BadInput, said.Code);
        Assert.Contains("marks: found nothing", said.Error, StringComparison.Ordinal);
        Assert.Contains("species: found Xyzzy", said.Error, StringComparison.Ordinal);
        Assert.Contains("mark: found ABCDEFGHIJKLMN", tooLong.Error, StringComparison.Ordinal);
    }
}
