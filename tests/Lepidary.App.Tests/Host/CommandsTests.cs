using Lepidary.App.Host;
using Lepidary.App.Tests.Support;

namespace Lepidary.App.Tests.Host;

public sealed class CommandsTests
{
    [Fact]
    public async Task Run_unknown_command_ends_with_bad_command_line()
    {
        await using var book = new TestBook();

        var said = await book.Run("no-such-command");

        Assert.Equal(ExitCodes.BadCommandLine, said.Code);
        Assert.Contains("no-such-command", said.Error, StringComparison.Ordinal);
        Assert.Contains("Usage:", said.Error, StringComparison.Ordinal);
        Assert.Empty(said.Output);
    }

    [Fact]
    public async Task Serve_page_that_is_not_there_says_so()
    {
        await using var book = new TestBook();
        using var client = await book.Serve();

        var answer = await client.GetAsync(new Uri("/never", UriKind.Relative), TestContext.Current.CancellationToken);

        Assert.Equal(System.Net.HttpStatusCode.NotFound, answer.StatusCode);
        Assert.Contains("not in the book", await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
        Assert.Contains("default-src 'self'", answer.Headers.GetValues("Content-Security-Policy").Single(), StringComparison.Ordinal);
    }
}
