using System.Globalization;

namespace Lepidary.Book;

/// <summary>In what way something does not add up.</summary>
public enum DiscrepancyKind
{
    /// <summary>More pupae of a lot are accounted for than were received.</summary>
    MoreCountedThanHung,

    /// <summary>More adults of a lot were let go than emerged.</summary>
    MoreReleasedThanEmerged,

    /// <summary>A fact about a lot on a day before the lot was hung.</summary>
    CountedBeforeHung,

    /// <summary>A fact about a lot that is not in the book, or no longer.</summary>
    UnknownLot,

    /// <summary>Two rows correct the same row.</summary>
    CorrectedTwice,

    /// <summary>Two rows with one key say different things.</summary>
    TwoRowsOneKey,

    /// <summary>One box was taken in twice.</summary>
    BoxTakenInTwice,
}

/// <summary>Something that does not add up. Every row behind it is kept; the keeper settles it.</summary>
public sealed record Discrepancy
{
    /// <summary>In what way.</summary>
    public required DiscrepancyKind Kind { get; init; }

    /// <summary>The lot, the fact or the conflict that it is about: what a <see cref="SettledDiscrepancy"/> names.</summary>
    public required Guid SubjectId { get; init; }

    /// <summary>The lot, where it is about one.</summary>
    public Guid? LotId { get; init; }

    /// <summary>The rows that the keeper should look at; empty where they are all rows of the lot.</summary>
    public IReadOnlyList<Guid> FactIds { get; init; } = [];

    /// <summary>Animals by which it does not balance, or 0 where it is not about a number.</summary>
    public int Excess { get; init; }

    /// <summary>The whole in a sentence or two, with what to do.</summary>
    public required string Sentence { get; init; }

    internal static Discrepancy MoreCountedThanHung(LotBalance balance) => new()
    {
        Kind = DiscrepancyKind.MoreCountedThanHung,
        SubjectId = balance.Lot.Id,
        LotId = balance.Lot.Id,
        Excess = balance.Excess,
        Sentence = $"{balance.Lot.Taxon}, hung {Text(balance.Lot.HungOn)}: {balance.Received} received, {balance.Accounted} accounted for. "
            + $"Take back a count that was made twice, or say that {balance.Excess} more were received.",
    };

    internal static Discrepancy MoreReleasedThanEmerged(LotBalance balance) => new()
    {
        Kind = DiscrepancyKind.MoreReleasedThanEmerged,
        SubjectId = balance.Lot.Id,
        LotId = balance.Lot.Id,
        Excess = balance.ReleasedExcess,
        Sentence = $"{balance.Lot.Taxon}, hung {Text(balance.Lot.HungOn)}: {balance.Emerged} emerged, "
            + $"{balance.Released + balance.DiedInCage} left the cage. Take back a release that was written twice, or enter the missing emergence.",
    };

    internal static Discrepancy CountedBeforeHung(Lot lot, Fact fact) => new()
    {
        Kind = DiscrepancyKind.CountedBeforeHung,
        SubjectId = fact.Id,
        LotId = lot.Id,
        FactIds = [fact.Id],
        Sentence = $"{lot.Taxon} was hung on {Text(lot.HungOn)}, but a row about it is of {Text(fact.OnDay)}. Correct the day of the row.",
    };

    internal static Discrepancy UnknownLot(Fact fact, Guid lotId) => new()
    {
        Kind = DiscrepancyKind.UnknownLot,
        SubjectId = fact.Id,
        LotId = lotId,
        FactIds = [fact.Id],
        Sentence = $"A row of {Text(fact.OnDay)}{By(fact.Who)} is about a lot that is not in the book. "
            + "Its delivery may still be waiting on a phone; otherwise enter the count on the right lot and take this row back.",
    };

    internal static Discrepancy CorrectedTwice(Guid factId, IReadOnlyList<Guid> corrections) => new()
    {
        Kind = DiscrepancyKind.CorrectedTwice,
        SubjectId = factId,
        FactIds = corrections,
        Excess = corrections.Count - 1,
        Sentence = $"One row was corrected {corrections.Count} times, and all the corrections count. Take back those that are not right.",
    };

    internal static Discrepancy TwoRowsOneKey(FactConflict conflict) => new()
    {
        Kind = DiscrepancyKind.TwoRowsOneKey,
        SubjectId = conflict.Id,
        FactIds = [conflict.FactId],
        Sentence = conflict.RefusedPhoto() is { Note: var why }
            ? $"A phone sent a photo that could not be kept as it was: {why}. Take it anew if it is still wanted."
            : "A device sent a row under the key of another one, with other content. The first counts. Enter the second anew if it is right.",
    };

    internal static Discrepancy BoxTakenInTwice(Guid deliveryId, IReadOnlyList<Guid> deliveries, string? mark) => new()
    {
        Kind = DiscrepancyKind.BoxTakenInTwice,
        SubjectId = deliveryId,
        FactIds = deliveries,
        Excess = deliveries.Count - 1,
        Sentence = $"{(mark is null ? "The box of one order, without a mark," : $"The box {mark}")} was taken in {deliveries.Count} times. Take back all but one; until then its lots are there more than once.",
    };

    private static string By(string who) => who.Length == 0 ? "" : $" by {who}";

    private static string Text(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
