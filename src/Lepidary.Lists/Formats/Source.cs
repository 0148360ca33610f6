namespace Lepidary.Lists.Formats;

/// <summary>
/// What every format is turned into before it is read: sheets of rows of cells, each with its place. A new format is a new
/// way to make one of these; nothing behind it changes.
/// </summary>
/// <param name="Format">Format, delimiter and encoding as recognised, for the screen.</param>
/// <param name="Sheets">At least one; a text file has one without a name.</param>
internal sealed record Source(string Format, IReadOnlyList<Sheet> Sheets)
{
    /// <summary>What the format layer is not sure of, in sentences.</summary>
    public IReadOnlyList<string> Doubts { get; init; } = [];
}

/// <summary>One sheet of a workbook, or the whole of a text.</summary>
/// <param name="Name">As on its tab; null for a text.</param>
/// <param name="Hidden">True when the supplier hid it.</param>
/// <param name="Rows">In the order of the source, blank ones too.</param>
internal sealed record Sheet(string? Name, bool Hidden, IReadOnlyList<Row> Rows);

/// <summary>One row.</summary>
/// <param name="Number">Line of the source on which it begins, from 1.</param>
/// <param name="Text">As printed.</param>
/// <param name="Cells">Those with something in them, by column.</param>
internal sealed record Row(int Number, string Text, IReadOnlyList<Cell> Cells)
{
    /// <summary>True when the supplier hid it.</summary>
    public bool Hidden { get; init; }

    /// <summary>Which table of a page or document it is from; 0 for text outside tables. Titles hold within their table.</summary>
    public int Part { get; init; }

    /// <summary>Page of a PDF on which it stands, from 1; or null.</summary>
    public int? Page { get; init; }

    /// <summary>Where on that page; or null.</summary>
    public PageRegion? Region { get; init; }

    /// <summary>True for what is only quoted: an older mail below the new one.</summary>
    public bool Quoted { get; init; }

    /// <summary>Further lines of the source that belong to it: a quoted cell with line ends in it.</summary>
    public IReadOnlyList<string> FurtherLines { get; init; } = [];

    /// <summary>Line of the source on which a place of a sentence stands that goes over several.</summary>
    public int LineAt(int offset)
    {
        var (line, end) = (Number, Text.Trim().Length);
        foreach (var further in FurtherLines)
        {
            if (offset <= end)
                break;
            line++;
            end += further.Trim().Length + 1;
        }
        return line;
    }

    /// <summary>Cells that count as content: not those that a wide merged cell merely covers.</summary>
    public IEnumerable<Cell> Content => Cells.Where(cell => !cell.CoveredAcross && cell.Text.Length > 0);
}

/// <summary>One cell.</summary>
/// <param name="Column">From 0.</param>
/// <param name="Text">As printed, trimmed; without what is struck through when something else stands beside it.</param>
internal sealed record Cell(int Column, string Text)
{
    /// <summary>The number that the cell holds as a number, or null for a text.</summary>
    public decimal? Number { get; init; }

    /// <summary>ISO 4217 code that the cell's number format shows, or null.</summary>
    public string? Currency { get; init; }

    /// <summary>The day that the cell holds as a date, or null.</summary>
    public DateOnly? Date { get; init; }

    /// <summary>True when all of it is struck through.</summary>
    public bool Struck { get; init; }

    /// <summary>True when its column is hidden.</summary>
    public bool Hidden { get; init; }

    /// <summary>True when it is only covered by a merged cell that begins further left.</summary>
    public bool CoveredAcross { get; init; }
}
