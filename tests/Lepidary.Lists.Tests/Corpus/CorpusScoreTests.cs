using Xunit;

namespace Lepidary.Lists.Tests.Corpus;

/// <summary>A scorer that finds nothing proves nothing: each fault is planted once and must be counted once.</summary>
public sealed class CorpusScoreTests
{
    private static readonly TruthOffer Mormon = new()
    {
        Line = 3,
        Text = "Papilio memnon f. achates; 2,40; ab 10: 2,10; 30",
        Taxon = "Papilio memnon",
        Form = "f. achates",
        Price = 2.40m,
        Breaks = [new PriceBreak(10, 2.10m)],
        Pack = 5,
        Minimum = 10,
        Available = 30,
    };

    private static readonly TruthOffer Owl = new() { Line = 4, Text = "Caligo memnon; 3,10", Taxon = "Caligo memnon", Price = 3.10m };

    private static readonly TruthOffer Mix = new() { Line = 5, Text = "Mix", Kind = OfferKind.Mix, Price = 1.60m, Pack = 50 };

    private static readonly TruthList Truth = new()
    {
        Supplier = "Brackenfold",
        Currency = "EUR",
        Date = new DateOnly(2026, 11, 2),
        PricesExcludeTax = true,
        Offers = [Mormon, Owl, Mix],
        Charges = [new TruthCharge(6, "Box 4,00", 4m, ChargePer.Box)],
        SourceLines = [new TruthLines([1, 2, 3, 4, 5, 6, 8])],
    };

    private static readonly SupplierList Good = new()
    {
        Supplier = "Brackenfold",
        Currency = "EUR",
        Date = new DateOnly(2026, 11, 2),
        PricesExcludeTax = true,
        Offers = [Read(Mormon), Read(Owl), Read(Mix)],
        Charges = [new Charge(6, "Box 4,00", 4m, ChargePer.Box)],
        Lines =
        [
            Line(1, LineKind.Note), Line(2, LineKind.Heading), Line(3, LineKind.Offer), Line(4, LineKind.Offer),
            Line(5, LineKind.Offer), Line(6, LineKind.Charge), Line(7, LineKind.Blank), Line(8, LineKind.Note),
        ],
    };

    public static TheoryData<string, Offer> PlantedDifferences => new()
    {
        { "taxon", Read(Mormon) with { Taxon = "Papilio polytes" } },
        { "taxon", Read(Mormon) with { Taxon = null } },
        { "mix", Read(Mormon) with { Kind = OfferKind.Mix } },
        { "price", Read(Mormon) with { Price = 24.0m } },
        { "price", Read(Mormon) with { Price = null } },
        { "breaks", Read(Mormon) with { Breaks = [] } },
        { "breaks", Read(Mormon) with { Breaks = [new PriceBreak(10, 2.01m)] } },
        { "pack", Read(Mormon) with { Pack = 1 } },
        { "minimum", Read(Mormon) with { Minimum = null } },
        { "available", Read(Mormon) with { Available = 3 } },
        { "sold out", Read(Mormon) with { SoldOut = true } },
        { "form", Read(Mormon) with { Form = "agenor" } },
    };

    [Fact]
    public void Of_everythingAsInTheTruth_countsAllRight()
    {
        var score = CorpusScore.Of(Truth, Good);

        Assert.Equal(3, score.Offers);
        Assert.Equal(3, score.Right);
        Assert.Equal(1, score.ChargesRight);
        Assert.Equal(1.0, score.ReadRight);
        Assert.Equal(0, score.HeaderWrong + score.LinesLost + score.Extra + score.IdleDoubts + score.SilentlyWrong + score.Missing);
        Assert.Empty(score.Findings);
    }

