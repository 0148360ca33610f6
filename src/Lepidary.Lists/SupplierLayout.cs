namespace Lepidary.Lists;

/// <summary>What stands in a column of a list.</summary>
public enum ColumnRole
{
    /// <summary>Not known.</summary>
    Unknown,

    /// <summary>Scientific name, or any name where there is only one column of names.</summary>
    Name,

    /// <summary>Common name.</summary>
    Common,

    /// <summary>Genus alone.</summary>
    Genus,

    /// <summary>Specific epithet alone.</summary>
    Epithet,

    /// <summary>Subspecies or form.</summary>
    Form,

    /// <summary>Family or group.</summary>
    Family,

    /// <summary>Country or region.</summary>
    Origin,

    /// <summary>Price.</summary>
    Price,

    /// <summary>A price that no longer holds.</summary>
    OldPrice,

    /// <summary>Pupae a pack.</summary>
    Pack,

    /// <summary>Fewest pupae.</summary>
    Minimum,

    /// <summary>Pupae on hand.</summary>
    Available,

    /// <summary>A number that is either on hand or to be filled in.</summary>
    Quantity,

    /// <summary>To be filled in by the keeper.</summary>
    Order,

    /// <summary>Number ordered times price.</summary>
    Total,

    /// <summary>Remarks.</summary>
    Note,

    /// <summary>The supplier's number of the article.</summary>
    Code,

    /// <summary>There, limited, sold out.</summary>
    Status,

    /// <summary>Currency of the line.</summary>
    Currency,

    /// <summary>Pupa, cocoon or mix.</summary>
    Kind,

    /// <summary>Numbers and words that do not matter for an order: wingspan, margin, food plant.</summary>
    Aside,
}

/// <summary>A column as it was read, for the screen and for the memory of a supplier's layout.</summary>
/// <param name="Sheet">Sheet of a workbook, or null.</param>
/// <param name="Line">Line of the title; 0 where the column has none and was told by what stands in it.</param>
/// <param name="Column">From 1.</param>
/// <param name="Title">As printed; empty where there is none.</param>
/// <param name="Role">What stands in it.</param>
public sealed record ReadColumn(string? Sheet, int Line, int Column, string Title, ColumnRole Role)
{
    /// <summary>By what <see cref="SupplierLayout.Columns"/> remembers it: its title without case and accents, or <c>#3</c> for the third column where it has none.</summary>
    public string Key => KeyOf(Title, Column);

    /// <summary>The key of a column.</summary>
    /// <param name="title">As printed; empty where there is none.</param>
    /// <param name="column">From 1.</param>
    public static string KeyOf(string title, int column) => Words.Folded.Of(title) is { Length: > 0 } folded ? folded : $"#{column}";
}

/// <summary>
/// What was learnt about one supplier's lists, by the keeper's corrections: it goes before what the words say. Titles are compared without case and accents.
/// </summary>
public sealed record SupplierLayout
{
    /// <summary>Titles of columns, or <c>#3</c> for the third one without a title, and what stands in them.</summary>
    public IReadOnlyDictionary<string, ColumnRole> Columns { get; init; } = new Dictionary<string, ColumnRole>();

    /// <summary>ISO 4217 code of lists that do not say it, or null.</summary>
    public string? Currency { get; init; }

    /// <summary>Tax on lists that do not say it or say it both ways, or null.</summary>
    public bool? PricesExcludeTax { get; init; }

    /// <summary>Tax as the supplier's earlier lists said it, for one that says nothing of it, or null.</summary>
    public bool? PricesExcludeTaxUsually { get; init; }

    /// <summary>True when a price beside a pack size is for the pack, false when for one; null where not known.</summary>
    public bool? PricesPerPack { get; init; }

    /// <summary>What the keeper said of single lines, the last word of each.</summary>
    public IReadOnlyList<ToldLine> Lines { get; init; } = [];
}

/// <summary>What a reader of lists is told beside the file.</summary>
public sealed record ReadOptions
{
    /// <summary>Finds the taxon that a printed name means; knows what the keeper settled before.</summary>
    public required Taxa.NameFinder Names { get; init; }

    /// <summary>Supplier as the caller knows it, or null. The list's own word goes first.</summary>
    public string? Supplier { get; init; }

    /// <summary>What was learnt about this supplier's lists.</summary>
    public SupplierLayout Layout { get; init; } = new();

    /// <summary>Day on which the list is read: the year of dates without one, and whether the list is this week's. Null to leave both open.</summary>
    public DateOnly? Today { get; init; }
}
