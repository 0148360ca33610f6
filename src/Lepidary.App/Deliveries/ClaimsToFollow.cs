using Lepidary.App.Host;
using Lepidary.App.Words;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Deliveries;

/// <summary>A claim with which somebody has something to do.</summary>
/// <param name="DeliveryId">The box.</param>
/// <param name="What">What to do, in a few words.</param>
/// <param name="Detail">By when, or since when.</param>
/// <param name="Until">When the supplier's window closes; null where it has not said, or the claim was sent.</param>
public sealed record ClaimToFollow(Guid DeliveryId, string What, string Detail, DateTimeOffset? Until);

/// <summary>Follows claims from the box to the credit: which are to be sent, and which to ask after.</summary>
internal sealed class ClaimsToFollow(BookContext book, HouseDay day)
{
    /// <summary>A claim older than this is no longer followed.</summary>
    private const int FollowedDays = 90;

    /// <summary>After so many days without an answer the supplier is asked again. A rule of this project.</summary>
    private const int AnswerDays = 3;

    /// <summary>After so many days without a credit the supplier is asked again. A rule of this project.</summary>
    private const int CreditDays = 14;

    public async Task<IReadOnlyList<ClaimToFollow>> Read(CancellationToken cancellation)
    {
        var since = day.Today.AddDays(-FollowedDays);
        var deliveries = await book.Standing<Delivery>(day.HouseId).AsNoTracking().Include(delivery => delivery.Lines).Where(delivery => delivery.OnDay >= since).ToListAsync(cancellation);
        var windows = await book.Terms.AsNoTracking().Where(terms => terms.HouseId == day.HouseId).ToDictionaryAsync(terms => terms.SupplierId, terms => terms.ClaimWindowHours, cancellation);
        var claims = deliveries.Select(delivery => (Delivery: delivery, Claim: Claim.Of(delivery, windowHours: windows.GetValueOrDefault(delivery.SupplierId)))).Where(item => item.Claim.Pupae > 0).ToList();
        var ids = claims.ConvertAll(item => item.Delivery.Id);
        var steps = (await book.Standing<ClaimStep>(day.HouseId).Where(step => ids.Contains(step.DeliveryId)).ToListAsync(cancellation)).ToLookup(step => step.DeliveryId);
        var suppliers = await book.Suppliers.AsNoTracking().ToDictionaryAsync(supplier => supplier.Id, supplier => supplier.Name, cancellation);
        return
        [
            .. claims.Select(item => Of(item.Delivery, item.Claim, suppliers.GetValueOrDefault(item.Delivery.SupplierId) ?? "the supplier", [.. steps[item.Delivery.Id]])).OfType<ClaimToFollow>()
                .OrderBy(claim => claim.Until ?? DateTimeOffset.MaxValue).ThenBy(claim => claim.What, StringComparer.Ordinal),
        ];
    }

    private ClaimToFollow? Of(Delivery delivery, Claim claim, string supplier, IReadOnlyList<ClaimStep> steps)
    {
        if (ClaimWords.Last(steps) is { } last)
        {
            var days = day.Today.DayNumber - last.OnDay.DayNumber;
            return last.State switch
            {
                ClaimState.Sent when days >= AnswerDays => new(delivery.Id, $"Ask {supplier} about the claim", $"Sent {DayWords.Near(last.OnDay, day.Today)}, not answered.", null),
                ClaimState.Answered when days >= CreditDays => new(delivery.Id, $"Ask {supplier} for the credit", $"The claim was answered {DayWords.Near(last.OnDay, day.Today)}; nothing was credited.", null),
                _ => null,
            };
        }

        var standing = ClaimWords.Of(claim, delivery.OnDay, steps, day);
        return standing.CanSend ? new(delivery.Id, $"Claim {claim.Pupae} pupae from {supplier}", $"{Differences.Of(delivery.Lines)}. {Window(claim)}", claim.Until) : null;
    }

    private string Window(Claim claim) => claim.Until is { } until ? $"The supplier takes claims until {ClaimWords.Instant(until, day)}." : "The supplier's window is not known: claim at once.";
}
