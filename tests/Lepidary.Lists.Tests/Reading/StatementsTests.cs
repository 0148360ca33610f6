using Lepidary.Lists.Reading;
using Xunit;

namespace Lepidary.Lists.Tests.Reading;

public sealed class StatementsTests
{
    [Theory]
    [InlineData("Prices exclude VAT", true)]
    [InlineData("All prices plus VAT at 20%", true)]
    [InlineData("zzgl. 19 % MwSt.", true)]
    [InlineData("Alle Preise netto", true)]
    [InlineData("prix HT en euros", true)]
    [InlineData("Los precios no incluyen IVA", true)]
    [InlineData("alle prijzen excl. 21% btw", true)]
    [InlineData("prezzi IVA esclusa", true)]
    [InlineData("Prices don't include VAT", true)]
    [InlineData("Prices net of VAT", true)]
    [InlineData("VAT at 20% will be added.", true)]
    [InlineData("VAT is included", false)]
    [InlineData("inkl. MwSt.", false)]
    [InlineData("Prix TTC", false)]
    [InlineData("Precios IVA incluido", false)]
    [InlineData("prijzen incl. btw", false)]
    [InlineData("IVA compresa", false)]
    [InlineData("We are closed on Friday", null)]
    [InlineData("Please quote your VAT number", null)]
    public void TaxExcluded_statement_isUnderstood(string text, bool? excluded) => Assert.Equal(excluded, Statements.TaxExcluded(text, titles: false));

    [Theory]
    [InlineData("Brackenfold Butterflies - livestock list", "Brackenfold Butterflies")]
    [InlineData("Preisliste Schmetterlingszucht Auental KW 44", "Schmetterlingszucht Auental")]
    [InlineData("Les Ailes du Verger – élevage de papillons", "Les Ailes du Verger")]
    [InlineData("Supplier: Hollow Oak Pupae Ltd", "Hollow Oak Pupae Ltd")]
    [InlineData("From: Tessa at Greywether Farm", "Greywether Farm")]
    [InlineData("prairie wings - pupae & cocoons for dec 4 2026", "prairie wings")]
    public void Read_title_namesTheSupplier(string title, string supplier) => Assert.Equal(supplier, Lists.Read(title + "\n\nPapilio memnon £2.20\nIdea leuconoe £2.30\n").Supplier);

    [Theory]
    [InlineData("Hi all,")]
    [InlineData("Price list")]
    [InlineData("SWALLOWTAILS")]
    public void Read_otherFirstLine_leavesTheCallersSupplier(string line) =>
        Assert.Equal("Thornmere", Lists.Read(line + "\n\nPapilio memnon £2.20\nIdea leuconoe £2.30\n", Lists.Options with { Supplier = "Thornmere" }).Supplier);

    [Fact]
    public void Read_listOfAnotherWeek_isAskedAbout()
    {
        var read = Lists.Read("Stock list 2 November 2026\nPapilio memnon £2.20\nIdea leuconoe £2.30\n", Lists.Options with { Today = Lists.Today });

        Assert.Equal(new DateOnly(2026, 11, 2), read.Date);
        Assert.Contains(read.Doubts, doubt => doubt.Line == 1 && doubt.Why.Contains("2026-11-25", StringComparison.Ordinal));
    }

    [Fact]
    public void Read_deadline_isNotTheListsDate()
    {
        var read = Lists.Read("Orders by 26 November 2026 please. List of 23 November 2026.\nPapilio memnon £2.20\nIdea leuconoe £2.30\n");

        Assert.Equal(new DateOnly(2026, 11, 23), read.Date);
    }

    [Fact]
    public void Read_twoCurrencies_areAskedAbout()
    {
        var read = Lists.Read("Papilio memnon £2.20\nIdea leuconoe £2.30\nMorpho peleides €3.40\n");

        Assert.Equal("GBP", read.Currency);
        Assert.Contains("EUR", Assert.Single(read.Offers[2].Doubts), StringComparison.Ordinal);
        Assert.Contains(read.Doubts, doubt => doubt.Line == 0);
    }

    [Fact]
    public void Read_noCurrency_isAskedAboutUnlessRemembered()
    {
        const string list = "Papilio memnon 2.20\nIdea leuconoe 2.30\n";

        Assert.Contains(Lists.Read(list).Doubts, doubt => doubt.Why.Contains("currency", StringComparison.Ordinal));
        var remembered = Lists.Read(list, Lists.Options with { Layout = new SupplierLayout { Currency = "EUR" } });
        Assert.Equal("EUR", remembered.Currency);
        Assert.Empty(remembered.Doubts);
    }

    [Fact]
    public void Read_minimumOfEachSpecies_holdsForAll() => Assert.Equal(5, Lists.Only("min 5 of each species please\nPapilio memnon £2.20\n").Minimum);
}
