using System.Data.Common;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.Book;

/// <summary>What became of a fact that came in.</summary>
public enum Receipt
{
    /// <summary>Written.</summary>
    Accepted,

    /// <summary>Already there, word for word: nothing changed, and the device may forget it.</summary>
    Duplicate,

    /// <summary>Its key is there with other content: this row is kept as a <see cref="FactConflict"/>, and the device may forget it.</summary>
    Conflict,

    /// <summary>Not written, for the problems named: the device keeps it for the keeper to mend.</summary>
    Refused,
}

/// <summary>What became of one fact.</summary>
/// <param name="FactId">The fact.</param>
/// <param name="Receipt">What became of it.</param>
/// <param name="Problems">Why it was refused; empty otherwise.</param>
public sealed record FactReceipt(Guid FactId, Receipt Receipt, IReadOnlyList<Problem> Problems);

/// <summary>
/// The one door by which facts come into the book, from pages, commands and devices alike. A batch is one transaction, committed
/// before the answer; whatever was answered for is on the disk.
/// </summary>
/// <param name="book">Makes a context for each try.</param>
/// <param name="clock">The server's clock.</param>
public sealed class FactInbox(IDbContextFactory<BookContext> book, TimeProvider clock)
{
    /// <summary>A connection that breaks between two batches is no reason to fail the second.</summary>
    private const int Tries = 3;

    /// <summary>Takes facts in.</summary>
    /// <param name="facts">Any number, in any order; a fact may name a lot, an order or a fact that comes in later.</param>
    /// <param name="cancellation">Leaves the whole batch unwritten.</param>
    /// <returns>One receipt a fact, in the same order.</returns>
    /// <exception cref="DbException">The database cannot be written; nothing of the batch was.</exception>
    public async Task<IReadOnlyList<FactReceipt>> ReceiveAsync(IReadOnlyList<Fact> facts, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(facts);
        for (var attempt = 1; ; attempt++)
        {
            try
            {
                await using var context = await book.CreateDbContextAsync(cancellation).ConfigureAwait(false);
                return await WriteAsync(context, facts, cancellation).ConfigureAwait(false);
            }
            catch (Exception failure) when (attempt < Tries && IsTransient(failure))
            {
                await Task.Delay(TimeSpan.FromMilliseconds(20 * attempt), clock, cancellation).ConfigureAwait(false);
            }
        }
    }

    private static bool IsTransient(Exception failure) =>
        failure is DbException { IsTransient: true } || failure.InnerException is DbException { IsTransient: true };

    private async Task<IReadOnlyList<FactReceipt>> WriteAsync(BookContext context, IReadOnlyList<Fact> facts, CancellationToken cancellation)
    {
        var now = clock.GetUtcNow();
        await using var transaction = await ProviderDifferences.BeginWritingAsync(context, cancellation).ConfigureAwait(false);
        var houses = await context.Houses.AsNoTracking().ToDictionaryAsync(house => house.Id, cancellation).ConfigureAwait(false);
        var ids = facts.Select(fact => fact.Id).Distinct().ToList();
        var known = (await context.Facts.AsNoTracking().WithRows().Where(fact => EF.Parameter(ids).Contains(fact.Id)).ToListAsync(cancellation).ConfigureAwait(false))
            .ToDictionary(fact => fact.Id, FactJson.Canonical);
        var rowsThere = await RowsThereAsync(context, facts, cancellation).ConfigureAwait(false);
        var conflicts = (await context.Conflicts.AsNoTracking().Where(conflict => EF.Parameter(ids).Contains(conflict.FactId))
            .Select(conflict => new { conflict.FactId, conflict.BodySha256 }).ToListAsync(cancellation).ConfigureAwait(false))
            .Select(conflict => (conflict.FactId, conflict.BodySha256)).ToHashSet();
        var arrival = await context.Facts.MaxAsync(fact => (long?)fact.Arrival, cancellation).ConfigureAwait(false) ?? 0;
        var receipts = new List<FactReceipt>(facts.Count);
        foreach (var fact in facts)
        {
            var problems = FactRules.Check(fact, houses, now);
            if (problems.Count > 0)
            {
                receipts.Add(new(fact.Id, Receipt.Refused, problems));
                continue;
            }

            var body = FactJson.Canonical(fact);
            if (!known.TryGetValue(fact.Id, out var there) && !RowIds(fact).Any(rowsThere.Contains))
            {
                fact.ReceivedAt = now;
                fact.Arrival = ++arrival;
                context.Add(fact);
                known.Add(fact.Id, body);
                rowsThere.UnionWith(RowIds(fact));
                receipts.Add(new(fact.Id, Receipt.Accepted, []));
            }
            else if (there == body)
            {
                receipts.Add(new(fact.Id, Receipt.Duplicate, []));
            }
            else
            {
                var sha256 = FactJson.Sha256(body);
                if (conflicts.Add((fact.Id, sha256)))
                {
                    context.Add(new FactConflict { FactId = fact.Id, HouseId = fact.HouseId, ReceivedAt = now, Body = body, BodySha256 = sha256 });
                }

                receipts.Add(new(fact.Id, Receipt.Conflict, []));
            }
        }

        await context.SaveChangesAsync(cancellation).ConfigureAwait(false);
        await transaction.CommitAsync(cancellation).ConfigureAwait(false);
        return receipts;
    }

    private static IEnumerable<Guid> RowIds(Fact fact) => fact switch
    {
        Delivery delivery => [.. delivery.Lots.Select(lot => lot.Id), .. delivery.Lines.Select(line => line.Id)],
        LotSource source => source.Lots.Select(lot => lot.Id),
        Walk walk => walk.Counts.Select(count => count.Id),
        _ => [],
    };

    private static async Task<HashSet<Guid>> RowsThereAsync(BookContext context, IReadOnlyList<Fact> facts, CancellationToken cancellation)
    {
        var ids = facts.SelectMany(RowIds).Distinct().ToList();
        return ids.Count == 0
            ? []
            : [.. await context.Lots.Where(lot => EF.Parameter(ids).Contains(lot.Id)).Select(lot => lot.Id)
                .Concat(context.DeliveryLines.Where(line => EF.Parameter(ids).Contains(line.Id)).Select(line => line.Id))
                .Concat(context.WalkCounts.Where(count => EF.Parameter(ids).Contains(count.Id)).Select(count => count.Id))
                .ToListAsync(cancellation).ConfigureAwait(false)];
    }
}
