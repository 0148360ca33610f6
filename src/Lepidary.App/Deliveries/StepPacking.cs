using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Deliveries;

/// <summary>What became of a box's packing.</summary>
/// <param name="DeliveryId">The delivery.</param>
/// <param name="State">State it came to.</param>
internal sealed record PackingNews(Guid DeliveryId, PackingState State)
{
    /// <summary>Key, made with the form.</summary>
    public Guid Id { get; init; } = BookId.New();

    public DateTimeOffset? MadeAt { get; init; }

    /// <summary>The day; null for today.</summary>
    public DateOnly? OnDay { get; init; }

    public string Who { get; init; } = "";

    public string? Note { get; init; }
}

/// <summary>Writes down what became of the packing. What must become of it is for the licence to say.</summary>
internal sealed class StepPacking(BookContext book, HouseDay day, FactInbox inbox)
{
    public async Task<Checked<PackingStep>> Do(PackingNews news, CancellationToken cancellation)
    {
        var problems = FactDays.Check(news.OnDay, day.Today).ToList();
        if (!await book.Deliveries.AnyAsync(delivery => delivery.Id == news.DeliveryId && delivery.HouseId == day.HouseId, cancellation))
        {
            problems.Add(new("delivery", news.DeliveryId.ToString(), "a delivery of this house"));
        }

        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var step = new PackingStep
        {
            Id = news.Id,
            HouseId = day.HouseId,
            OnDay = news.OnDay ?? day.Today,
            DeviceTime = news.MadeAt ?? day.Now,
            Who = news.Who,
            Note = news.Note,
            DeliveryId = news.DeliveryId,
            State = news.State,
        };
        var taken = await inbox.Take(cancellation, step);
        return taken.IsGood ? step : taken.Problems.ToArray();
    }
}
