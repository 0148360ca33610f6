using Lepidary.Lists.Formats;
using Lepidary.Lists.Words;

namespace Lepidary.Lists.Reading;

/// <summary>A number that no word and no title explains, and where on its line it stands.</summary>
/// <param name="Place">The same for numbers that stand alike: <c>column 3</c>, <c>in brackets</c>.</param>
/// <param name="Value">The number.</param>
internal sealed record Unexplained(string Place, int Value);

/// <summary>A row, or a row's part in one of several blocks, on its way to being an offer, a charge, a heading, a note or a doubt.</summary>
internal sealed class Draft
{
    public required Row Row { get; init; }

    public required Sheet Sheet { get; init; }

    /// <summary>Line of the source: the row's, or a later one of a sentence that goes over several.</summary>
    public int Line { get => field == 0 ? Row.Number : field; init; }

    /// <summary>As printed: the row, or its part.</summary>
    public required string Text { get; init; }

    /// <summary>Which of several blocks side by side it is from.</summary>
    public int Block { get; set; }

    /// <summary>Below titles, with more than one cell filled.</summary>
    public bool InTable { get; init; }

    /// <summary>From an older mail: nothing of it holds.</summary>
    public bool IsQuoted { get; init; }

    /// <summary>Explains a mark beside some offers, and speaks of those alone.</summary>
    public bool IsFootnote { get; set; }

    /// <summary>A heading below the first offers that speaks of a later week.</summary>
    public bool IsLaterSection { get; set; }

    /// <summary>One of several offers in a sentence.</summary>
    public bool IsProse { get; init; }

    /// <summary>The column of its block that the keeper fills in, or null.</summary>
    public Column? OrderColumn { get; init; }

    /// <summary>A row with titles.</summary>
    public bool IsTitles { get; init; }

    public List<string> NameTexts { get; } = [];

    public string? CommonName { get; set; }

    public string? FormText { get; set; }

    public string? Note { get; set; }

    public string? FamilyText { get; set; }

    /// <summary>The name begins with a ditto mark, or its genus column is empty: the genus above is meant.</summary>
    public bool Ditto { get; set; }

    public Facts Facts { get; set; } = new();

    public List<Unexplained> Unexplained { get; } = [];

    public List<string> Doubts { get; } = [];

    /// <summary>Titles that nobody understands over cells of this row with digits in them.</summary>
    public List<string> LeftOut { get; } = [];

    /// <summary>A mark in the place of the price says that it is the one above.</summary>
    public bool PriceDitto { get; set; }

    /// <summary>A column of its table is titled as one of prices.</summary>
    public bool BelowPriceTitle { get; set; }

    /// <summary>True when an amount stands beside the name and another in the column of prices.</summary>
    public bool AmountBesideName { get; set; }

    /// <summary>Name or whole row struck through.</summary>
    public bool Struck { get; set; }

    /// <summary>Everything that the words of the row can mean.</summary>
    public HashSet<Meaning> Meanings { get; } = [];

    /// <summary>Words on the row.</summary>
    public int Words { get; set; }

    public NamedTaxon Named { get; set; } = NamedTaxon.None;

    public LineKind Kind { get; set; } = LineKind.Note;

    /// <summary>The heading over it, or null.</summary>
    public string? Heading { get; set; }

    /// <summary>The texts of its cells, without the signs of the format around them.</summary>
    public string Spoken => field ??= string.Join(" | ", Row.Content.Select(cell => cell.Text));

    /// <summary>Takes over what the line below says of the same offer.</summary>
    public void Continue(Draft below)
    {
        Facts.Add(below.Facts);
        Unexplained.AddRange(below.Unexplained.Select(number => number with { Place = number.Place + ", below the name" }));
        Meanings.UnionWith(below.Meanings);
    }

    public bool Says(Meaning meaning) => Meanings.Contains(meaning);

    public bool HasPrice => Facts.Prices.Count > 0;

    public bool HasStock => Facts.Available is not null || Facts.SoldOut || Facts.InStock || Facts.Pack is not null || Facts.Minimum is not null || Unexplained.Count > 0;
}
