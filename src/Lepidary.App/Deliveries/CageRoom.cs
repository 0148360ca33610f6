using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;

namespace Lepidary.App.Deliveries;

/// <summary>How full a cage is.</summary>
/// <param name="Id">Cage.</param>
/// <param name="Name">Its name.</param>
/// <param name="Places">Pupae that can hang in it.</param>
/// <param name="Hanging">Pupae that do.</param>
public sealed record CageRoom(Guid Id, string Name, int Places, int Hanging)
{
    /// <summary>Pupae beyond its places.</summary>
    public int Over => Math.Max(0, Hanging - Places);

    /// <summary>Places left.</summary>
    public int Free => Math.Max(0, Places - Hanging);

    /// <summary>What to say of a cage over its places.</summary>
    public string Warning => $"{Name} has {Places} places, and {Hanging} pupae hang in it now. Move {Over} before they crowd each other's wings.";

    internal static async Task<IReadOnlyList<CageRoom>> Read(HouseDay day, OpenLots openLots, Places places, CancellationToken cancellation)
    {
        var hanging = (await openLots.ReadAsync(day.HouseId, cancellation)).Where(balance => balance.CageId is not null)
            .GroupBy(balance => balance.CageId!.Value).ToDictionary(cage => cage.Key, cage => cage.Sum(balance => balance.Hanging));
        return [.. (await places.House(cancellation)).Cages.Where(cage => cage.Use == CageUse.Emergence)
            .Select(cage => new CageRoom(cage.Id, cage.Name, cage.Places, hanging.GetValueOrDefault(cage.Id)))];
    }
}
