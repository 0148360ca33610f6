using Lepidary.Science.Hanging;

namespace Lepidary.Science.Tests.Hanging;

public sealed class HangingPlanTests
{
    private static readonly string[] Taxa = ["Caligo memnon", "Heliconius melpomene", "Ornithoptera priamus", "Papilio memnon"];

    private static readonly Gen<LotToHang> AnyLot =
        Gen.Select(Gen.Guid, Gen.Int[0, 3], Gen.Int[1, 60], Gen.Int[25, 130], Gen.Int[0, 12], Gen.Enum<LotSex>(), Gen.Int[0, 5])
            .Select(of => new LotToHang(of.Item1, Taxa[of.Item2], of.Item3, of.Item4, of.Item5, of.Item6, of.Item7 switch { 0 => "A", 1 => "B", _ => null }));

    private static readonly Gen<CageToHang> AnyCage =
        Gen.Select(Gen.Int[0, 24], Gen.Int[20, 1500], Gen.Int[0, 24], Gen.Int[-5, 250], Gen.Select(Gen.Int[1, 26], Gen.Int[0, 3], Gen.Enum<LotSex>()).Select(of => new TakenRow(of.Item1, Taxa[of.Item2], of.Item3)).List[0, 10])
            .Select(of => new CageToHang("", of.Item1, of.Item2, of.Item3, of.Item4, of.Item5));

    private static readonly Gen<(List<LotToHang> Lots, List<CageToHang> Cages)> Any =
        Gen.Select(AnyLot.List[0, 25], AnyCage.List[0, 4]).Select(of => (of.Item1, of.Item2.Select((cage, at) => cage with { Name = "ABCD"[at].ToString() }).ToList()));

    [Fact]
    public void Every_pupa_is_placed_once_or_told_to_have_no_room() => Any.Sample(of =>
    {
        var plan = HangingPlan.Of(of.Lots, of.Cages);

        var told = plan.Placed.Select(one => (one.Lot.Key, Pupae: one.Rows.Sum(row => row.Pupae))).Concat(plan.Left.Select(one => (one.Lot.Key, one.Lot.Pupae)));
        Assert.Equal(of.Lots.Select(lot => (lot.Key, lot.Pupae)).Order(), told.Order());
    });

    [Fact]
    public void No_row_has_two_lots_nor_more_than_its_length_and_no_cage_more_than_its_places() => Any.Sample(of =>
    {
        var plan = HangingPlan.Of(of.Lots, of.Cages);

        var rows = plan.Placed.SelectMany(one => one.Rows.Select(row => (one.Cage, row.Number))).ToList();
        Assert.Equal(rows.Count, rows.Distinct().Count());
        foreach (var cage in of.Cages)
        {
            var here = plan.Placed.Where(one => one.Cage == cage.Name).ToList();
            Assert.All(here, one =>
            {
                Assert.True(one.Lot.Cage is null || one.Lot.Cage == cage.Name);
                Assert.All(one.Rows, row =>
                {
                    Assert.InRange(row.Number, 1, cage.Rows);
                    Assert.DoesNotContain(cage.Taken, taken => taken.Number == row.Number);
                    Assert.True(row.Pupae > 0 && row.Pupae * one.Lot.PitchMm <= cage.RowMm);
                });
                Assert.Equal(one.Rows.All(row => row.Number <= cage.Reach), one.InReach);
            });
            Assert.True(here.Sum(one => one.Lot.Pupae) <= Math.Max(0, cage.Free));
        }
    });

    [Fact]
    public void Order_in_which_lots_cages_and_rows_are_told_does_not_matter() => Gen.Select(Any, Gen.Int[0, 1_000_000]).Sample((of, seed) =>
    {
        var random = new Random(seed);
        var one = HangingPlan.Of(of.Lots, of.Cages);
        var other = HangingPlan.Of([.. of.Lots.OrderBy(_ => random.Next())], [.. of.Cages.OrderBy(_ => random.Next()).Select(cage => cage with { Taken = [.. cage.Taken.Reverse()] })]);

        Assert.Equal(Text(one), Text(other));

        static IEnumerable<string> Text(HangingPlan plan) =>
            plan.Placed.Select(lot => $"{lot.Lot.Key} {lot.Cage} {string.Join(',', lot.Rows)} {lot.BesideOtherSex}").Concat(plan.Left.Select(lot => $"{lot.Lot.Key} {lot.RowsNeeded} {lot.RowsFree}"));
    });

