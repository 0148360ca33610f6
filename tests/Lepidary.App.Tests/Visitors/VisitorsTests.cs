using Lepidary.App.Tests.Support;
using Lepidary.App.Visitors;
using Lepidary.Book;
using Lepidary.Taxa;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Tests.Visitors;

public sealed class VisitorsTests
{
    [Fact]
    public async Task Visitors_page_names_what_flies_in_the_languages_of_the_house()
    {
        await using var book = new TestBook();
        await HouseOf(book, "de", "en");
        using var browser = await book.Serve();

        var german = await browser.Page("/visitors");
        var english = await browser.Page("/visitors?language=en");
        var other = await browser.Page("/visitors?language=fr");

        Assert.Contains("<article lang=\"de\"", german, StringComparison.Ordinal);
        Assert.Contains("Heute fliegen", german, StringComparison.Ordinal);
        Assert.Contains("Mittel- und S", german, StringComparison.Ordinal);
        Assert.Contains("<i lang=\"la\" class=\"latin\">Morpho helenor</i>", english, StringComparison.Ordinal);
        Assert.Contains("Central and South America", english, StringComparison.Ordinal);
        Assert.Contains("about 10", english, StringComparison.Ordinal);
        Assert.Contains("<article lang=\"de\"", other, StringComparison.Ordinal);
        Assert.DoesNotContain("<img", english, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Screen_renews_itself_turns_through_the_languages_and_can_stand_still()
    {
        await using var book = new TestBook();
        await HouseOf(book, "en", "de", "it");
        using var browser = await book.Serve();

        Assert.Equal("60; url=/visitors/screen?language=en", await Refresh(browser, "/visitors/screen"));
        Assert.Equal("60; url=/visitors/screen?turn=de", await Refresh(browser, "/visitors/screen?turn=en"));
        Assert.Equal("60; url=/visitors/screen?turn=en", await Refresh(browser, "/visitors/screen?turn=it"));
        Assert.Null(await Refresh(browser, "/visitors/screen?language=de&still=yes"));
        Assert.DoesNotContain("<nav", await browser.Page("/visitors/screen"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Visitors_page_where_nothing_flies_says_so()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        using var browser = await book.Serve();

        Assert.Contains("Nothing flies today.", await browser.Page("/visitors"), StringComparison.Ordinal);
    }

    [Fact]
    public void Every_language_has_every_word_and_its_sentences_take_their_numbers()
    {
        string[] realms = [.. TaxonTable.Shipped.All.Select(taxon => taxon.Region).Distinct().Where(region => region.Length > 0)];

        Assert.All(VisitorWords.All, words =>
        {
            Assert.All(realms, realm => Assert.NotEmpty(words.Region(realm)));
            Assert.Equal(2, new[] { "{0}", "{1}" }.Count(part => words.Sums.Contains(part, StringComparison.Ordinal)));
            Assert.All(new[] { words.About, words.Days, words.Weeks, words.Months }, text => Assert.Contains("{0}", text, StringComparison.Ordinal));
        });
        Assert.Equal(6, VisitorWords.All.Select(words => words.Heading).Distinct().Count());
    }

    [Theory]
    [InlineData(1, "one or two")]
    [InlineData(2, "one or two")]
    [InlineData(3, "about 3")]
    [InlineData(12, "about 10")]
    [InlineData(13, "about 15")]
    [InlineData(148, "about 150")]
    public void HowMany_is_no_more_exact_than_anybody_knows(int about, string words) => Assert.Equal(words, VisitorWords.Of("en").HowMany(about));

    [Theory]
    [InlineData(4, "4 days")]
    [InlineData(7, "about a week")]
    [InlineData(12, "2 weeks")]
    [InlineData(30, "4 weeks")]
    [InlineData(90, "3 months")]
    public void HowLong_grows_from_days_to_months(double days, string words) => Assert.Equal(words, VisitorWords.Of("en").HowLong(days));

    private static async Task HouseOf(TestBook book, params string[] languages)
    {
        var house = await HungHouse.Make(book);
        await book.Look(async context =>
        {
            (await context.Houses.SingleAsync(TestContext.Current.CancellationToken)).Languages = [.. languages];
            return await context.SaveChangesAsync(TestContext.Current.CancellationToken);
        });
        await book.Receive(new Release { HouseId = house.Id, OnDay = HungHouse.Today, DeviceTime = book.Clock.GetUtcNow(), Taxon = "Morpho helenor", AreaId = house.Areas[0].Id, Unsexed = 11 });
    }

    private static async Task<string?> Refresh(HttpClient browser, string address)
    {
        var answer = await browser.GetAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.True(answer.IsSuccessStatusCode);
        return answer.Headers.TryGetValues("Refresh", out var values) ? Assert.Single(values) : null;
    }
}
