using Xunit;

namespace Lepidary.Taxa.Tests;

public sealed class NameFinderContextTests
{
    private static readonly NameFinder finder = new(TaxonTable.Shipped);

    [Theory]
    [InlineData("P. sylvia", "Papilio Parthenos", "Parthenos sylvia")]
    [InlineData("P. memnon", "Parides Papilio", "Papilio memnon")]
    [InlineData("H. m. rosina", "Heliconius", "Heliconius melpomene")]
    [InlineData("m. peleides", "Morpho", "Morpho helenor")]
    public void Find_abbreviation_takes_the_nearest_genus_that_has_it(string text, string before, string name)
    {
        var match = finder.Find(text, new NameContext { GeneraBefore = before.Split(' ') });
        Assert.Equal(name, match.Taxon?.Name);
        Assert.Equal(MatchedBy.Abbreviation, match.By);
        Assert.Empty(match.Doubts);
    }

    [Fact]
    public void Find_abbreviation_looks_ahead_where_nothing_stands_before()
    {
        var match = finder.Find("P. parhassus", new NameContext { GeneraAfter = ["Papilio", "Protogoniomorpha"] });
        Assert.Equal("Protogoniomorpha parhassus", match.Taxon?.Name);
    }

    [Fact]
    public void Find_abbreviation_of_a_genus_not_named_near_it_is_a_doubt()
    {
        var match = finder.Find("C. numilia", new NameContext { GeneraBefore = ["Caligo"] });
        Assert.Null(match.Taxon);
        Assert.Contains(match.Candidates, t => t.Name == "Catonephele numilia");
    }

    [Fact]
    public void Find_abbreviation_that_several_genera_answer_is_a_doubt()
    {
        var match = finder.Find("A. io", NameContext.None);
        Assert.Null(match.Taxon);
        Assert.Equal(["Aglais io", "Automeris io"], match.Candidates.Select(t => t.Name).Order());
    }

    [Theory]
    [InlineData("Glasswing", "Ithomiidae", "Greta oto")]
    [InlineData("Glasswing", "Acraeidae", "Acraea andromacha")]
    [InlineData("Emperor Moth", "Europe", "Saturnia pavonia")]
    [InlineData("Golden Birdwing", null, null)]
    public void Find_shared_common_name_is_settled_by_the_heading(string text, string? heading, string? name)
    {
        var match = finder.Find(text, new NameContext { Heading = heading });
        Assert.Equal(name, match.Taxon?.Name);
        Assert.Equal(name is null, match.Doubts.Count > 0);
    }

    [Theory]
    [InlineData("Papilio lowi", "Scarlet Mormon", "Papilio rumanzovia")]
    [InlineData("Papilio ajax", "Black Swallowtail", "Papilio polyxenes")]
    [InlineData("Papilio ajax", "Zebra Swallowtail", "Eurytides marcellus")]
    [InlineData("Red Lacewing", "Cethosia biblis", "Cethosia biblis")]
    public void Find_ambiguous_name_is_settled_by_the_name_beside(string text, string beside, string name)
    {
        var match = finder.Find(text, new NameContext { CommonNameBeside = beside });
        Assert.Equal(name, match.Taxon?.Name);
        Assert.Empty(match.Doubts);
    }

    [Fact]
    public void Find_synonym_beside_a_common_name_of_another_tribe_is_a_doubt()
    {
        var match = finder.Find("Agraulis vanillae", new NameContext { CommonNameBeside = "Atlas Moth" });
        Assert.Null(match.Taxon);
        Assert.Equal(["Dione vanillae", "Attacus atlas"], match.Candidates.Select(t => t.Name));
    }

    [Theory]
    [InlineData("peleides", "Morpho", "Morpho helenor")]
    [InlineData("melpomene rosina", "Heliconius", "Heliconius melpomene")]
    public void Find_epithet_alone_is_read_under_its_genus(string text, string heading, string name) =>
        Assert.Equal(name, finder.Find(text, new NameContext { Heading = heading }).Taxon?.Name);

    [Fact]
    public void Find_epithet_alone_without_a_genus_is_no_name_to_decide_on() =>
        Assert.Null(finder.Find("melpomene", NameContext.None).Taxon);

    [Fact]
    public void Find_unknown_genus_borrows_from_the_family_of_the_heading()
    {
        var match = finder.Find("Novagenia inventa", new NameContext { Heading = "Brassolidae" });
        Assert.Equal(MatchedBy.NewBinomial, match.By);
        Assert.Empty(match.Doubts);
        Assert.Contains("Brassolini", match.Taxon!.Life.AdultLifeDays.Source, StringComparison.Ordinal);
    }

    [Fact]
    public void Find_unknown_genus_with_nothing_to_support_it_is_asked()
    {
        var match = finder.Find("Novagenia inventa", NameContext.None);
        Assert.Equal(MatchedBy.NewBinomial, match.By);
        Assert.NotEmpty(match.Doubts);
        Assert.Empty(finder.Find("Novagenia inventa (Smith, 1902)", NameContext.None).Doubts);
    }

    [Fact]
    public void Find_subspecies_that_belongs_to_another_species_is_a_doubt()
    {
        var match = finder.Find("Pachliopta aristolochiae kotzebuea", NameContext.None);
        Assert.Null(match.Taxon);
        Assert.Equal(["Pachliopta aristolochiae", "Pachliopta kotzebuea"], match.Candidates.Select(t => t.Name));
    }

