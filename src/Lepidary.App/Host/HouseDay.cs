using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Host;

/// <summary>Which house a request or a command is about, and what day it is there. One per request, loaded before any page.</summary>
internal sealed class HouseDay(BookContext book, TimeProvider clock)
{
    /// <summary>Key of the house; empty where the book has none yet.</summary>
    public Guid HouseId { get; private set; }

    /// <summary>Name of the house; null where the book has none yet.</summary>
    public string? HouseName { get; private set; }

    /// <summary>The house's local day.</summary>
    public DateOnly Today { get; private set; } = DateOnly.FromDateTime(clock.GetUtcNow().UtcDateTime);

    /// <summary>The instant, as the house's clock shows it: the demo's clock stands still until its reader turns it.</summary>
    public DateTimeOffset Now { get; private set; } = clock.GetUtcNow();

    /// <summary>True where the clock is the demo's.</summary>
    public bool IsDemo { get; private set; }

    /// <summary>ISO 4217 code of the house.</summary>
    public string Currency { get; private set; } = "EUR";

    /// <summary>The house's time zone.</summary>
    public TimeZoneInfo Zone { get; private set; } = TimeZoneInfo.Utc;

    /// <summary>The day and time of day that an instant is in the house.</summary>
    public DateTime Local(DateTimeOffset instant) => TimeZoneInfo.ConvertTime(instant, Zone).DateTime;

    /// <summary>Finds the house: the one named, or the book's first.</summary>
    /// <returns>False where the book has no such house.</returns>
    public async Task<bool> Load(string? name, CancellationToken cancellation)
    {
        var house = await book.Houses.AsNoTracking()
            .Where(house => name == null || house.Name == name)
            .OrderBy(house => house.Name)
            .Select(house => new { house.Id, house.Name, house.Currency, house.TimeZone, house.ClockStandsAt })
            .FirstOrDefaultAsync(cancellation);
        if (house is null)
        {
            return false;
        }

        HouseId = house.Id;
        HouseName = house.Name;
        Currency = house.Currency;
        IsDemo = house.ClockStandsAt is not null;
        Now = house.ClockStandsAt ?? clock.GetUtcNow();
        Zone = TimeZoneInfo.FindSystemTimeZoneById(house.TimeZone);
        Today = DateOnly.FromDateTime(Local(Now));
        return true;
    }

    /// <summary>The house whole: areas, cages, aims in force, what it does not keep, and suppliers' terms.</summary>
    public Task<Book.House> House(CancellationToken cancellation) =>
        book.Houses.AsNoTracking().AsSplitQuery()
            .Include(house => house.Areas).Include(house => house.Cages).Include(house => house.KeepNots)
            .Include(house => house.Aims.Where(aim => aim.EndedOn == null))
            .Include(house => house.Terms).ThenInclude(terms => terms.Supplier)
            .SingleAsync(house => house.Id == HouseId, cancellation);
}
