using Microsoft.EntityFrameworkCore;

namespace Lepidary.Book;

/// <summary>
/// The arithmetic of <see cref="Ledger"/> done by the database, for many lots at once. A test holds that the two agree.
/// </summary>
internal static class LotSums
{
    /// <summary>Lots whose source stands.</summary>
    internal static IQueryable<Lot> StandingLots(this BookContext book) =>
        book.Lots.AsNoTracking().Where(lot => !book.Facts.Any(other => other.VoidsId == lot.SourceId));

    /// <summary>Balances of some lots, by the day on which they were hung.</summary>
    /// <param name="book">The book.</param>
    /// <param name="lotIds">The lots; those whose source is voided are left out.</param>
    /// <param name="asOf">The day, or null for all that is known.</param>
    /// <param name="cancellation">Stops reading.</param>
    internal static async Task<List<LotBalance>> BalancesAsync(
        BookContext book, IReadOnlyCollection<Guid> lotIds, DateOnly? asOf, CancellationToken cancellation)
    {
        if (lotIds.Count == 0)
        {
            return [];
        }

        var lots = await book.StandingLots().Where(lot => EF.Parameter(lotIds).Contains(lot.Id))
            .OrderBy(lot => lot.HungOn).ThenBy(lot => lot.Id).ToListAsync(cancellation).ConfigureAwait(false);
        var sums = await SumsAsync(book, lotIds, asOf, cancellation).ConfigureAwait(false);
        var moves = await book.Standing<Move>().Where(move => EF.Parameter(lotIds).Contains(move.LotId)).ToListAsync(cancellation).ConfigureAwait(false);
        var movesOf = moves.ToLookup(move => move.LotId);
        return [.. lots.Select(lot => Balance(lot, movesOf[lot.Id], sums.GetValueOrDefault(lot.Id) ?? new Sums(), asOf ?? DateOnly.MaxValue))];
    }

    /// <summary>Keys of all lots of a house that are not closed, found from the whole book.</summary>
    internal static async Task<HashSet<Guid>> OpenLotIdsAsync(BookContext book, Guid houseId, CancellationToken cancellation)
    {
        var lots = await book.StandingLots().Where(lot => lot.HouseId == houseId)
            .Select(lot => new { lot.Id, lot.Received }).ToListAsync(cancellation).ConfigureAwait(false);
        var sums = await SumsAsync(book, null, null, cancellation).ConfigureAwait(false);
        return [.. lots.Where(lot => !(sums.GetValueOrDefault(lot.Id) ?? new Sums()).Closes(lot.Received)).Select(lot => lot.Id)];
    }

    private static LotBalance Balance(Lot lot, IEnumerable<Move> moves, Sums sums, DateOnly day)
    {
        var (cage, row, position) = Ledger.Place(lot, moves, day);
        return new()
        {
            Lot = lot,
            CageId = cage,
            Row = row,
            Position = position,
            Received = lot.HungOn <= day ? lot.Received + sums.Recounted : 0,
            EmergedMale = sums.EmergedMale,
            EmergedFemale = sums.EmergedFemale,
            EmergedUnsexed = sums.EmergedUnsexed,
            Crippled = sums.Crippled,
            Dead = sums.Dead,
            Parasitised = sums.Parasitised,
            Missing = sums.Missing,
            Transferred = sums.Transferred,
            Released = sums.Released,
            DiedInCage = sums.DiedInCage,
        };
    }

