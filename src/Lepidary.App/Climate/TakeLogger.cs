using System.Globalization;
using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;
using UUIDNext;

namespace Lepidary.App.Climate;

/// <summary>What a logger's file brought.</summary>
/// <param name="Taken">Hours that are new.</param>
/// <param name="WereThere">Hours that the book had.</param>
internal sealed record LoggerTaken(string Place, int Lines, int Hours, int Taken, int WereThere, string From, string To, IReadOnlyList<string> LeftOut);

/// <summary>Writes a logger's hours down as readings; the same file twice changes nothing.</summary>
internal sealed class TakeLogger(BookContext book, HouseDay day, FactInbox inbox, Places places)
{
    private const int Batch = 500;

    /// <param name="where">Name or key of the cage or the area.</param>
    /// <param name="text">The file, or what was pasted.</param>
    /// <param name="who">Who hands it in.</param>
    /// <param name="cancellation">Stops between batches; what was written stays.</param>
    public async Task<Checked<LoggerTaken>> Do(string? where, string text, string who, CancellationToken cancellation)
    {
        var place = await places.Named(where, "place", cancellation);
        var read = LoggerFile.Read(text);
        var problems = place.Problems.Concat(read.Problems).ToList();
        if (place.IsGood && place.Value is null)
        {
            problems.Add(new("place", "nothing", "a cage or a flight area of the house"));
        }

        if (read.IsGood && read.Value.Hours.Count > 0 && read.Value.Hours[^1].Hour > day.Local(day.Now))
        {
            problems.Add(new("file", Text(read.Value.Hours[^1].Hour), $"nothing after now ({Text(day.Local(day.Now))}): is the logger's clock right?"));
        }

        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var at = place.Value!;
        var (taken, there) = (0, 0);
        foreach (var hours in read.Value.Hours.Select(hour => (Key: Uuid.NewNameBased(at.Id, "logger " + hour.Hour.ToString("yyyy-MM-dd'T'HH", CultureInfo.InvariantCulture)), Hour: hour)).Chunk(Batch))
        {
            // An hour that the book has stands as it is: a file read before its last hour was over must not quarrel with the next.
            var keys = hours.Select(hour => hour.Key).ToList();
            var known = (await book.Set<Reading>().Where(reading => EF.Parameter(keys).Contains(reading.Id)).Select(reading => reading.Id).ToListAsync(cancellation)).ToHashSet();
            var fresh = hours.Where(hour => !known.Contains(hour.Key)).Select(hour => (Fact)new Reading
            {
                Id = hour.Key,
                HouseId = day.HouseId,
                OnDay = DateOnly.FromDateTime(hour.Hour.Hour),
                DeviceTime = new DateTimeOffset(hour.Hour.Hour, day.Zone.GetUtcOffset(hour.Hour.Hour)),
                Who = who,
                CageId = at.IsCage ? at.Id : null,
                AreaId = at.IsCage ? null : at.Id,
                TemperatureC = hour.Hour.TemperatureC,
                HumidityPercent = hour.Hour.HumidityPercent,
            }).ToList();
            there += hours.Length - fresh.Count;
            var receipts = fresh.Count == 0 ? [] : await inbox.ReceiveAsync(fresh, cancellation);
            if (receipts.SelectMany(receipt => receipt.Problems).Distinct().ToArray() is { Length: > 0 } refused)
            {
                return refused;
            }

            taken += fresh.Count;
        }

        return new LoggerTaken(at.Name, read.Value.Lines, read.Value.Hours.Count, taken, there, Text(read.Value.Hours[0].Hour), Text(read.Value.Hours[^1].Hour), read.Value.LeftOut);
    }

    private static string Text(DateTime time) => time.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);
}
