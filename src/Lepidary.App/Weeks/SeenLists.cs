using System.Collections.Concurrent;
using Lepidary.App.Lists;
using Lepidary.Book;
using Lepidary.Lists;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Weeks;

/// <summary>One offer of one list, as far as the weeks are told from it.</summary>
/// <param name="Taxon">Accepted binomial.</param>
/// <param name="Form">Subspecies or form as printed, or null.</param>
/// <param name="IsCocoon">A cocoon costs something else than a pupa.</param>
/// <param name="Price">Of one, as printed, or null.</param>
/// <param name="SoldOut">On the list, but gone.</param>
internal sealed record SeenOffer(string Taxon, string? Form, bool IsCocoon, decimal? Price, bool SoldOut);

/// <summary>One list that came.</summary>
/// <param name="InDoubt">Taxa that an unsettled line of it may mean.</param>
internal sealed record SeenWeek(
    Guid ListId, Guid SupplierId, DateOnly Day, DateTimeOffset At, string? Currency, bool? PricesExcludeTax, IReadOnlyList<SeenOffer> Offers, IReadOnlySet<string> InDoubt);

/// <summary>
/// The lists of the last three years, by supplier. A list never changes, so what was read of it once is remembered; forgetting it costs only the time to
/// read it again.
/// </summary>
internal sealed class SeenLists(BookContext book, CurrentLists current, SeenListMemory memory)
{
    /// <summary>Older lists say nothing of a farm today; three years show a season twice.</summary>
    private const int DaysBack = 1100;

    /// <summary>All suppliers of a house who ever sent a list, by name.</summary>
    /// <param name="house">With its terms.</param>
    /// <param name="until">The last day that counts.</param>
    /// <param name="cancellation">Stops reading.</param>
    public async Task<IReadOnlyList<SupplierWeeks>> Of(Book.House house, DateOnly until, CancellationToken cancellation)
    {
        var since = until.AddDays(-DaysBack);
        var there = await book.Lists.AsNoTracking().Where(list => list.OnDay > since && list.OnDay <= until).Select(list => list.Id).ToListAsync(cancellation);
        var missing = there.Where(id => !memory.Weeks.ContainsKey(id)).ToList();
        foreach (var some in missing.Chunk(100))
        {
            await Read([.. some], cancellation);
        }

        await ReadSettled(there, cancellation);
        var weeks = there.Select(id => memory.Weeks[id].Week).ToLookup(week => week.SupplierId);
        return
        [
            .. from terms in house.Terms
               where weeks.Contains(terms.SupplierId)
               orderby terms.Supplier!.Name
               select new SupplierWeeks(terms, terms.TaxRate ?? house.TaxRate, weeks[terms.SupplierId]),
        ];
    }

    private async Task Read(List<Guid> ids, CancellationToken cancellation)
    {
        var lists = await book.Lists.AsNoTracking().Where(list => ids.Contains(list.Id))
            .Select(list => new { list.Id, list.SupplierId, list.OnDay, list.ReceivedAt, list.Currency, list.PricesExcludeTax }).ToListAsync(cancellation);
        var offers = (await book.Offers.AsNoTracking().Where(offer => ids.Contains(offer.ListId))
            .Select(offer => new { offer.ListId, offer.Taxon, offer.Form, offer.Kind, offer.Price, offer.SoldOut, offer.Candidates }).ToListAsync(cancellation)).ToLookup(offer => offer.ListId);
        foreach (var list in lists)
        {
            var unsettled = offers[list.Id].Where(offer => offer.Taxon is null && offer.Kind != "mix").ToList();
            var week = new SeenWeek(
                list.Id, list.SupplierId, list.OnDay, list.ReceivedAt, list.Currency, list.PricesExcludeTax,
                [.. offers[list.Id].Where(offer => offer.Taxon is not null).Select(offer => new SeenOffer(offer.Taxon!, offer.Form, offer.Kind == "cocoon", offer.Price, offer.SoldOut))],
                unsettled.SelectMany(offer => offer.Candidates).ToHashSet(StringComparer.Ordinal));
            memory.Keep(week, unsettled.Count > 0, settledUpTo: 0);
        }
    }

    // A name that keepers settled since counts for the earlier lists too: those that had an unsettled line are read anew.
    private async Task ReadSettled(List<Guid> ids, CancellationToken cancellation)
    {
        var waiting = ids.Where(id => memory.Weeks[id].HasUnsettled).ToList();
        if (waiting.Count == 0 || await book.Standing<SettledName>().MaxAsync(name => (long?)name.Arrival, cancellation) is not { } newest)
        {
            return;
        }

        foreach (var id in waiting.Where(id => memory.Weeks[id].SettledUpTo < newest))
        {
            var before = memory.Weeks[id].Week;
            if (await current.One(id, cancellation) is { } list)
            {
                var unsettled = list.List.Offers.Where(offer => offer.Taxon is null && offer.Kind != OfferKind.Mix).ToList();
                memory.Keep(
                    before with
                    {
                        Offers = [.. list.List.Offers.Where(offer => offer.Taxon is not null).Select(offer => new SeenOffer(offer.Taxon!, offer.Form, offer.Kind == OfferKind.Cocoon, offer.Price, offer.SoldOut))],
                        InDoubt = unsettled.SelectMany(offer => offer.Candidates).ToHashSet(StringComparer.Ordinal),
                    },
                    // Settled names may be taken back: a list that had a doubt once is always looked at.
                    hasUnsettled: true, newest);
            }
        }
    }
}

/// <summary>What was read of lists, by their key.</summary>
internal sealed class SeenListMemory
{
    private readonly ConcurrentDictionary<Guid, (SeenWeek Week, bool HasUnsettled, long SettledUpTo)> weeks = [];

    public IReadOnlyDictionary<Guid, (SeenWeek Week, bool HasUnsettled, long SettledUpTo)> Weeks => weeks;

    public void Keep(SeenWeek week, bool hasUnsettled, long settledUpTo) => weeks[week.ListId] = (week, hasUnsettled, settledUpTo);
}
