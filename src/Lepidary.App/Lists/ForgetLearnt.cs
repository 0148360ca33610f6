using Lepidary.App.Host;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Lists;

/// <summary>Takes back what was learnt of a supplier's lists, or what a name was said to mean.</summary>
internal sealed class ForgetLearnt(BookContext book, FactInbox inbox, HouseDay day)
{
    /// <param name="key">Made when the keeper was asked.</param>
    /// <param name="learntId">What is taken back.</param>
    /// <param name="who">Who takes it back.</param>
    /// <param name="made">When the keeper was asked.</param>
    /// <param name="cancellation">Leaves it as it is.</param>
    public async Task<IReadOnlyList<Problem>> Forget(Guid key, Guid learntId, string who, DateTimeOffset made, CancellationToken cancellation)
    {
        var there = await book.Standing<LearntOfList>().AnyAsync(fact => fact.Id == learntId, cancellation) || await book.Standing<SettledName>().AnyAsync(fact => fact.Id == learntId, cancellation);
        if (!there)
        {
            return [new("what was learnt", learntId.ToString(), "the key of something that is remembered")];
        }

        var receipts = await inbox.ReceiveAsync([new Voiding { Id = key, HouseId = day.HouseId, OnDay = day.Today, DeviceTime = made, Who = who, VoidsId = learntId }], cancellation);
        return receipts[0].Problems;
    }
}
