namespace Lepidary.Lists;

/// <summary>What an offer is.</summary>
public enum OfferKind
{
    /// <summary>Pupae of one taxon.</summary>
    Pupa,

    /// <summary>Cocoons of one taxon.</summary>
    Cocoon,

    /// <summary>The supplier picks the species.</summary>
    Mix,
}

/// <summary>A price for one pupa from a number upwards.</summary>
/// <param name="From">Pupae, at least 2.</param>
/// <param name="Price">For one pupa, in the list's currency.</param>
public sealed record PriceBreak(int From, decimal Price);

/// <summary>A cell of an order form that the keeper fills in; its row is the offer's.</summary>
/// <param name="Column">From 1.</param>
/// <param name="Counts">Pupae that a 1 in it orders: 1, or a pack where the form counts packs.</param>
public sealed record OrderCell(int Column, int Counts);

/// <summary>One line that can be ordered.</summary>
public sealed record Offer
{
    /// <summary>Line of the source, from 1; for a workbook the row of its sheet.</summary>
    public required int Line { get; init; }

    /// <summary>Sheet of a workbook, or null.</summary>
    public string? Sheet { get; init; }

    /// <summary>Which of several offers on its line, from 1.</summary>
    public int OnLine { get; init; } = 1;

    /// <summary>Where an order form wants the number that is ordered, or null.</summary>
    public OrderCell? OrderCell { get; init; }

    /// <summary>The line as printed.</summary>
    public required string Text { get; init; }

    /// <summary>The name alone, as printed, or null: what a keeper settles once.</summary>
    public string? PrintedName { get; init; }

    /// <summary>Accepted binomial; null for a mix, or while a doubt stands.</summary>
    public string? Taxon { get; init; }

    /// <summary>Subspecies or form as printed, or null.</summary>
    public string? Form { get; init; }

    /// <summary>Pupa, cocoon or mix.</summary>
    public OfferKind Kind { get; init; }

    /// <summary>Price for one pupa in the list's currency; null where none is printed.</summary>
    public decimal? Price { get; init; }

    /// <summary>Cheaper prices from a number upwards, ascending.</summary>
    public IReadOnlyList<PriceBreak> Breaks { get; init; } = [];

    /// <summary>Pupae a pack; 1 when sold singly.</summary>
    public int Pack { get; init; } = 1;

    /// <summary>Fewest pupae, or null.</summary>
    public int? Minimum { get; init; }

    /// <summary>Pupae on hand, or null where not said.</summary>
    public int? Available { get; init; }

    /// <summary>True when marked as gone.</summary>
    public bool SoldOut { get; init; }

    /// <summary>What else the line says, or null.</summary>
    public string? Note { get; init; }

    /// <summary>Common name as printed, or null.</summary>
    public string? CommonName { get; init; }

    /// <summary>Taxa it could be while a doubt about the name stands, best first.</summary>
    public IReadOnlyList<string> Candidates { get; init; } = [];

    /// <summary>Reasons to ask the keeper, in sentences; empty when sure.</summary>
    public IReadOnlyList<string> Doubts { get; init; } = [];
}

/// <summary>What a charge is counted by.</summary>
public enum ChargePer
{
    /// <summary>Once an order.</summary>
    Order,

    /// <summary>For each box.</summary>
    Box,

    /// <summary>For each permit or document.</summary>
    Permit,

    /// <summary>For each shipment.</summary>
    Shipment,
}

/// <summary>A charge that is no animal: permit, box, carriage.</summary>
/// <param name="Line">Line of the source, from 1.</param>
/// <param name="Text">As printed.</param>
/// <param name="Amount">In the list's currency; null where none is printed.</param>
/// <param name="Per">What it is counted by.</param>
public sealed record Charge(int Line, string Text, decimal? Amount, ChargePer Per);

/// <summary>Something on a line that the keeper should look at.</summary>
/// <param name="Line">Line of the source, from 1; 0 for the list as a whole.</param>
/// <param name="Text">As printed.</param>
/// <param name="Why">In a sentence.</param>
public sealed record Doubt(int Line, string Text, string Why)
{
    /// <summary>What an answer to it would be about.</summary>
    public DoubtAbout About { get; init; }

