using System.Globalization;
using Lepidary.App.Deaths;
using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.App.Words;
using Lepidary.Book;
using Lepidary.Science.Recapture;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Walks;

/// <summary>A walk that was made.</summary>
public sealed record WalkRow(Guid Id, string When, string Path, string? Area, string Start, int Minutes, int Seen, int Species, string? BySection, string? Weather, bool Outside, string Who);

/// <summary>The form and the walks of late.</summary>
internal sealed record WalksView(string Headline, IReadOnlyList<Flyer> Flying, IReadOnlyList<Place> Areas, IReadOnlyList<string> Paths, int? Sections, IReadOnlyList<WalkRow> Lately, DateOnly Day, string Start, string MadeAt)
{
    public Guid FormId { get; } = BookId.New();
}

/// <summary>Lays out the form for a walk.</summary>
internal sealed class ShowWalks(BookContext book, HouseDay day, FlyingNow flying, Places places)
{
    private const int Shown = 12;

    /// <summary>The weather in words and figures, or null.</summary>
    private static string? Weather(Walk walk)
    {
        string?[] parts =
        [
            walk.Weather,
            walk.TemperatureC is { } degrees ? string.Create(CultureInfo.InvariantCulture, $"{degrees:0.#} °C") : null,
            walk.SunPercent is { } sun ? $"{sun} % sun" : null,
            walk.Beaufort is { } wind ? $"wind {wind}" : null,
        ];
        return parts.Any(part => part is not null) ? string.Join(", ", parts.OfType<string>()) : null;
    }

    /// <summary>What was seen in each section, the first one first: <c>4+2+9</c>; null where nothing was counted by section.</summary>
    private static string? BySection(Walk walk) => walk.Sections is { } sections && walk.Counts.Exists(count => count.Section is not null)
        ? CountParts.Write(Enumerable.Range(1, sections).Select(section => walk.Counts.Where(count => count.Section == section).Sum(count => count.Count)))
        : null;

    public async Task<WalksView> Show(CancellationToken cancellation)
    {
        var walks = await book.Standing<Walk>(day.HouseId).Include(walk => walk.Counts).OrderByDescending(walk => walk.OnDay).ThenByDescending(walk => walk.Start).Take(Shown).ToListAsync(cancellation);
        var paths = await book.Standing<Walk>(day.HouseId).Select(walk => walk.Path).Distinct().OrderBy(path => path).ToListAsync(cancellation);
        var house = await places.House(cancellation);
        return new(
            walks.Count == 0 ? "No walk has been made yet" : $"The last walk was {DayWords.Near(walks[0].OnDay, day.Today)}: {walks[0].Counts.Sum(count => count.Count)} seen",
            await flying.Read(cancellation),
            [.. house.Areas.Select(area => new Place(area.Id, area.Name, false))],
            paths,
            walks.Find(walk => walk.Path == paths.FirstOrDefault())?.Sections,
            [.. walks.Select(walk => new WalkRow(
                walk.Id, DayWords.Near(walk.OnDay, day.Today), walk.Path, house.Areas.Find(area => area.Id == walk.AreaId)?.Name, walk.Start.ToString("HH:mm", CultureInfo.InvariantCulture), walk.Minutes,
                walk.Counts.Sum(count => count.Count), walk.Counts.Where(count => count.Count > 0).Select(count => count.Taxon).Distinct().Count(), BySection(walk), Weather(walk), WalkConditions.Met(walk.TemperatureC, walk.SunPercent, walk.Beaufort) == false, walk.Who))],
            day.Today,
            day.Local(day.Now).ToString("HH:mm", CultureInfo.InvariantCulture),
            day.Now.ToString("O", CultureInfo.InvariantCulture));
    }
}
