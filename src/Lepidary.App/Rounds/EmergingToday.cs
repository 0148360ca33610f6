using Lepidary.App.Odds;
using Lepidary.App.Words;
using Lepidary.Book;
using Lepidary.Science.Counts;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;
using Lepidary.Taxa;

namespace Lepidary.App.Rounds;

/// <summary>What a lot should do today, as counts.</summary>
/// <param name="Likely">The middle of the forecast.</param>
/// <param name="From">Fewest of 8 days in 10 like this.</param>
/// <param name="To">Most of 8 days in 10 like this.</param>
/// <param name="Chance">Chance that at least one emerges, 0…1.</param>
/// <param name="StillToCome">Pupae of those that hang of which an adult is still expected, the mean.</param>
/// <param name="Words">The same in a sentence.</param>
/// <param name="Brief">The same for a list: <c>2 out today (1 to 3)</c>.</param>
public sealed record Expected(int Likely, int From, int To, double Chance, double StillToCome, string Words, string Brief);

/// <summary>How late a lot is.</summary>
/// <param name="Days">Days past the day by which 99 of 100 have emerged; 0 or less is not late.</param>
/// <param name="Rests">True for a species whose pupae can rest.</param>
internal sealed record Lateness(int Days, bool Rests)
{
    /// <summary>Late, and nothing that its kind explains.</summary>
    public bool IsOverdue => Days > 0 && !Rests;

    /// <summary>For a mark beside the lot; null where it is not late.</summary>
    public string? Mark => Days <= 0 ? null : Rests ? "may rest" : Days == 1 ? "1 day overdue" : $"{Days} days overdue";
}

/// <summary>Asks the forecast about one lot on one day.</summary>
internal static class EmergingToday
{
    /// <summary>What a lot should do on a day, from how it stood at the end of the day before.</summary>
    public static Expected Of(LotBalance before, string? supplier, Learned learned, DateOnly today) => Days(before, supplier, learned, today, 1)[0];

    /// <summary>The same for a day and those after it, as seen from that day: a phone that is away for a week carries it along.</summary>
    public static IReadOnlyList<Expected> Days(LotBalance before, string? supplier, Learned learned, DateOnly today, int days)
    {
        var lot = Hanging(before, supplier, learned, today);
        var stillToCome = FlyingForecast.Alive(lot).Mean;
        return [.. FlyingForecast.EmergingOf(lot, days).Select(emerging => Words(emerging, stillToCome))];
    }

    /// <summary>A lot as the forecast takes it, from how it stood at the end of the day before.</summary>
    public static HangingLot Hanging(LotBalance before, string? supplier, Learned learned, DateOnly today)
    {
        var taxon = TaxonTable.Shipped.Of(before.Lot.Taxon);
        return new(
            before.Hanging,
            today.DayNumber - before.Lot.HungOn.DayNumber,
            before.Lot.EmergenceRate is { } rate ? EmergenceRate.FromTable(rate) : learned.Rate(taxon, supplier),
            learned.TimingOf(taxon, bred: before.Lot.SupplierId is null, before.CageId ?? before.Lot.CageId, before.Lot.HungOn, today),
            supplier ?? "",
            before.Emerged,
            before.Crippled + before.Dead + before.Parasitised);
    }

    private static Expected Words(CountDistribution emerging, double stillToCome)
    {
        var (likely, from, to) = (emerging.Quantile(0.5), emerging.Quantile(0.1), emerging.Quantile(0.9));
        var chance = emerging.AtLeast(1);
        var words = likely > 0
            ? $"{likely} out today{(from == to ? "" : $"; {from} to {to} on 8 of 10 days like this")}"
            : chance < 0.05 ? "nothing out today" : $"none or {Math.Max(1, to)} out today; at least one on {ChanceWords.Picture(chance)} days like this";
        var brief = likely > 0 ? $"{likely} out today{(from == to ? "" : $" ({from} to {to})")}" : chance < 0.05 ? "nothing out today" : $"none out today, or {Math.Max(1, to)}";
        return new(likely, from, to, chance, stillToCome, words, brief);
    }

    /// <summary>How late a lot is on a day.</summary>
    public static Lateness Late(LotBalance balance, Learned learned, DateOnly today)
    {
        var taxon = TaxonTable.Shipped.Of(balance.Lot.Taxon);
        var days = balance.Hanging == 0 ? 0 : today.DayNumber - balance.Lot.HungOn.DayNumber - learned.TimingOf(taxon, bred: balance.Lot.SupplierId is null, balance.CageId ?? balance.Lot.CageId, balance.Lot.HungOn, today).Quantile(0.99);
        return new(days, taxon.Life.CanRest);
    }
}