    [Theory]
    [MemberData(nameof(PlantedDifferences))]
    public void Of_oneFactPlantedWrong_countsOneSilentlyWrong(string fact, Offer planted)
    {
        var score = CorpusScore.Of(Truth, Good with { Offers = [planted, Good.Offers[1], Good.Offers[2]] });

        Assert.Equal(1, score.SilentlyWrong);
        Assert.Equal(2, score.Right);
        Assert.Contains(fact, Assert.Single(score.Findings).What, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Papilio polytes", 1)]
    [InlineData(null, 0)]
    public void Of_anotherTaxon_isAWrongSpeciesOnlyWhereOneIsNamed(string? taxon, int wrong)
    {
        var score = CorpusScore.Of(Truth, Good with { Offers = [Read(Mormon) with { Taxon = taxon }, Good.Offers[1], Good.Offers[2]] });

        Assert.Equal(wrong, score.WrongSpecies);
    }

    [Fact]
    public void Of_aDoubtBesideAWrongFact_isDoubtfulAndNotSilent()
    {
        var planted = Read(Mormon) with { Taxon = "Papilio polytes", Doubts = ["Which one?"] };

        var score = CorpusScore.Of(Truth, Good with { Offers = [planted, Good.Offers[1], Good.Offers[2]] });

        Assert.Equal(1, score.Doubtful);
        Assert.Equal(0, score.SilentlyWrong + score.WrongSpecies);
        Assert.Equal(2.0 / 3.0, score.ReadRight, 12);
    }

    [Fact]
    public void Of_aDoubtThatIsFair_leavesTheRateAlone()
    {
        var truth = Truth with { Doubtful = [new TruthDoubt(4, "which owl is not said")] };
        var asked = Read(Owl) with { Taxon = null, Doubts = ["Which owl?"] };

        var score = CorpusScore.Of(truth, Good with { Offers = [Good.Offers[0], asked, Good.Offers[2]] });

        Assert.Equal(1, score.DoubtfulFairly);
        Assert.Equal(1.0, score.ReadRight);
    }

    [Fact]
    public void Of_noDoubtWhereOneIsDemanded_isSilentlyWrong()
    {
        var truth = Truth with { Doubtful = [new TruthDoubt(4, "which owl is not said", Demanded: true)] };

        var score = CorpusScore.Of(truth, Good);

        Assert.Equal(1, score.SilentlyWrong);
    }

    [Fact]
    public void Of_aLineWithoutOffer_isMissing()
    {
        var score = CorpusScore.Of(Truth, Good with { Offers = [Good.Offers[0], Good.Offers[2]] });

        Assert.Equal(1, score.Missing);
        Assert.Equal(2, score.Right);
    }

    [Fact]
    public void Of_aLineLeftAsADoubt_isDoubtfulAndNotMissing()
    {
        var lines = Good.Lines.Select(l => l.Line == 4 ? l with { Kind = LineKind.Doubt } : l).ToList();

        var score = CorpusScore.Of(Truth, Good with { Offers = [Good.Offers[0], Good.Offers[2]], Lines = lines });

        Assert.Equal(1, score.Doubtful);
        Assert.Equal(0, score.Missing + score.IdleDoubts);
    }

    [Fact]
    public void Of_anOfferThatNoLineMakes_isExtra()
    {
        var planted = Read(Owl) with { Line = 8, Text = "Please pay within 30 days" };

        var score = CorpusScore.Of(Truth, Good with { Offers = [.. Good.Offers, planted] });

        Assert.Equal(1, score.Extra);
        Assert.Equal(3, score.Right);
    }

    [Fact]
    public void Of_aDoubtAboutARemark_isIdle()
    {
        var lines = Good.Lines.Select(l => l.Line == 8 ? l with { Kind = LineKind.Doubt } : l).ToList();

        var score = CorpusScore.Of(Truth, Good with { Lines = lines });

        Assert.Equal(1, score.IdleDoubts);
    }

    [Fact]
    public void Of_linesDroppedOrDoubled_areLost()
    {
        var score = CorpusScore.Of(Truth, Good with { Lines = [.. Good.Lines.Where(l => l.Line != 8), Line(1, LineKind.Note)] });

        Assert.Equal(2, score.LinesLost);
    }

    [Fact]
    public void Of_aLineWithTextCalledBlank_isLost()
    {
        var lines = Good.Lines.Select(l => l.Line == 8 ? l with { Kind = LineKind.Blank } : l).ToList();

        var score = CorpusScore.Of(Truth, Good with { Lines = lines });

        Assert.Equal(1, score.LinesLost);
    }

    [Fact]
    public void Of_aChargeOfAnotherAmount_isNotRight()
    {
        var score = CorpusScore.Of(Truth, Good with { Charges = [new Charge(6, "Box 4,00", 40m, ChargePer.Box)] });

        Assert.Equal(0, score.ChargesRight);
    }

    [Fact]
    public void Of_anotherCurrencyDateAndTax_countsEach()
    {
        var score = CorpusScore.Of(Truth, Good with { Currency = "GBP", Date = new DateOnly(2026, 2, 11), PricesExcludeTax = null });

        Assert.Equal(3, score.HeaderWrong);
    }

    [Fact]
    public void Of_twoOffersOnALine_pairsThemByTaxon()
    {
        var truth = Truth with { Offers = [Mormon, Owl with { Line = 3 }, Mix] };

        var score = CorpusScore.Of(truth, Good with { Offers = [Good.Offers[1] with { Line = 3 }, Good.Offers[0], Good.Offers[2]] });

        Assert.Equal(3, score.Right);
    }

    [Fact]
    public void Of_rowsOfTwoSheets_areKeptApart()
    {
        var truth = Truth with { Offers = [Mormon with { Sheet = "Asia" }, Owl with { Line = 3, Sheet = "America" }], Charges = [], SourceLines = [] };
        var read = Good with { Charges = [], Offers = [Read(Mormon) with { Sheet = "America" }, Read(Owl) with { Line = 3, Sheet = "Asia" }] };

        var score = CorpusScore.Of(truth, read);

        Assert.Equal(2, score.SilentlyWrong);
    }

    [Fact]
    public void Of_aFormatWithoutLines_pairsByWhatIsShared()
    {
        var truth = Truth with { Lineless = true, SourceLines = [] };
        var read = Good with { Offers = [Read(Owl) with { Line = 12, Taxon = "Caligo eurilochus" }, Good.Offers[0] with { Line = 13 }] };

        var score = CorpusScore.Of(truth, read);

        Assert.Equal(1, score.Right);
        Assert.Equal(1, score.WrongSpecies);
        Assert.Equal(1, score.Missing);
    }

    [Fact]
    public void Of_anOptionalOffer_countsOnlyWhenRead()
    {
        var truth = Truth with { Offers = [Mormon, Owl with { Optional = true }, Mix] };

        var without = CorpusScore.Of(truth, Good with { Offers = [Good.Offers[0], Good.Offers[2]] });
        var wrong = CorpusScore.Of(truth, Good with { Offers = [Good.Offers[0], Read(Owl) with { Price = 31m }, Good.Offers[2]] });

        Assert.Equal((2, 2, 0), (without.Offers, without.Right, without.Missing));
        Assert.Equal((3, 2, 1), (wrong.Offers, wrong.Right, wrong.SilentlyWrong));
    }

    [Fact]
    public void Of_offerSwallowedByAnotherLine_isUnaccounted()
    {
        var swallowed = CorpusScore.Of(Truth, Good with { Offers = [Good.Offers[0], Good.Offers[2]], Lines = [Line(Owl.Line, LineKind.Offer) with { Text = $"with {Owl.Text}" }] });
        var shown = CorpusScore.Of(Truth, Good with { Offers = [Good.Offers[0], Good.Offers[2]], Lines = [Line(Owl.Line, LineKind.Note) with { Text = $"with {Owl.Text}" }] });

        Assert.Equal((1, 0), (swallowed.Unaccounted, shown.Unaccounted));
    }

    [Fact]
    public void Refused_anyList_missesEverythingAndSaysWhy()
    {
        var score = CorpusScore.Refused(Truth, [new Problem("list.xyz", "noise", "a list")]);

        Assert.Equal((3, 3, 7), (score.Offers, score.Missing, score.LinesLost));
        Assert.Equal(0.0, score.ReadRight);
        Assert.Contains("noise", Assert.Single(score.Findings).What, StringComparison.Ordinal);
    }

    [Fact]
    public void Plus_twoScores_addsEveryCount()
    {
        var bad = CorpusScore.Of(Truth, new SupplierList());
        var sum = bad + CorpusScore.Of(Truth, Good);

        Assert.Equal(6, sum.Offers);
        Assert.Equal(3, sum.Right);
        Assert.Equal(3, sum.Missing);
        Assert.Equal(4, sum.HeaderWrong);
        Assert.Equal(7, sum.LinesLost);
        Assert.Equal(2, sum.Charges);
        Assert.Equal(1, sum.ChargesRight);
        Assert.Equal(0.5, sum.ReadRight);
    }

    private static Offer Read(TruthOffer truth) => new()
    {
        Line = truth.Line,
        Sheet = truth.Sheet,
        Text = truth.Text,
        Taxon = truth.Taxon,
        Form = truth.Form,
        Kind = truth.Kind,
        Price = truth.Price,
        Breaks = truth.Breaks,
        Pack = truth.Pack,
        Minimum = truth.Minimum,
        Available = truth.Available,
        SoldOut = truth.SoldOut,
    };

    private static SourceLine Line(int line, LineKind kind) => new(line, null, "", kind);
}
