namespace Lepidary.Book;

/// <summary>
/// A photo of something: a fact like any other, so that it is dated, signed and can be taken back. The bytes come by themselves,
/// earlier or later, because they are large: see <see cref="PhotoShelf"/>.
/// </summary>
public sealed class Photo : Fact
{
    /// <summary>What it shows: a lot, a delivery or another fact, which may come in later than this.</summary>
    public Guid AboutId { get; init; }

    /// <summary>One of <see cref="PhotoShelf.Types"/>.</summary>
    public required string MediaType { get; init; }

    /// <summary>SHA-256 of the bytes, in small hexadecimal digits: tells which bytes are the right ones.</summary>
    public required string Sha256 { get; init; }
}

/// <summary>The bytes of a photo. Written once.</summary>
public sealed class PhotoImage
{
    /// <summary>Key: the photo.</summary>
    public Guid PhotoId { get; init; }

    /// <summary>One of <see cref="PhotoShelf.Types"/>, as the bytes themselves say.</summary>
    public required string MediaType { get; init; }

    /// <summary>SHA-256 of the bytes, in small hexadecimal digits.</summary>
    public required string Sha256 { get; init; }

    /// <summary>When they came in.</summary>
    public DateTimeOffset ReceivedAt { get; init; }

    /// <summary>The bytes.</summary>
    public required byte[] Bytes { get; init; }
}
