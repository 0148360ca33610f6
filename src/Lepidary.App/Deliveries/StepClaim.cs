using System.Globalization;
using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Deliveries;

/// <summary>What became of a claim.</summary>
/// <param name="DeliveryId">The delivery that it is about.</param>
/// <param name="State">State it came to.</param>
internal sealed record ClaimNews(Guid DeliveryId, ClaimState State)
{
    /// <summary>Key, made with the form.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>When the form was made; null for now.</summary>
    public DateTimeOffset? MadeAt { get; init; }

    /// <summary>Money asked for or credited, in the supplier's currency; or null.</summary>
    public decimal? Amount { get; init; }

    /// <summary>The day; null for today.</summary>
    public DateOnly? OnDay { get; init; }

    public string Who { get; init; } = "";

    public string? Note { get; init; }
}

/// <summary>Writes down what became of a claim.</summary>
internal sealed class StepClaim(BookContext book, HouseDay day, FactInbox inbox)
{
    public async Task<Checked<ClaimStep>> Do(ClaimNews news, CancellationToken cancellation)
    {
        var problems = FactDays.Check(news.OnDay, day.Today).ToList();
        if (!await book.Deliveries.AnyAsync(delivery => delivery.Id == news.DeliveryId && delivery.HouseId == day.HouseId, cancellation))
        {
            problems.Add(new("delivery", news.DeliveryId.ToString(), "a delivery of this house"));
        }

        if (news.Amount < 0)
        {
            problems.Add(new("amount", news.Amount.Value.ToString(CultureInfo.InvariantCulture), "money, 0 or more"));
        }

        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var step = new ClaimStep
        {
            Id = news.Id,
            HouseId = day.HouseId,
            OnDay = news.OnDay ?? day.Today,
            DeviceTime = news.MadeAt ?? day.Now,
            Who = news.Who,
            Note = news.Note,
            DeliveryId = news.DeliveryId,
            State = news.State,
            Amount = news.Amount,
        };
        var taken = await inbox.Take(cancellation, step);
        return taken.IsGood ? step : taken.Problems.ToArray();
    }
}
