using System.Net;
using Lepidary.App.Host;
using Lepidary.App.Tests.Support;

namespace Lepidary.App.Tests.Species;

public sealed class SpeciesTests
{
    [Fact]
    public async Task Species_shows_what_every_figure_rests_on()
    {
        await using var book = await TestBook.Demo();

        var view = (await book.Done("species", "Morpho helenor", "--json")).Json;

        Assert.NotEmpty(view.GetProperty("life").EnumerateArray());
        Assert.All(view.GetProperty("life").EnumerateArray(), figure => Assert.NotEmpty(figure.GetProperty("source").GetString()!));
        Assert.Contains(view.GetProperty("learnt").EnumerateArray(), row => row.GetProperty("source").GetString()!.Contains("of yours", StringComparison.Ordinal));
        var chances = view.GetProperty("pairs").EnumerateArray().Select(row => row.GetProperty("chance").GetDouble()).ToList();
        Assert.Equal(chances.Order(), chances);
    }

    [Fact]
    public async Task Species_from_memory_says_so_once()
    {
        await using var book = await TestBook.Demo();
        using var browser = await book.Serve();

        var page = await browser.Page("/species/Papilio%20memnon");
        var said = await book.Done("species", "Papilio memnon");

        Assert.Contains("from memory", page, StringComparison.Ordinal);
        Assert.DoesNotContain("</span> memory", page, StringComparison.Ordinal);
        Assert.Contains("set from the pupal time", page, StringComparison.Ordinal);
        Assert.DoesNotContain("from memory: memory", said.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Species_old_name_leads_to_the_accepted_one()
    {
        await using var book = await TestBook.Demo();

        Assert.Equal("Morpho helenor", (await book.Done("species", "Morpho peleides", "--json")).Json.GetProperty("name").GetString());
    }

    [Fact]
    public async Task Species_in_no_table_is_borrowed_and_says_so()
    {
        await using var book = await TestBook.Demo();

        var view = (await book.Done("species", "Morpho zzyxensis", "--json")).Json;

        Assert.False(view.GetProperty("inTable").GetBoolean());
        Assert.All(view.GetProperty("life").EnumerateArray().Where(figure => figure.GetProperty("what").GetString()!.StartsWith("Days", StringComparison.Ordinal)), figure => Assert.Equal("borrowed", figure.GetProperty("confidence").GetString()));
    }

    [Fact]
    public async Task Names_finds_by_a_common_name_without_a_book()
    {
        await using var book = new TestBook();

        Assert.Contains((await book.Done("names", "emerald swallow", "--json")).Json.EnumerateArray(), hit => hit.GetProperty("name").GetString() == "Papilio palinurus");
    }

    [Fact]
    public async Task Page_of_no_name_is_not_there_and_offers_near_ones()
    {
        await using var book = await TestBook.Demo();
        using var client = await book.Serve();

        var answer = await client.GetAsync(new Uri("/species/12345", UriKind.Relative), TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
    }

    [Fact]
    public async Task Suppliers_says_who_differs_only_where_the_counts_can_tell()
    {
        await using var book = await TestBook.Demo();

        var view = (await book.Done("suppliers", "--json")).Json;

        // The demo's truth (demo/README.md): Kessom's pupae emerge less often than Brackenfold's.
        Assert.Equal("Brackenfold Lepidoptera gives more butterflies than Kessom Farm", view.GetProperty("headline").GetString());
        Assert.All(view.GetProperty("rows").EnumerateArray(), row =>
        {
            // A butterfly costs more than a pupa, and its days share that cost; both say how sure they are.
            var (butterfly, day) = (row.GetProperty("butterfly"), row.GetProperty("butterflyDay"));
            Assert.All(new[] { butterfly, day }, cost => Assert.True(Cost(cost, "low") < Cost(cost, "middle") && Cost(cost, "middle") < Cost(cost, "high")));
            Assert.True(Cost(butterfly, "middle") > double.Parse(row.GetProperty("landedPupa").GetString()!, System.Globalization.CultureInfo.InvariantCulture));
            Assert.True(Cost(butterfly, "high") / Cost(butterfly, "low") < Cost(day, "high") / Cost(day, "low"));
            Assert.InRange(Cost(butterfly, "middle") / Cost(day, "middle"), 5, 40);
        });
        Assert.Contains("a false alarm comes about once in 10", view.GetProperty("watched").GetString()!, StringComparison.Ordinal);
        static double Cost(System.Text.Json.JsonElement cost, string end) => cost.GetProperty(end).GetDouble();
        Assert.All(view.GetProperty("rows").EnumerateArray(), row => Assert.True(row.GetProperty("from").GetDouble() < row.GetProperty("rate").GetDouble() && row.GetProperty("rate").GetDouble() < row.GetProperty("to").GetDouble()));
    }

    [Fact]
    public async Task House_file_written_and_read_back_changes_nothing()
    {
        await using var book = await TestBook.Demo();
        var file = (await book.Done("house", "show")).Output;

        await book.Done("house", "change", book.File("same.yaml", file));

        Assert.Equal(file, (await book.Done("house", "show")).Output);
    }

    [Fact]
    public async Task House_change_ends_an_aim_and_keeps_it()
    {
        await using var book = await TestBook.Demo();
        var file = (await book.Done("house", "show")).Output;
        var without = string.Join('\n', file.Split('\n').Where(line => !line.Contains("Papilio ulysses", StringComparison.Ordinal)));

        await book.Done("house", "change", book.File("fewer.yaml", without));

        Assert.Equal(without, (await book.Done("house", "show")).Output);
        Assert.Equal(1, await book.Look(context => Task.FromResult(context.Aims.Count(aim => aim.EndedOn != null))));
    }

    [Fact]
    public async Task House_change_with_mistakes_changes_nothing_and_names_them()
    {
        await using var book = await TestBook.Demo();
        var file = (await book.Done("house", "show")).Output;

        var said = await book.Run("house", "change", book.File("bad.yaml", file.Replace("budget: 560", "budget: lots", StringComparison.Ordinal)));

        Assert.Equal(ExitCodes.BadInput, said.Code);
        Assert.Contains("budget", said.Error, StringComparison.Ordinal);
        Assert.Equal(file, (await book.Done("house", "show")).Output);
    }

    [Fact]
    public async Task Book_exported_and_imported_is_the_same_book()
    {
        await using var book = await TestBook.Demo();
        await using var other = new TestBook();
        var path = book.File("book.jsonl", "");

        var written = (await book.Done("book", "export", path, "--json")).Json.GetProperty("rows").GetInt64();
        var read = (await other.Done("book", "import", path, "--json")).Json.GetProperty("rows").GetInt64();

        Assert.Equal(written, read);
        Assert.Equal((await book.Done("suppliers", "--json")).Output, (await other.Done("suppliers", "--json")).Output);
        Assert.Equal(ExitCodes.BadInput, (await other.Run("book", "import", path)).Code);
    }
}
