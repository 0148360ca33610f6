using System.Globalization;
using Lepidary.Planning.Seasons;

namespace Lepidary.Bench.Seasons;

/// <summary>What one season came to under one way of ordering: a line of the file of figures.</summary>
/// <param name="Season">Seed of the house and of the draw.</param>
/// <param name="Policy">The way of ordering, or the list-clairvoyant.</param>
/// <param name="Total">Landed and short, house currency.</param>
/// <param name="Landed">Landed cost.</param>
/// <param name="Named">Worth of what was short of wishes for one taxon.</param>
/// <param name="Groups">Worth of what was short of the others.</param>
/// <param name="Boxes">Boxes.</param>
/// <param name="Pupae">Pupae.</param>
/// <param name="Met">Share of wishes times days that were met.</param>
/// <param name="DaysFull">Days with 19 of 20 places taken.</param>
/// <param name="DaysOver">Days with more than there are places.</param>
/// <param name="Wasted">Share of the pupae that no visitor saw.</param>
/// <param name="Seconds">Of a processor, about: the longest if others played beside.</param>
internal sealed record SeasonRow(
    int Season, string Policy, double Total, double Landed, double Named, double Groups, int Boxes, int Pupae, double Met, int DaysFull, int DaysOver, double Wasted, double Seconds)
{
    public static SeasonRow Of(int season, SeasonSetting setting, SeasonScore score, double seconds)
    {
        var named = setting.House.Aims.Where(a => a.Id.StartsWith('k')).ToDictionary(a => a.Id, a => (double)setting.House.Settings.WorthOfOneShort!.Value * Math.Pow(3, a.Importance - 1));
        var byName = score.Aims.Where(a => named.ContainsKey(a.Aim)).Sum(a => a.Short * named[a.Aim]);
        return new(season, score.Policy, score.Total, score.Landed, byName, score.Shortage - byName, score.Deliveries, score.Pupae,
            1 - ((double)score.WishDaysShort / score.WishDays), score.DaysFull, score.DaysOver, score.Pupae == 0 ? 0 : (double)score.Wasted / score.Pupae, seconds);
    }

    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture, $"{Season}\t{Policy}\t{Total:0.00}\t{Landed:0.00}\t{Named:0.00}\t{Groups:0.00}\t{Boxes}\t{Pupae}\t{Met:0.0000}\t{DaysFull}\t{DaysOver}\t{Wasted:0.0000}\t{Seconds:0.0}");

    public static SeasonRow? Read(string line)
    {
        var cells = line.Split('\t');
        // A line that was half written when the run was ended is played again.
        if (cells.Length != 13)
            return null;
        double Number(int cell) => double.Parse(cells[cell], CultureInfo.InvariantCulture);
        return new((int)Number(0), cells[1], Number(2), Number(3), Number(4), Number(5), (int)Number(6), (int)Number(7), Number(8), (int)Number(9), (int)Number(10), Number(11), Number(12));
    }
}

/// <summary>
/// Rows that are written as they come, so that a run that was ended goes on where it was. The head says what they were played with: rows of another house or
/// another search do not mix with these.
/// </summary>
internal sealed class SeasonFile
{
    private readonly string? file;
    private readonly Lock turn = new();
    private readonly Dictionary<(int, string), SeasonRow> rows = [];

    public SeasonFile(string? file, string head)
    {
        this.file = file;
        if (file is null)
            return;
        if (!File.Exists(file))
        {
            File.WriteAllText(file, head + "\n");
            return;
        }

        var lines = File.ReadAllLines(file);
        if (lines.Length == 0 || lines[0] != head)
            throw new InvalidDataException($"{file} holds seasons that were played with something else: '{lines.FirstOrDefault()}', not '{head}'.");
        foreach (var row in lines.Skip(1).Select(SeasonRow.Read).OfType<SeasonRow>())
            rows[(row.Season, row.Policy)] = row;
        // Whatever was half written must not run into the next line.
        File.AppendAllText(file, "\n");
    }

    public bool Has(int season, string policy)
    {
        lock (turn)
            return rows.ContainsKey((season, policy));
    }

    public void Add(SeasonRow row)
    {
        lock (turn)
        {
            rows[(row.Season, row.Policy)] = row;
            if (file is not null)
                File.AppendAllText(file, row + "\n");
        }
    }

    /// <summary>The seasons that every way of ordering has played, and the rows of one of them by season.</summary>
    public (int[] Seasons, Func<string, SeasonRow[]> Of) Whole(IReadOnlyCollection<string> policies)
    {
        lock (turn)
        {
            int[] seasons = [.. rows.Keys.Select(k => k.Item1).Distinct().Where(s => policies.All(p => rows.ContainsKey((s, p)))).Order()];
            return (seasons, policy => [.. seasons.Select(s => rows[(s, policy)])]);
        }
    }
}
