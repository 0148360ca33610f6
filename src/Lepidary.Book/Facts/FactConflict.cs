using System.Text.Json;

namespace Lepidary.Book;

/// <summary>
/// A row that came in under the key of a fact that says something else. Kept whole and shown as a discrepancy: neither of the two
/// is lost, and the one that came first counts until the keeper decides.
/// </summary>
public sealed class FactConflict
{
    /// <summary>Key.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>The key that both rows bear.</summary>
    public Guid FactId { get; init; }

    /// <summary>House of the row that came second.</summary>
    public Guid HouseId { get; init; }

    /// <summary>When it first came in.</summary>
    public DateTimeOffset ReceivedAt { get; init; }

    /// <summary>The row as JSON, as <see cref="FactJson"/> writes it.</summary>
    public required string Body { get; init; }

    /// <summary>The photo whose bytes were refused, with why in its note; null where it is a row. Such a one says no day, since bytes come without.</summary>
    public Photo? RefusedPhoto() => JsonSerializer.Deserialize<Fact>(Body, FactJson.Options) is Photo photo && photo.OnDay == default ? photo : null;

    /// <summary>SHA-256 of <see cref="Body"/>, so that sending it again does not double it.</summary>
    public required string BodySha256 { get; init; }
}
