using System.Globalization;
using Xunit;

namespace Lepidary.Lists.Tests.Reading;

/// <summary>What a list says once of all its offers, in the words of six languages.</summary>
public sealed class ListRuleTests
{
    private static Offer First(string rule, decimal times) => Lists.Read($"""
        Quince Farm
        {rule}
        Species;Price;Stock
        Papilio memnon;{(2.4m * times).ToString("0.00", CultureInfo.InvariantCulture)};40
        Papilio polytes;{(1.9m * times).ToString("0.00", CultureInfo.InvariantCulture)};60
        Idea leuconoe;{(2.3m * times).ToString("0.00", CultureInfo.InvariantCulture)};25
        Morpho peleides;{(3.8m * times).ToString("0.00", CultureInfo.InvariantCulture)};120
        """).Offers[0];

    [Theory]
    [InlineData("Minimum order per species: 5 pupae")]
    [InlineData("Minimum of 5 pupae of each species")]
    [InlineData("We ask for at least 5 of any one species")]
    [InlineData("Not fewer than 5 of a species")]
    [InlineData("Mindestabnahme 5 Stück pro Art")]
    [InlineData("Abgabe ab 5 Stück pro Art")]
    [InlineData("Mindestmenge je Sorte: 5")]
    [InlineData("Minimum de 5 chrysalides par espèce")]
    [InlineData("Quantité minimale par espèce : 5")]
    [InlineData("Pedido mínimo por especie: 5 pupas")]
    [InlineData("Per soort minstens 5 stuks bestellen")]
    [InlineData("Ordine minimo per specie: 5 pezzi")]
    public void Read_minimumOfEachSpecies_holdsForAll(string rule)
    {
        var offer = First(rule, 1);

        Assert.Equal((2.4m, 5, 1), (offer.Price, offer.Minimum, offer.Pack));
    }

    [Theory]
    [InlineData("All species are sold in packs of 5")]
    [InlineData("Sold in fives only")]
    [InlineData("Please order in multiples of 5")]
    [InlineData("Verkauf nur in Packungen zu 5 Stück; Preis pro Puppe")]
    [InlineData("Alle Arten nur zu je 5 Stück")]
    [InlineData("Vendus par lots de 5, prix à l'unité")]
    [InlineData("Conditionnement : 5 chrysalides par espèce")]
    [InlineData("Se venden en paquetes de 5, precio por unidad")]
    [InlineData("Venta en lotes de cinco")]
    [InlineData("Verpakt per 5, prijzen per stuk")]
    [InlineData("Si vendono a multipli di 5")]
    public void Read_packsForAll_leavesThePriceForOne(string rule)
    {
        var offer = First(rule, 1);

        Assert.Equal((2.4m, 5), (offer.Price, offer.Pack));
    }

    [Theory]
    [InlineData("Prices are per ten pupae")]
    [InlineData("Alle Preise verstehen sich für 10 Puppen")]
    [InlineData("Les prix s'entendent par dizaine")]
    [InlineData("Precio por decena")]
    [InlineData("Prijs per tiental")]
    [InlineData("Prezzi per 10 crisalidi")]
    public void Read_pricesForTen_areDivided(string rule)
    {
        var offer = First(rule, 10);

        Assert.Equal((2.4m, 1), (offer.Price, offer.Pack));
    }

    [Theory]
    [InlineData("Prices in pence")]
    [InlineData("Alle Preise in Rappen")]
    [InlineData("Prix en centimes")]
    [InlineData("Precios en céntimos")]
    [InlineData("Prijzen in eurocent")]
    [InlineData("Prezzi in centesimi")]
    public void Read_pricesInTheSmallCoin_areDividedByAHundred(string rule)
    {
        var read = Lists.Read($"{rule}\nSpecies;Price;Stock\nPapilio memnon;240;40\nPapilio polytes;190;60\nIdea leuconoe;230;25\n");

        Assert.Equal([2.4m, 1.9m, 2.3m], read.Offers.Select(offer => offer.Price));
    }

    [Fact]
    public void Read_packsAsAHeading_holdOnlyBelowIt()
    {
        var read = Lists.Read("10er-Packs:\nPapilio memnon 20,00 €\nIdea leuconoe 24,00 €\n\nEinzeln:\nTroides helena 7,50 €\n");

        Assert.Equal([(2m, 10), (2.4m, 10), (7.5m, 1)], read.Offers.Select(offer => (offer.Price!.Value, offer.Pack)));
    }
}
