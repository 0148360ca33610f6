using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;
using UUIDNext;

namespace Lepidary.App.HangingPlaces;

/// <summary>A lot whose pupae are hung with another's.</summary>
/// <param name="Lot">Code or key of the lot that ends.</param>
/// <param name="Into">Code or key of the lot that goes on.</param>
internal sealed record LotMerge(string Lot, string Into)
{
    /// <summary>Key, made with the form: sent twice, it is one merge.</summary>
    public Guid Id { get; init; } = BookId.New();

    public DateTimeOffset? MadeAt { get; init; }

    public string Who { get; init; } = "";
}

/// <summary>What came of a merge.</summary>
internal sealed record LotsWereMerged(Lot Gone, Lot Into, int Pupae, LotBalance Balance);

/// <summary>Hangs what is left of one lot with another of the same species, supplier and day, so that counts still say whose pupae came out.</summary>
/// <remarks>The pupae count as gone from the one and as there in the other from the day on which both were hung: on no day are there more or fewer of them.</remarks>
internal sealed class MergeLots(BookContext book, HouseDay day, FactInbox inbox, FindLot finder)
{
    /// <summary>The key of the recount that goes with a merge's transfer, so that undoing the one undoes the other.</summary>
    public static Guid RecountWith(Guid transferId) => Uuid.NewNameBased(transferId, "recount");

    public async Task<Checked<LotsWereMerged>> Do(LotMerge merge, CancellationToken cancellation)
    {
        var gone = await finder.Find(merge.Lot, cancellation);
        var into = await finder.Find(merge.Into, cancellation);
        if (!gone.IsGood || !into.IsGood)
        {
            return (Problem[])[.. gone.Problems, .. into.Problems.Select(problem => problem with { Where = "into" })];
        }

        var (from, to) = (gone.Value, into.Value);
        if (from.Id == to.Id)
        {
            return new Problem("into", merge.Into, "another lot");
        }

        if ((from.Taxon, from.Form, from.SupplierId, from.HungOn) != (to.Taxon, to.Form, to.SupplierId, to.HungOn))
        {
            return new Problem("into", $"{to.Taxon} {to.Form} hung {to.HungOn:yyyy-MM-dd}".Replace("  ", " ", StringComparison.Ordinal), "a lot of the same species, supplier and day of hanging: else the counts no longer say whose pupae came out");
        }

        var facts = await LotFacts.Of(book, from.Id, cancellation);
        var pupae = facts.OfType<Transfer>().FirstOrDefault(transfer => transfer.Id == merge.Id)?.Count ?? Ledger.Balance(from, facts).Hanging;
        if (pupae == 0)
        {
            return new Problem("lot", merge.Lot, "a lot in which something hangs");
        }

        var (transfer, recount) = Rows(from, to, pupae, merge, merge.MadeAt ?? day.Now);
        var taken = await inbox.Take(cancellation, transfer, recount);
        return taken.IsGood ? new LotsWereMerged(from, to, pupae, Ledger.Balance(to, await LotFacts.Of(book, to.Id, cancellation))) : taken.Problems.ToArray();
    }

    /// <summary>The rows that say it: pupae gone from the one lot, and there in the other, from the day of hanging on.</summary>
    /// <param name="at">When the form was made.</param>
    public static (Transfer Gone, Recount Came) Rows(Lot from, Lot to, int pupae, LotMerge merge, DateTimeOffset at) => (
        new() { Id = merge.Id, HouseId = from.HouseId, OnDay = from.HungOn, DeviceTime = at, Who = merge.Who, LotId = from.Id, Count = pupae, To = LotCode.Of(to.Id) },
        new() { Id = RecountWith(merge.Id), HouseId = to.HouseId, OnDay = to.HungOn, DeviceTime = at, Who = merge.Who, LotId = to.Id, Difference = pupae, Note = $"with what hung as {LotCode.Of(from.Id)}" });
}
