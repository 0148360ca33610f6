using Lepidary.App.Host;
using Lepidary.App.Tests.Support;

namespace Lepidary.App.Tests.Lists;

public sealed class ListsTests
{
    [Fact]
    public async Task Read_prints_the_shape_that_scripts_rely_on()
    {
        await using var book = new TestBook();

        var list = (await book.Done("lists", "read", DemoFolder.File("public-glasshouse/lists/quillfeather-pupae.csv"), "--json")).Json;

        Assert.Equal("EUR", list.GetProperty("currency").GetString());
        var offer = list.GetProperty("offers").EnumerateArray().First(offer => offer.GetProperty("taxon").GetString() is not null);
        foreach (var name in (string[])["line", "text", "taxon", "form", "kind", "price", "breaks", "pack", "minimum", "available", "soldOut", "doubts"])
        {
            Assert.True(offer.TryGetProperty(name, out _), name);
        }

        foreach (var name in (string[])["supplier", "date", "pricesExcludeTax", "charges", "doubts"])
        {
            Assert.True(list.TryGetProperty(name, out _), name);
        }
    }

    [Theory]
    [InlineData("empty.csv", "")]
    [InlineData("picture.csv", "\u0089PNG\r\n\u001a\n\0\0\0\rIHDR\0\0\0\0")]
    public async Task Read_what_is_no_list_is_refused_with_its_name(string name, string content)
    {
        await using var book = new TestBook();
        var path = book.File(name, System.Text.Encoding.Latin1.GetBytes(content));

        var said = await book.Run("lists", "read", path, "--json");

        Assert.Equal(ExitCodes.BadInput, said.Code);
        Assert.Contains(name, said.Error, StringComparison.Ordinal);
        Assert.Empty(said.Output);
    }

    [Fact]
    public async Task Take_same_file_twice_keeps_it_once()
    {
        await using var book = await TestBook.Demo();
        var (supplier, _) = DemoFolder.ThisWeek[0];
        var file = book.File("another.csv", [.. await File.ReadAllBytesAsync(DemoFolder.ThisWeek[0].File, TestContext.Current.CancellationToken), 13, 10]);

        var first = (await book.Done("lists", "take", file, "--supplier", supplier, "--json")).Json;
        var second = (await book.Done("lists", "take", file, "--supplier", supplier, "--json")).Json;

        Assert.False(first.GetProperty("wasThere").GetBoolean());
        Assert.True(second.GetProperty("wasThere").GetBoolean());
        Assert.Equal(first.GetProperty("list").GetGuid(), second.GetProperty("list").GetGuid());
    }

    [Fact]
    public async Task Settle_takes_the_doubt_away_from_this_list_and_the_next()
    {
        await using var book = await TestBook.Demo();
        var doubtful = (await book.Done("lists", "show", "--json")).Json.EnumerateArray().SelectMany(list => list.GetProperty("list").GetProperty("offers").EnumerateArray())
            .First(offer => offer.GetProperty("candidates").GetArrayLength() > 0);
        var line = doubtful.GetProperty("line").GetInt32();
        var candidate = doubtful.GetProperty("candidates")[0].GetString()!;

        await book.Done("lists", "settle", doubtful.GetProperty("printedName").GetString()!, candidate);

        var settled = (await book.Done("lists", "show", "--json")).Json.EnumerateArray().SelectMany(list => list.GetProperty("list").GetProperty("offers").EnumerateArray())
            .Single(offer => offer.GetProperty("line").GetInt32() == line && offer.GetProperty("text").GetString() == doubtful.GetProperty("text").GetString());
        Assert.Equal(candidate, settled.GetProperty("taxon").GetString());
        Assert.Equal(0, settled.GetProperty("candidates").GetArrayLength());
    }

    [Fact]
    public async Task Settle_with_no_species_says_what_was_expected()
    {
        await using var book = await TestBook.Demo();

        var said = await book.Run("lists", "settle", "Blue thing", "a blue one");

        Assert.Equal(ExitCodes.BadInput, said.Code);
        Assert.Contains("genus and species", said.Error, StringComparison.Ordinal);
    }
}
