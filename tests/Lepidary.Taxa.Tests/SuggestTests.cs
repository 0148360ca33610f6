using Xunit;

namespace Lepidary.Taxa.Tests;

public sealed class SuggestTests
{
    private static readonly NameFinder finder = new(TaxonTable.Shipped);

    [Theory]
    [InlineData("morpho hel", "Morpho helenor")]
    [InlineData("mor hel", "Morpho helenor")]
    [InlineData("peleides", "Morpho helenor")]
    [InlineData("atlas", "Attacus atlas")]
    [InlineData("monar", "Danaus plexippus")]
    [InlineData("schwalb", "Papilio machaon")]
    [InlineData("leuconoë", "Idea leuconoe")]
    [InlineData("papilo memon", "Papilio memnon")]
    [InlineData("ulyses", "Papilio ulysses")]
    [InlineData("Emerald Sw", "Papilio palinurus")]
    public void Suggest_puts_the_likeliest_first(string typed, string first) => Assert.Equal(first, finder.Suggest(typed)[0].Taxon.Name);

    [Fact]
    public void Suggest_names_each_taxon_once_and_keeps_to_the_limit()
    {
        var names = finder.Suggest("papilio", 20).Select(s => s.Taxon.Name).ToList();
        Assert.Equal(20, names.Count);
        Assert.Equal(20, names.Distinct().Count());
        Assert.All(names, n => Assert.StartsWith("Papilio ", n));
    }

    [Theory]
    [InlineData("")]
    [InlineData("  ")]
    [InlineData("12")]
    [InlineData("qqqqq")]
    public void Suggest_nothing_fitting_is_empty(string typed) => Assert.Empty(finder.Suggest(typed));

    [Fact]
    public void Suggest_less_than_one_throws() => Assert.Throws<ArgumentOutOfRangeException>(() => finder.Suggest("morpho", 0));
}
