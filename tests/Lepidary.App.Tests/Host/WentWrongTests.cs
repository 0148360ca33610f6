using System.Net;
using Lepidary.App.Tests.Support;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Tests.Host;

public sealed class WentWrongTests
{
    [Fact]
    public async Task Page_that_fails_says_so_in_words()
    {
        await using var book = new TestBook();
        await HungHouse.Make(book);
        using var browser = await book.Serve();
        await book.Look(context => context.Database.ExecuteSqlRawAsync("ALTER TABLE \"Lots\" RENAME TO \"Gone\"", TestContext.Current.CancellationToken));

        var answer = await browser.GetAsync(new Uri("/round", UriKind.Relative), TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.InternalServerError, answer.StatusCode);
        Assert.Contains("<h1>Something went wrong here</h1>", await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }
}
