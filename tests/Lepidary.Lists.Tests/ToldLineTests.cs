using Xunit;

namespace Lepidary.Lists.Tests;

/// <summary>What a keeper said of a line, on the list as it was read.</summary>
public sealed class ToldLineTests
{
    private static readonly SupplierList List = new()
    {
        Offers =
        [
            new Offer { Line = 2, Text = "Papilio memnon 2.40 6 (30)", Taxon = "Papilio memnon", Price = 2.40m, Breaks = [new(10, 2.20m)], Available = 30, Doubts = ["It is not clear what 6 means.", "The name could be another."] },
            new Offer { Line = 4, Text = "Idea leuconoe 3.00", Taxon = "Idea leuconoe", Price = 3.00m },
        ],
        Doubts =
        [
            new(2, "Papilio memnon 2.40 6 (30)", "It is not clear what 6 means.") { About = DoubtAbout.Line },
            new(2, "Papilio memnon 2.40 6 (30)", "The name could be another.") { About = DoubtAbout.Name },
            new(3, "and the blue one for 4", "This line is not understood.") { About = DoubtAbout.Line },
            new(0, "", "The list does not say its currency.") { About = DoubtAbout.Currency },
        ],
        Lines =
        [
            new(1, null, "Swallowtails", LineKind.Heading), new(2, null, "Papilio memnon 2.40 6 (30)", LineKind.Offer),
            new(3, null, "and the blue one for 4", LineKind.Doubt), new(4, null, "Idea leuconoe 3.00", LineKind.Offer),
        ],
    };

    [Fact]
    public void Apply_nothing_said_is_the_list() => Assert.Same(List, ToldLine.Apply(List, []));

    [Fact]
    public void Apply_right_as_read_takes_away_the_doubt_of_the_line_and_no_other()
    {
        var list = ToldLine.Apply(List, [Said("PAPILIO MEMNON  1.90 12 (8)", ToldLine.AsRead)]);

        Assert.Equal(["The name could be another."], list.Offers[0].Doubts);
        Assert.Equal([DoubtAbout.Name, DoubtAbout.Line, DoubtAbout.Currency], list.Doubts.Select(doubt => doubt.About));
        Assert.Equal(2.40m, list.Offers[0].Price);
        Assert.Equal(List.Lines, list.Lines);
    }

    [Fact]
    public void Apply_no_offer_leaves_the_line_as_a_note()
    {
        var list = ToldLine.Apply(List, [Said("Papilio memnon 2.40 6 (30)", ToldLine.NoOffer), Said("and the blue one for 4", ToldLine.NoOffer)]);

        Assert.Equal("Idea leuconoe", Assert.Single(list.Offers).Taxon);
        Assert.Equal([LineKind.Heading, LineKind.Note, LineKind.Note, LineKind.Offer], list.Lines.Select(line => line.Kind));
    }

    [Fact]
    public void Apply_numbers_by_hand_hold_for_that_very_line_alone()
    {
        var said = Said("Papilio memnon 2.40 6 (30)", "price 2.60; hand 6; pack 3; fewest 6");
        var list = ToldLine.Apply(List, [said]);

        Assert.Equal((2.60m, 6, 3, 6), (list.Offers[0].Price, list.Offers[0].Available, list.Offers[0].Pack, list.Offers[0].Minimum));
        Assert.Empty(list.Offers[0].Breaks);
        Assert.Same(List, ToldLine.Apply(List, [said with { Text = "Papilio memnon 2.40 6 (31)" }]));
    }

    [Fact]
    public void Apply_line_that_was_no_offer_becomes_one_at_its_place()
    {
        var list = ToldLine.Apply(List, [Said("and the blue one for 4", "species Morpho helenor; price 4")]);

        Assert.Equal(["Papilio memnon", "Morpho helenor", "Idea leuconoe"], list.Offers.Select(offer => offer.Taxon));
        Assert.Equal(LineKind.Offer, list.Lines[2].Kind);
        Assert.DoesNotContain(list.Doubts, doubt => doubt.Line == 3);
    }

    [Theory]
    [InlineData("as-read", false)]
    [InlineData("price 2; hand 7", false)]
    [InlineData("species Morpho helenor", true)]
    [InlineData("no-offer", true)]
    public void Apply_offer_of_no_known_species_is_settled_by_its_species_or_as_none(string meaning, bool settled)
    {
        var list = new SupplierList
        {
            Offers = [new Offer { Line = 1, Text = "Some blue one 3.50", Price = 3.50m, Doubts = ["No species is known by this name."] }],
            Doubts = [new(1, "Some blue one 3.50", "No species is known by this name.") { About = DoubtAbout.Line }],
            Lines = [new(1, null, "Some blue one 3.50", LineKind.Offer)],
        };

        var told = ToldLine.Apply(list, [Said("Some blue one 3.50", meaning)]);

        Assert.Equal(settled, told.Doubts.Count == 0);
        Assert.All(told.Offers, offer => Assert.Equal(settled, offer.Taxon == "Morpho helenor"));
        Assert.Empty(ToldLine.Alike(list, "No species is known by this name."));
    }

    [Theory]
    [InlineData("as-read")]
    [InlineData("no-offer")]
    [InlineData("species Morpho helenor; price 1.30; hand 125; pack 25; fewest 50")]
    [InlineData("sold out")]
    public void Meaning_reads_back_as_it_was_written(string meaning) => Assert.Equal(meaning, Said("x", meaning).Meaning);

    [Theory]
    [InlineData("")]
    [InlineData("price 0")]
    [InlineData("price -1")]
    [InlineData("hand many")]
    [InlineData("pack 0")]
    [InlineData("sold")]
    [InlineData("species Nothing at all")]
    public void Parse_what_cannot_be_is_a_problem(string meaning) => Assert.False(ToldLine.Parse("x", meaning).IsGood);

    private static ToldLine Said(string text, string meaning) => ToldLine.Parse(text, meaning).Value;
}
