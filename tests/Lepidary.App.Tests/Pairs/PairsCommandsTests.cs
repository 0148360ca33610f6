using Lepidary.App.Host;
using Lepidary.App.Tests.Support;

namespace Lepidary.App.Tests.Pairs;

public sealed class PairsCommandsTests
{
    // Enumerated and computed with R 4.2.2; the formula is 1-(1-sr)^n-(1-s(1-r))^n+(1-s)^n.
    [Theory]
    [InlineData("0.8", "4", 0.7424)]
    [InlineData("0.8", "6", 0.906752)]
    [InlineData("1", "10", 0.998046875)]
    public async Task Pairs_pupae_given_prints_the_exact_chance(string emergence, string pupae, double chance)
    {
        await using var book = new TestBook();

        var said = await book.Done("pairs", "--emergence", emergence, "--pupae", pupae, "--json");

        Assert.Equal(chance, said.Json.GetProperty("chance").GetDouble(), 1e-9);
        Assert.Single(said.Json.EnumerateObject());
    }

    [Fact]
    public async Task Pairs_sureness_given_prints_the_fewest_pupae()
    {
        await using var book = new TestBook();

        var said = await book.Done("pairs", "--emergence", "0.8", "--sure", "0.95", "--json");

        // Least n at s = .8, r = .5, 95 %: 8 (computed with R 4.2.2).
        Assert.Equal(8, said.Json.GetProperty("pupae").GetInt32());
        Assert.True(said.Json.GetProperty("chance").GetDouble() >= 0.95);
    }

    [Fact]
    public async Task Pairs_several_wrong_values_are_named_all_at_once()
    {
        await using var book = new TestBook();

        var said = await book.Run("pairs", "--emergence", "1.8", "--female-share", "-1", "--pairs", "0");

        Assert.Equal(ExitCodes.BadInput, said.Code);
        Assert.Equal(4, said.Error.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
        Assert.Empty(said.Output);
    }

    [Fact]
    public async Task Pairs_words_picture_the_chance()
    {
        await using var book = new TestBook();

        var said = await book.Done("pairs", "--emergence", "0.8", "--pupae", "6");

        Assert.Contains("9 of 10 boxes like this (91 %)", said.Output, StringComparison.Ordinal);
    }
}
