namespace Lepidary.Book;

/// <summary>
/// Pure arithmetic over facts. It does not matter in which order facts came in, nor how often; a voided fact counts for nothing
/// on any day; a fact counts from the day that it is about.
/// </summary>
public static class Ledger
{
    /// <summary>The facts that count: each once, without those that another one voids.</summary>
    /// <param name="facts">Facts, and among them every one that voids one of them.</param>
    public static IReadOnlyList<Fact> Standing(IEnumerable<Fact> facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        var once = facts.DistinctBy(fact => fact.Id).ToList();
        var voided = once.Select(fact => fact.VoidsId).OfType<Guid>().ToHashSet();
        return [.. once.Where(fact => !voided.Contains(fact.Id))];
    }

    /// <summary>Where the pupae of a lot are at the end of a day.</summary>
    /// <param name="lot">The lot; that the fact which brought it stands is for the caller to know.</param>
    /// <param name="facts">All facts about the lot, and those that void one of them; facts about other lots do no harm.</param>
    /// <param name="asOf">The day; null for all that is known.</param>
    public static LotBalance Balance(Lot lot, IEnumerable<Fact> facts, DateOnly? asOf = null)
    {
        ArgumentNullException.ThrowIfNull(lot);
        var day = asOf ?? DateOnly.MaxValue;
        var standing = Standing(facts);
        var (cage, row, position) = Place(lot, standing.OfType<Move>(), day);
        var balance = new LotBalance { Lot = lot, CageId = cage, Row = row, Position = position, Received = lot.HungOn <= day ? lot.Received : 0 };
        foreach (var fact in standing)
        {
            // A miscount was one from the first day, whenever it was noticed.
            if (fact is Recount recount && recount.LotId == lot.Id && lot.HungOn <= day)
            {
                balance = balance with { Received = balance.Received + recount.Difference };
            }
            else if (fact.OnDay <= day)
            {
                balance = Add(balance, fact);
            }
        }

        return balance;
    }

    /// <summary>What does not add up in a lot.</summary>
    /// <param name="lot">The lot.</param>
    /// <param name="facts">All facts about the lot, and those that void one of them.</param>
    public static IReadOnlyList<Discrepancy> Discrepancies(Lot lot, IEnumerable<Fact> facts)
    {
        ArgumentNullException.ThrowIfNull(lot);
        var standing = Standing(facts);
        return
        [
            .. Discrepancies(Balance(lot, standing)),
            .. standing.Where(fact => IsAbout(fact, lot.Id) && fact.OnDay < lot.HungOn).Select(fact => Discrepancy.CountedBeforeHung(lot, fact)),
        ];
    }

    /// <summary>What does not add up in a lot's balance.</summary>
    internal static IEnumerable<Discrepancy> Discrepancies(LotBalance balance)
    {
        if (balance.Excess > 0)
        {
            yield return Discrepancy.MoreCountedThanHung(balance);
        }

        if (balance.ReleasedExcess > 0)
        {
            yield return Discrepancy.MoreReleasedThanEmerged(balance);
        }
    }

    /// <summary>The cage, row and place in which a lot hangs at the end of a day: those of the last move, by the day that it is about.</summary>
    internal static (Guid? CageId, string? Row, int? Position) Place(Lot lot, IEnumerable<Move> standing, DateOnly day)
    {
        var move = standing.Where(move => move.LotId == lot.Id && move.OnDay <= day).MaxBy(move => (move.OnDay, move.DeviceTime, move.Id));
        return move is null ? (lot.CageId, lot.Row, lot.Position) : (move.CageId, move.Row, move.Position);
    }

    private static bool IsAbout(Fact fact, Guid lotId) => fact switch
    {
        LotFact about => about.LotId == lotId,
        Release release => release.LotId == lotId,
        FoundDead dead => dead.LotId == lotId,
        _ => false,
    };

    private static LotBalance Add(LotBalance balance, Fact fact) => fact switch
    {
        Entry entry when entry.LotId == balance.Lot.Id => balance with
        {
            EmergedMale = balance.EmergedMale + entry.EmergedMale,
            EmergedFemale = balance.EmergedFemale + entry.EmergedFemale,
            EmergedUnsexed = balance.EmergedUnsexed + entry.EmergedUnsexed,
            Crippled = balance.Crippled + entry.Crippled,
            Dead = balance.Dead + entry.Dead,
            Parasitised = balance.Parasitised + entry.Parasitised,
            Missing = balance.Missing + entry.Missing,
        },
        Transfer transfer when transfer.LotId == balance.Lot.Id =>
            balance with { Transferred = balance.Transferred + transfer.Count },
        Release release when release.LotId == balance.Lot.Id =>
            balance with { Released = balance.Released + release.Total },
        FoundDead dead when dead.LotId == balance.Lot.Id =>
            balance with { DiedInCage = balance.DiedInCage + dead.Count },
        _ => balance,
    };
}
