using Lepidary.App.Deliveries;
using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.App.Words;
using Lepidary.Book;
using Lepidary.Science.Hanging;
using Lepidary.Taxa;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.HangingPlaces;

/// <summary>A lot with the place that it should get.</summary>
internal sealed record HangRow(Guid LotId, string Code, string Taxon, string? Form, int Pupae, string Cage, string Row, string PerRow, string Spacing, string FirstOut, bool InReach, string? Warning);

/// <summary>A lot without a place.</summary>
internal sealed record LeftRow(string Code, string Taxon, string? Form, int Pupae, string Why);

/// <summary>Where to hang what has no row yet.</summary>
/// <param name="Headline">The page's answer.</param>
/// <param name="Rows">The plan.</param>
/// <param name="Left">What has no room.</param>
/// <param name="Warnings">Cages over their places, rows with two lots.</param>
/// <param name="MadeAt">When it was made.</param>
internal sealed record HangingView(string Headline, IReadOnlyList<HangRow> Rows, IReadOnlyList<LeftRow> Left, IReadOnlyList<string> Warnings, string MadeAt)
{
    public Guid FormId { get; } = BookId.New();
}

/// <summary>Plans where lots hang: those without a cage or without a row, around what hangs already.</summary>
internal sealed class ShowHanging(BookContext book, HouseDay day, OpenLots openLots, Places places)
{
    /// <param name="cancellation">Stops reading.</param>
    public async Task<HangingView> Show(CancellationToken cancellation)
    {
        var house = await places.House(cancellation);
        var open = (await openLots.ReadAsync(day.HouseId, cancellation)).Where(balance => balance.Hanging > 0).ToList();
        var cages = house.Cages.Where(cage => cage is { Use: CageUse.Emergence, Rows: not null, RowCm: not null }).ToList();
        var hung = open.Where(balance => HangingRows.Read(balance.Row).Count > 0 || balance.Row is not null).ToList();
        var loose = open.Where(balance => balance.Row is null && (balance.CageId is null || cages.Exists(cage => cage.Id == balance.CageId))).ToList();
        var lines = loose.Select(balance => balance.Lot.DeliveryLineId).OfType<Guid>().ToList();
        var coloured = (await book.DeliveryLines.AsNoTracking().Where(line => line.ColouredUp > 0 && EF.Parameter(lines).Contains(line.Id)).Select(line => line.Id).ToListAsync(cancellation)).ToHashSet();
        DateOnly FirstOut(Lot lot) => lot.DeliveryLineId is { } line && coloured.Contains(line) ? lot.HungOn : Expected(lot);
        var plan = HangingPlan.Of(
            [.. loose.Select(balance => new LotToHang(
                balance.Lot.Id, balance.Lot.Taxon, balance.Hanging, Pitch(balance.Lot), FirstOut(balance.Lot).DayNumber, SexOf(balance.Lot.Form),
                cages.Find(cage => cage.Id == balance.CageId)?.Name))],
            [.. cages.Select(cage => new CageToHang(
                cage.Name, cage.Rows!.Value, cage.RowCm!.Value * 10, cage.ReachRows ?? cage.Rows.Value,
                cage.Places - hung.Where(balance => balance.CageId == cage.Id).Sum(balance => balance.Hanging),
                [.. hung.Where(balance => balance.CageId == cage.Id).SelectMany(balance => HangingRows.Read(balance.Row).Select(row => new TakenRow(row, balance.Lot.Taxon, SexOf(balance.Lot.Form))))]))]);
        var byKey = loose.ToDictionary(balance => balance.Lot.Id);
        var rooms = await CageRoom.Read(day, openLots, places, cancellation);
        return new(
            Headline(plan, loose.Count, cages.Count),
            [.. plan.Placed.Select(one => Row(one, byKey[one.Lot.Key].Lot, FirstOut(byKey[one.Lot.Key].Lot)))],
            [.. plan.Left.Select(one => new LeftRow(LotCode.Of(one.Lot.Key), one.Lot.Taxon, byKey[one.Lot.Key].Lot.Form, one.Lot.Pupae, Why(one)))],
            [
                .. rooms.Where(room => room.Over > 0).Select(room => room.Warning),
                .. hung.Where(balance => balance.CageId is not null).SelectMany(balance => HangingRows.Read(balance.Row).Select(row => (Cage: balance.CageId, row, balance.Lot)))
                    .GroupBy(item => (item.Cage, item.row)).Where(group => group.Count() > 1)
                    .Select(group => $"{house.Cages.Find(cage => cage.Id == group.Key.Cage)?.Name}, row {group.Key.row} holds {string.Join(" and ", group.Select(item => $"{item.Lot.Taxon} {LotCode.Of(item.Lot.Id)}"))}: counts get mixed up where two lots share a row."),
            ],
            day.Now.ToString("O", System.Globalization.CultureInfo.InvariantCulture));
    }

    /// <summary>Sex that a form's words tell of: breeders sell birdwings by sex.</summary>
    internal static LotSex SexOf(string? form)
    {
        var words = (form ?? "").ToLowerInvariant().Split([' ', ',', '(', ')'], StringSplitOptions.RemoveEmptyEntries);
        return words.Any(word => word is "female" or "females" or "♀") ? LotSex.Female : words.Any(word => word is "male" or "males" or "♂") ? LotSex.Male : LotSex.Mixed;
    }

    private static int Pitch(Lot lot) => HangingPlan.PitchMm(TaxonTable.Shipped.Of(lot.Taxon).Life.WingspanMm?.Value.To);

    private static DateOnly Expected(Lot lot) => lot.HungOn.AddDays(TaxonTable.Shipped.Of(lot.Taxon).Life.DaysToEmergence.Value.From);

    private HangRow Row(PlannedLot one, Lot lot, DateOnly firstOut) => new(
        lot.Id,
        LotCode.Of(lot.Id),
        lot.Taxon,
        lot.Form,
        one.Lot.Pupae,
        one.Cage,
        HangingRows.Write(one.Rows.Select(row => row.Number)),
        string.Join(" + ", one.Rows.Select(row => row.Pupae)),
        FormattableString.Invariant($"{one.Lot.PitchMm / 10.0:0.#} cm"),
        DayWords.Near(firstOut < day.Today ? day.Today : firstOut, day.Today),
        one.InReach,
        one.BesideOtherSex ? "beside the other sex: no other row is free" : null);

    private static string Why(NoRoom one) => one.RowsNeeded switch
    {
        0 when one.Lot.Cage is null => "no cage has rows long enough and places; say a cage's rows in the house file",
        0 => $"{one.Lot.Cage} has no row long enough",
        var needed when needed > one.RowsFree => $"needs {needed} {(needed == 1 ? "row" : "rows")}, {one.RowsFree} {(one.RowsFree == 1 ? "is" : "are")} free: split it, or clear rows",
        _ => "the cages with free rows have no places left",
    };

    private static string Headline(HangingPlan plan, int loose, int cages) => (loose, cages, plan.Left.Count) switch
    {
        (0, _, _) => "Everything hangs in a row",
        (_, 0, _) => "No cage has said its rows",
        (1, _, 0) => "One lot to hang",
        (var all, _, 0) => $"{all} lots to hang",
        (var all, _, var left) => $"{all} lots to hang, {left} without room",
    };
}
