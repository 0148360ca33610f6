using Xunit;

namespace Lepidary.Lists.Tests.Corpus;

/// <summary>
/// The sets that were kept back while the readers were written, each of another hand. Each is judged by bounds of its own, which hold what is
/// reached and only ever rise; docs/lists.md has the scores in order, and says when each set stopped being unseen.
/// </summary>
public sealed class HeldOutTests
{
    private static readonly Dictionary<string, List<(CorpusEntry Entry, CorpusScore Score)>> Sets = new[] { CorpusFolder.HeldOut, CorpusFolder.HeldOutSecond, CorpusFolder.HeldOutThird, CorpusFolder.HeldOutFourth, CorpusFolder.HeldOutFifth, CorpusFolder.HeldOutSixth }.ToDictionary(folder => folder, Scored);

    private static List<(CorpusEntry Entry, CorpusScore Score)> Scored(string folder) =>
    [
        .. CorpusFolder.Read(folder).Select(entry =>
        {
            var read = ListReader.Read(File.ReadAllBytes(entry.File), Path.GetFileName(entry.File), Lists.Options);
            return (entry, read.IsGood ? CorpusScore.Of(entry.Truth, read.Value) : CorpusScore.Refused(entry.Truth, read.Problems));
        }),
    ];

    private static CorpusScore All(string folder) => Sets[folder].Aggregate(new CorpusScore(), (sum, one) => sum + one.Score);

    /// <summary>Each set with the fewest offers it must hold, the part of them read right that has been reached, the offers no line shows, and those of a wrong species without a doubt.</summary>
    public static TheoryData<string, int, double, int, int> Bounds => new()
    {
        { CorpusFolder.HeldOut, 700, FirstFloor, 0, 1 },
        { CorpusFolder.HeldOutSecond, 800, SecondFloor, 0, 1 },
        { CorpusFolder.HeldOutThird, 850, ThirdFloor, 3, 2 },
        { CorpusFolder.HeldOutFourth, 800, FourthFloor, 0, 1 },
        { CorpusFolder.HeldOutFifth, 800, FifthFloor, 1, 1 },
        { CorpusFolder.HeldOutSixth, 750, SixthFloor, 1, 1 },
    };

    private const double FirstFloor = 0.99;

    private const double SecondFloor = 0.99;

    private const double ThirdFloor = 0.94;

    private const double FourthFloor = 0.98;

    private const double FifthFloor = 0.99;

    private const double SixthFloor = 0.975;

    [Theory]
    [MemberData(nameof(Bounds))]
    public void Read_listsKeptBack_staysWithinTheBounds(string folder, int offers, double floor, int unaccounted, int wrongSpecies)
    {
        var all = All(folder);

        Assert.True(Sets[folder].Count >= 20 && all.Offers >= offers, $"{Sets[folder].Count} lists, {all.Offers} offers");
        Assert.True(all.WrongSpecies <= wrongSpecies, $"{all.WrongSpecies} wrong species without a doubt in {all.Offers} offers");
        Assert.True(all.ReadRight >= floor, $"{all.ReadRight:P1} read right without a doubt");
        Assert.True(all.Unaccounted <= unaccounted, $"{all.Unaccounted} offers are neither read nor shown");
        Assert.Equal(0, all.LinesLost);
    }

    [Fact]
    public void Read_listsKeptBack_areManyLines() =>
        Assert.True(Sets[CorpusFolder.HeldOut].Sum(one => one.Entry.Truth.SourceLines.Sum(sheet => sheet.Lines.Count)) > 400);
}
