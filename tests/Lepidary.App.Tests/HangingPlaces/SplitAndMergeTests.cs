using CsCheck;
using Lepidary.App.HangingPlaces;
using Lepidary.Book;

namespace Lepidary.App.Tests.HangingPlaces;

/// <summary>Lots split, merged and put back at random between rounds: the pupae of every day stay as many as they were.</summary>
public sealed class SplitAndMergeTests
{
    private static readonly DateOnly Today = new(2026, 11, 27);

    private enum Deed
    {
        Count,
        Split,
        Merge,
        Undo,
    }

    private static readonly Gen<List<(Deed Deed, int First, int Second)>> Deeds = Gen.Select(Gen.Enum<Deed>(), Gen.Int[0, 1000], Gen.Int[0, 1000]).List[1, 25];

    [Fact]
    public void No_split_merge_or_undo_changes_the_pupae_of_any_day() => Gen.Select(Gen.Int[1, 80], Gen.Int[0, 20], Deeds).Sample((received, daysAgo, deeds) =>
    {
        var first = new Lot { HouseId = BookId.New(), Taxon = "Morpho helenor", HungOn = Today.AddDays(-daysAgo), Received = received };
        var (lots, facts) = (new List<Lot> { first }, new List<Fact>());
        Fact[] last = [];
        foreach (var (deed, one, other) in deeds)
        {
            var before = Days(lots, facts, daysAgo);
            var lot = lots[one % lots.Count];
            var hanging = Ledger.Balance(lot, facts).Hanging;
            switch (deed)
            {
                case Deed.Count when hanging > 0:
                    facts.Add(new Entry { LotId = lot.Id, OnDay = Today.AddDays(-(other % (daysAgo + 1))), EmergedUnsexed = 1 + other % hanging });
                    last = [];
                    continue;
                case Deed.Split when hanging > 1:
                    var (gone, hung) = SplitLot.Rows(lot, new LotSplit("", 1 + other % (hanging - 1)), null, DateTimeOffset.UnixEpoch);
                    last = [gone, hung];
                    lots.AddRange(hung.Lots);
                    break;
                case Deed.Merge when hanging > 0 && lots.Count > 1 && lots[other % lots.Count] is var into && into != lot:
                    var (left, came) = MergeLots.Rows(lot, into, hanging, new LotMerge("", ""), DateTimeOffset.UnixEpoch);
                    last = [left, came];
                    break;
                case Deed.Undo when last.Length > 0:
                    facts.AddRange(last.Select(fact => new Voiding { VoidsId = fact.Id }));
                    lots.RemoveAll(there => last.OfType<Hanging>().Any(hung => hung.Lots.Contains(there)));
                    last = [];
                    Assert.Equal(before, Days(lots, facts, daysAgo));
                    continue;
                default:
                    continue;
            }

            facts.AddRange(last);
            Assert.Equal(before, Days(lots, facts, daysAgo));
            Assert.All(lots, there => Assert.Empty(Ledger.Discrepancies(there, facts)));
        }
    });

    /// <summary>Pupae received, hanging and out at the end of each day, of all lots together.</summary>
    private static List<(int Received, int Hanging, int Out)> Days(List<Lot> lots, List<Fact> facts, int daysAgo) =>
    [
        .. Enumerable.Range(-1, daysAgo + 2).Select(day => Today.AddDays(day - daysAgo)).Select(day => lots.ConvertAll(lot => Ledger.Balance(lot, facts, day)))
            .Select(balances => (balances.Sum(balance => balance.Received - balance.Transferred), balances.Sum(balance => balance.Hanging), balances.Sum(balance => balance.Emerged))),
    ];
}
