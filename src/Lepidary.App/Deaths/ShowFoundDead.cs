using System.Globalization;
using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.App.Words;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Deaths;

/// <summary>A row of adults found dead.</summary>
public sealed record DeadRow(Guid Id, string Taxon, int Count, string? Area, string When, string Who, string? Note, string? Sex);

/// <summary>The form and what was written lately.</summary>
internal sealed record FoundDeadView(string Headline, IReadOnlyList<Flyer> Flying, IReadOnlyList<Place> Areas, IReadOnlyList<DeadRow> Lately, DateOnly Day, string MadeAt)
{
    public Guid FormId { get; } = BookId.New();
}

/// <summary>Lays out the form for the found dead.</summary>
internal sealed class ShowFoundDead(BookContext book, HouseDay day, FlyingNow flying, Places places)
{
    private const int Days = 14;

    public async Task<FoundDeadView> Show(CancellationToken cancellation)
    {
        var since = day.Today.AddDays(-Days);
        var rows = await book.Standing<FoundDead>(day.HouseId).Where(fact => fact.OnDay >= since)
            .OrderByDescending(fact => fact.OnDay).ThenByDescending(fact => fact.Arrival).ToListAsync(cancellation);
        var house = await places.House(cancellation);
        var today = rows.Where(row => row.OnDay == day.Today).Sum(row => row.Count);
        return new(
            today switch { 0 => "None found dead today", 1 => "One found dead today", _ => $"{today} found dead today" },
            await flying.Read(cancellation),
            [.. house.Areas.Select(area => new Place(area.Id, area.Name, false))],
            [.. rows.Select(row => new DeadRow(row.Id, row.Taxon, row.Count, house.Areas.Find(area => area.Id == row.AreaId)?.Name ?? (row.LotId is null ? null : "in its cage"), DayWords.Near(row.OnDay, day.Today), row.Who, row.Note, row.Sex switch { AdultSex.Male => row.Count == 1 ? "male" : "males", AdultSex.Female => row.Count == 1 ? "female" : "females", _ => null }))],
            day.Today,
            day.Now.ToString("O", CultureInfo.InvariantCulture));
    }
}
