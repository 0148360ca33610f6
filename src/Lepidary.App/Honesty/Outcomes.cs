using Lepidary.App.Odds;
using Lepidary.App.Weeks;
using Lepidary.Book;
using Lepidary.Taxa;

namespace Lepidary.App.Honesty;

/// <summary>A lot as it came.</summary>
/// <param name="HungOn">Hung on.</param>
/// <param name="Received">Pupae hung.</param>
internal sealed record HungLot(DateOnly HungOn, int Received);

/// <summary>What a house's book says of the days that are past.</summary>
internal sealed record Outcomes
{
    /// <summary>Found dead are judged only in weeks in which somebody looked for them: this far around a day one was found.</summary>
    private const int DaysLookedAround = 7;

    private HashSet<DateOnly>? looked;
    private Dictionary<Guid, (SupplierWeeks Supplier, int Index)>? lists;

    /// <summary>Only days before it are past.</summary>
    public required DateOnly Today { get; init; }

    /// <summary>Days on which anything was counted in the cages.</summary>
    public IReadOnlySet<DateOnly> Rounds { get; init; } = new HashSet<DateOnly>();

    /// <summary>By lot and day.</summary>
    public IReadOnlyDictionary<(Guid Lot, DateOnly Day), int> Emerged { get; init; } = new Dictionary<(Guid, DateOnly), int>();

    /// <summary>By lot: emerged, failed, missing.</summary>
    public IReadOnlyDictionary<Guid, (int Emerged, int Failed, int Missing)> Sums { get; init; } = new Dictionary<Guid, (int, int, int)>();

    /// <summary>The first day on which one of the lot emerged.</summary>
    public IReadOnlyDictionary<Guid, DateOnly> First { get; init; } = new Dictionary<Guid, DateOnly>();

    public IReadOnlyDictionary<Guid, HungLot> Lots { get; init; } = new Dictionary<Guid, HungLot>();

    /// <summary>Lots that were shared out or counted again: their sum is not that of the box.</summary>
    public IReadOnlySet<Guid> Touched { get; init; } = new HashSet<Guid>();

    /// <summary>By day of a walk what it met; of two walks on a day the larger count.</summary>
    public IReadOnlyDictionary<DateOnly, IReadOnlyDictionary<string, int>> Walks { get; init; } = new Dictionary<DateOnly, IReadOnlyDictionary<string, int>>();

    /// <summary>By day and taxon.</summary>
    public IReadOnlyDictionary<(DateOnly Day, string Taxon), int> FoundDead { get; init; } = new Dictionary<(DateOnly, string), int>();

    /// <summary>Let go, by taxon and day.</summary>
    public IReadOnlyDictionary<string, IReadOnlyList<(DateOnly Day, int Count)>> Released { get; init; } = new Dictionary<string, IReadOnlyList<(DateOnly, int)>>();

    /// <summary>What the book has taught of life on the wing.</summary>
    public Learned Learned { get; init; } = Learned.Nothing;

    /// <summary>The lists.</summary>
    public IReadOnlyList<SupplierWeeks> Suppliers { get; init; } = [];

    private Dictionary<Guid, (SupplierWeeks Supplier, int Index)> Lists =>
        lists ??= Suppliers.SelectMany(supplier => supplier.Weeks.Select((week, index) => (week.ListId, Place: (supplier, index)))).ToDictionary(list => list.ListId, list => list.Place);

