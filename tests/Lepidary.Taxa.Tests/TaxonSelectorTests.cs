using Xunit;

namespace Lepidary.Taxa.Tests;

public sealed class TaxonSelectorTests
{
    private static readonly TaxonTable table = TaxonTable.Shipped;

    private static string[] Picks(string selector) =>
        [.. table.All.Where(TaxonSelector.Read(selector, table).Value.Includes).Select(t => t.Name)];

    [Theory]
    [InlineData("Morpho helenor", "Morpho helenor")]
    [InlineData("Morpho peleides", "Morpho helenor")]
    [InlineData("attacus ATLAS", "Attacus atlas")]
    public void Read_species_picks_it_alone(string selector, string name) => Assert.Equal([name], Picks(selector));

    [Theory]
    [InlineData("Morpho", "Morpho helenor", "Caligo memnon")]
    [InlineData("Laparus", "Heliconius doris", "Heliconius erato")]
    [InlineData("Heliconiidae", "Dryas iulia", "Acraea andromacha")]
    [InlineData("Morphidae", "Morpho helenor", "Caligo memnon")]
    [InlineData("BRASSOLIDAE", "Caligo memnon", "Morpho helenor")]
    [InlineData("Danaidae", "Danaus plexippus", "Greta oto")]
    [InlineData("Ithomiidae", "Greta oto", "Danaus plexippus")]
    [InlineData("Satyridae", "Pierella luna", "Caligo memnon")]
    [InlineData("Nymphalidae", "Morpho helenor", "Papilio memnon")]
    [InlineData("Papilioninae", "Papilio memnon", "Parnassius apollo")]
    [InlineData("Heliconiini", "Heliconius erato", "Cethosia biblis")]
    [InlineData("tag:blue", "Morpho helenor", "Dryas iulia")]
    [InlineData("tag:cites-ii", "Troides helena", "Papilio memnon")]
    public void Read_rank_or_tag_picks_its_taxa_and_no_others(string selector, string inside, string outside)
    {
        var picks = Picks(selector);
        Assert.Contains(inside, picks);
        Assert.DoesNotContain(outside, picks);
    }

    [Fact]
    public void Read_genus_includes_a_species_of_no_table() =>
        Assert.True(TaxonSelector.Read("Heliconius", table).Value.Includes(table.Of("Heliconius inventus")));

    [Theory]
    [InlineData("tag:sparkly")]
    [InlineData("tag:")]
    [InlineData("Nosuchidae")]
    [InlineData("")]
    [InlineData("Morpho helenor peleides limpida")]
    public void Read_unknown_selector_names_what_it_found_and_where(string selector)
    {
        var read = TaxonSelector.Read(selector, table, "house.yaml, keep-not 2");
        Assert.False(read.IsGood);
        Assert.Equal("house.yaml, keep-not 2", read.Problems.Single().Where);
    }
}
