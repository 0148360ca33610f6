using Lepidary.Lists.Tests.Formats;
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

    [Theory]
    [InlineData("Thirty Papilio memnon at two pounds forty, eleven palinurus at two pounds eighty and twenty-one Idea leuconoe at three pounds each.")]
    [InlineData("Dreißig Papilio memnon zu zwei Euro vierzig, elf palinurus zu zwei Euro achtzig und einundzwanzig Idea leuconoe zu drei Euro.")]
    [InlineData("Trente Papilio memnon à deux euros quarante, onze palinurus à deux euros quatre-vingts et vingt et une Idea leuconoe à trois euros.")]
    [InlineData("Treinta Papilio memnon a dos euros cuarenta, 11 palinurus a dos euros con ochenta y veintiuna Idea leuconoe a tres euros.")]
    [InlineData("Dertig Papilio memnon voor twee euro veertig, elf palinurus voor twee euro tachtig en eenentwintig Idea leuconoe voor drie euro.")]
    [InlineData("Trenta Papilio memnon a due euro e quaranta, undici palinurus a due euro e ottanta e ventuno Idea leuconoe a tre euro.")]
    public void Read_pricesInWords_arePrices(string line) =>
        Assert.Equal(["Papilio memnon, 2.40, 30 there", "Papilio palinurus, 2.80, 11 there", "Idea leuconoe, 3.00, 21 there"], Read(line));

    [Fact]
    public void Read_numberBehindACurrencyAndBeforeAName_isHowManyThereAre() =>
        Assert.Equal(["Papilio memnon, 2.00, 20 there", "Heliconius erato, 2.00, 40 there"], Read("I have twenty Papilio memnon at two pounds and forty Heliconius erato at two pounds."));

    [Theory]
    [InlineData("Idea leuconoe: £3.00 each, or £2.75 each if you take twenty or more")]
    [InlineData("Idea leuconoe 3,00 €, ab zwanzig Stück 2,75 €")]
    [InlineData("Idea leuconoe 3,00 €, à partir de vingt 2,75 €")]
    [InlineData("Idea leuconoe 3,00 €, da venti in su 2,75 €")]
    [InlineData("Idea leuconoe € 3,00, vanaf twintig stuks € 2,75")]
    public void Read_breakFromANumberInWords_isABreak(string line) => Assert.Equal(["Idea leuconoe, 3.00, 20+ 2.75"], Read(line));

    [Theory]
    [InlineData("Prijzen in euro per stuk\nPapilio memnon 2,40 per 10 verpakt\nPapilio polytes 2,10\n")]
    [InlineData("Alle Preise je Stück in EUR\nPapilio memnon 2,40 (zu 10 Stück verpackt)\nPapilio polytes 2,10\n")]
    [InlineData("GBP each\nPapilio memnon 2.40 packed in 10s\nPapilio polytes 2.10\n")]
    [InlineData("Soort\tPrijs EUR\tPer\tOpmerking\nPapilio memnon\t2,40\tstuk\tper 10 verpakt\nPapilio polytes\t2,10\tstuk\t\n")]
    [InlineData("Art;Preis EUR;Einheit;Bemerkung\nPapilio memnon;2,40;Stück;10er verpackt\nPapilio polytes;2,10;Stück;\n")]
    [InlineData("Espèce;Prix EUR;Unité;Note\nPapilio memnon;2,40;pièce;conditionnés par 10\nPapilio polytes;2,10;pièce;\n")]
    public void Read_packedByTen_isThePriceOfOne(string list) => Assert.Equal(["Papilio memnon, 2.40, pack 10", "Papilio polytes, 2.10"], Read(list));

    [Theory]
    [InlineData("Preise je Stück, wenn nicht anders vermerkt", "Art;Preis EUR;Bemerkung", "5er-Packung")]
    [InlineData("Preise je Stück, wenn nicht anders vermerkt", "Art;Preis EUR;Bemerkung", "für 5 Stück")]
    [InlineData("Les prix s'entendent à la pièce, sauf mention", "Espèce;Prix EUR;Remarque", "le lot de 5")]
    [InlineData("Les prix s'entendent à la pièce, sauf mention", "Espèce;Prix EUR;Remarque", "les 5")]
    [InlineData("Precios por unidad, salvo indicación", "Especie;Precio EUR;Observaciones", "el lote de 5")]
    [InlineData("Prijzen per stuk, tenzij anders vermeld", "Soort;Prijs EUR;Opmerking", "per pakje van 5")]
    [InlineData("Prezzi al pezzo, salvo indicazione", "Specie;Prezzo EUR;Note", "confezione da 5")]
    [InlineData("Prices each unless a pack is stated", "Species;Price EUR;Notes", "for five")]
    public void Read_remarkThatAPriceIsForFive_isForFive(string rule, string titles, string remark) => Assert.Equal(
        ["Papilio memnon, 2.40", "Idea leuconoe, 2.60, pack 5", "Papilio polytes, 2.10", "Morpho helenor, 3.90", "Heliconius hecale, 2.00", "Dryas iulia, 1.60"],
        Read($"{rule}\n{titles}\nPapilio memnon;2,40;\nIdea leuconoe;13,00;{remark}\nPapilio polytes;2,10;\nMorpho helenor;3,90;\nHeliconius hecale;2,00;\nDryas iulia;1,60;\n"));

    [Theory]
    [InlineData("Abgabe nur in Packungen zu 10 Stück, Preise in EUR", "Art;Preis je 10 Stk.;Packungen vorrätig", "vergriffen")]
    [InlineData("Vendues par 10 uniquement, prix en euros", "Nom;Prix les 10;Lots disponibles", "épuisé")]
    [InlineData("Prices in EUR", "Species;Price per 10;Packs in stock", "sold out")]
    [InlineData("Prijzen in euro", "Soort;Prijs per 10;Pakken beschikbaar", "uitverkocht")]
    [InlineData("Prezzi in euro", "Specie;Prezzo per 10 pz;Confezioni disponibili", "esaurito")]
    public void Read_priceAndStockInTens_areCountedInPupae(string rule, string titles, string gone) =>
        Assert.Equal(["Papilio memnon, 2.40, pack 10, 30 there", "Idea leuconoe, 2.60, pack 10, sold out"], Read($"{rule}\n{titles}\nPapilio memnon;24,00;3\nIdea leuconoe;26,00;{gone}\n"));

    [Fact]
    public void Read_ruleOfOneSheet_doesNotHoldForAnotherThatSaysItsOwn()
    {
        var workbook = new WorkbookBuilder();
        workbook.Sheet("Puppen").Row("Abgabe nur in Packungen zu 10 Stück. Preise in EUR").Row("Art", "Preis je 10 Stk.").Row("Papilio memnon", 24m).Row("Papilio polytes", 21m);
        workbook.Sheet("Kokons").Row("Kokons - Preise je Stück").Row("Art", "Preis je Stück").Row("Attacus atlas", 5.7m).Row("Actias selene", 6.1m);

        Assert.Equal(["Papilio memnon, 2.40, pack 10", "Papilio polytes, 2.10, pack 10", "Attacus atlas, 5.70", "Actias selene, 6.10"], Lists.Read(workbook.Bytes()).Value.Offers.Select(Said));
    }

    [Fact]
    public void Read_footnote_holdsForTheOffersWithItsMark() => Assert.Equal(
        ["Papilio memnon, 2.40, pack 5", "Papilio palinurus, 2.80", "Idea leuconoe, 2.60, sold out", "Morpho helenor, 3.90, pack 5", "Dryas iulia, 1.60, min 20"],
        Read("Prices in GBP each\nPapilio memnon* 2.40\nPapilio palinurus 2.80\nIdea leuconoe** 2.60\nMorpho helenor* 3.90\nDryas iulia (1) 1.60\n\n* sold in packs of 5\n** sold out until May\n(1) minimum 20\n"));

    [Theory]
    [InlineData("This week twenty paper kites at £2.60, a dozen emerald swallowtails at £2.80 and forty great mormons at £2.40. No monarchs until May.", "Danaus plexippus")]
    [InlineData("This week twenty Idea leuconoe at £2.60, a dozen palinurus at £2.80 and forty memnon at £2.40. Demoleus are finished.", "Papilio demoleus")]
    public void Read_namesBreedersSay_areReadInSentences(string letter, string gone) => Assert.Equal(
        ["Idea leuconoe, 2.60, 20 there", "Papilio palinurus, 2.80, 12 there", "Papilio memnon, 2.40, 40 there", $"{gone}, no price, sold out"],
        Read(letter));

    [Theory]
    [InlineData("Papilio memnon £2.40 max 20")]
    [InlineData("Papilio memnon 2,40 €, höchstens 20")]
    [InlineData("Papilio memnon 2,40 €, il en reste 20")]
    [InlineData("Papilio memnon 2,40 €, me quedan 20")]
    [InlineData("Papilio memnon € 2,40, hooguit 20")]
    [InlineData("Papilio memnon € 2,40, al massimo 20")]
    public void Read_noMoreThan_isWhatThereIs(string line) => Assert.Equal(["Papilio memnon, 2.40, 20 there"], Read(line));

    [Theory]
    [InlineData("Species,Trade,Retail,Qty")]
    [InlineData("Specie,Soci,Non soci,Disponibili")]
    [InlineData("Art,Mitglieder,Nichtmitglieder,Bestand")]
    public void Read_pricesForSeveralKindsOfBuyer_areAskedAbout(string titles) =>
        Assert.All(Lists.Read($"{titles}\nPapilio memnon,2.10,2.60,40\nPapilio polytes,1.90,2.30,12\nIdea leuconoe,2.30,2.80,30\n").Offers, offer => Assert.NotEmpty(offer.Doubts));

    [Fact]
    public void Read_timesTenBehindEveryNameAndPricesForTen_arePacks() => Assert.Equal(
        ["Papilio memnon, 2.20, pack 10", "Papilio polytes, 1.90, pack 10", "Idea leuconoe, 2.50, pack 5", "Morpho helenor, 3.80, pack 5"],
        Read("Species;Price GBP\nPapilio memnon x 10;22.00\nPapilio polytes x 10;19.00\nIdea leuconoe x 5;12.50\nMorpho helenor x 5;19.00\n"));

    [Theory]
    [InlineData("Morpho helenor £3.90 each, £43.00 a dozen")]
    [InlineData("Morpho helenor 3,90 € das Stück, 43,00 € das Dutzend")]
    public void Read_priceOfADozenBesideThatOfOne_isABreak(string line) => Assert.Equal(["Morpho helenor, 3.90, 12+ 3.5833"], Read(line));

    [Theory]
    [InlineData("Papilio memnon £2.40 in fives")]
    [InlineData("Papilio memnon 2,40 €, nur in Fünferpackungen")]
    [InlineData("Papilio memnon 2,40 € (5er verpackt)")]
    public void Read_numberThatIsAPack_isNotWhatThereIs(string line) => Assert.Equal(["Papilio memnon, 2.40, pack 5"], Read($"{line}\nPapilio polytes 2.10\nIdea leuconoe 2.60\n").Take(1));

    [Fact]
    public void Read_footnoteRightBelowTheLastOffer_isNotItsOwn() =>
        Assert.Equal(["Papilio memnon, 2.40, 6 there", "Papilio polytes, 2.10", "Caligo eurilochus, 3.20"], Read("Papilio memnon ¹ 2,40 €\nPapilio polytes 2,10 €\nCaligo eurilochus 3,20 €\n¹ nur noch 6 Stück\n"));

    [Fact]
    public void Read_priceBehindAPair_isAskedAbout() => Assert.NotEmpty(Lists.Read("Papilio memnon 2.40\nOrnithoptera priamus pair 28.00\n").Offers[1].Doubts);

    [Theory]
    [InlineData("Species,Price per dozen", 2.20)]
    [InlineData("Especie,Precio docena", 2.20)]
    [InlineData("Art,Preis pro Dutzend", 2.20)]
    public void Read_priceOfADozen_isDivided(string titles, double each) =>
        Assert.Equal((decimal)each, Lists.Read($"{titles}\nPapilio memnon,26.40\nPapilio polytes,21.60\n").Offers[0].Price);

    [Fact]
    public void Read_epithetWithItsSubspecies_isTheSpecies() => Assert.Equal(["Morpho helenor, 3.90"], Read("- helenor peleides £3.90\n"));

    [Theory]
    [InlineData("Sold out this week: Morpho helenor, Caligo memnon, Attacus atlas")]
    [InlineData("Ausverkauft: Morpho helenor, Caligo memnon und Attacus atlas")]
    [InlineData("Épuisés : Morpho helenor, Caligo memnon et Attacus atlas")]
    public void Read_namesBehindSoldOut_areAllSoldOut(string line) => Assert.Equal(
        ["Papilio memnon, 2.40", "Papilio polytes, 2.10", "Morpho helenor, no price, sold out", "Caligo memnon, no price, sold out", "Attacus atlas, no price, sold out"],
        Read($"Papilio memnon 2.40\nPapilio polytes 2.10\n{line}\n"));

    [Theory]
    [InlineData("Next week:")]
    [InlineData("Nächste Woche:")]
    [InlineData("La semaine prochaine :")]
    public void Read_offerBelowALaterWeek_isAskedAbout(string heading)
    {
        var offers = Lists.Read($"Papilio memnon 2,40 €\nPapilio polytes 2,10 €\n{heading}\nIdea leuconoe 2,60 €\nMorpho helenor 3,90 €\n").Offers;

        Assert.Equal([0, 0, 1, 1], offers.Select(offer => Math.Min(1, offer.Doubts.Count)));
    }

    [Fact]
    public void Read_titleThatSpeaksOfALaterWeek_leavesTheOffersAlone() =>
        Assert.All(Lists.Read("Pupae for next week\nPapilio memnon £2.40\nIdea leuconoe £2.60\n").Offers, offer => Assert.Empty(offer.Doubts));

    [Theory]
    [InlineData("Papilio memnon £48.00 per box of 20", 2.40, 20)]
    [InlineData("Papilio memnon £24.00 per tray of 10", 2.40, 10)]
    [InlineData("Papilio memnon 24,00 € par lot de 10", 2.40, 10)]
    public void Read_priceOfABoxOfSoMany_isDivided(string line, double each, int pack)
    {
        var offer = Lists.Only(line);

        Assert.Equal(((decimal?)each, pack), (offer.Price, offer.Pack));
    }

    [Fact]
    public void Read_rangeOfWhatThereIs_isItsSmallerNumber() => Assert.Equal(["Papilio memnon, 2.40, 20 there"], Read("Papilio memnon £2.40, 20-30 available"));

    [Theory]
    [InlineData("Species,Each (p),In stock\nPapilio memnon,240,20\nPapilio polytes,195,30\nIdea leuconoe,1050,5\n")]
    [InlineData("Prices in pence per pupa plus VAT\n\nSpecies,Price each (p),In stock\nPapilio memnon,240,20\nPapilio polytes,195,30\nIdea leuconoe,1050,5\n")]
    [InlineData("Alle Preise in Cent\n\nArt;Stückpreis (ct);Bestand\nPapilio memnon;240;20\nPapilio polytes;195;30\nIdea leuconoe;1050;5\n")]
    public void Read_columnTitledInPenceForOne_isThePrice(string list) =>
        Assert.Equal(["Papilio memnon, 2.40, 20 there", "Papilio polytes, 1.95, 30 there"], Read(list).Take(2));

    [Theory]
    [InlineData("Species;Price EUR;Remarks\nPapilio memnon;2,40;2,20 for 30 or more\nPapilio polytes;1,95;\n")]
    [InlineData("Species;Pence each;Remarks\nPapilio memnon;240;220p for 30 or more\nPapilio polytes;195;\n")]
    [InlineData("Species;Price EUR;Remarks\nPapilio memnon;2,40;30 pcs up 2,20\nPapilio polytes;1,95;\n")]
    public void Read_remarkOfAPriceForMore_isABreak(string list) => Assert.Equal(["Papilio memnon, 2.40, 30+ 2.20", "Papilio polytes, 1.95"], Read(list));

    [Theory]
    [InlineData("Art;Stück pro Packung;Preis pro Packung EUR;Preis pro Stück EUR;Bestand (VE)\nPapilio memnon;5;12,00;2,40;4\nPapilio polytes;1;1,95;1,95;30\n")]
    [InlineData("Species;Pupae per pack;Price per pack EUR;Price each EUR;In stock (packs)\nPapilio memnon;5;12.00;2.40;4\nPapilio polytes;1;1.95;1.95;30\n")]
    [InlineData("Espèce;Pièces par lot;Prix par lot EUR;Prix unitaire EUR;Disponible (lots)\nPapilio memnon;5;12,00;2,40;4\nPapilio polytes;1;1,95;1,95;30\n")]
    public void Read_piecesPerPackBesideBothPrices_isThePack(string list) => Assert.Equal(["Papilio memnon, 2.40, pack 5, 20 there", "Papilio polytes, 1.95, 30 there"], Read(list));

    [Theory]
    [InlineData("Espèce;Prix EUR;Reste\nPapilio memnon;2,40;8\nPapilio polytes;1,95;épuisé\n")]
    [InlineData("Soort;Prijs EUR;Nog\nPapilio memnon;2,40;8\nPapilio polytes;1,95;uitverkocht\n")]
    [InlineData("Specie;Prezzo EUR;Restano\nPapilio memnon;2,40;8\nPapilio polytes;1,95;esaurito\n")]
    public void Read_columnOfWhatIsLeft_isWhatIsThere(string list) => Assert.Equal(["Papilio memnon, 2.40, 8 there", "Papilio polytes, 1.95, sold out"], Read(list));

    [Theory]
    [InlineData("species_name,price_eur,price_from_20,qty_available\nPapilio memnon,2.40,2.20,40\nPapilio polytes,1.95,,30\n")]
    [InlineData("SpeciesName,PriceEUR,PriceFrom20,QtyAvailable\nPapilio memnon,2.40,2.20,40\nPapilio polytes,1.95,,30\n")]
    [InlineData("artname;preis_eur;ab_20;bestand\nPapilio memnon;2,40;2,20;40\nPapilio polytes;1,95;;30\n")]
    public void Read_titlesAsAProgramWritesThem_areRead(string list) => Assert.Equal(["Papilio memnon, 2.40, 20+ 2.20, 40 there", "Papilio polytes, 1.95, 30 there"], Read(list));

    [Fact]
    public void Read_columnNotUnderstoodWhereAFactIsMissing_isAskedAboutOnItsLines()
    {
        var offers = Lists.Read("Species;Family;Zorb\nPapilio memnon;Papilionidae;240\nPapilio polytes;Papilionidae;195\nIdea leuconoe;Nymphalidae;260\n").Offers;

        Assert.All(offers, offer => Assert.Contains(offer.Doubts, why => why.Contains("\"Zorb\"", StringComparison.Ordinal)));
    }

    [Fact]
    public void Read_priceForAPackOfNoSize_isAskedAbout() =>
        Assert.All(Lists.Read("Species;Price per pack EUR\nPapilio memnon;12.00\nPapilio polytes;9.75\n").Offers, offer => Assert.Contains(offer.Doubts, why => why.Contains("how many a pack holds", StringComparison.Ordinal)));

    [Fact]
    public void Read_titledPricesThatAreNone_areAskedAboutOnEachLine() =>
        Assert.All(Lists.Read("Species;Price EUR;Stock\nPapilio memnon;x;10\nPapilio polytes;x;10\nIdea leuconoe;x;20\nCaligo memnon;x;20\n").Offers, offer => Assert.NotEmpty(offer.Doubts));

    [Theory]
    [InlineData("0.03")]
    [InlineData("240.00")]
    public void Read_pricesThatNearlyAllCannotBe_areAskedAboutOnEachLine(string price) =>
        Assert.All(Lists.Read("Species;Price EUR;Stock\n" + string.Concat(Enumerable.Range(0, 6).Select(i => $"{Six[i]};{price};{10 + i}\n"))).Offers, offer => Assert.Contains(offer.Doubts, why => why.Contains("can hardly be meant", StringComparison.Ordinal)));

    private static readonly string[] Six = ["Papilio memnon", "Papilio polytes", "Idea leuconoe", "Caligo memnon", "Heliconius hecale", "Greta oto"];

    [Fact]
    public void Read_breakFarBelowThePrice_isAskedAbout() =>
        Assert.Contains(Lists.Read("Species;Price EUR;from 10\nPapilio memnon;4.10;1.00\nPapilio polytes;1.95;1.80\n").Offers[0].Doubts, why => why.Contains("far below", StringComparison.Ordinal));

    [Fact]
    public void Read_priceOfAGroupOverCommonNames_isTheirs() => Assert.Equal(
        ["Aglais io, 1.40, 20 there", "Vanessa atalanta, 1.40, 6 there", "Papilio memnon, 2.40, 15 there", "Papilio polytes, 2.40, 12 there"],
        Read("Band one: €1.40 each\nPeacock  20\nRed Admiral  6\nBand two: €2.40 each\nPapilio memnon  15\nPapilio polytes  12\n"));

    [Theory]
    [InlineData("Bund A: 2,40 € je Stück\nPapilio memnon 15\nPapilio polytes ausverkauft\nIdea leuconoe 12\nCaligo memnon 34\n")]
    [InlineData("Band A: €2.40 each\nPapilio memnon 15\nPapilio polytes\tall gone, sorry\nIdea leuconoe 12\nCaligo memnon 34\n")]
    public void Read_soldOutUnderAPriceOfTheGroup_isTheLineAlone(string list) =>
        Assert.Equal(["Papilio memnon, 2.40, 15 there", "Papilio polytes, 2.40, sold out", "Idea leuconoe, 2.40, 12 there", "Caligo memnon, 2.40, 34 there"], Read(list));
}
