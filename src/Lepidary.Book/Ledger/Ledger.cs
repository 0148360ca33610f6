namespace Lepidary.Book;

/// <summary>Something that does not add up, shown to the keeper to settle.</summary>
public sealed record Discrepancy
{
    /// <summary>What it is about: a lot, a fact or a conflict.</summary>
    public required Guid SubjectId { get; init; }
}