    [Theory]
    [InlineData("Heliconius melpomene x cydno")]
    [InlineData("Heliconius melpomene × Heliconius cydno")]
    [InlineData("Heliconius melpomene / erato")]
    public void Find_two_names_or_a_hybrid_is_a_doubt(string text)
    {
        var match = finder.Find(text, NameContext.None);
        Assert.Null(match.Taxon);
        Assert.NotEmpty(match.Doubts);
    }

    [Theory]
    [InlineData("Papilio memnon Papilio polytes")]
    [InlineData("Papilio memnon, Papilio polytes")]
    [InlineData("Papilio memnon and P. polytes")]
    public void Find_second_name_on_the_line_is_a_doubt(string text)
    {
        var match = finder.Find(text, NameContext.None);
        Assert.Null(match.Taxon);
        Assert.Equal(["Papilio memnon", "Papilio polytes"], match.Candidates.Select(t => t.Name));
    }

    [Theory]
    [InlineData("Morpho peleides / helenor")]
    [InlineData("Morpho peleides (Morpho helenor)")]
    [InlineData("Morpho peleides x")]
    [InlineData("Morpho peleides x 10")]
    [InlineData("Morpho: peleides")]
    [InlineData("Morpho\tpeleides")]
    public void Find_same_species_said_twice_or_parted_is_that_species(string text)
    {
        var match = finder.Find(text, NameContext.None);
        Assert.Equal("Morpho helenor", match.Taxon?.Name);
        Assert.Empty(match.Doubts);
    }

    [Fact]
    public void Find_misspelt_scientific_name_goes_before_a_common_name_beside_it() =>
        Assert.Equal("Morpho menelaus", finder.Find("Blue Morpho (Morpho menelas)", NameContext.None).Taxon?.Name);

    [Fact]
    public void Find_common_name_beside_an_unknown_scientific_one_is_a_doubt()
    {
        var match = finder.Find("Blue Morpho (Morpho novissimus)", NameContext.None);
        Assert.Null(match.Taxon);
        Assert.NotEmpty(match.Doubts);
    }

    [Fact]
    public void Find_misspelt_abbreviation_is_sure_only_beside_its_genus()
    {
        var beside = finder.Find("M. peleidex", new NameContext { GeneraBefore = ["Morpho"] });
        Assert.Equal("Morpho helenor", beside.Taxon?.Name);
        Assert.Equal(MatchedBy.Spelling, beside.By);
        var alone = finder.Find("M. peleidex", NameContext.None);
        Assert.Null(alone.Taxon);
        Assert.Contains(alone.Candidates, t => t.Name == "Morpho helenor");
    }

    [Fact]
    public void Find_abbreviation_with_an_unknown_epithet_is_asked_with_the_genus_written_out()
    {
        var match = finder.Find("M. novissimus", new NameContext { GeneraBefore = ["Morpho"] });
        Assert.Null(match.Taxon);
        Assert.Equal(["Morpho novissimus"], match.Candidates.Select(t => t.Name));
    }

    [Fact]
    public void Find_misspelling_under_a_heading_of_another_family_is_a_doubt()
    {
        Assert.Empty(finder.Find("Papilio memmon", new NameContext { Heading = "PAPILIONIDAE" }).Doubts);
        Assert.NotEmpty(finder.Find("Papilio memmon", new NameContext { Heading = "Saturniidae" }).Doubts);
    }

    [Theory]
    [InlineData("Morpho peleides blue")]
    [InlineData("Morpho peleides large")]
    [InlineData("Morpho peleides available now")]
    public void Find_words_behind_a_name_are_not_its_form(string text)
    {
        var match = finder.Find(text, NameContext.None);
        Assert.Equal("Morpho helenor", match.Taxon?.Name);
        Assert.Null(match.Form);
    }

    [Fact]
    public void Find_settled_group_is_what_the_keeper_said()
    {
        var settled = new NameFinder(TaxonTable.Shipped, new Dictionary<string, string> { [NameFinder.Normalise("Swallowtails")] = "Papilio machaon" });
        Assert.Equal("Papilio machaon", settled.Find("swallowtails", NameContext.None).Taxon?.Name);
        Assert.Null(finder.Find("swallowtails", NameContext.None).Taxon);
    }

    [Fact]
    public void Find_settled_abbreviation_does_not_override_the_lines_around()
    {
        var settled = new NameFinder(TaxonTable.Shipped, new Dictionary<string, string> { [NameFinder.Normalise("P. memnon")] = "Parides iphidamas" });
        Assert.Equal("Papilio memnon", settled.Find("P. memnon", new NameContext { GeneraBefore = ["Papilio"] }).Taxon?.Name);
    }

    [Theory]
    [InlineData("HELICONIIDAE", true)]
    [InlineData("Family Morphidae", true)]
    [InlineData("Brassolini", true)]
    [InlineData("Morpho", true)]
    [InlineData("Swallowtails", true)]
    [InlineData("Longwings", true)]
    [InlineData("Swallowtail", false)]
    [InlineData("Morpho peleides", false)]
    [InlineData("Total", false)]
    [InlineData("Price", false)]
    public void IsHeading_knows_ranks_and_genera(string text, bool heading) => Assert.Equal(heading, finder.IsHeading(text));
}
