namespace Lepidary.Book;

/// <summary>
/// A list as it was received and read. Never changed: another reading of the same file is another day's work on the same
/// <see cref="Original"/>.
/// </summary>
public sealed class ReceivedList
{
    /// <summary>Key.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>Supplier.</summary>
    public Guid SupplierId { get; init; }

    /// <summary>The supplier.</summary>
    public Supplier? Supplier { get; init; }

    /// <summary>Name of the file, or what was said of pasted text.</summary>
    public required string FileName { get; init; }

    /// <summary>When it came in.</summary>
    public DateTimeOffset ReceivedAt { get; init; }

    /// <summary>The order day it is meant for.</summary>
    public DateOnly OnDay { get; init; }

    /// <summary>SHA-256 of the original, 64 lower-case hexadecimal digits. One a supplier and week: the same file twice in a week is the same list.</summary>
    public required string Sha256 { get; init; }

    /// <summary>Format and encoding as recognised.</summary>
    public string Format { get; init; } = "";

    /// <summary>ISO 4217 code as the list says, or null.</summary>
    public string? Currency { get; init; }

    /// <summary>Date as the list says, or null.</summary>
    public DateOnly? Date { get; init; }

    /// <summary>What the list says of tax, or null.</summary>
    public bool? PricesExcludeTax { get; init; }

    /// <summary>The bytes as they came.</summary>
    public ListOriginal? Original { get; init; }

    /// <summary>Offers.</summary>
    public List<OfferRow> Offers { get; init; } = [];

    /// <summary>Charges.</summary>
    public List<ChargeRow> Charges { get; init; } = [];

    /// <summary>Every line of the source and what became of it.</summary>
    public List<LineRow> Lines { get; init; } = [];
}

/// <summary>The bytes of a list as they came; apart, so that reading offers does not drag them along.</summary>
public sealed class ListOriginal
{
    /// <summary>Key: the list.</summary>
    public Guid ListId { get; init; }

    /// <summary>The bytes.</summary>
    public required byte[] Bytes { get; init; }
}

/// <summary>One line that can be ordered, as read.</summary>
public sealed class OfferRow
{
    /// <summary>Key.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>List.</summary>
    public Guid ListId { get; init; }

    /// <summary>Line of the source, from 1.</summary>
    public int Line { get; init; }

    /// <summary>Sheet of a workbook, or null.</summary>
    public string? Sheet { get; init; }

    /// <summary>As printed.</summary>
    public required string Text { get; init; }

    /// <summary>Accepted binomial as read; null for a mix or while a doubt stands (see <see cref="SettledName"/>).</summary>
    public string? Taxon { get; init; }

    /// <summary>Subspecies or form as printed, or null.</summary>
    public string? Form { get; init; }

    /// <summary><c>Pupa</c>, <c>Cocoon</c> or <c>Mix</c>, as the reader of lists names them.</summary>
    public required string Kind { get; init; }

    /// <summary>For one pupa in the list's currency; null where none is printed.</summary>
    public decimal? Price { get; init; }

    /// <summary>Cheaper prices from a number upwards, ascending.</summary>
    public List<OfferBreak> Breaks { get; init; } = [];

    /// <summary>Pupae a pack.</summary>
    public int Pack { get; init; } = 1;

    /// <summary>Fewest pupae, or null.</summary>
    public int? Minimum { get; init; }

    /// <summary>Pupae on hand, or null where not said.</summary>
    public int? Available { get; init; }

    /// <summary>Marked as gone.</summary>
    public bool SoldOut { get; init; }

    /// <summary>What else the line says, or null.</summary>
    public string? Note { get; init; }

    /// <summary>Common name as printed, or null.</summary>
    public string? CommonName { get; init; }

    /// <summary>Reasons to ask the keeper, in sentences.</summary>
    public List<string> Doubts { get; init; } = [];

    /// <summary>Taxa it could be, best first.</summary>
    public List<string> Candidates { get; init; } = [];
}

/// <summary>A cheaper price from a number upwards.</summary>
public sealed class OfferBreak
{
    /// <summary>Pupae, at least 2.</summary>
    public int From { get; set; }

    /// <summary>For one pupa, in the list's currency.</summary>
    public decimal Price { get; set; }
}

/// <summary>A charge on a list, as read.</summary>
public sealed class ChargeRow
{
    /// <summary>Key.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>List.</summary>
    public Guid ListId { get; init; }

    /// <summary>Line of the source, from 1.</summary>
    public int Line { get; init; }

    /// <summary>As printed.</summary>
    public required string Text { get; init; }

    /// <summary>In the list's currency; null where none is printed.</summary>
    public decimal? Amount { get; init; }

    /// <summary><c>Order</c>, <c>Box</c>, <c>Permit</c> or <c>Shipment</c>, as the reader of lists names them.</summary>
    public required string Per { get; init; }
}

/// <summary>One line of a list's source and what became of it.</summary>
public sealed class LineRow
{
    /// <summary>Key.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>List.</summary>
    public Guid ListId { get; init; }

    /// <summary>From 1.</summary>
    public int Line { get; init; }

    /// <summary>Sheet of a workbook, or null.</summary>
    public string? Sheet { get; init; }

    /// <summary>As printed.</summary>
    public required string Text { get; init; }

    /// <summary><c>Offer</c>, <c>Charge</c>, <c>Heading</c>, <c>Note</c>, <c>Doubt</c> or <c>Blank</c>, as the reader of lists names them.</summary>
    public required string Kind { get; init; }

    /// <summary>Why it is doubtful, in sentences; empty when it is not.</summary>
    public string Why { get; init; } = "";
}
