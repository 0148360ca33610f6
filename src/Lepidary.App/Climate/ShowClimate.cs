using System.Globalization;
using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.App.Words;
using Lepidary.Book;
using Lepidary.Science.Climate;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Climate;

/// <summary>A reading.</summary>
public sealed record ReadingRow(Guid Id, string When, string Place, string Temperature, string Humidity, string Who, string? Warning);

/// <summary>A place's month of air, and what hung in it.</summary>
/// <param name="Hours">Hours of which there is a reading.</param>
/// <param name="Dry">Hours below the wanted humidity.</param>
/// <param name="Wet">Hours above it.</param>
/// <param name="Cold">Hours below the wanted temperature.</param>
/// <param name="Hot">Hours above it.</param>
/// <param name="Deficit">Mean vapour-pressure deficit, kPa, in words.</param>
/// <param name="DewPoint">Mean dew point, °C, in words.</param>
/// <param name="Emerged">Of the pupae done that hung there, in words.</param>
internal sealed record PlaceAir(string Place, int Hours, int Dry, int Wet, int Cold, int Hot, string Deficit, string DewPoint, string Emerged);

/// <summary>The form and the readings of late.</summary>
internal sealed record ClimateView(string Headline, IReadOnlyList<Place> Places, IReadOnlyList<ReadingRow> Lately, IReadOnlyList<PlaceAir> Month, DateOnly Day, string MadeAt)
{
    public Guid FormId { get; } = BookId.New();
}

/// <summary>Lays out the form for a reading.</summary>
internal sealed class ShowClimate(BookContext book, HouseDay day, Places places)
{
    private const int Shown = 24;
    private const int DaysOfAir = 30;

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
            await Month(all, cancellation),
            day.Today,
            day.Now.ToString("O", CultureInfo.InvariantCulture));
    }

    /// <summary>Hours outside what is wanted, place by place, beside what emerged of the lots hung there in the same days.</summary>
    private async Task<IReadOnlyList<PlaceAir>> Month(List<Place> places, CancellationToken cancellation)
    {
        var since = day.Today.AddDays(-DaysOfAir);
        var readings = await book.Standing<Reading>(day.HouseId).Where(reading => reading.OnDay >= since).ToListAsync(cancellation);
        var lots = (await book.Lots.AsNoTracking().Where(lot => lot.HouseId == day.HouseId && lot.CageId != null && lot.HungOn >= since && !book.Facts.Any(other => other.VoidsId == lot.SourceId))
            .Select(lot => new { lot.Id, Cage = lot.CageId!.Value }).ToListAsync(cancellation)).ToDictionary(lot => lot.Id, lot => lot.Cage);
        var done = (await book.Standing<Entry>(day.HouseId).Where(entry => entry.OnDay >= since).GroupBy(entry => entry.LotId).Select(lot => new
        {
            Lot = lot.Key,
            Emerged = lot.Sum(entry => entry.EmergedMale + entry.EmergedFemale + entry.EmergedUnsexed),
            Failed = lot.Sum(entry => entry.Crippled + entry.Dead + entry.Parasitised),
        }).ToListAsync(cancellation)).Where(count => lots.ContainsKey(count.Lot)).ToLookup(count => lots[count.Lot]);
        return
        [
            .. readings.GroupBy(reading => reading.CageId ?? reading.AreaId).Select(group =>
            {
                var place = places.Find(place => place.Id == group.Key);
                var hours = group.GroupBy(reading => reading.DeviceTime.ToUnixTimeSeconds() / 3600)
                    .Select(hour => (Temperature: hour.Average(reading => reading.TemperatureC), Humidity: hour.Average(reading => reading.HumidityPercent))).ToList();
                var air = hours.Where(hour => hour is { Temperature: not null, Humidity: > 0 }).Select(hour => Air.FromHumidity(hour.Temperature!.Value, Math.Min(1, hour.Humidity!.Value / 100)))
                    .Where(air => air.IsGood).Select(air => air.Value).ToList();
                var counts = group.Key is { } key ? done[key].ToList() : [];
                var (emerged, all) = (counts.Sum(count => count.Emerged), counts.Sum(count => count.Emerged + count.Failed));
                return new PlaceAir(
                    place?.Name ?? "",
                    hours.Count,
                    hours.Count(hour => hour.Humidity < ClimateWords.Driest),
                    hours.Count(hour => hour.Humidity > ClimateWords.Wettest),
                    hours.Count(hour => hour.Temperature < ClimateWords.Coolest),
                    hours.Count(hour => hour.Temperature > ClimateWords.Warmest),
                    air.Count == 0 ? "–" : air.Average(one => one.Deficit).ToString("0.0", CultureInfo.InvariantCulture),
                    air.Count == 0 ? "–" : air.Average(one => one.DewPoint).ToString("0.0", CultureInfo.InvariantCulture),
                    all == 0 ? "–" : $"{emerged} of {all}");
            }).Where(row => row.Place.Length > 0).OrderBy(row => row.Place, StringComparer.Ordinal),
        ];
    }
}
