using System.Globalization;
using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.App.Words;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Climate;

/// <summary>A reading.</summary>
public sealed record ReadingRow(Guid Id, string When, string Place, string Temperature, string Humidity, string Who, string? Warning);

/// <summary>The form and the readings of late.</summary>
internal sealed record ClimateView(string Headline, IReadOnlyList<Place> Places, IReadOnlyList<ReadingRow> Lately, DateOnly Day, string MadeAt)
{
    public Guid FormId { get; } = BookId.New();
}

/// <summary>Lays out the form for a reading.</summary>
internal sealed class ShowClimate(BookContext book, HouseDay day, Places places)
{
    private const int Shown = 24;

    public async Task<ClimateView> Show(CancellationToken cancellation)
    {
        var house = await places.House(cancellation);
        List<Place> all = [.. house.Areas.Select(area => new Place(area.Id, area.Name, false)), .. house.Cages.Select(cage => new Place(cage.Id, cage.Name, true))];
        var readings = await book.Standing<Reading>(day.HouseId).OrderByDescending(reading => reading.OnDay).ThenByDescending(reading => reading.Arrival).Take(Shown).ToListAsync(cancellation);
        var rows = readings.Select(reading =>
        {
            var place = all.Find(place => place.Id == (reading.CageId ?? reading.AreaId))?.Name ?? "";
            return new ReadingRow(
                reading.Id,
                $"{DayWords.Near(reading.OnDay, day.Today)} {day.Local(reading.DeviceTime).ToString("HH:mm", CultureInfo.InvariantCulture)}",
                place,
                reading.TemperatureC is { } degrees ? $"{ClimateWords.Text(degrees)} °C" : "–",
                reading.HumidityPercent is { } percent ? $"{ClimateWords.Text(percent)} %" : "–",
                reading.Who,
                ClimateWords.Warnings(place, reading.TemperatureC, reading.HumidityPercent) is [var first, ..] ? first : null);
        }).ToList();
        return new(
            rows.Count == 0 ? "Nothing has been read yet" : rows[0].Warning ?? $"{rows[0].Place}: {rows[0].Temperature}, {rows[0].Humidity}, {rows[0].When}",
            all,
            rows,
            day.Today,
            day.Now.ToString("O", CultureInfo.InvariantCulture));
    }
}