    /// <summary>For a column: its <see cref="ReadColumn.Key"/>; else null.</summary>
    public string? Key { get; init; }
}

/// <summary>What a doubt asks, so that one answer settles it here and on lists to come.</summary>
public enum DoubtAbout
{
    /// <summary>Something that no answer settles for other lines: ask the supplier, or leave the line out.</summary>
    Line,

    /// <summary>What a name means.</summary>
    Name,

    /// <summary>What a column holds.</summary>
    Column,

    /// <summary>Whether prices are for one or for a pack.</summary>
    PriceUnit,

    /// <summary>Which currency.</summary>
    Currency,

    /// <summary>Whether prices are without tax.</summary>
    Tax,
}

/// <summary>What became of one line of the source.</summary>
public enum LineKind
{
    /// <summary>An offer.</summary>
    Offer,

    /// <summary>A charge.</summary>
    Charge,

    /// <summary>A heading: column titles, a family, a region.</summary>
    Heading,

    /// <summary>A remark, a date, an address, terms.</summary>
    Note,

    /// <summary>Not understood; the keeper is asked.</summary>
    Doubt,

    /// <summary>Nothing on it.</summary>
    Blank,
}

/// <summary>One line of the source and what became of it. Every line has exactly one.</summary>
/// <param name="Line">From 1.</param>
/// <param name="Sheet">Sheet of a workbook, or null.</param>
/// <param name="Text">As printed.</param>
/// <param name="Kind">What became of it.</param>
public sealed record SourceLine(int Line, string? Sheet, string Text, LineKind Kind)
{
    /// <summary>Its cells by column, the first column first; empty where the line is no row of a table.</summary>
    public IReadOnlyList<string> Cells { get; init; } = [];

    /// <summary>Page of a PDF on which it stands, from 1; or null.</summary>
    public int? Page { get; init; }

    /// <summary>Where on that page it stands; or null.</summary>
    public PageRegion? Region { get; init; }
}

/// <summary>A stretch of a page, in parts of its width and height from the upper left corner, 0 to 1.</summary>
/// <param name="Page">From 1.</param>
/// <param name="Left">Left edge.</param>
/// <param name="Top">Upper edge.</param>
/// <param name="Right">Right edge.</param>
/// <param name="Bottom">Lower edge.</param>
public sealed record PageRegion(int Page, double Left, double Top, double Right, double Bottom);

/// <summary>A supplier's list, read whole.</summary>
public sealed record SupplierList
{
    /// <summary>Supplier as the list names itself, or as the caller said; or null.</summary>
    public string? Supplier { get; init; }

    /// <summary>ISO 4217 code, or null where the list does not say.</summary>
    public string? Currency { get; init; }

    /// <summary>The day the list is for, or null.</summary>
    public DateOnly? Date { get; init; }

    /// <summary>True when prices are without tax, false when they include it, null where the list does not say.</summary>
    public bool? PricesExcludeTax { get; init; }

    /// <summary>Offers in the order of the source.</summary>
    public IReadOnlyList<Offer> Offers { get; init; } = [];

    /// <summary>Charges in the order of the source.</summary>
    public IReadOnlyList<Charge> Charges { get; init; } = [];

    /// <summary>Every doubt: of lines not understood, and of offers with a doubt.</summary>
    public IReadOnlyList<Doubt> Doubts { get; init; } = [];

    /// <summary>Every line of the source and what became of it.</summary>
    public IReadOnlyList<SourceLine> Lines { get; init; } = [];

    /// <summary>Columns of its tables and what each was read as; empty for prose.</summary>
    public IReadOnlyList<ReadColumn> Columns { get; init; } = [];

    /// <summary>Format and encoding as recognised, for the screen: <c>CSV, semicolon, Windows-1252</c>.</summary>
    public string Format { get; init; } = "";
}
