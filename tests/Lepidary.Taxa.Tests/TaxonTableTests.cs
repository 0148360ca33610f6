using Xunit;

namespace Lepidary.Taxa.Tests;

public sealed class TaxonTableTests
{
    private static readonly TaxonTable table = TaxonTable.Shipped;

    [Fact]
    public void Shipped_has_every_row_once()
    {
        Assert.Equal(1563, table.All.Count);
        Assert.Equal(1563, table.All.Select(t => t.Name).Distinct().Count());
        Assert.Equal(123, table.All.Count(t => t.Life.DaysToEmergence.Confidence != Confidence.Borrowed));
    }

    [Fact]
    public void Every_figure_names_its_source()
    {
        foreach (var taxon in table.All)
        {
            var life = taxon.Life;
            Assert.All(
                new[]
                {
                    life.DaysToEmergence.Source, life.AdultLifeDays.Source, life.AdultLifeDaysMax.Source, life.EmergenceRate.Source,
                    life.FemaleShare.Source, life.FoodPlants.Source, life.WingspanMm?.Source ?? "none", life.PupalDays?.Source ?? "none",
                    life.EggToAdultDays?.Source ?? "none", taxon.NameSource,
                },
                source => Assert.False(string.IsNullOrWhiteSpace(source), taxon.Name));
        }
    }

    [Fact]
    public void Every_life_is_in_order()
    {
        Assert.All(table.All, taxon =>
        {
            var life = taxon.Life;
            Assert.InRange(life.DaysToEmergence.Value.From, 0, life.DaysToEmergence.Value.To);
            Assert.InRange(life.AdultLifeDays.Value, 1, life.AdultLifeDaysMax.Value);
            Assert.InRange(life.EmergenceRate.Value, 0.5, 1);
            Assert.InRange(life.FemaleShare.Value, 0, 1);
        });
    }

    [Fact]
    public void Borrowed_figures_say_from_whom_and_how_many()
    {
        var blumei = table.Find("Papilio blumei");
        var aristeus = table.Find("Graphium aristeus")!;
        Assert.NotNull(blumei);
        Assert.Equal(Confidence.Borrowed, aristeus.Life.DaysToEmergence.Confidence);
        Assert.Matches("^median of [0-9]+ species of the genus Graphium$", aristeus.Life.DaysToEmergence.Source);

        // No hesperiid has a life of its own.
        var skipper = table.All.First(t => t.Family == "Hesperiidae");
        Assert.Equal("median of 123 species of the whole table", skipper.Life.AdultLifeDays.Source);
    }

    [Fact]
    public void Borrowed_figure_is_the_median_of_the_genus()
    {
        var own = table.All.Where(t => t.Genus == "Heliconius" && t.Life.AdultLifeDays.Confidence != Confidence.Borrowed)
            .Select(t => t.Life.AdultLifeDays.Value).Order().ToList();
        var borrower = table.All.First(t => t.Genus == "Heliconius" && t.Life.AdultLifeDays.Confidence == Confidence.Borrowed);
        var median = (own[(own.Count - 1) / 2] + own[own.Count / 2]) / 2;
        Assert.Equal(median, borrower.Life.AdultLifeDays.Value);
    }

    [Fact]
    public void Borrowed_trait_is_one_that_all_the_nearest_relatives_share()
    {
        Assert.Equal(PupaAttachment.Girdle, table.Find("Papilio polymnestor")!.Life.Attachment?.Value);
        Assert.Equal(Confidence.Borrowed, table.Find("Papilio polymnestor")!.Life.Attachment?.Confidence);
        Assert.Equal(PupaAttachment.Cocoon, table.Find("Attacus wardi")!.Life.Attachment?.Value);
        Assert.Null(table.All.First(t => t.Family == "Hesperiidae").Life.Attachment);
    }

    [Fact]
    public void Names_say_where_they_were_looked_up()
    {
        Assert.All(table.All, t => Assert.True(t.NameSource == "from memory" || t.NameSource.StartsWith("checked in ", StringComparison.Ordinal), t.NameSource));
        Assert.DoesNotContain("species.csv", table.Find("Morpho helenor")!.NameSource, StringComparison.Ordinal);
    }

    [Fact]
    public void Of_accepts_any_plain_scientific_name()
    {
        Assert.Same(table.Find("Morpho helenor"), table.Of("Morpho peleides"));
        Assert.Same(table.Find("Morpho helenor"), table.Of("morpho HELENOR"));
    }

    [Fact]
    public void Of_unknown_binomial_borrows_from_its_genus()
    {
        var taxon = table.Of("Heliconius inventus");
        Assert.False(taxon.InTable);
        Assert.Equal("Heliconius inventus", taxon.Name);
        Assert.Equal("Heliconiini", taxon.Tribe);
        Assert.Contains("genus Heliconius", taxon.Life.AdultLifeDays.Source, StringComparison.Ordinal);
        Assert.Same(taxon, table.Of("Heliconius inventus"));
    }

    [Fact]
    public void Of_unknown_genus_borrows_from_the_family_told()
    {
        Assert.Contains("family Saturniidae", table.Of("Novagenia inventa", "Saturniidae").Life.AdultLifeDays.Source, StringComparison.Ordinal);
        Assert.Contains("tribe Brassolini", table.Of("Novagenia altera", "Brassolidae").Life.AdultLifeDays.Source, StringComparison.Ordinal);
        Assert.Contains("whole table", table.Of("Novagenia tertia").Life.AdultLifeDays.Source, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Troides inventus", "II")]
    [InlineData("Papilio inventus", "")]
    public void Of_unknown_species_of_a_protected_genus_is_taken_as_protected(string name, string appendix) =>
        Assert.Equal(appendix, table.Of(name).CitesAppendix);

    [Theory]
    [InlineData("Morpho")]
    [InlineData("Morpho helenor peleides")]
    [InlineData("Morpho 12")]
    [InlineData("")]
    public void Of_other_than_two_words_throws(string text) => Assert.Throws<ArgumentException>(() => table.Of(text));

    [Theory]
    [InlineData("Morpho helenor", "blue", "fruit", "large", "neotropical")]
    [InlineData("Attacus atlas", "none", "large", "cocoon", "night")]
    [InlineData("Ornithoptera alexandrae", "cites-i")]
    [InlineData("Troides helena", "cites-ii")]
    [InlineData("Prepona praeneste", "cites-iii")]
    public void Tags_say_what_aims_ask_for(string name, params string[] tags) =>
        Assert.All(tags, tag => Assert.Contains(tag, table.Find(name)!.Tags));

    // Rest: trade-facts of the table's notes, from memory except Papilio demoleus (Islam et al. 2019, Int. J. Entomol. Res. 4(5):42-47).
    [Theory]
    [InlineData("Papilio demoleus", true)]
    [InlineData("Battus philenor", true)]
    [InlineData("Hyalophora cecropia", true)]
    [InlineData("Samia ricini", false)]
    [InlineData("Morpho helenor", false)]
    public void CanRest_follows_the_notes(string name, bool rests) => Assert.Equal(rests, table.Find(name)!.Life.CanRest);
}
