using Xunit;

namespace Lepidary.Lists.Tests;

public sealed class ListReaderTests
{
    [Fact]
    public void Read_commaTable_givesEveryFact()
    {
        var list = Lists.Read("""
            Mosswell Butterflies - stock list
            Week commencing 23 November 2026. Prices in GBP excl. VAT
            Species,Common name,Price each,Min,In stock
            Papilio memnon,Great Mormon,£2.10,5,60
            P. lowi,Asian Swallowtail,£2.20,5,SOLD OUT
            Carriage,,£14.00,,per box
            """);

        Assert.Equal("Mosswell Butterflies", list.Supplier);
        Assert.Equal("GBP", list.Currency);
        Assert.Equal(new DateOnly(2026, 11, 23), list.Date);
        Assert.True(list.PricesExcludeTax);
        Assert.Equal(["Papilio memnon", "Papilio lowii"], list.Offers.Select(offer => offer.Taxon));
        Assert.Equal((2.10m, 5, 60, false), (list.Offers[0].Price, list.Offers[0].Minimum, list.Offers[0].Available, list.Offers[0].SoldOut));
        Assert.True(list.Offers[1].SoldOut);
        Assert.Equal(new Charge(6, "Carriage,,£14.00,,per box", 14, ChargePer.Box), Assert.Single(list.Charges));
        Assert.Empty(list.Doubts);
    }

    /// <summary>"Preise netto" says two things at once: that tax is not in, and that the sentence is about prices.</summary>
    [Theory]
    [InlineData("Preise netto je Packung.")]
    [InlineData("Preise je Packung.")]
    [InlineData("Bruttopreise je Packung.")]
    public void Read_pricesSaidToBeAPack_sharesThemOut(string said)
    {
        var list = Lists.Read($"Puppen, Angebot vom 10. November 2026\n{said}\n\nPapilio memnon, 5 St. 10,75\nPapilio polytes, 10 St. 17,50\nOrnithoptera croesus, 1 St. 28,00\n");

        Assert.Equal([(5, 2.15m), (10, 1.75m), (1, 28m)], list.Offers.Select(offer => (offer.Pack, offer.Price!.Value)));
    }

    /// <summary>A title that is one phrase for the price still says whether tax is in it.</summary>
    [Theory]
    [InlineData("Unité TTC", false)]
    [InlineData("Unitaire HT", true)]
    [InlineData("Preis inkl. MwSt", false)]
    [InlineData("Preis zzgl. MwSt", true)]
    [InlineData("Preis", null)]
    public void Read_titleThatSaysTax_tellsWhetherItIsIn(string title, bool? excluded)
    {
        var list = Lists.Read($"Species;{title};Stock\nPapilio memnon;2,10;60\nPapilio polytes;1,75;40\n");

        Assert.Equal([2.10m, 1.75m], list.Offers.Select(offer => offer.Price!.Value));
        Assert.Equal(excluded, list.PricesExcludeTax);
    }

    [Fact]
    public void Read_anyList_accountsForEveryLineOnce()
    {
        var list = Lists.Read("Hi,\n\nPapilio memnon £2.20 (40)\n???\nCarriage £9 per box\n");

        Assert.Equal([1, 2, 3, 4, 5], list.Lines.Select(line => line.Line));
        Assert.Equal(LineKind.Offer, list.Lines[2].Kind);
        Assert.Equal(LineKind.Charge, list.Lines[4].Kind);
    }

    [Fact]
    public void Read_emptyFile_saysSo()
    {
        var problem = Assert.Single(Lists.Read([]).Problems);

        Assert.Equal("an empty file", problem.Found);
    }
}
