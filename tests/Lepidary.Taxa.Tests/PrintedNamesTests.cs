using System.Reflection;
using Xunit;

namespace Lepidary.Taxa.Tests;

/// <summary>
/// Names as many different hands print them, with what they mean. <c>first.tsv</c> was written before the finder was tried on it, <c>second.tsv</c>
/// to be hard, <c>third.tsv</c> last. Truth: the accepted name; <c>?</c> before it where the keeper must be asked; <c>new:</c> a name of no table; <c>-</c> no name at all.
/// </summary>
public sealed class PrintedNamesTests(ITestOutputHelper output)
{
    private static readonly NameFinder finder = new(TaxonTable.Shipped);

    [Theory]
    [InlineData("first.tsv", 0.98)]
    [InlineData("second.tsv", 0.97)]
    [InlineData("third.tsv", 0.99)]
    public void Find_printed_names_are_never_silently_wrong(string file, double leastRight)
    {
        var (right, asked, missed, all) = (0, 0, 0, 0);
        var wrong = new List<string>();
        foreach (var line in Lines(file))
        {
            var cells = line.Split('\t');
            var (printed, truth) = (cells[0], cells[1]);
            var match = finder.Find(printed, Context(cells));
            all++;
            switch (Judge(match, truth))
            {
                case Outcome.Right:
                    right++;
                    break;
                case Outcome.Asked:
                    asked++;
                    output.WriteLine($"asked: {printed} [{truth}] {string.Join(" ", match.Doubts)}");
                    break;
                case Outcome.Missed:
                    missed++;
                    output.WriteLine($"missed: {printed} [{truth}]");
                    break;
                default:
                    wrong.Add($"{printed} [{truth}] → {match.Taxon?.Name} ({match.By})");
                    break;
            }
        }

        output.WriteLine($"{file}: {all} lines, right {right}, asked without need {asked}, missed {missed}, wrong {wrong.Count}.");
        Assert.True(wrong.Count == 0, string.Join("\n", wrong));
        Assert.True(right >= leastRight * all, $"Only {right} of {all} are right.");
    }

    [Theory]
    [InlineData("first.tsv")]
    [InlineData("second.tsv")]
    [InlineData("third.tsv")]
    public void Truths_are_accepted_names(string file)
    {
        foreach (var line in Lines(file))
        {
            var truth = line.Split('\t')[1].TrimStart('?');
            if (truth is not ("" or "-") && !truth.StartsWith("new:", StringComparison.Ordinal))
                Assert.True(TaxonTable.Shipped.Find(truth) is not null, truth);
        }
    }

    private static Outcome Judge(NameMatch match, string truth)
    {
        var doubtful = match.Doubts.Count > 0;
        if (truth == "-")
            return doubtful ? Outcome.Asked : match.By == MatchedBy.Nothing ? Outcome.Right : Outcome.Wrong;
        if (truth.StartsWith('?'))
            return doubtful ? Outcome.Right : match.Taxon is null ? Outcome.Missed : Outcome.Wrong;
        if (doubtful)
            return Outcome.Asked;
        if (match.Taxon is null)
            return Outcome.Missed;
        var isNew = truth.StartsWith("new:", StringComparison.Ordinal);
        return match.Taxon.Name == (isNew ? truth[4..] : truth) && match.Taxon.InTable != isNew ? Outcome.Right : Outcome.Wrong;
    }

    private static NameContext Context(string[] cells)
    {
        string Cell(int i) => i < cells.Length ? cells[i] : "";
        string[] Genera(int i) => Cell(i).Split(' ', StringSplitOptions.RemoveEmptyEntries);
        return new NameContext
        {
            Heading = Cell(2).Length > 0 ? Cell(2) : null,
            GeneraBefore = Genera(3),
            GeneraAfter = Genera(4),
            CommonNameBeside = Cell(5).Length > 0 ? Cell(5) : null,
        };
    }

    private static IEnumerable<string> Lines(string file)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream($"Lepidary.Taxa.Tests.Printed.{file}")!;
        using var reader = new StreamReader(stream);
        while (reader.ReadLine() is { } line)
        {
            if (line.Length > 0 && !line.StartsWith('#'))
                yield return line;
        }
    }

    private enum Outcome
    {
        Right,
        Asked,
        Missed,
        Wrong,
    }
}
