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

    /// <summary>Boxes that were longer on the way emerge less; a supplier whose boxes travel long is expected so, and the season counts where a year was seen.</summary>
    [Fact]
    public void Rate_moves_with_the_days_on_the_way_and_the_season()
    {
        var taxon = TaxonTable.Shipped.Find("Danaus plexippus")!;
        // Kessom's boxes travel five days, Quillfeather's mostly one; what travels five days emerges half as well, in winter still less.
        LotRecord Lot(int i, string supplier, int days) =>
            new(taxon.Name, supplier, (days == 5 ? 10 : 17) - (i % 12 is < 3 or > 9 ? 3 : 0), 20 - ((days == 5 ? 10 : 17) - (i % 12 is < 3 or > 9 ? 3 : 0)), 0, [0], 30, new DateOnly(2025, 1, 15).AddMonths(i % 12), days);
        var lots = Enumerable.Range(0, 48).SelectMany(i => new[] { Lot(i, "Kessom Farm", 5), Lot(i, "Quillfeather Pupae", i % 3 == 0 ? 5 : 1) }).ToList();
        var (summer, winter) = (new Learned(lots, on: new(2026, 7, 1)), new Learned(lots, on: new(2026, 1, 1)));

        var way = summer.DayOnTheWay!.Value;
        Assert.InRange(way.Factor, 0.5, 0.85);
        Assert.True(way.From < way.Factor && way.Factor < way.To && way.To < 1);
        Assert.True(summer.Rate(taxon, "Kessom Farm").Mean < summer.Rate(taxon, "Quillfeather Pupae").Mean);
        Assert.True(winter.Rate(taxon, "Kessom Farm").Mean < summer.Rate(taxon, "Kessom Farm").Mean - 0.05);
        Assert.Null(new Learned(lots.Select(lot => lot with { DaysInTransit = null })).DayOnTheWay);
    }

    /// <summary>A warm cage brings its lots forward, a cool one holds them back; one without readings keeps the calendar.</summary>
    [Fact]
    public void Timing_of_a_lot_goes_by_the_warmth_of_its_cage()
    {
        var taxon = TaxonTable.Shipped.Find("Danaus plexippus")!;
        var (warm, cool, usual, hung) = (Guid.NewGuid(), Guid.NewGuid(), Guid.NewGuid(), new DateOnly(2026, 11, 1));
        var warmth = new CageWarmth(Enumerable.Range(0, 20).SelectMany(day => new[] { (warm, hung.AddDays(day), 28.0, 34.0), (cool, hung.AddDays(day), 19.0, 21.0), (usual, hung.AddDays(day), 24.0, 28.0) }));
        var learned = new Learned([], warmth: warmth);
        double Mean(Guid? cage) => learned.TimingOf(taxon, false, cage, hung, hung.AddDays(4)).MeanDays;

        Assert.True(Mean(warm) < Mean(usual) - 0.5);
        Assert.True(Mean(cool) > Mean(usual) + 1);
        Assert.Equal(learned.Timing(taxon).MeanDays, Mean(usual), 9);
        Assert.Equal(learned.Timing(taxon).MeanDays, Mean(Guid.NewGuid()), 12);
        LotClock Clock(Guid cage) => warmth.Clock(cage, hung, hung.AddDays(8));
        Assert.Equal(4, Clock(Guid.NewGuid()).AgeOn(hung.AddDays(4)));
        Assert.Equal(4, Clock(usual).AgeBefore(hung.AddDays(4)));
        Assert.Equal((0, 0), (Clock(warm).AgeOn(hung), Clock(warm).AgeBefore(hung)));
        Assert.True(Clock(warm).AgeOn(hung.AddDays(8)) > 8 && Clock(cool).AgeOn(hung.AddDays(8)) < 8);
    }

    /// <summary>Before a sex was told the table speaks; finished lots teach share, order and life of the sexes, unfinished ones nothing.</summary>
    [Fact]
    public void Sexes_are_learnt_from_finished_lots()
    {
        var taxon = TaxonTable.Shipped.Find("Danaus plexippus")!;
        Assert.Equal(taxon.Life.FemaleShare.Value, Learned.Nothing.Sexes(taxon).Share.Females, 12);
        LotRecord Lot(int hanging) => new(taxon.Name, "Kessom Farm", 10, 0, hanging, [0, 0, 0, 0, 0, 3, 0, 0, 7], 20, new(2026, 5, 1)) { Sexed = new([0, 0, 0, 0, 0, 3], [0, 0, 0, 0, 0, 0, 0, 0, 7]) };

        var learned = new Learned(Enumerable.Repeat(Lot(0), 12)).Sexes(taxon);
        var unfinished = new Learned(Enumerable.Repeat(Lot(4), 12)).Sexes(taxon);

        Assert.Equal(120, learned.Counted);
        Assert.InRange(learned.Share.Females, 0.6, 0.7);
        Assert.InRange(learned.Protandry.DaysAhead, 2.5, 3);
        Assert.InRange(learned.Females.Timing.MeanDays - learned.Males.Timing.MeanDays, 2, 3.1);
        Assert.Equal(0, unfinished.Counted);
        Assert.Equal(taxon.Life.FemaleShare.Value, unfinished.Share.Females, 12);
    }

    /// <summary>Males found dead early, females late: each sex has its own life.</summary>
    [Fact]
    public void Life_of_each_sex_is_learnt_from_its_own_dead()
    {
        var taxon = TaxonTable.Shipped.Find("Danaus plexippus")!;
        IReadOnlyList<WingDay> Days(int diedAfter) => [.. Enumerable.Range(0, 90).Select(day => new WingDay(day % 3 == 0 && day < 60 ? 4 : 0, day >= diedAfter && (day - diedAfter) % 3 == 0 && day < 60 + diedAfter ? 2 : 0, null))];

        var sexes = new Learned([], sexedWings: new Dictionary<string, SexedWings> { [taxon.Name] = new(Days(3), Days(21)) }).Sexes(taxon);

        Assert.True(sexes.Males.Survival.MeanDaysCounted < sexes.Females.Survival.MeanDaysCounted - 3);
        Assert.NotNull(sexes.MaleLife);
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
