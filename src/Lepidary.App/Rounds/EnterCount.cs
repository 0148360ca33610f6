using Lepidary.App.Host;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;
using UUIDNext;

namespace Lepidary.App.Rounds;

/// <summary>What a keeper counted on one lot.</summary>
internal sealed record CountOnLot
{
    /// <summary>Key, made with the form: sent twice, it is one entry.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>When the form was made; null for now.</summary>
    public DateTimeOffset? MadeAt { get; init; }

    /// <summary>The lot's code or key.</summary>
    public required string Lot { get; init; }

    /// <summary>The day that it is about; null for today.</summary>
    public DateOnly? OnDay { get; init; }

    public int Male { get; init; }

    public int Female { get; init; }

    public int Unsexed { get; init; }

    public int Crippled { get; init; }

    public int Dead { get; init; }

    public int Parasitised { get; init; }

    public int Missing { get; init; }

    public string? Note { get; init; }

    public string Who { get; init; } = "";

    /// <summary>The entry that this one corrects, or null.</summary>
    public Guid? Corrects { get; init; }

    /// <summary>True where those that emerged were let go at once.</summary>
    public bool Released { get; init; }

    /// <summary>Area or cage for pairs that they were let into; null for the house's largest area.</summary>
    public Guid? ReleasedTo { get; init; }
}

/// <summary>What came of a count.</summary>
/// <param name="EntryId">The entry.</param>
/// <param name="Lot">The lot.</param>
/// <param name="Receipt">Written, there already, or in conflict with what was sent before.</param>
/// <param name="Balance">The lot with it, all that is known.</param>
/// <param name="Discrepancies">What of the lot does not add up now.</param>
/// <param name="Hygiene">What to do at once; empty where nothing was parasitised.</param>
internal sealed record CountEntered(
    Guid EntryId, Lot Lot, Receipt Receipt, LotBalance Balance, IReadOnlyList<Discrepancy> Discrepancies, IReadOnlyList<string> Hygiene);

/// <summary>Writes down a count on a lot, and the release that goes with it. What merely does not balance is kept and shown.</summary>
internal sealed class EnterCount(BookContext book, HouseDay day, FactInbox inbox, FindLot finder, Places places)
{
    /// <summary>The key of the release that goes with an entry, so that undoing the one undoes the other.</summary>
    public static Guid ReleaseWith(Guid entryId) => Uuid.NewNameBased(entryId, "release");

    /// <summary>Writes it down.</summary>
    public async Task<Checked<CountEntered>> Do(CountOnLot count, CancellationToken cancellation)
    {
        var found = await Rows(count, cancellation);
        if (!found.IsGood)
        {
            return found.Problems.ToArray();
        }

        var (lot, facts) = found.Value;
        var taken = await inbox.Take(cancellation, facts);
        if (!taken.IsGood)
        {
            return taken.Problems.ToArray();
        }

        var about = await LotFacts.Of(book, lot.Id, cancellation);
        return new CountEntered(
            count.Id,
            lot,
            taken.Value,
            Ledger.Balance(lot, about),
            Ledger.Discrepancies(lot, about),
            count.Parasitised > 0 ? Hygiene.Steps : []);
    }

    /// <summary>The rows that say it: the entry, and the release that goes with it or what takes an earlier one back. Nothing is written.</summary>
    public async Task<Checked<(Lot Lot, IReadOnlyList<Fact> Facts)>> Rows(CountOnLot count, CancellationToken cancellation)
    {
        var problems = new List<Problem>();
        var found = await finder.Find(count.Lot, cancellation);
        problems.AddRange(found.Problems);
        problems.AddRange(FactDays.Check(count.OnDay, day.Today));
        var place = await places.Find(count.ReleasedTo, cancellation);
        problems.AddRange(place.Problems);
        var old = count.Corrects is { } corrected ? await Old(corrected, problems, cancellation) : null;
        if (count.Released && count.Male + count.Female + count.Unsexed == 0)
        {
            problems.Add(new("released", "no adults out", "males, females or not told above 0, or no release"));
        }

        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var lot = found.Value;
        var facts = new List<Fact>
        {
            new Entry
            {
                Id = count.Id,
                HouseId = day.HouseId,
                OnDay = count.OnDay ?? day.Today,
                DeviceTime = count.MadeAt ?? day.Now,
                Who = count.Who,
                Note = count.Note,
                VoidsId = old?.Id,
                LotId = lot.Id,
                EmergedMale = count.Male,
                EmergedFemale = count.Female,
                EmergedUnsexed = count.Unsexed,
                Crippled = count.Crippled,
                Dead = count.Dead,
                Parasitised = count.Parasitised,
                Missing = count.Missing,
            },
        };
        if (await ReleaseOf(count, lot, old, place.Value, cancellation) is { } release)
        {
            facts.Add(release);
        }

        return (lot, (IReadOnlyList<Fact>)facts);
    }

    /// <summary>The entry to correct, if it stands.</summary>
    private async Task<Entry?> Old(Guid id, List<Problem> problems, CancellationToken cancellation)
    {
        var old = await book.Entries.AsNoTracking().FirstOrDefaultAsync(entry => entry.Id == id && entry.HouseId == day.HouseId, cancellation);
        if (old is null)
        {
            problems.Add(new("corrects", id.ToString(), "an entry of this house"));
        }

        return old;
    }

    /// <summary>The release that goes with the entry, in place of the corrected one's; or what takes that back.</summary>
    private async Task<Fact?> ReleaseOf(CountOnLot count, Lot lot, Entry? old, Place? to, CancellationToken cancellation)
    {
        var before = old is null ? (Guid?)null : ReleaseWith(old.Id);
        if (before is not null && !await book.Facts.AnyAsync(fact => fact.Id == before, cancellation))
        {
            before = null;
        }

        var id = ReleaseWith(count.Id);
        var (onDay, madeAt) = (count.OnDay ?? day.Today, count.MadeAt ?? day.Now);
        if (count.Released)
        {
            to ??= await places.Usual(cancellation);
            return new Release
            {
                Id = id,
                HouseId = day.HouseId,
                OnDay = onDay,
                DeviceTime = madeAt,
                Who = count.Who,
                VoidsId = before,
                LotId = lot.Id,
                Taxon = lot.Taxon,
                AreaId = to is { IsCage: false } ? to.Id : null,
                CageId = to is { IsCage: true } ? to.Id : null,
                Male = count.Male,
                Female = count.Female,
                Unsexed = count.Unsexed,
            };
        }

        return before is null ? null : new Voiding { Id = id, HouseId = day.HouseId, OnDay = onDay, DeviceTime = madeAt, Who = count.Who, VoidsId = before };
    }
}