    /// <summary>What came of a forecast; null where it can't be judged, or not yet.</summary>
    public int? Of(KeptForecast forecast) => Waits(forecast) ? null : forecast.Kind switch
    {
        // A day's count is that day's only where the house made its round on it and on the day before.
        ForecastKind.Emerging => IsCounted(forecast.ForDay) ? Emerged.GetValueOrDefault((forecast.AboutId, forecast.ForDay)) : null,
        ForecastKind.Lot => Lots.TryGetValue(forecast.AboutId, out var lot) && !Touched.Contains(forecast.AboutId) && Sums.TryGetValue(forecast.AboutId, out var sum)
            && sum.Missing == 0 && sum.Emerged + sum.Failed >= lot.Received ? sum.Emerged : null,
        ForecastKind.Due => Lots.TryGetValue(forecast.AboutId, out var due) && First.TryGetValue(forecast.AboutId, out var first) && IsCounted(first) && first >= forecast.MadeOn
            ? first.DayNumber - due.HungOn.DayNumber : null,
        ForecastKind.Flying => forecast.Seen is not null && Walks.TryGetValue(forecast.ForDay, out var met)
            ? forecast.Subject == ForecastsOfDay.All ? met.Values.Sum() : met.GetValueOrDefault(forecast.Subject) : null,
        ForecastKind.FoundDead => Rounds.Contains(forecast.ForDay) && IsLookedForDead(forecast.ForDay) ? FoundDead.GetValueOrDefault((forecast.ForDay, forecast.Subject)) : null,
        ForecastKind.Aim => IsMet(forecast) is { } isMet ? isMet ? 1 : 0 : null,
        ForecastKind.Listing => NextMark(forecast)?.State switch
        {
            OnList.Listed => 1,
            OnList.Absent or OnList.SoldOut => 0,
            _ => null,
        },
        _ => throw new InvalidOperationException($"Kind {forecast.Kind}."),
    };

    /// <summary>True where its day is still to come.</summary>
    public bool Waits(KeptForecast forecast) => forecast.MadeOn >= Today || forecast.ForDay >= Today || forecast.Kind switch
    {
        ForecastKind.Lot => Hangs(forecast.AboutId),
        ForecastKind.Due => !First.ContainsKey(forecast.AboutId) && Hangs(forecast.AboutId),
        ForecastKind.Listing => Lists.TryGetValue(forecast.AboutId, out var list) && Next(list) is null,
        _ => false,
    };

    private bool Hangs(Guid lot) => Lots.TryGetValue(lot, out var hung) && Sums.GetValueOrDefault(lot) is var sum && sum.Emerged + sum.Failed + sum.Missing < hung.Received;

    private bool IsCounted(DateOnly day) => Rounds.Contains(day) && Rounds.Contains(day.AddDays(-1));

    private bool IsLookedForDead(DateOnly day) => (looked ??= FoundDead.Keys.Select(found => found.Day).Distinct()
        .SelectMany(found => Enumerable.Range(-DaysLookedAround, (2 * DaysLookedAround) + 1).Select(found.AddDays)).ToHashSet()).Contains(day);

    /// <remarks>How many flew is reckoned from what was let go, each living as long as the book has taught: no walk counts them all.</remarks>
    private bool? IsMet(KeptForecast forecast)
    {
        if (forecast.Wish is not (AimKind.Display or AimKind.Variety) || forecast.AtLeast is not { } atLeast || Picked(forecast.Subject) is not { } picked || Released.Count == 0)
        {
            return null;
        }

        var flew = Released.Where(taxon => picked(TaxonTable.Shipped.Of(taxon.Key))).Select(taxon => Flew(taxon.Key, forecast.ForDay)).ToList();
        return forecast.Wish == AimKind.Display ? flew.Sum() >= atLeast - 0.5 : flew.Count(one => one >= 0.5) >= atLeast;
    }

    private double Flew(string taxon, DateOnly day)
    {
        var survival = Learned.Survival(TaxonTable.Shipped.Of(taxon));
        return Released[taxon].Where(group => group.Day <= day).Sum(group => group.Count * survival[day.DayNumber - group.Day.DayNumber]);
    }

    private static Func<Taxon, bool>? Picked(string selector) =>
        selector == ForecastsOfDay.All ? _ => true : TaxonSelector.Read(selector, TaxonTable.Shipped) is { IsGood: true } read ? read.Value.Includes : null;

    private ListMark? NextMark(KeptForecast forecast) =>
        Lists.TryGetValue(forecast.AboutId, out var list) && Next(list) is { } next ? list.Supplier.Mark(forecast.Subject, next) : null;

    private SeenWeek? Next((SupplierWeeks Supplier, int Index) list) =>
        list.Index + 1 < list.Supplier.Weeks.Count && list.Supplier.Weeks[list.Index + 1] is var next && next.Day <= Today ? next : null;
}
