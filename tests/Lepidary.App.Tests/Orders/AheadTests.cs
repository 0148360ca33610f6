using System.Text.RegularExpressions;
using Lepidary.App.Tests.Support;
using Lepidary.App.Words;

namespace Lepidary.App.Tests.Orders;

/// <summary>The weeks after the order, by page and by command.</summary>
public sealed partial class AheadTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Ahead_sketches_four_weeks_and_says_of_offers_whether_they_can_wait()
    {
        await using var book = await TestBook.Demo();

        var view = (await book.Done("orders", "ahead", "--json")).Json;

        var weeks = view.GetProperty("weeks").EnumerateArray().ToList();
        Assert.Equal(4, weeks.Count);
        Assert.NotEmpty(weeks.SelectMany(week => week.GetProperty("wishes").EnumerateArray()));
        Assert.All(weeks.SelectMany(week => week.GetProperty("orders").EnumerateArray()), order =>
        {
            Assert.InRange(order.GetProperty("chance").GetDouble(), 0.001, 1);
            Assert.True(order.GetProperty("pupae").GetInt32() > 0);
            Assert.NotEmpty(order.GetProperty("for").GetString()!);
        });
        var offers = view.GetProperty("offers").EnumerateArray().ToList();
        Assert.NotEmpty(offers);
        Assert.All(offers, offer => Assert.Equal(offer.GetProperty("pupae").GetInt32() == 0, offer.GetProperty("what").GetString() == "can wait"));
        Assert.All(view.GetProperty("firm").EnumerateArray(), row => Assert.Equal(4, row.GetProperty("weeks").GetArrayLength()));
    }

    [Fact]
    public async Task Ahead_page_stands_behind_the_order_and_sets_names_in_italics()
    {
        await using var book = await TestBook.Demo();
        using var client = await book.Serve();

        var order = await client.Found("/order", Stop);
        var page = await client.Found("/order/ahead", Stop);
        var table = await book.Done("orders", "ahead");

        Assert.Contains("href=\"/order/ahead\"", order, StringComparison.Ordinal);
        Assert.Contains("The next four weeks", page, StringComparison.Ordinal);
        Assert.Contains("Order now, or wait", page, StringComparison.Ordinal);
        Assert.Contains("href=\"/order\"", page, StringComparison.Ordinal);
        Assert.Contains("with what is likely", table.Output, StringComparison.Ordinal);
        // No name stands upright in a sentence of the order.
        var upright = NamesAndTags().Replace(order[..order.IndexOf("id=\"more\"", StringComparison.Ordinal)], "");
        Assert.DoesNotContain("Morpho", upright, StringComparison.Ordinal);
        Assert.DoesNotContain("Heliconius", upright, StringComparison.Ordinal);
    }

    [GeneratedRegex("<i lang=\"la\".*?</i>|<label.*?</label>|<span class=\"unseen\">.*?</span>|<[^>]*>")]
    private static partial Regex NamesAndTags();

    [Theory]
    [InlineData("For 8 Morpho helenor on Sat 12 Dec: nearly always.", "For 8 |*Morpho helenor| on Sat 12 Dec: nearly always.")]
    [InlineData("Papilio memnon can wait.", "*Papilio memnon| can wait.")]
    [InlineData("12 Morpho on two days", "12 |*Morpho| on two days")]
    [InlineData("The budget goes to what is worth more.", "The budget goes to what is worth more.")]
    [InlineData("Nobody has Attacus atlas", "Nobody has |*Attacus atlas")]
    [InlineData("", "")]
    public void Parts_finds_names_and_loses_nothing(string sentence, string parts)
    {
        var found = LatinWords.Parts(sentence);

        Assert.Equal(parts, string.Join('|', found.Select(part => (part.IsLatin ? "*" : "") + part.Text)));
        Assert.Equal(sentence, string.Concat(found.Select(part => part.Text)));
    }
}
