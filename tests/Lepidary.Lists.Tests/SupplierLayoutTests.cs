using Xunit;

namespace Lepidary.Lists.Tests;

public sealed class SupplierLayoutTests
{
    private const string List = "Species;Zeug;Preis\nPapilio memnon;40;2,20\nIdea leuconoe;60;2,30\nMorpho peleides;25;3,40\n";

    [Fact]
    public void Read_columnThatIsNotUnderstood_isLeftOutAndAskedAbout()
    {
        var read = Lists.Read(List);

        Assert.All(read.Offers, offer => Assert.Null(offer.Available));
        Assert.Contains(read.Doubts, doubt => doubt.Why.Contains("Zeug", StringComparison.Ordinal));
        Assert.Contains(new ReadColumn(null, 1, 2, "Zeug", ColumnRole.Unknown), read.Columns);
    }

    [Fact]
    public void Read_columnThatTheKeeperExplained_isReadSoForEver()
    {
        var layout = new SupplierLayout { Columns = new Dictionary<string, ColumnRole> { ["ZEUG"] = ColumnRole.Available }, Currency = "EUR", PricesExcludeTax = true };

        var read = Lists.Read(List, Lists.Options with { Layout = layout });

        Assert.Equal([40, 60, 25], read.Offers.Select(offer => offer.Available));
        Assert.Equal(("EUR", true), (read.Currency, read.PricesExcludeTax));
        Assert.DoesNotContain(read.Doubts, doubt => doubt.Why.Contains("Zeug", StringComparison.Ordinal));
    }

    [Fact]
    public void Read_pricesPerPackRemembered_areForThePack()
    {
        const string list = "Species;Pack;Price £\nPapilio memnon;2;4.00\nIdea leuconoe;2;4.40\n";

        Assert.Equal([2m, 2.2m], Lists.Read(list, Lists.Options with { Layout = new SupplierLayout { PricesPerPack = true } }).Offers.Select(offer => offer.Price));
        Assert.Equal([4m, 4.4m], Lists.Read(list, Lists.Options with { Layout = new SupplierLayout { PricesPerPack = false } }).Offers.Select(offer => offer.Price));
    }

    [Fact]
    public void Read_priceThatMayBeForThePack_isAskedAbout() =>
        Assert.All(Lists.Read("Species;Pack;Price £\nPapilio memnon;2;3.50\n").Offers, offer => Assert.Single(offer.Doubts));
}
