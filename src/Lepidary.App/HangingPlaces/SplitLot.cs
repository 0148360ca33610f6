using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;
using UUIDNext;

namespace Lepidary.App.HangingPlaces;

/// <summary>Some pupae of a lot that become a lot of their own.</summary>
/// <param name="Lot">Code or key of the lot.</param>
/// <param name="Pupae">How many of those that hang.</param>
internal sealed record LotSplit(string Lot, int Pupae)
{
    /// <summary>Key, made with the form: sent twice, it is one split.</summary>
    public Guid Id { get; init; } = BookId.New();

    public DateTimeOffset? MadeAt { get; init; }

    /// <summary>Name or key of the cage in which the new lot hangs; null for the old one's.</summary>
    public string? Cage { get; init; }

    public string? Row { get; init; }

    /// <summary>Place of its first pupa in the row, 1 the first; or null.</summary>
    public int? Position { get; init; }

    public string Who { get; init; } = "";
}

/// <summary>What came of a split.</summary>
internal sealed record LotWasSplit(Lot From, Lot New, LotBalance Left);

/// <summary>Splits a lot in two.</summary>
/// <remarks>
/// The new lot is as old as the old one, so that what is known of its pupae stays: it counts as hung on the same day, and its pupae count as gone
/// from the old lot on that day. So the two together hold as many pupae as the one did, on every day of the past as well.
/// </remarks>
internal sealed class SplitLot(BookContext book, HouseDay day, FactInbox inbox, FindLot finder, Places places)
{
    /// <summary>The key of the hanging that goes with a split's transfer, so that undoing the one undoes the other.</summary>
    public static Guid HangingWith(Guid transferId) => Uuid.NewNameBased(transferId, "hanging");

    public async Task<Checked<LotWasSplit>> Do(LotSplit split, CancellationToken cancellation)
    {
        var found = await finder.Find(split.Lot, cancellation);
        var cage = await places.Named(split.Cage, "cage", cancellation);
        List<Problem> problems = [.. found.Problems, .. cage.Problems];
        if (cage is { IsGood: true, Value: { IsCage: false } area })
        {
            problems.Add(new("cage", area.Name, "a cage"));
        }

        if (MoveLot.CheckPlace("place", split.Position, split.Row) is { } misplaced)
        {
            problems.Add(misplaced);
        }

        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var lot = found.Value;
        var facts = await LotFacts.Of(book, lot.Id, cancellation);
        var written = facts.OfType<Transfer>().FirstOrDefault(transfer => transfer.Id == split.Id);
        var balance = Ledger.Balance(lot, facts);
        var hanging = balance.Hanging + (written?.Count ?? 0);
        if (split.Pupae < 1 || split.Pupae >= hanging)
        {
            return new Problem("pupae", $"{split.Pupae}", hanging < 2 ? "a lot in which at least two hang" : $"1 to {hanging - 1}: {hanging} hang");
        }

        var (transfer, hung) = Rows(lot, split, cage.Value?.Id ?? balance.CageId, split.MadeAt ?? day.Now);
        var created = hung.Lots[0];
        var taken = await inbox.Take(cancellation, transfer, hung);
        return taken.IsGood ? new LotWasSplit(lot, created, Ledger.Balance(lot, await LotFacts.Of(book, lot.Id, cancellation))) : taken.Problems.ToArray();
    }

    /// <summary>The rows that say it: pupae gone from the lot, and the lot that they are now, both from the day of hanging on.</summary>
    /// <param name="cageId">Cage of the new lot.</param>
    /// <param name="at">When the form was made.</param>
    public static (Transfer Gone, Hanging Hung) Rows(Lot lot, LotSplit split, Guid? cageId, DateTimeOffset at)
    {
        var created = new Lot
        {
            Id = Uuid.NewNameBased(split.Id, "lot"),
            HouseId = lot.HouseId,
            DeliveryLineId = lot.DeliveryLineId,
            SupplierId = lot.SupplierId,
            BroodId = lot.BroodId,
            FromLotId = lot.Id,
            Taxon = lot.Taxon,
            Form = lot.Form,
            CageId = cageId,
            Row = split.Row,
            Position = split.Position,
            HungOn = lot.HungOn,
            Received = split.Pupae,
            UnitLanded = lot.UnitLanded,
            EmergenceRate = lot.EmergenceRate,
        };
        return (
            new() { Id = split.Id, HouseId = lot.HouseId, OnDay = lot.HungOn, DeviceTime = at, Who = split.Who, LotId = lot.Id, Count = split.Pupae, To = LotCode.Of(created.Id) },
            new() { Id = HangingWith(split.Id), HouseId = lot.HouseId, OnDay = lot.HungOn, DeviceTime = at, Who = split.Who, From = HangingFrom.Transfer, Lots = [created] });
    }
}
