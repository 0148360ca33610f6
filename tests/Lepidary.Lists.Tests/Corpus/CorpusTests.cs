using System.Globalization;
using System.Text;
using Xunit;

namespace Lepidary.Lists.Tests.Corpus;

/// <summary>
/// Reads the corpus and holds the promise of the lists: never silently misread. The table and every finding are written to
/// <c>corpus-score-*.txt</c> beside the tests.
/// </summary>
public sealed class CorpusTests
{
    private static readonly HashSet<string> TablesAndLines = ["csv", "tsv", "txt", "xlsx"];

    // The promise is 0.97. This floor holds what the reader has reached; it only ever rises.
    private const double ReadRightFloor = 0.87;

    /// <summary>The lists kept beside the tests and, where the environment names one, a folder of lists not seen before.</summary>
    public static TheoryData<string, string> Folders
    {
        get
        {
            var folders = new TheoryData<string, string> { { "visible", CorpusFolder.Visible } };
            if (Environment.GetEnvironmentVariable(CorpusFolder.Variable) is { Length: > 0 } other)
                folders.Add("held-out", other);
            return folders;
        }
    }

    [Theory]
    [MemberData(nameof(Folders))]
    public void Read_tablesAndLinesOfTheCorpus_staysWithinTheBounds(string name, string folder)
    {
        var scored = Score(folder);
        File.WriteAllText(Path.Combine(AppContext.BaseDirectory, $"corpus-score-{name}.txt"), Table(scored));

        var total = Sum(scored.Where(s => TablesAndLines.Contains(s.Entry.Format) && !s.Entry.Truth.Lineless));

        Assert.True(total.Offers > 300, $"{total.Offers} offers are too few to judge by");
        Assert.True(total.WrongSpecies * 500 <= total.Offers, $"{total.WrongSpecies} wrong species without a doubt in {total.Offers} lines");
        Assert.True(total.ReadRight >= ReadRightFloor, $"{total.ReadRight:P1} read right without a doubt");
        Assert.Equal(0, total.LinesLost);
    }

    private static List<(CorpusEntry Entry, CorpusScore Score)> Score(string folder) =>
    [
        .. CorpusFolder.Read(folder).Select(entry =>
        {
            var read = ListReader.Read(File.ReadAllBytes(entry.File), Path.GetFileName(entry.File), Lists.Options);
            return (entry, read.IsGood ? CorpusScore.Of(entry.Truth, read.Value) : CorpusScore.Refused(entry.Truth, read.Problems));
        }),
    ];

    private static CorpusScore Sum(IEnumerable<(CorpusEntry Entry, CorpusScore Score)> scored) =>
        scored.Aggregate(new CorpusScore(), (sum, s) => sum + s.Score);

    private static string Table(List<(CorpusEntry Entry, CorpusScore Score)> scored)
    {
        var text = new StringBuilder();
        text.AppendLine("                                   offers  right doubt  fair silent specs missg extra  idle chrgs head  lost gone  rate");
        foreach (var format in scored.GroupBy(s => s.Entry.Truth.Lineless && s.Entry.Format == "txt" ? "prose" : s.Entry.Format).OrderBy(g => g.Key, StringComparer.Ordinal))
        {
            foreach (var (entry, score) in format)
                Row(text, entry.Name, score);
            Row(text, $"= {format.Key} ({format.Count()} lists)", Sum(format));
        }

        Row(text, "= all", Sum(scored));
        foreach (var (entry, score) in scored.Where(s => s.Score.Findings.Count > 0))
        {
            text.AppendLine().AppendLine(entry.Name);
            foreach (var finding in score.Findings)
                text.AppendLine(CultureInfo.InvariantCulture, $"  {finding.Sheet} {finding.Line,4}  {finding.What}   | {finding.Text}");
        }

        return text.ToString();
    }

    private static void Row(StringBuilder text, string name, CorpusScore s) => text.AppendLine(
        CultureInfo.InvariantCulture,
        $"{name,-34} {s.Offers,6} {s.Right,6} {s.Doubtful,5} {s.DoubtfulFairly,5} {s.SilentlyWrong,6} {s.WrongSpecies,5} {s.Missing,5} {s.Extra,5} {s.IdleDoubts,5} {s.ChargesRight,2}/{s.Charges,-2} {s.HeaderWrong,4} {s.LinesLost,5} {s.Unaccounted,4} {s.ReadRight,6:P1}");
}
