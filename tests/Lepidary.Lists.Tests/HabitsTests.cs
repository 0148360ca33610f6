using Xunit;

namespace Lepidary.Lists.Tests;

/// <summary>Turns of phrase in which suppliers say numbers, prices and what there is none of, each read by hand.</summary>
public sealed class HabitsTests
{
    private static string Said(Offer offer) => string.Join(", ", ((string?[])[
        offer.Taxon ?? "?",
        offer.Price is { } price ? price.ToString("0.00##", System.Globalization.CultureInfo.InvariantCulture) : "no price",
        .. offer.Breaks.Select(step => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{step.From}+ {step.Price:0.00##}")),
        offer.Pack > 1 ? $"pack {offer.Pack}" : null,
        offer.Minimum is { } least ? $"min {least}" : null,
        offer.Available is { } there ? $"{there} there" : null,
        offer.SoldOut ? "sold out" : null,
        offer.Doubts.Count > 0 ? "asked" : null]).OfType<string>());

    private static List<string> Read(string text) => [.. Lists.Read(text).Offers.Select(Said)];

    [Theory]
    [InlineData("Papilio memnon £2.40 (from 10: -5 %)", "Papilio memnon, 2.40, 10+ 2.28")]
    [InlineData("Papilio memnon 2,85 €, ab 10: -5 %", "Papilio memnon, 2.85, 10+ 2.71")]
    [InlineData("Papilio memnon 2,40 €, 10 % Rabatt ab 20 Stück", "Papilio memnon, 2.40, 20+ 2.16")]
    [InlineData("Papilio memnon £2.40 each, 5% off", "Papilio memnon, 2.40")]
    public void Read_breakInPerCent_isAPrice(string line, string said) => Assert.Equal([said], Read(line));

    [Theory]
    [InlineData("We have three dozen Papilio memnon at £2.40 and half a dozen Idea leuconoe at £2.60.", 36, 6)]
    [InlineData("Ich habe zwei Dutzend Papilio memnon zu 2,40 € und ein halbes Dutzend Idea leuconoe zu 2,60 €.", 24, 6)]
    [InlineData("J'ai une trentaine de Papilio memnon à 2,40 € et une demi-douzaine d'Idea leuconoe à 2,60 €.", 30, 6)]
    [InlineData("Tengo tres docenas de Papilio memnon a 2,40 € y media docena de Idea leuconoe a 2,60 €.", 36, 6)]
    [InlineData("Ik heb twee dozijn Papilio memnon voor € 2,40 en achttien Idea leuconoe voor € 2,60.", 24, 18)]
    [InlineData("Ho una trentina di Papilio memnon a 2,40 € e una mezza dozzina di Idea leuconoe a 2,60 €.", 30, 6)]
    public void Read_numbersInWords_areCounted(string line, int first, int second) => Assert.Equal([first, second], Lists.Read(line).Offers.Select(offer => offer.Available));

    [Fact]
    public void Read_soManyEachOf_holdsForAllUpToTheNextNumber() => Assert.Equal(
        ["Papilio memnon, 2.20, 20 there", "Papilio polytes, 2.20, 20 there", "Papilio demodocus, 2.20, 20 there", "Heliconius hecale, 1.90, 15 there", "Heliconius melpomene, 1.90, 15 there"],
        Read("We can do 20 each of Papilio memnon, Papilio polytes and Papilio demodocus at £2.20 and 15 each of Heliconius hecale and melpomene at £1.90."));

    [Fact]
    public void Read_samePriceAsAnEarlierLine_takesItsPrice() => Assert.Equal(
        ["Heliconius melpomene, 2.10", "Heliconius hecale, 2.10, 20 there", "Heliconius sara, 2.10, 20 there"],
        Read("Heliconius melpomene £2.10\nH. hecale and H. sara: 20 of each, the same price as the melpomene\n"));

    [Theory]
    [InlineData("no palinurus")]
    [InlineData("Papilio palinurus - none this week")]
    [InlineData("kein Papilio palinurus")]
    [InlineData("pas de palinurus")]
    [InlineData("geen palinurus")]
    [InlineData("Papilio palinurus, stock 0, £2.80")]
    public void Read_noneOfASpecies_isSoldOut(string line)
    {
        var offer = Lists.Read($"Papilio memnon £2.40\nPapilio polytes £2.10\n{line}\n").Offers.Single(offer => offer.Taxon == "Papilio palinurus");

        Assert.True(offer.SoldOut);
    }

    [Theory]
    [InlineData("memnon 2.40\npalinurus 2.80\npolytes 2.10\nCaligo eurilochus 3.20\n")]
    [InlineData("Papilionidae\nmemnon 2.40\nNymphalidae\nCaligo eurilochus 3.20\n")]
    [InlineData("Caligo memnon 3.10\nmemnon 2.40\npalinurus 2.80\n")]
    public void Read_epithetOfTwoSpecies_isTheOneOfItsNeighbours(string list) =>
        Assert.Contains("Papilio memnon, 2.40", Read("Prices in GBP\n" + list));

    [Fact]
    public void Read_epithetOfTwoSpeciesAlone_isAskedAbout()
    {
        var offer = Lists.Read("memnon £2.40\nCaligo eurilochus £3.20\nIdea leuconoe £2.60\n").Offers[0];

        Assert.Null(offer.Taxon);
        Assert.Equal(["Caligo memnon", "Papilio memnon"], offer.Candidates.Order());
    }

    [Fact]
    public void Read_priceBesideTheOldOne_isTheNewOne() => Assert.Equal(
        ["Papilio memnon, 2.40", "Caligo memnon, 3.10"],
        Read("Papilio memnon £2.60 £2.40 (was 2.60)\nCaligo memnon - reduced from £3.50 to £3.10\n"));

    [Fact]
    public void Read_chargeBesideAnOffer_isNoPriceOfIt()
    {
        var list = Lists.Read("Papilio memnon £2.40\nTroides rhadamantus: 5 at £9.50, with CITES papers (£15.00 per shipment)\n");

        Assert.Equal("Troides rhadamantus, 9.50, 5 there", Said(list.Offers[1]));
        Assert.Equal((15m, ChargePer.Shipment), (list.Charges[0].Amount, list.Charges[0].Per));
    }

    [Fact]
    public void Read_pricesForStepsSaidOnce_areBreaks() => Assert.Equal(
        ["Papilio memnon, 2.40, 10+ 2.20, 50+ 2.00", "Idea leuconoe, 2.60, 10+ 2.40, 50+ 2.20"],
        Read("Prices in GBP: per pupa / per 10 / per 50\nPapilio memnon 2.40 / 22.00 / 100.00\nIdea leuconoe 2.60 / 24.00 / 110.00\n"));

    [Fact]
    public void Read_titlesWithoutOneOverTheNames_stillPartsTheColumns() => Assert.Equal(
        ["Papilio palinurus, 2.80, 20+ 2.60, 12 there", "Papilio polytes, 1.95, 20+ 1.80, 60 there", "Morpho helenor, 3.90, 20+ 3.60, 35 there"],
        Read("Prices in GBP\n\n           Available   Each   20+\npalinurus     12       2.80   2.60\npolytes       60       1.95   1.80\npeleides      35       3.90   3.60\n"));

    [Fact]
    public void Read_wholeNumbersWhereTheListSaysPence_arePrices() => Assert.Equal(
        ["Papilio palinurus, 2.75, 10+ 2.61", "Papilio rumanzovia, 2.60, pack 5", "Morpho helenor, 3.95, pack 5, min 10"],
        Read("All prices in pence, each.\n\npalinurus ......... 275     (from 10: -5 %)\nrumanzovia ........ 260     packed in 5s\nMorpho peleides ... 395     packed in 5s, min 10\n"));

    [Theory]
    [InlineData("Papilio memnon £2.40\nPapilio polytes £2.10\nPrices are exclusive of VAT, carriage is £12.00 per box.\n", true)]
    [InlineData("Papilio memnon 2,40 €\nPapilio polytes 2,10 €\nAlle Preise zzgl. MwSt., Versand 14,90 € pro Sendung.\n", true)]
    [InlineData("Papilio memnon 2,40 €\nPapilio polytes 2,10 €\nPrijzen zijn inclusief btw, verzending € 9,95 per doos.\n", false)]
    public void Read_taxInTheSentenceOfACharge_isSaid(string list, bool without) => Assert.Equal(without, Lists.Read(list).PricesExcludeTax);
}
