using Lepidary.App.Host;
using Lepidary.App.Tests.Support;

namespace Lepidary.App.Tests.Today;

public sealed class TodayTests
{
    [Fact]
    public async Task Today_of_the_demo_names_round_order_and_the_count_that_does_not_add_up()
    {
        await using var book = await TestBook.Demo();

        var said = await book.Done("today", "--json");

        var items = said.Json.GetProperty("items").EnumerateArray().Select(item => item.GetProperty("what").GetString()).ToList();
        Assert.Contains("Go on with the round", items);
        Assert.Contains("One count does not add up", items);
        Assert.NotEmpty(said.Json.GetProperty("ahead").EnumerateArray());
    }

    [Fact]
    public async Task Today_without_a_book_says_how_to_make_one()
    {
        await using var book = new TestBook();

        var said = await book.Run("today");

        Assert.Equal(ExitCodes.NoBook, said.Code);
        Assert.Contains("lepidary demo", said.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Page_of_an_empty_book_says_how_to_begin()
    {
        await using var book = new TestBook();
        using var client = await book.Serve();

        var page = await client.GetStringAsync(new Uri("/", UriKind.Relative), TestContext.Current.CancellationToken);

        Assert.Contains("no house yet", page, StringComparison.Ordinal);
    }
}
