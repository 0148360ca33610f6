using Lepidary.App.Host;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Rounds;

/// <summary>What one species did today.</summary>
internal sealed record SummaryRow(string Taxon, int Emerged, int Male, int Female, int Crippled, int Dead, int Parasitised, int Missing, int Released);

/// <summary>The round's end.</summary>
internal sealed record SummaryView
{
    public required DateOnly Day { get; init; }

    public required string Headline { get; init; }

    public required string Lead { get; init; }

    public required IReadOnlyList<SummaryRow> Species { get; init; }

    public required IReadOnlyList<RoundLot> NotVisited { get; init; }

    /// <summary>Lots whose adults wait to be let go.</summary>
    public required IReadOnlyList<RoundLot> Waiting { get; init; }

    public required IReadOnlyList<(string Sentence, string? Taxon)> Discrepancies { get; init; }

    public required IReadOnlyList<string> Hygiene { get; init; }
}

/// <summary>Sums the round up.</summary>
internal sealed class ShowSummary(BookContext book, HouseDay day, ShowRound round, ShowDiscrepancies discrepancies)
{
    public async Task<SummaryView> Show(CancellationToken cancellation)
    {
        var view = await round.Show(cancellation);
        var entries = await book.Standing<Entry>(day.HouseId).AsNoTracking().Where(entry => entry.OnDay == day.Today).ToListAsync(cancellation);
        var releases = await book.Standing<Release>(day.HouseId).AsNoTracking().Where(release => release.OnDay == day.Today).ToListAsync(cancellation);
        var lotIds = entries.Select(entry => entry.LotId).Distinct().ToList();
        var taxa = await book.Lots.AsNoTracking().Where(lot => EF.Parameter(lotIds).Contains(lot.Id)).ToDictionaryAsync(lot => lot.Id, lot => lot.Taxon, cancellation);
        var counted = entries.Where(entry => taxa.ContainsKey(entry.LotId)).ToLookup(entry => taxa[entry.LotId], StringComparer.Ordinal);
        var let = releases.ToLookup(release => release.Taxon, StringComparer.Ordinal);
        var species = counted.Select(group => group.Key).Union(let.Select(group => group.Key)).Order(StringComparer.Ordinal)
            .Select(taxon => new SummaryRow(
                taxon,
                counted[taxon].Sum(entry => entry.Emerged),
                counted[taxon].Sum(entry => entry.EmergedMale),
                counted[taxon].Sum(entry => entry.EmergedFemale),
                counted[taxon].Sum(entry => entry.Crippled),
                counted[taxon].Sum(entry => entry.Dead),
                counted[taxon].Sum(entry => entry.Parasitised),
                counted[taxon].Sum(entry => entry.Missing),
                let[taxon].Sum(release => release.Total)))
            .Where(row => row.Emerged + row.Crippled + row.Dead + row.Parasitised + row.Missing + row.Released > 0).ToList();
        var notVisited = view.Lots.Where(lot => !lot.Visited).ToList();
        var all = view.Lots.Count();
        return new()
        {
            Day = day.Today,
            Species = species,
            NotVisited = notVisited,
            Waiting = [.. view.Lots.Where(lot => lot.ToRelease > 0)],
            Discrepancies = [.. (await discrepancies.Show(cancellation)).Open.Select(item => (item.Sentence, item.Taxon))],
            Hygiene = entries.Any(entry => entry.Parasitised > 0) ? Hygiene.Steps : [],
            Headline = all == 0 ? "Nothing hangs" : notVisited.Count == 0 ? "The round is done" : $"{all - notVisited.Count} of {all} lots were looked at",
            Lead = entries.Count == 0
                ? "Nothing was counted today."
                : $"{CountWords.Of(entries)[..1].ToUpperInvariant()}{CountWords.Of(entries)[1..]}. {(releases.Sum(release => release.Total) is > 0 and var gone ? $"{gone} released." : "None released.")}",
        };
    }
}
