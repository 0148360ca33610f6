namespace Lepidary.Browser.Harness;

public sealed class BookServerTests
{
    [Fact]
    public async Task Start_after_a_kill_serves_the_same_book_again()
    {
        await using var server = await BookServer.OnFreshBook();
        using var client = new HttpClient();

        Assert.True((await client.GetAsync(server.Page("/contents"), TestContext.Current.CancellationToken)).IsSuccessStatusCode);
        await server.Kill();
        await Assert.ThrowsAsync<HttpRequestException>(() => client.GetAsync(server.Page("/contents"), TestContext.Current.CancellationToken));
        await server.Start();
        Assert.True((await client.GetAsync(server.Page("/contents"), TestContext.Current.CancellationToken)).IsSuccessStatusCode);
        Assert.True(File.Exists(server.Book));
    }

    [Fact]
    public async Task Run_unknown_command_gives_its_exit_code_and_words()
    {
        var (code, said) = await BookServer.Run("conjure");

        Assert.NotEqual(0, code);
        Assert.Contains("conjure", said, StringComparison.Ordinal);
    }
}
