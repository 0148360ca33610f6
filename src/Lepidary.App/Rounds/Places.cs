using Lepidary.App.Host;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Rounds;

/// <summary>Where adults can be let go: a flight area, or a cage for pairs.</summary>
internal sealed record Place(Guid Id, string Name, bool IsCage);

/// <summary>The house's areas and cages, by key and by name.</summary>
internal sealed class Places(BookContext book, HouseDay day)
{
    private Book.House? house;

    /// <summary>The house with its areas, the largest first, and its cages.</summary>
    public async Task<Book.House> House(CancellationToken cancellation) =>
        house ??= await book.Houses.AsNoTracking().AsSplitQuery()
            .Include(house => house.Areas.OrderByDescending(area => area.FloorM2).ThenBy(area => area.Name)).Include(house => house.Cages.OrderBy(cage => cage.Name))
            .SingleAsync(house => house.Id == day.HouseId, cancellation);

    /// <summary>Flight areas first, then cages for pairs.</summary>
    public async Task<IReadOnlyList<Place>> ForAdults(CancellationToken cancellation)
    {
        var all = await House(cancellation);
        return
        [
            .. all.Areas.Select(area => new Place(area.Id, area.Name, false)),
            .. all.Cages.Where(cage => cage.Use == CageUse.Pairing).Select(cage => new Place(cage.Id, cage.Name, true)),
        ];
    }

    /// <summary>Flight areas first, then every cage.</summary>
    public async Task<IReadOnlyList<Place>> All(CancellationToken cancellation)
    {
        var all = await House(cancellation);
        return [.. all.Areas.Select(area => new Place(area.Id, area.Name, false)), .. all.Cages.Select(cage => new Place(cage.Id, cage.Name, true))];
    }

    /// <summary>Where adults go when nobody says: the largest area; null in a house that has none.</summary>
    public async Task<Place?> Usual(CancellationToken cancellation) => (await ForAdults(cancellation)).FirstOrDefault(place => !place.IsCage);

    /// <summary>A place for adults by its key; nothing asked is nothing found, without a problem.</summary>
    public async Task<Checked<Place?>> Find(Guid? id, CancellationToken cancellation)
    {
        if (id is null)
        {
            return (Place?)null;
        }

        var there = await ForAdults(cancellation);
        return there.FirstOrDefault(place => place.Id == id) is { } found
            ? (Checked<Place?>)found
            : new Problem("release to", id.Value.ToString(), $"one of {string.Join(", ", there.Select(place => place.Name))}");
    }

    /// <summary>A flight area, or any cage, by name or key; nothing asked is nothing found, without a problem.</summary>
    public async Task<Checked<Place?>> Named(string? name, string where, CancellationToken cancellation)
    {
        if (string.IsNullOrWhiteSpace(name))
        {
            return (Place?)null;
        }

        var there = await All(cancellation);
        var found = there.FirstOrDefault(place => string.Equals(place.Name, name.Trim(), StringComparison.OrdinalIgnoreCase) || place.Id.ToString() == name.Trim());
        return found is not null ? (Checked<Place?>)found : new Problem(where, name, $"one of {string.Join(", ", there.Select(place => place.Name))}");
    }

    /// <summary>The name of an area or a cage, or null.</summary>
    public async Task<string?> NameOf(Guid? id, CancellationToken cancellation)
    {
        var all = await House(cancellation);
        return all.Areas.Find(area => area.Id == id)?.Name ?? all.Cages.Find(cage => cage.Id == id)?.Name;
    }
}
