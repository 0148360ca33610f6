using Xunit;

namespace Lepidary.Lists.Tests.Corpus;

/// <summary>
/// The third of the corpus that was kept back while the readers were first written. It is judged by bounds of its own, which hold what is reached
/// and only ever rise; docs/lists.md has its scores in order, and says when it stopped being unseen.
/// </summary>
public sealed class HeldOutTests
{
    private const double ReadRightFloor = 0.92;

    private static readonly List<(CorpusEntry Entry, CorpusScore Score)> Scored =
    [
        .. CorpusFolder.Read(CorpusFolder.HeldOut).Select(entry =>
        {
            var read = ListReader.Read(File.ReadAllBytes(entry.File), Path.GetFileName(entry.File), Lists.Options);
            return (entry, read.IsGood ? CorpusScore.Of(entry.Truth, read.Value) : CorpusScore.Refused(entry.Truth, read.Problems));
        }),
    ];

    private static CorpusScore All => Scored.Aggregate(new CorpusScore(), (sum, one) => sum + one.Score);

    [Fact]
    public void Read_listsKeptBack_linesInAreLinesOut()
    {
        Assert.True(Scored.Sum(one => one.Entry.Truth.SourceLines.Sum(sheet => sheet.Lines.Count)) > 400);
        Assert.Equal(0, All.LinesLost);
    }

    [Fact]
    public void Read_listsKeptBack_staysWithinTheBounds()
    {
        Assert.True(Scored.Count >= 20 && All.Offers >= 700, $"{Scored.Count} lists, {All.Offers} offers");
        Assert.True(All.WrongSpecies * 500 <= All.Offers, $"{All.WrongSpecies} wrong species without a doubt in {All.Offers} offers");
        Assert.True(All.ReadRight >= ReadRightFloor, $"{All.ReadRight:P1} read right without a doubt");
    }
}
