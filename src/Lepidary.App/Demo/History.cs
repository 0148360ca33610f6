namespace Lepidary.App.Demo;

/// <summary>A demo's history as its file tells it (demo/README.md): days count from the day of the unread lists.</summary>
internal sealed record History(
    DateOnly OrderDate,
    IReadOnlyList<PastList> Lists,
    IReadOnlyList<PastOrder> Orders,
    IReadOnlyList<PastDelivery> Deliveries,
    IReadOnlyList<PastBrood> Broods,
    IReadOnlyList<PastLot> Lots,
    IReadOnlyList<PastEntry> Entries,
    IReadOnlyList<PastRelease> Releases,
    IReadOnlyList<PastFoundDead> FoundDead,
    IReadOnlyList<PastWalk> Walks,
    IReadOnlyList<PastReading> Readings);

internal sealed record PastList(string Supplier, int Day, string File);

internal sealed record PastOrder(string Supplier, int Day, string Who, int Arrives, string? Remark, IReadOnlyList<PastOrderLine> Lines);

internal sealed record PastOrderLine(string Taxon, string? Form, string Printed, int Pupae, decimal Price);

internal sealed record PastDelivery(string Supplier, int Ordered, int Day, TimeOnly Time, string Who, string Box, string? Condition, IReadOnlyList<PastDeliveryLine> Lines);

internal sealed record PastDeliveryLine(string Taxon, string? Form, int Ordered, int Noted, int Alive, int Dead, int Damaged, int Emerged, int Wrong, string? Remark, string? Lot);

internal sealed record PastBrood(string Id, string Taxon);

internal sealed record PastLot(string Id, string Taxon, string? Form, string? Supplier, string? Brood, int Day, int Received, string Cage, string? Row, decimal? UnitCost);

internal sealed record PastEntry(
    string Lot, int Day, TimeOnly Time, string Who, int EmergedMale, int EmergedFemale, int EmergedUnsexed, int Crippled, int Dead, int Parasitised, int Missing, string? Note);

internal sealed record PastRelease(string Lot, int Day, TimeOnly Time, string Who, int Male, int Female, int Unsexed, string To);

internal sealed record PastFoundDead(string Taxon, string Area, int Day, int Count, string Who);

internal sealed record PastWalk(string Path, int Day, TimeOnly Start, int Minutes, string? Weather, string Who, IReadOnlyList<PastCount> Counts);

internal sealed record PastCount(string Taxon, int Count);

internal sealed record PastReading(string Place, int Day, TimeOnly Time, double? Temperature, double? Humidity);
