using Xunit;

namespace Lepidary.Book.Tests.Ledger;

public sealed class FlyingTests
{
    private static readonly Guid PalmHall = Guid.NewGuid();
    private static readonly Guid Pond = Guid.NewGuid();

    [Fact]
    public void Groups_releasesOfOneDayAndArea_areOneGroup()
    {
        var groups = Book.Flying.Groups([Release(1, male: 2), Release(1, female: 3), Release(2, male: 1), Release(1, male: 1, area: Pond)], Day(5));

        Assert.Equal(
            [(Day(1), PalmHall, 5), (Day(1), Pond, 1), (Day(2), PalmHall, 1)],
            groups.Select(group => (group.ReleasedOn, group.AreaId!.Value, group.Count)).OrderBy(group => group.Item1).ThenByDescending(group => group.Count));
    }

    [Fact]
    public void Groups_foundDead_goesFromTheOldestOfItsAreaThatFlewByThen()
    {
        var groups = Book.Flying.Groups(
            [Release(1, male: 2), Release(3, male: 2), Release(9, male: 2), Release(1, male: 1, area: Pond), Dead(4, 3), Dead(4, 2)], Day(10));

        // Five dead by the 4th: two of the 1st and two of the 3rd in the hall, then the one at the pond. The 9th had not flown.
        var only = Assert.Single(groups);
        Assert.Equal((Day(9), 2, 0), (only.ReleasedOn, only.Count, only.FoundDead));
    }

    [Fact]
    public void Groups_moreDeadThanReleased_takesNothingFromOthers()
    {
        var other = new Release { Taxon = "Idea leuconoe", OnDay = Day(1), AreaId = PalmHall, Unsexed = 4 };

        Assert.Equal(4, Assert.Single(Book.Flying.Groups([Release(1, male: 1), other, Dead(2, 50)], Day(3))).Count);
    }

    [Fact]
    public void Groups_pairsInACageAndDeadInACage_doNotFlyAndDoNotCount()
    {
        var pair = new Release { Taxon = "Morpho helenor", OnDay = Day(1), CageId = Guid.NewGuid(), Male = 1, Female = 1 };
        var inCage = new FoundDead { Taxon = "Morpho helenor", OnDay = Day(2), LotId = Guid.NewGuid(), Count = 1 };

        Assert.Equal(2, Assert.Single(Book.Flying.Groups([Release(1, male: 2), pair, inCage], Day(3))).Count);
    }

    [Fact]
    public void Groups_laterDays_areNotYet() => Assert.Empty(Book.Flying.Groups([Release(2, male: 2)], Day(1)));

    private static DateOnly Day(int day) => new(2026, 11, day);

    private static Release Release(int day, int male = 0, int female = 0, Guid? area = null) =>
        new() { Taxon = "Morpho helenor", OnDay = Day(day), AreaId = area ?? PalmHall, Male = male, Female = female };

    private static FoundDead Dead(int day, int count) => new() { Taxon = "Morpho helenor", OnDay = Day(day), AreaId = PalmHall, Count = count };
}
