using CsCheck;
using Xunit;

namespace Lepidary.Book.Tests.Ledger;

public sealed class LedgerTests
{
    private const string Seed = "0000Lepidary";

    private static readonly Lot Lot = new() { Taxon = "Morpho helenor", Received = 10, HungOn = new(2026, 11, 3), Row = "A1" };

    [Fact]
    public void Balance_aWeekOfRounds_countsEachPupaOnce()
    {
        Fact[] facts =
        [
            new Entry { LotId = Lot.Id, OnDay = new(2026, 11, 10), EmergedMale = 2, EmergedFemale = 1 },
            new Entry { LotId = Lot.Id, OnDay = new(2026, 11, 11), EmergedUnsexed = 1, Crippled = 1, Dead = 1 },
            new Entry { LotId = Lot.Id, OnDay = new(2026, 11, 12), Parasitised = 1, Missing = 1 },
            new Transfer { LotId = Lot.Id, OnDay = new(2026, 11, 12), Count = 1 },
            new Release { LotId = Lot.Id, OnDay = new(2026, 11, 11), Taxon = Lot.Taxon, Male = 2, Female = 1 },
            new Entry { LotId = Guid.NewGuid(), OnDay = new(2026, 11, 12), Dead = 5 },
        ];

        var balance = Book.Ledger.Balance(Lot, facts);

        Assert.Equal((10, 4, 1, 1, 1, 1, 1), (balance.Received, balance.Emerged, balance.Crippled, balance.Dead, balance.Parasitised, balance.Missing, balance.Transferred));
        Assert.Equal((1, 0, 1), (balance.Hanging, balance.Excess, balance.ToRelease));
        Assert.False(balance.IsClosed);
    }

    [Theory]
    [InlineData("2026-11-02", 0, 0)]
    [InlineData("2026-11-03", 10, 0)]
    [InlineData("2026-11-10", 7, 0)]
    [InlineData("2026-11-11", 0, 3)]
    public void Balance_asOfADay_countsFactsAboutThatDayAndBefore(string day, int hanging, int excess)
    {
        Fact[] facts =
        [
            new Entry { LotId = Lot.Id, OnDay = new(2026, 11, 10), EmergedMale = 3 },
            new Entry { LotId = Lot.Id, OnDay = new(2026, 11, 11), EmergedMale = 10 },
        ];

        var balance = Book.Ledger.Balance(Lot, facts, DateOnly.Parse(day, System.Globalization.CultureInfo.InvariantCulture));

        Assert.Equal((hanging, excess), (balance.Hanging, balance.Excess));
    }

    [Fact]
    public void Balance_correctionVoidedInItsTurn_doesNotBringTheFirstBack()
    {
        var first = new Entry { LotId = Lot.Id, OnDay = new(2026, 11, 10), Dead = 3 };
        var correction = new Entry { LotId = Lot.Id, OnDay = new(2026, 11, 10), Dead = 2, VoidsId = first.Id };
        var takenBack = new Voiding { OnDay = new(2026, 11, 12), VoidsId = correction.Id };

        Assert.Equal(8, Book.Ledger.Balance(Lot, [first, correction]).Hanging);
        Assert.Equal(10, Book.Ledger.Balance(Lot, [takenBack, correction, first]).Hanging);
    }

    [Fact]
    public void Balance_recount_countsFromTheDayTheLotWasHung()
    {
        var recount = new Recount { LotId = Lot.Id, OnDay = new(2026, 11, 20), Difference = -2 };

        Assert.Equal(8, Book.Ledger.Balance(Lot, [recount], new DateOnly(2026, 11, 5)).Hanging);
    }

    [Fact]
    public void Balance_moves_lastDayWins()
    {
        var cage = Guid.NewGuid();
        Fact[] facts =
        [
            new Move { LotId = Lot.Id, OnDay = new(2026, 11, 9), CageId = cage, Row = "C3" },
            new Move { LotId = Lot.Id, OnDay = new(2026, 11, 5), Row = "B2" },
        ];

        Assert.Equal((null, "A1"), Place(new(2026, 11, 4)));
        Assert.Equal((null, "B2"), Place(new(2026, 11, 8)));
        Assert.Equal((cage, "C3"), Place(new(2026, 11, 9)));

        (Guid?, string?) Place(DateOnly day) => Book.Ledger.Balance(Lot, facts, day) is var balance ? (balance.CageId, balance.Row) : default;
    }

