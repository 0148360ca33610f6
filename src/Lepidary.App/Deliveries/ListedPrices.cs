using Lepidary.App.Lists;
using Lepidary.Book;
using Lepidary.Lists;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Deliveries;

/// <summary>What a supplier's list asked for what came in a box.</summary>
/// <param name="OnDay">The day of the list.</param>
/// <param name="Prices">For one pupa, by the key of the delivery's line.</param>
internal sealed record PricesListed(DateOnly OnDay, IReadOnlyDictionary<Guid, decimal> Prices);

/// <summary>Prices for boxes that no order priced and whose note says none: those of the supplier's last list before the box.</summary>
internal sealed class ListedPrices(BookContext book, CurrentLists lists)
{
    /// <summary>An older list says nothing of this box any more.</summary>
    private const int MostDays = 60;

    /// <param name="delivery">With its lines.</param>
    /// <param name="currency">A list in another one is left alone.</param>
    /// <param name="cancellation">Stops reading.</param>
    /// <returns>Null where there is no such list.</returns>
    public async Task<PricesListed?> Of(Delivery delivery, string currency, CancellationToken cancellation)
    {
        var since = delivery.OnDay.AddDays(-MostDays);
        var id = await book.Lists.Where(list => list.SupplierId == delivery.SupplierId && list.OnDay >= since && list.OnDay <= delivery.OnDay)
            .OrderByDescending(list => list.OnDay).ThenByDescending(list => list.ReceivedAt).Select(list => (Guid?)list.Id).FirstOrDefaultAsync(cancellation);
        if (id is null || await lists.One(id.Value, cancellation) is not { } list || (list.List.Currency is { } other && other != currency))
        {
            return null;
        }

        var prices = from line in delivery.Lines
                     let offers = list.List.Offers.Where(offer => offer.Taxon == line.Taxon && offer.Price is not null).ToList()
                     let offer = offers.Find(offer => offer.Form == line.Form) ?? (offers is [var only] ? only : null)
                     where offer is not null
                     select (line.Id, Price: PriceFor(offer, line.Noted ?? line.Ordered ?? line.Counted));
        return new(list.OnDay, prices.ToDictionary(item => item.Id, item => item.Price));
    }

    private static decimal PriceFor(Offer offer, int pupae) => offer.Breaks.LastOrDefault(step => step.From <= pupae)?.Price ?? offer.Price!.Value;
}
