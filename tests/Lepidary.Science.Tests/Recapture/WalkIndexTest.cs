using Lepidary.Science.Recapture;

namespace Lepidary.Science.Tests.Recapture;

public class WalkIndexTest
{
    /// <summary>0, 3, missed, 9, 4, 0: the missed walk counts as 6, the index is 22. The rule is from memory; the arithmetic is by hand.</summary>
    [Fact]
    public void Of_by_hand()
    {
        Assert.Equal([0, 3, 6, 9, 4, 0], WalkIndex.Filled([0, 3, null, 9, 4, 0]));
        Assert.Equal(22, WalkIndex.Of([0, 3, null, 9, 4, 0]));
    }

    [Fact]
    public void Runs_and_ends_are_filled()
    {
        Assert.Equal([4, 4, 3, 3, 2, 2], WalkIndex.Filled([null, 4, null, null, 2, null]));
        Assert.Throws<ArgumentException>(() => WalkIndex.Of([null, null]));
        Assert.Throws<ArgumentOutOfRangeException>(() => WalkIndex.Of([1, -1]));
    }
}