    [Fact]
    public void Sexes_of_a_species_are_beside_each_other_only_where_the_plan_says_so() => Any.Sample(of =>
    {
        var plan = HangingPlan.Of(of.Lots, of.Cages);

        foreach (var cage in of.Cages)
        {
            var rows = plan.Placed.Where(one => one.Cage == cage.Name).SelectMany(one => one.Rows.Select(row => (row.Number, one.Lot.Taxon, one.Lot.Sex, Told: one.BesideOtherSex)))
                .Concat(cage.Taken.Select(row => (row.Number, row.Taxon, row.Sex, Told: false))).Where(row => row.Sex != LotSex.Mixed).ToList();
            var pairs = from one in rows from other in rows where other.Number == one.Number + 1 && other.Taxon == one.Taxon && other.Sex != one.Sex select (one, other);
            Assert.All(pairs.Where(pair => !IsTaken(cage, pair.one.Number) || !IsTaken(cage, pair.other.Number)), pair => Assert.True(pair.one.Told || pair.other.Told));
        }

        static bool IsTaken(CageToHang cage, int row) => cage.Taken.Any(taken => taken.Number == row);
    });

    /// <summary>By hand: rows of 600 mm take 13 longwings of 45 mm, 7 owls of 80 mm; the longwings come out first and so hang in rows 1 and 2.</summary>
    [Fact]
    public void Early_lot_hangs_in_reach_and_a_large_one_takes_several_rows()
    {
        var longwings = new LotToHang(Guid.NewGuid(), "Heliconius melpomene", 20, HangingPlan.PitchMm(70), 2);
        var owls = new LotToHang(Guid.NewGuid(), "Caligo memnon", 10, HangingPlan.PitchMm(140), 9);

        var plan = HangingPlan.Of([owls, longwings], [new("A", 6, 600, 3, 100, [new(4, "Papilio memnon")])]);

        Assert.Equal([new PlannedRow(1, 13), new PlannedRow(2, 7)], plan.Placed[0].Rows);
        Assert.Equal([new PlannedRow(5, 7), new PlannedRow(6, 3)], plan.Placed[1].Rows);
        Assert.Equal([true, false], plan.Placed.Select(one => one.InReach));
    }

    [Fact]
    public void Males_and_females_for_pairing_hang_with_a_row_between()
    {
        LotToHang Of(LotSex sex) => new(Guid.NewGuid(), "Ornithoptera priamus", 3, 100, 5, sex);

        var apart = HangingPlan.Of([Of(LotSex.Male), Of(LotSex.Female)], [new("A", 3, 900, 3, 50, [])]);
        var tight = HangingPlan.Of([Of(LotSex.Male), Of(LotSex.Female)], [new("A", 2, 900, 2, 50, [])]);

        Assert.Equal([1, 3], apart.Placed.Select(one => one.Rows[0].Number));
        Assert.DoesNotContain(apart.Placed, one => one.BesideOtherSex);
        Assert.Single(tight.Placed, one => one.BesideOtherSex);
    }

    [Fact]
    public void Lot_without_room_says_what_it_needs()
    {
        var left = HangingPlan.Of([new(Guid.NewGuid(), "Caligo memnon", 30, 80, 1)], [new("A", 4, 600, 4, 100, [new(1, "Papilio memnon")])]).Left;

        Assert.Equal((5, 3), (left[0].RowsNeeded, left[0].RowsFree));
    }

    /// <summary>Common practice, no source: small species 3 to 4 cm, longwings 4 to 5, swallowtails and owls 6 to 8, birdwings 10 and more.</summary>
    [Theory]
    [InlineData(45, 30, 40)]
    [InlineData(75, 40, 50)]
    [InlineData(110, 60, 80)]
    [InlineData(140, 60, 80)]
    [InlineData(190, 100, 120)]
    public void PitchMm_is_what_keepers_leave(int wingspan, int from, int to) => Assert.InRange(HangingPlan.PitchMm(wingspan), from, to);
}
