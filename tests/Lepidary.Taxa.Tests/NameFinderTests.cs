using Xunit;

namespace Lepidary.Taxa.Tests;

public sealed class NameFinderTests
{
    private static readonly NameFinder finder = new(TaxonTable.Shipped);

    private static NameMatch Find(string text) => finder.Find(text, NameContext.None);

    [Theory]
    [InlineData("Papilio (Menelaides) memnon", "Papilio memnon")]
    [InlineData("Menelaides memnon", "Papilio memnon")]
    [InlineData("PAPILIO MEMNON", "Papilio memnon")]
    [InlineData("papilio memnon", "Papilio memnon")]
    [InlineData("Papilio memnon Linnaeus, 1758", "Papilio memnon")]
    [InlineData("Papilio memnon (L.)", "Papilio memnon")]
    [InlineData("Graphium agamemnon (Linnaeus, 1758)", "Graphium agamemnon")]
    [InlineData("Morpho peleides Kollar 1850", "Morpho helenor")]
    [InlineData("Papilio memnon* (pupae) NEW", "Papilio memnon")]
    [InlineData("“Papilio memnon” ♂♀", "Papilio memnon")]
    [InlineData("3. Papilio memnon ¹", "Papilio memnon")]
    [InlineData("Blue Morpho (Morpho peleides)", "Morpho helenor")]
    [InlineData("Morpho peleides - Blue Morpho", "Morpho helenor")]
    [InlineData("Papillio memnon", "Papilio memnon")]
    [InlineData("Papilio memmon", "Papilio memnon")]
    [InlineData("Heliconius charitonia", "Heliconius charithonia")]
    [InlineData("Heliconius charitonius", "Heliconius charithonia")]
    [InlineData("Idea leuconoë", "Idea leuconoe")]
    [InlineData("M. peleides", "Morpho helenor")]
    public void Find_a_printed_name_leads_to_its_taxon(string text, string name)
    {
        var match = Find(text);
        Assert.Equal(name, match.Taxon?.Name);
        Assert.Empty(match.Doubts);
    }

    [Theory]
    [InlineData("Morpho peleides limpida", "Morpho helenor", "limpida")]
    [InlineData("Morpho peleides ssp. marinita", "Morpho helenor", "marinita")]
    [InlineData("Papilio memnon f. alcanor", "Papilio memnon", "f. alcanor")]
    [InlineData("Papilio memnon agenor (Linnaeus, 1758)", "Papilio memnon", "agenor")]
    [InlineData("HELICONIUS ERATO CYRBIA", "Heliconius erato", "CYRBIA")]
    public void Find_keeps_the_form(string text, string name, string form)
    {
        var match = Find(text);
        Assert.Equal(name, match.Taxon?.Name);
        Assert.Equal(form, match.Form);
        Assert.Empty(match.Doubts);
    }

    [Theory]
    [InlineData("Blue Morpho", "Morpho helenor")]
    [InlineData("Blue Morphos", "Morpho helenor")]
    [InlineData("Morpho, Blue", "Morpho helenor")]
    [InlineData("Swallowtail, Emerald", "Papilio palinurus")]
    [InlineData("Great Mormon butterflies", "Papilio memnon")]
    [InlineData("RIPPONS BIRDWING", "Troides hypolitus")]
    [InlineData("green spotted triangle", "Graphium agamemnon")]
    public void Find_common_name_leads_to_its_taxon(string text, string name)
    {
        var match = Find(text);
        Assert.Equal(name, match.Taxon?.Name);
        Assert.Equal(MatchedBy.CommonName, match.By);
        Assert.Empty(match.Doubts);
    }

    [Theory]
    [InlineData("Papilio ajax")]
    [InlineData("Papilio lowi")]
    [InlineData("Giant Swallowtail")]
    [InlineData("Morpho sp.")]
    [InlineData("Papilio memnon x Papilio polytes")]
    [InlineData("Papilio polytes aff. memnon")]
    [InlineData("Morpho")]
    public void Find_ambiguous_name_is_a_doubt(string text)
    {
        var match = Find(text);
        Assert.Null(match.Taxon);
        Assert.NotEmpty(match.Doubts);
    }

    [Theory]
    [InlineData("Papilio cf. polytes", "Papilio polytes")]
    [InlineData("Lexias dirtea", "Lexias dirtea")]
    public void Find_name_that_the_list_is_not_sure_of_keeps_it_with_a_doubt(string text, string name)
    {
        var match = Find(text);
        Assert.Equal(name, match.Taxon?.Name);
        Assert.NotEmpty(match.Doubts);
    }

    [Theory]
    [InlineData("Total")]
    [InlineData("Delivery")]
    [InlineData("Mixed box of 50")]
    [InlineData("Price list week 48")]
    [InlineData("12 Rosewood Lane, Little Haddon, GL7 4QT")]
    [InlineData("Minimum order 50 pupae")]
    [InlineData("Bitte beachten Sie unsere Preise")]
    [InlineData("Puerto Rico")]
    [InlineData("Costa rica")]
    [InlineData("2026-12-01")]
    [InlineData("")]
    [InlineData("   ")]
    [InlineData("***")]
    [InlineData("£1.20")]
    [InlineData("VAT 20%")]
    [InlineData("Thank you for your order!")]
    [InlineData("Please order before Thursday noon; boxes leave on Monday.")]
    public void Find_text_that_is_no_name_finds_nothing(string text)
    {
        var match = Find(text);
        Assert.Equal(MatchedBy.Nothing, match.By);
        Assert.Null(match.Taxon);
        Assert.Empty(match.Doubts);
        Assert.Empty(match.Candidates);
    }

    [Fact]
    public void Find_settled_text_is_remembered_whatever_its_printing()
    {
        var remembering = new NameFinder(
            TaxonTable.Shipped, new Dictionary<string, string> { [NameFinder.Normalise("Papilio ajax")] = "Eurytides marcellus" });
        var match = remembering.Find("PAPILIO AJAX (Linnaeus, 1758) pupae", NameContext.None);
        Assert.Equal("Eurytides marcellus", match.Taxon?.Name);
        Assert.Equal(MatchedBy.Settled, match.By);
    }

    [Fact]
    public void Find_abbreviation_follows_the_genera_around()
    {
        var match = finder.Find("P. demoleus", new NameContext { GeneraBefore = ["Papilio"] });
        Assert.Equal("Papilio demoleus", match.Taxon?.Name);
        Assert.Equal(MatchedBy.Abbreviation, match.By);
    }

    [Fact]
    public void Find_unknown_species_of_a_known_genus_is_a_taxon_of_its_own()
    {
        var match = Find("Charaxes novaborealis");
        Assert.Equal(MatchedBy.NewBinomial, match.By);
        Assert.Equal("Charaxes novaborealis", match.Taxon?.Name);
        Assert.False(match.Taxon!.InTable);
        Assert.Empty(match.Doubts);
    }
}