    [Fact]
    public void Discrepancies_twoCountsThatTogetherExceedWhatHangs_isOneDiscrepancyAndBothAreKept()
    {
        Fact[] facts =
        [
            new Entry { LotId = Lot.Id, OnDay = new(2026, 11, 10), EmergedMale = 6 },
            new Entry { LotId = Lot.Id, OnDay = new(2026, 11, 10), EmergedMale = 6 },
        ];

        var discrepancy = Assert.Single(Book.Ledger.Discrepancies(Lot, facts));

        Assert.Equal((DiscrepancyKind.MoreCountedThanHung, 2), (discrepancy.Kind, discrepancy.Excess));
        Assert.Equal(
            "Morpho helenor, hung 2026-11-03: 10 received, 12 accounted for. "
            + "Take back a count that was made twice, or say that 2 more were received.",
            discrepancy.Sentence);
        Assert.Equal(12, Book.Ledger.Balance(Lot, facts).Emerged);
    }

    [Fact]
    public void Discrepancies_countBeforeTheLotHung_namesTheRow()
    {
        var early = new Entry { LotId = Lot.Id, OnDay = new(2026, 11, 1), EmergedMale = 1 };

        var discrepancy = Assert.Single(Book.Ledger.Discrepancies(Lot, [early]));

        Assert.Equal((DiscrepancyKind.CountedBeforeHung, early.Id), (discrepancy.Kind, discrepancy.SubjectId));
    }

    [Fact]
    public void Discrepancies_moreReleasedThanEmerged_areShown()
    {
        Fact[] facts =
        [
            new Entry { LotId = Lot.Id, OnDay = new(2026, 11, 10), EmergedMale = 2 },
            new Release { LotId = Lot.Id, OnDay = new(2026, 11, 10), Taxon = Lot.Taxon, Male = 2 },
            new FoundDead { LotId = Lot.Id, OnDay = new(2026, 11, 10), Taxon = Lot.Taxon, Count = 1 },
        ];

        var discrepancy = Assert.Single(Book.Ledger.Discrepancies(Lot, facts));

        Assert.Equal((DiscrepancyKind.MoreReleasedThanEmerged, 1), (discrepancy.Kind, discrepancy.Excess));
    }

    [Fact]
    public void Balance_anyFacts_alwaysBalances() =>
        Gen.Select(Histories.Facts, Gen.Int[-2, 30]).Sample(
            (facts, day) => Histories.Lots.All(lot =>
            {
                var balance = Book.Ledger.Balance(lot, facts, Histories.FirstDay.AddDays(day));
                return balance.Received + balance.Excess == balance.Hanging + balance.Emerged + balance.Crippled + balance.Dead
                    + balance.Parasitised + balance.Missing + balance.Transferred
                    && balance.Hanging >= 0 && balance.Excess >= 0 && (balance.Hanging == 0 || balance.Excess == 0);
            }),
            seed: Seed);

    [Fact]
    public void Balance_anyOrderOfReceipt_isTheSame() =>
        Histories.Facts.SelectMany(facts => Gen.Shuffle(facts).Select(shuffled => (facts, shuffled))).Sample(
            (facts, shuffled) => Histories.Lots.All(lot => Book.Ledger.Balance(lot, facts) == Book.Ledger.Balance(lot, shuffled)),
            seed: Seed);

    [Fact]
    public void Balance_rowsReceivedTwice_isTheSame() =>
        Histories.Facts.Sample(
            facts => Histories.Lots.All(lot => Book.Ledger.Balance(lot, facts) == Book.Ledger.Balance(lot, [.. facts, .. facts])),
            seed: Seed);

    [Fact]
    public void Balance_everythingTakenBack_isAsOnTheFirstDay() =>
        Histories.Facts.Sample(
            facts => Histories.Lots.All(lot =>
            {
                var takenBack = facts.Select(fact => new Voiding { VoidsId = fact.Id, OnDay = fact.OnDay });
                return Book.Ledger.Balance(lot, [.. takenBack, .. facts])
                    == new LotBalance { Lot = lot, Received = lot.Received, Row = lot.Row };
            }),
            seed: Seed);

    [Fact]
    public void Balance_factVoided_isAsIfItHadNeverBeen() =>
        Gen.Select(Histories.Facts.Where(facts => facts.Length > 0), Gen.Int[0, 1000]).Sample(
            (facts, pick) => Histories.Lots.All(lot =>
            {
                var gone = facts[pick % facts.Length];
                var voided = facts.Append(new Voiding { VoidsId = gone.Id });

                // What the row voided stays void.
                var without = facts.Where(fact => fact != gone).Append(new Voiding { VoidsId = gone.VoidsId ?? Guid.Empty });
                return Book.Ledger.Balance(lot, voided) == Book.Ledger.Balance(lot, without);
            }),
            seed: Seed);
}
