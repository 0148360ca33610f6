using Lepidary.App.HangingPlaces;
using Lepidary.App.Host;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Rounds;

/// <summary>What was taken back.</summary>
/// <param name="FactId">The row.</param>
/// <param name="Already">True where it was taken back before; then nothing was written.</param>
/// <param name="Words">What it said.</param>
/// <param name="LotId">The lot that it was about, or null.</param>
internal sealed record TakenBack(Guid FactId, bool Already, string Words, Guid? LotId);

/// <summary>Takes a row back: a new row that voids it, and the release that went with an entry. Both stay in the book.</summary>
internal sealed class TakeBack(BookContext book, HouseDay day, FactInbox inbox, Places places)
{
    public async Task<Checked<TakenBack>> Do(Guid factId, string who, string? note, CancellationToken cancellation)
    {
        var fact = await book.Facts.AsNoTracking().FirstOrDefaultAsync(fact => fact.Id == factId && fact.HouseId == day.HouseId, cancellation);
        if (fact is null or Voiding)
        {
            return new Problem("row", factId.ToString(), fact is null ? "the key of a row of this house" : "a row that says something: this one takes another back. Enter anew what was right");
        }

        await places.House(cancellation);
        var words = await Words(fact, cancellation);
        var lotId = fact switch { LotFact about => about.LotId, Release release => release.LotId, FoundDead dead => dead.LotId, _ => null };
        var targets = new List<Guid> { factId };
        switch (fact)
        {
            case Entry:
                targets.Add(EnterCount.ReleaseWith(factId));
                break;
            case Transfer:
                targets.AddRange([SplitLot.HangingWith(factId), MergeLots.RecountWith(factId)]);
                break;
            case Recount or Book.Hanging:
                targets.AddRange(await TransferOf(fact, cancellation));
                break;
            default:
                break;
        }

        var standing = await book.Standing<Fact>(day.HouseId).Where(other => targets.Contains(other.Id) && !(other is Voiding)).Select(other => other.Id).ToListAsync(cancellation);
        if (standing.Count == 0)
        {
            return new TakenBack(factId, true, words, lotId);
        }

        // Two who take it back at once write two rows that void it; it is taken back once all the same.
        var taken = await inbox.Take(cancellation, [.. standing.Select(id => new Voiding
        {
            HouseId = day.HouseId,
            OnDay = day.Today,
            DeviceTime = day.Now,
            Who = who,
            Note = note,
            VoidsId = id,
        })]);
        return taken.IsGood ? new TakenBack(factId, false, words, lotId) : taken.Problems.ToArray();
    }

    /// <summary>The transfer that a split's hanging or a merge's recount came with; nothing for one that stands alone.</summary>
    private async Task<IReadOnlyList<Guid>> TransferOf(Fact fact, CancellationToken cancellation)
    {
        // They were written in one batch, by one hand, at one time.
        var beside = await book.Standing<Transfer>(day.HouseId).Where(other => other.DeviceTime == fact.DeviceTime && other.OnDay == fact.OnDay).Select(other => other.Id).ToListAsync(cancellation);
        return beside.FindAll(id => SplitLot.HangingWith(id) == fact.Id || MergeLots.RecountWith(id) == fact.Id);
    }

    private async Task<string> Words(Fact fact, CancellationToken cancellation)
    {
        var house = await places.House(cancellation);
        string? Name(Guid? id) => house.Areas.Find(area => area.Id == id)?.Name ?? house.Cages.Find(cage => cage.Id == id)?.Name;
        return fact switch
        {
            LotFact or Release or LotSource => CountWords.Of(fact, Name),
            FoundDead { LotId: not null } => CountWords.Of(fact, Name),
            FoundDead dead => $"{dead.Count} {dead.Taxon} found dead",
            MarkedAdult marked => $"{marked.Mark} of {marked.Taxon}",
            Walk walk => $"the walk {walk.Path}",
            Reading => "a climate reading",
            _ => "a row",
        };
    }
}
