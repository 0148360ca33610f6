using Lepidary.App.Odds;
using Lepidary.Science.Flying;
using Lepidary.Taxa;

namespace Lepidary.App.Tests.Odds;

public sealed class LearnedTests
{
    /// <summary>Two pages asked for at once share what was learned; a plain dictionary broke under that.</summary>
    [Fact]
    public void Rate_and_Timing_asked_at_once_answer_as_one_after_the_other()
    {
        var taxa = TaxonTable.Shipped.All.Take(300).ToList();
        var lots = taxa.Select(taxon => new LotRecord(taxon.Name, "Quillfeather Pupae", 8, 2, 0, [0, 3, 5], 12, new(2026, 5, 1))).ToList();
        var alone = new Learned(lots);
        var expected = taxa.Select(taxon => (alone.Rate(taxon, null).Mean, alone.Timing(taxon).MeanDays)).ToList();

        for (var round = 0; round < 5; round++)
        {
            var shared = new Learned(lots);
            var answers = Enumerable.Range(0, 4).AsParallel().WithDegreeOfParallelism(4)
                .Select(_ => taxa.Select(taxon => (shared.Rate(taxon, null).Mean, shared.Timing(taxon).MeanDays)).ToList()).ToList();

            Assert.All(answers, answer => Assert.Equal(expected, answer));
        }
    }

    /// <summary>From the table to the counts: no lot, other lots, lots of the species, lots of theirs.</summary>
    [Fact]
    public void Rate_says_what_it_rests_on_and_moves_with_it()
    {
        var (taxon, other) = (TaxonTable.Shipped.Find("Danaus plexippus")!, TaxonTable.Shipped.Find("Papilio memnon")!);
        LotRecord Lot(Taxon of, string supplier, int emerged) => new(of.Name, supplier, emerged, 10 - emerged, 0, [0, emerged], 20, new(2026, 5, 1));
        Assert.Equal("from the table", Learned.Nothing.RateSource(taxon, "Kessom Farm"));
        Assert.Equal(taxon.Life.EmergenceRate.Value, Learned.Nothing.Rate(taxon, "Kessom Farm").Mean);

        var elsewhere = new Learned(Enumerable.Repeat(Lot(other, "Kessom Farm", 4), 12));
        Assert.Equal("from the table and your other lots", elsewhere.RateSource(taxon, "Kessom Farm"));
        Assert.True(elsewhere.Rate(taxon, "Kessom Farm").Mean < elsewhere.Rate(taxon, null).Mean);

        var known = new Learned(Enumerable.Repeat(Lot(taxon, "Kessom Farm", 4), 12));
        Assert.Equal("from 12 lots of theirs", known.RateSource(taxon, "Kessom Farm"));
        Assert.InRange(known.Rate(taxon, "Kessom Farm").Mean, 0.38, 0.5);
    }

    /// <summary>A lot of which most hangs two days after it came has not failed.</summary>
    [Fact]
    public void Rate_takes_no_lot_still_hanging_for_a_failure()
    {
        var taxon = TaxonTable.Shipped.Find("Danaus plexippus")!;
        var learned = new Learned([new(taxon.Name, "Kessom Farm", 1, 0, 19, [0, 1], 2, new(2026, 5, 1))]);
        Assert.InRange(learned.Rate(taxon, "Kessom Farm").Mean, taxon.Life.EmergenceRate.Value - 0.02, 1);
    }

    /// <summary>Without a walk or a find the table speaks; with many found dead early, life is shorter than it says.</summary>
    [Fact]
    public void Survival_is_the_tables_until_adults_are_counted()
    {
        var taxon = TaxonTable.Shipped.Find("Danaus plexippus")!;
        Assert.Null(Learned.Nothing.OnTheWing(taxon));
        WingDay[] days = [new(30, 0, null), new(0, 4, null), new(0, 5, null), new(0, 5, null), new(0, 4, 1), new(0, 3, null), new(0, 2, 0)];
        var learned = new Learned([], wings: new Dictionary<string, IReadOnlyList<WingDay>> { [taxon.Name] = days });
        Assert.True(learned.Survival(taxon).MeanDaysCounted < Learned.Nothing.Survival(taxon).MeanDaysCounted);
        Assert.True(learned.OnTheWing(taxon)!.Factor > 1.2);
    }
}
