using System.Text;
using Xunit;

namespace Lepidary.Lists.Tests;

/// <summary>What stands below a title decides where its word can mean two things, in words and layouts of no list that is kept.</summary>
public sealed class TitleEvidenceTests
{
    [Fact]
    public void Word_for_a_name_in_one_language_and_a_number_in_another_is_what_stands_below()
    {
        var french = Read("Prix en EUR\nNom latin;Prix;Nombre\nMorpho achilles;4,10;35\nCaligo idomeneus;3,20;12\nSiproeta epaphus;2,60;épuisé\nDryas iulia;1,40;80\n");
        var spanish = Read("Precios en EUR\nNombre;Precio;Hay\nMorpho achilles;4,10;35\nCaligo idomeneus;3,20;12\nDryas iulia;1,40;80\n");

        Assert.Equal([35, 12, null, 80], french.Offers.Select(offer => offer.Available));
        Assert.True(french.Offers[2].SoldOut);
        Assert.Equal(["Morpho achilles", "Caligo idomeneus", "Dryas iulia"], spanish.Offers.Select(offer => offer.Taxon));
    }

    [Theory]
    [InlineData("da 30 pezzi")]
    [InlineData("Da 30")]
    [InlineData("Thirty for")]
    public void Title_that_says_from_how_many_is_a_step(string title)
    {
        var total = title.EndsWith("for", StringComparison.Ordinal);
        var list = Read($"All prices EUR\nSpecies;Each;{title}\nIdea leuconoe;3.00;{(total ? "84.00" : "2.80")}\nGreta oto;2.50;{(total ? "69.00" : "2.30")}\nDanaus gilippus;1.60;{(total ? "42.00" : "1.40")}\nCethosia cyane;2.00;{(total ? "54.00" : "1.80")}\n");

        Assert.All(list.Offers, offer => Assert.Empty(offer.Doubts));
        Assert.Equal([(30, 2.80m), (30, 2.30m), (30, 1.40m), (30, 1.80m)], list.Offers.Select(offer => (offer.Breaks.Single().From, offer.Breaks.Single().Price)));
    }

    [Fact]
    public void Numbers_and_sold_out_below_a_title_that_nobody_knows_are_the_stock()
    {
        var list = Read("Prices GBP\nSpecies;Price;Flutterings\nIdea leuconoe;3.00;40\nGreta oto;2.50;sold out\nDanaus gilippus;1.60;15\nCethosia cyane;2.00;60\n");

        Assert.Equal([40, null, 15, 60], list.Offers.Select(offer => offer.Available));
        Assert.Equal([false, true, false, false], list.Offers.Select(offer => offer.SoldOut));
        Assert.All(list.Offers, offer => Assert.Empty(offer.Doubts));
    }

    [Fact]
    public void Column_to_be_filled_in_that_the_supplier_filled_in_is_the_stock()
    {
        var filled = Read("Prices GBP\nSpecies;Price;How many\nIdea leuconoe;3.00;40\nGreta oto;2.50;25\nDanaus gilippus;1.60;15\nCethosia cyane;2.00;60\n");
        var empty = Read("Prices GBP\nSpecies;Price;How many\nIdea leuconoe;3.00;\nGreta oto;2.50;\nDanaus gilippus;1.60;\nCethosia cyane;2.00;\n");

        Assert.Equal([40, 25, 15, 60], filled.Offers.Select(offer => offer.Available));
        Assert.All(empty.Offers, offer => Assert.Null(offer.Available));
    }

    [Theory]
    [InlineData("minimum 6 of a kind where stated", null)]
    [InlineData("Minimum 6 per species", 6)]
    public void Minimum_that_each_line_says_for_itself_is_no_rule(string terms, int? minimum)
    {
        var list = Read($"Prices in GBP; {terms}\nSpecies;Price;Min\nIdea leuconoe;3.00;\nGreta oto;2.50;6\nDanaus gilippus;1.60;\nCethosia cyane;2.00;\n");

        Assert.Equal([minimum, 6, minimum, minimum], list.Offers.Select(offer => offer.Minimum));
    }

    [Theory]
    [InlineData("Price on request")]
    [InlineData("p.o.a.")]
    [InlineData("auf Anfrage")]
    [InlineData("su richiesta")]
    public void Price_on_request_is_no_price_and_no_doubt(string price)
    {
        var list = Read($"Prices GBP\nSpecies;Price;Stock\nIdea leuconoe;3.00;40\nOrnithoptera priamus;{price};4\nGreta oto;2.50;25\nDanaus gilippus;1.60;15\n");

        Assert.Null(list.Offers[1].Price);
        Assert.All(list.Offers, offer => Assert.Empty(offer.Doubts));
    }

    [Fact]
    public void Groups_of_prices_named_by_a_word_and_a_letter_stand_for_their_price()
    {
        var list = Read("Preise in EUR\nKlasse A;1,30\nKlasse B;2,10\nKlasse C;4,70\n\nArt;Klasse\nDanaus gilippus;A\nIdea leuconoe;B\nMorpho achilles;C\nDryas iulia;A\nGreta oto;B\nCethosia cyane;A\nSiproeta epaphus;B\n");

        Assert.Equal([1.30m, 2.10m, 4.70m, 1.30m, 2.10m, 1.30m, 2.10m], list.Offers.Select(offer => offer.Price));
    }

    [Theory]
    [InlineData("1 pupa")]
    [InlineData("1 cocoon")]
    public void One_beside_a_price_is_what_the_price_is_for(string unit)
    {
        var list = Read($"Prices GBP\nActias luna {unit} £3.50 in stock\nAttacus atlas {unit} £5.00 in stock\nSamia ricini {unit} £2.00 in stock\n");

        Assert.Equal([3.50m, 5.00m, 2.00m], list.Offers.Select(offer => offer.Price));
        Assert.All(list.Offers, offer => Assert.Null(offer.Available));
    }

    private static SupplierList Read(string text) => ListReader.Read(Encoding.UTF8.GetBytes(text), "list.csv", Lists.Options).Value;
}
