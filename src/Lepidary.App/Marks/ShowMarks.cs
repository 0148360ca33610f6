using System.Globalization;
using Lepidary.App.Deaths;
using Lepidary.App.Host;
using Lepidary.App.Odds;
using Lepidary.App.Rounds;
using Lepidary.App.Words;
using Lepidary.Book;
using Lepidary.Science.Recapture;
using Lepidary.Taxa;

namespace Lepidary.App.Marks;

/// <summary>What the marks of a species tell.</summary>
/// <param name="Taxon">Accepted binomial.</param>
/// <param name="Marked">Adults marked.</param>
/// <param name="Looks">Days on which somebody looked.</param>
/// <param name="Again">Times that a marked one was met again.</param>
/// <param name="Daily">Chance to live through a day, or null where too few were met again.</param>
/// <param name="Met">Chance that one alive is met on a day of looking, or null.</param>
/// <param name="MeanLife">Days that one still lives on the mean, and the range that holds it 95 times of 100; or null.</param>
/// <param name="Otherwise">Mean days on the wing by the found dead and walks, or the table.</param>
public sealed record MarkedSpecies(
    string Taxon, int Marked, int Looks, int Again, EstimatedChance? Daily, EstimatedChance? Met, (double Likely, double From, double To)? MeanLife, double Otherwise);

/// <summary>A mark that was written lately.</summary>
public sealed record MarkRow(Guid Id, string Mark, string Taxon, string When, string Who, bool IsNew);

/// <summary>How long do the marked ones live?</summary>
internal sealed record MarksView(string Headline, IReadOnlyList<MarkedSpecies> Species, IReadOnlyList<MarkRow> Lately, IReadOnlyList<Flyer> Flying, IReadOnlyList<Place> Areas, DateOnly Day, string MadeAt)
{
    public Guid FormId { get; } = BookId.New();
}

/// <summary>Shows what marked adults tell of life on the wing.</summary>
internal sealed class ShowMarks(HouseDay day, ReadMarks read, OddsBook odds, FlyingNow flying, Places places)
{
    /// <summary>Fewer met again tell nothing. A choice of this project.</summary>
    private const int FewestAgain = 10;

    private const int DaysShown = 14;

    public async Task<MarksView> Show(CancellationToken cancellation)
    {
        var rows = await read.Of(cancellation);
        var learned = await odds.Learned(day.HouseId, day.Today, cancellation);
        // Whoever wrote down one marked adult looked for all of them.
        var looks = rows.Select(row => row.OnDay).Distinct().Order().ToList();
        var species = rows.GroupBy(row => row.Taxon).OrderBy(taxon => taxon.Key, StringComparer.Ordinal).Select(taxon => Species(taxon.Key, [.. taxon], looks, learned)).ToList();
        var house = await places.House(cancellation);
        var fresh = rows.DistinctBy(row => (row.Taxon, row.Mark)).Select(row => row.Id).ToHashSet();
        var since = day.Today.AddDays(-DaysShown);
        return new(
            species.Count == 0 ? "No adult is marked" : string.Create(CultureInfo.InvariantCulture, $"{species.Sum(one => one.Marked)} marked, {species.Sum(one => one.Again)} times met again"),
            species,
            [.. rows.Where(row => row.OnDay >= since).Reverse().Select(row => new MarkRow(row.Id, row.Mark, row.Taxon, DayWords.Near(row.OnDay, day.Today), row.Who, fresh.Contains(row.Id)))],
            await flying.Read(cancellation),
            [.. house.Areas.Select(area => new Place(area.Id, area.Name, false))],
            day.Today,
            day.Now.ToString("O", CultureInfo.InvariantCulture));
    }

    private static MarkedSpecies Species(string name, IReadOnlyList<MarkedAdult> rows, List<DateOnly> looks, Learned learned)
    {
        var since = looks.FindAll(look => look >= rows[0].OnDay);
        var histories = rows.GroupBy(row => row.Mark).Select(mark => mark.Select(row => row.OnDay).ToHashSet())
            .Select(seen => (History: string.Concat(since.Select(look => seen.Contains(look) ? '1' : '0')), Animals: 1)).ToList();
        var again = histories.Sum(history => history.History.Count(sign => sign == '1') - 1);
        var otherwise = learned.Survival(TaxonTable.Shipped.Of(name)).MeanDaysCounted;
        if (again < FewestAgain || since.Count < 3)
        {
            return new(name, histories.Count, since.Count, again, null, null, null, otherwise);
        }

        var fit = CormackJollySeber.FitConstant(ReleaseTable.FromHistories(histories), [.. since.Zip(since.Skip(1), (from, to) => to.DayNumber - from.DayNumber)]);
        var daily = fit.Survival[0];
        // With the same risk every day a life lasts -1/ln φ days on the mean.
        static double Mean(double chance) => -1 / Math.Log(chance);
        return new(
            name, histories.Count, since.Count, again, daily, fit.Detection[0],
            daily is { Value: > 0 and < 1, From: > 0, To: < 1 } ? (Mean(daily.Value), Mean(daily.From), Mean(daily.To)) : null, otherwise);
    }
}
