using System.Globalization;
using Lepidary.Lists.Reading;
using Xunit;

namespace Lepidary.Lists.Tests.Reading;

public sealed class FactReaderTests
{
    private static Facts Read(string text) => FactReader.Read(text, text.Contains(',', StringComparison.Ordinal) && !text.Contains('.', StringComparison.Ordinal) ? ',' : '.');

    private static string Shown(PrintedPrice price) => string.Create(CultureInfo.InvariantCulture, $"{price.Amount:0.00##}{(price.From > 1 ? $" from {price.From}" : "")}{price.Per switch { null => "", 0 => " a pack", 1 => " each", _ => $" per {price.Per}" }}");

    [Theory]
    [InlineData("£2.40", "2.40")]
    [InlineData("2,40 €", "2.40")]
    [InlineData("2€40", "2.40")]
    [InlineData("€ 11,-", "11.00")]
    [InlineData("EUR 2,40", "2.40")]
    [InlineData("US$ 2.40 each", "2.40 each")]
    [InlineData("85p", "0.85")]
    [InlineData("85 ct", "0.85")]
    [InlineData("2.40/ea", "2.40 each")]
    [InlineData("2,20 € c/u", "2.20 each")]
    [InlineData("2,40 € pièce", "2.40 each")]
    [InlineData("je 2,80 €", "2.80")]
    [InlineData("@ 2.20", "2.20")]
    [InlineData("20.00/10", "20.00 per 10")]
    [InlineData("£12 for 5", "12.00 per 5")]
    [InlineData("5 for £12", "12.00 per 5")]
    [InlineData("5 st. voor € 11,-", "11.00 per 5")]
    [InlineData("12.00 per pack", "12.00 a pack")]
    [InlineData("24.00 per pack of 10", "24.00 a pack")]
    [InlineData("£2.40, 10+ £2.20, 50+ £1.95", "2.40; 2.20 from 10; 1.95 from 50")]
    [InlineData("2,80 €, ab 20 nur 2,50 €", "2.80; 2.50 from 20")]
    [InlineData("€ 2,20 (vanaf 10: € 1,90)", "2.20; 1.90 from 10")]
    [InlineData("3,90 € c/u, desde 20 a 3,50 €", "3.90 each; 3.50 from 20")]
    [InlineData("1,80 €, à partir de 20 : 1,60 €", "1.80; 1.60 from 20")]
    [InlineData("€ 2,40 cad. da 20 pz € 2,10", "2.40; 2.10 from 20")]
    [InlineData("£3.40, or £3.10 if you take 20", "3.40; 3.10 from 20")]
    [InlineData("1-9 2.40 10-49 2.20 50+ 1.95", "2.40; 2.20 from 10; 1.95 from 50")]
    [InlineData("3,20 / 2,90 (50+)", "3.20; 2.90 from 50")]
    [InlineData("2,40 € pièce, lot de 10 à 21 €", "2.40 each; 21.00 per 10")]
    public void Read_price_givesAmountAndWhatItPaysFor(string text, string expected) =>
        Assert.Equal(expected.Split("; ").Order(), Read("Papilio memnon " + text).Prices.Select(Shown).Order());

    [Theory]
    [InlineData("was £2.60 now £2.20", "2.20", "2.60")]
    [InlineData("statt 2,60 jetzt 2,20", "2.20", "2.60")]
    [InlineData("£3.40 (normally £3.90)", "3.40", "3.90")]
    public void Read_formerPrice_isNoPrice(string text, string price, string old)
    {
        var facts = Read("Papilio memnon " + text);

        Assert.Equal(price, Shown(Assert.Single(facts.Prices)));
        Assert.Equal(old, Shown(Assert.Single(facts.OldPrices)));
    }

    [Theory]
    [InlineData("pack of 5")]
    [InlineData("packs of 5")]
    [InlineData("x5")]
    [InlineData("5er-Pack")]
    [InlineData("5er")]
    [InlineData("sold in fives")]
    [InlineData("boîte de 5")]
    [InlineData("lot de 5")]
    [InlineData("paquete de 5")]
    [InlineData("conf. da 5")]
    [InlineData("pak van 5")]
    [InlineData("VE 5")]
    [InlineData("multiples of 5")]
    public void Read_pack_givesItsSize(string text) => Assert.Equal(5, Read($"Papilio memnon {text} £12.00").Pack);

    [Theory]
    [InlineData("min 10")]
    [InlineData("min. 10")]
    [InlineData("10 min")]
    [InlineData("(min. order 10)")]
    [InlineData("mindestens 10")]
    [InlineData("Mindestabnahme: 10 Stk.")]
    [InlineData("minimum 10")]
    [InlineData("mínimo 10")]
    [InlineData("minimaal 10 stuks")]
    [InlineData("at least 10")]
    public void Read_minimum_givesIt(string text) => Assert.Equal(10, Read($"Papilio memnon £2.40 {text}").Minimum);

    [Theory]
    [InlineData("30 available")]
    [InlineData("(30 available)")]
    [InlineData("stock 30")]
    [InlineData("stock: ca. 30")]
    [InlineData("only 30 left")]
    [InlineData("30 left")]
    [InlineData("30 pcs")]
    [InlineData("30 Stück")]
    [InlineData("noch 30")]
    [InlineData("nog 30 stuks")]
    [InlineData("plus que 30")]
    [InlineData("quedan 30")]
    [InlineData("ultimi 30")]
    [InlineData("disponibili 30")]
    [InlineData("Bestand: 30")]
    [InlineData("thirty available")]
    public void Read_available_givesTheNumber(string text) => Assert.Equal(30, Read($"Papilio memnon £2.40 {text}").Available);

    [Theory]
    [InlineData("sold out")]
    [InlineData("- SOLD")]
    [InlineData("(out of stock)")]
    [InlineData("ausverkauft")]
    [InlineData("leider vergriffen")]
    [InlineData("épuisé")]
    [InlineData("rupture de stock")]
    [InlineData("agotado")]
    [InlineData("uitverkocht")]
    [InlineData("esaurito")]
    [InlineData("- next week")]
    [InlineData("nächste Woche")]
    public void Read_soldOut_isSeen(string text) => Assert.True(Read($"Papilio memnon £2.40 {text}").SoldOut);

    [Theory]
    [InlineData("10 % off")]
    [InlineData("free with orders over £100")]
    public void Read_termsOfTheOrder_areNoPrices(string text) => Assert.Equal("2.40", Shown(Assert.Single(Read($"Papilio memnon £2.40 {text}").Prices)));

    [Fact]
    public void Read_author_yearIsNoNumber()
    {
        var facts = Read("Papilio memnon (Linnaeus, 1758) 2.20");

        Assert.Equal("2.20", Shown(Assert.Single(facts.Prices)));
        Assert.Empty(facts.Bare);
    }

    [Theory]
    [InlineData("Mixed box of 50, our choice, at least 10 species - £80")]
    [InlineData("Lote sorpresa de 50 crisálidas: 80 €")]
    public void Read_mix_givesWhatIsInIt(string text)
    {
        var facts = Read(text);

        Assert.True(facts.Mix);
        Assert.Equal(50, facts.Pack);
        Assert.Null(facts.Minimum);
    }

    [Fact]
    public void Read_mixedForms_isNoMix() => Assert.False(Read("Parthenos sylvia (mixed forms) £2.00").Mix);
}