    private static async Task<Dictionary<Guid, Sums>> SumsAsync(
        BookContext book, IReadOnlyCollection<Guid>? lotIds, DateOnly? asOf, CancellationToken cancellation)
    {
        var sums = new Dictionary<Guid, Sums>();
        var day = asOf ?? DateOnly.MaxValue;
        var entries = book.Standing<Entry>().Where(entry => entry.OnDay <= day);
        var transfers = book.Standing<Transfer>().Where(transfer => transfer.OnDay <= day);
        var recounts = book.Standing<Recount>();
        var releases = book.Standing<Release>().Where(release => release.LotId != null && release.OnDay <= day);
        var dead = book.Standing<FoundDead>().Where(found => found.LotId != null && found.OnDay <= day);
        if (lotIds is not null)
        {
            entries = entries.Where(fact => EF.Parameter(lotIds).Contains(fact.LotId));
            transfers = transfers.Where(fact => EF.Parameter(lotIds).Contains(fact.LotId));
            recounts = recounts.Where(fact => EF.Parameter(lotIds).Contains(fact.LotId));
            releases = releases.Where(fact => EF.Parameter(lotIds).Contains(fact.LotId!.Value));
            dead = dead.Where(fact => EF.Parameter(lotIds).Contains(fact.LotId!.Value));
        }

        foreach (var row in await entries.GroupBy(entry => entry.LotId).Select(lot => new
        {
            lot.Key,
            EmergedMale = lot.Sum(entry => entry.EmergedMale),
            EmergedFemale = lot.Sum(entry => entry.EmergedFemale),
            EmergedUnsexed = lot.Sum(entry => entry.EmergedUnsexed),
            Crippled = lot.Sum(entry => entry.Crippled),
            Dead = lot.Sum(entry => entry.Dead),
            Parasitised = lot.Sum(entry => entry.Parasitised),
            Missing = lot.Sum(entry => entry.Missing),
        }).ToListAsync(cancellation).ConfigureAwait(false))
        {
            sums.Add(row.Key, new()
            {
                EmergedMale = row.EmergedMale,
                EmergedFemale = row.EmergedFemale,
                EmergedUnsexed = row.EmergedUnsexed,
                Crippled = row.Crippled,
                Dead = row.Dead,
                Parasitised = row.Parasitised,
                Missing = row.Missing,
            });
        }

        foreach (var row in await transfers.GroupBy(fact => fact.LotId)
            .Select(lot => new { lot.Key, Count = lot.Sum(fact => fact.Count) }).ToListAsync(cancellation).ConfigureAwait(false))
        {
            Of(row.Key).Transferred = row.Count;
        }

        foreach (var row in await recounts.GroupBy(fact => fact.LotId)
            .Select(lot => new { lot.Key, Count = lot.Sum(fact => fact.Difference) }).ToListAsync(cancellation).ConfigureAwait(false))
        {
            Of(row.Key).Recounted = row.Count;
        }

        foreach (var row in await releases.GroupBy(fact => fact.LotId!.Value)
            .Select(lot => new { lot.Key, Count = lot.Sum(fact => fact.Male + fact.Female + fact.Unsexed) }).ToListAsync(cancellation).ConfigureAwait(false))
        {
            Of(row.Key).Released = row.Count;
        }

        foreach (var row in await dead.GroupBy(fact => fact.LotId!.Value)
            .Select(lot => new { lot.Key, Count = lot.Sum(fact => fact.Count) }).ToListAsync(cancellation).ConfigureAwait(false))
        {
            Of(row.Key).DiedInCage = row.Count;
        }

        return sums;

        Sums Of(Guid lotId)
        {
            if (!sums.TryGetValue(lotId, out var lot))
            {
                sums.Add(lotId, lot = new());
            }

            return lot;
        }
    }

    private sealed class Sums
    {
        public int EmergedMale { get; init; }

        public int EmergedFemale { get; init; }

        public int EmergedUnsexed { get; init; }

        public int Crippled { get; init; }

        public int Dead { get; init; }

        public int Parasitised { get; init; }

        public int Missing { get; init; }

        public int Transferred { get; set; }

        public int Recounted { get; set; }

        public int Released { get; set; }

        public int DiedInCage { get; set; }

        private int Emerged => EmergedMale + EmergedFemale + EmergedUnsexed;

        public bool Closes(int received) =>
            received + Recounted == Emerged + Crippled + Dead + Parasitised + Missing + Transferred && Emerged == Released + DiedInCage;
    }
}
