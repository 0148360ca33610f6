using Xunit;

namespace Lepidary.Lists.Tests.Corpus;

/// <summary>
/// Lists of a further hand, which no author of a reader has looked at: only their totals by format are known. The bounds hold what is reached and
/// only ever rise; docs/lists.md has the scores in order.
/// </summary>
public sealed class HeldOutSecondTests
{
    private const double ReadRightFloor = 0.91;

    private static readonly List<(CorpusEntry Entry, CorpusScore Score)> Scored =
    [
        .. CorpusFolder.Read(CorpusFolder.HeldOutSecond).Select(entry =>
        {
            var read = ListReader.Read(File.ReadAllBytes(entry.File), Path.GetFileName(entry.File), Lists.Options);
            return (entry, read.IsGood ? CorpusScore.Of(entry.Truth, read.Value) : CorpusScore.Refused(entry.Truth, read.Problems));
        }),
    ];

    private static CorpusScore All => Scored.Aggregate(new CorpusScore(), (sum, one) => sum + one.Score);

    [Fact]
    public void Read_listsNobodyLookedAt_linesInAreLinesOut()
    {
        Assert.True(Scored.Sum(one => one.Entry.Truth.Offers.Count) >= 800);
        Assert.Equal(0, All.LinesLost);
    }

    [Fact]
    public void Read_listsNobodyLookedAt_staysWithinTheBounds()
    {
        Assert.True(Scored.Count >= 20 && All.Offers >= 800, $"{Scored.Count} lists, {All.Offers} offers");
        Assert.True(All.WrongSpecies * 500 <= All.Offers, $"{All.WrongSpecies} wrong species without a doubt in {All.Offers} offers");
        Assert.True(All.ReadRight >= ReadRightFloor, $"{All.ReadRight:P1} read right without a doubt");
    }
}
