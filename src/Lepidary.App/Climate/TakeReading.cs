using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;
using Lepidary.Science.Climate;

namespace Lepidary.App.Climate;

/// <summary>Climate of a cage or an area, once.</summary>
internal sealed record ClimateSeen
{
    /// <summary>Key, made with the form.</summary>
    public Guid Id { get; init; } = BookId.New();

    public DateTimeOffset? MadeAt { get; init; }

    public DateOnly? OnDay { get; init; }

    /// <summary>Name or key of the cage or the area.</summary>
    public string? Place { get; init; }

    /// <summary>Degrees Celsius.</summary>
    public double? TemperatureC { get; init; }

    /// <summary>Relative humidity, percent.</summary>
    public double? HumidityPercent { get; init; }

    /// <summary>A wet bulb in still air, degrees Celsius: gives the humidity where none is said.</summary>
    public double? WetBulbC { get; init; }

    public string Who { get; init; } = "";

    public string? Note { get; init; }
}

/// <summary>What was written down, and what it means.</summary>
internal sealed record ReadingTaken(Reading Reading, Receipt Receipt, Place Place, IReadOnlyList<string> Warnings);

/// <summary>Writes a reading down.</summary>
internal sealed class TakeReading(HouseDay day, FactInbox inbox, Places places)
{
    public async Task<Checked<ReadingTaken>> Do(ClimateSeen seen, CancellationToken cancellation)
    {
        var problems = FactDays.Check(seen.OnDay, day.Today).ToList();
        var place = await places.Named(seen.Place, "place", cancellation);
        problems.AddRange(place.Problems);
        if (place.IsGood && place.Value is null)
        {
            problems.Add(new("place", "nothing", "a cage or a flight area of the house"));
        }

        var humidity = seen.HumidityPercent;
        if (seen.WetBulbC is { } wet)
        {
            if (humidity is not null || seen.TemperatureC is null)
            {
                problems.Add(new("wet bulb", ClimateWords.Text(wet) + " °C", "with it the temperature of the dry bulb, and no humidity"));
            }
            else
            {
                var air = Air.FromWetBulb(seen.TemperatureC.Value, wet, Ventilation.Still);
                problems.AddRange(air.Problems);
                humidity = air.IsGood ? Math.Round(air.Value.RelativeHumidity * 100, 1) : null;
            }
        }

        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var at = place.Value!;
        var reading = new Reading
        {
            Id = seen.Id,
            HouseId = day.HouseId,
            OnDay = seen.OnDay ?? day.Today,
            DeviceTime = seen.MadeAt ?? day.Now,
            Who = seen.Who,
            Note = seen.Note,
            CageId = at.IsCage ? at.Id : null,
            AreaId = at.IsCage ? null : at.Id,
            TemperatureC = seen.TemperatureC,
            HumidityPercent = humidity,
        };
        var taken = await inbox.Take(cancellation, reading);
        return taken.IsGood ? new ReadingTaken(reading, taken.Value, at, ClimateWords.Warnings(at.Name, seen.TemperatureC, humidity)) : taken.Problems.ToArray();
    }
}
