using Lepidary.App.Host;
using Lepidary.Book;

namespace Lepidary.App.Rounds;

/// <summary>How the keeper settles what does not add up.</summary>
internal enum Settlement
{
    /// <summary>It stays as it is; should it grow, it shows again.</summary>
    LeaveIt,

    /// <summary>More pupae were received than written down, by as many as were counted beyond.</summary>
    MoreReceived,
}

/// <summary>What was settled.</summary>
internal sealed record Settled(Guid SubjectId, Settlement How, string Sentence);

/// <summary>Settles a discrepancy with a fact. Rows that are wrong are taken back instead: see <see cref="TakeBack"/>.</summary>
internal sealed class SettleDiscrepancy(HouseDay day, FactInbox inbox, DiscrepancyReader reader)
{
    public async Task<Checked<Settled>> Do(Guid subjectId, Settlement how, string who, string? note, CancellationToken cancellation)
    {
        var open = await reader.ReadAsync(day.HouseId, cancellation);
        if (open.FirstOrDefault(discrepancy => discrepancy.SubjectId == subjectId && (how == Settlement.LeaveIt || discrepancy.Kind == DiscrepancyKind.MoreCountedThanHung)) is not { } discrepancy)
        {
            return new Problem("discrepancy", subjectId.ToString(), how == Settlement.LeaveIt ? "one that is not settled" : "a lot that counts more than hung");
        }

        Fact fact = how == Settlement.LeaveIt
            ? new SettledDiscrepancy { HouseId = day.HouseId, OnDay = day.Today, DeviceTime = day.Now, Who = who, Note = note, SubjectId = subjectId, Excess = discrepancy.Excess }
            : new Recount { HouseId = day.HouseId, OnDay = day.Today, DeviceTime = day.Now, Who = who, Note = note, LotId = discrepancy.LotId!.Value, Difference = discrepancy.Excess };
        var taken = await inbox.Take(cancellation, fact);
        return taken.IsGood ? new Settled(subjectId, how, discrepancy.Sentence) : taken.Problems.ToArray();
    }
}
